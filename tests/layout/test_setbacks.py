"""Setbacks as ordinances mean them: arcs exact, parts and eaves, the larger of two, street centres, separations."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, layout_of, sample

from staking import InputError, Layout, check
from staking.findings import Severity
from staking.layout.computed import Margin
from staking.layout.margins import judged
from staking.sitefile.lot_declared import Margins
from staking.survey.paths import Arc, nearest
from staking.survey.points import Point, distance

FOOT = 0.3048


def _changed(*pairs: tuple[str, str]) -> str:
    text = PLACED_RECTANGLE
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def _front(rule: str, slab: str = "") -> dict[tuple[str, str], Margin]:
    """The margins of the front side, by rule and what is measured, in a site with that setback and more of a slab."""
    text = _changed(("front = 25", f"front = {rule}"), ("[placement]", f"{slab}\n[placement]"))
    return {(m.rule, m.what): m for m in layout_of(text).margins if m.of == "front"}


PORCH = '[[slab.parts]]\nname = "porch"\nside = "front"\nfrom = "front-left"\nwidth = 10\ndepth = 6\n'


def test_the_larger_of_two_rules_binds() -> None:
    """The building line of the plat is farther than the ordinance asks: it counts."""
    margin = _front('{ ordinance = "25 ft", plat = "30 ft" }')["setback", "outline"]
    assert margin.required / FOOT == pytest.approx(30.0)
    assert margin.room / FOOT == pytest.approx(10.0)


def test_parts_may_project() -> None:
    """With an allowed projection the walls keep the figure and the porch the rest."""
    found = _front('{ ordinance = "33 ft", projection = "4 ft" }', PORCH)
    assert found["setback", "outline"].room / FOOT == pytest.approx(7.0)
    assert found["setback", "parts"].distance / FOOT == pytest.approx(34.0)
    assert found["setback", "parts"].room / FOOT == pytest.approx(5.0)


def test_without_parts() -> None:
    """Measured = "formed" leaves the porch out of the setback; it only must not reach over the lot line."""
    found = _front('{ ordinance = "36 ft", measured = "formed" }', PORCH)
    assert set(found) == {("setback", "outline"), ("lot line", "parts")}
    assert found["lot line", "parts"].room / FOOT == pytest.approx(34.0)
    assert found["setback", "outline"].room / FOOT == pytest.approx(4.0)


def test_with_eaves() -> None:
    """Eaves are measured from the building line, inside the ledge."""
    found = _front('{ ordinance = "36 ft", measured = "with eaves", projection = "2 ft" }', "ledge = 0.5\neaves = 2\n")
    assert found["setback", "outline"].distance / FOOT == pytest.approx(40.0)
    assert found["setback", "eaves"].distance / FOOT == pytest.approx(38.5)
    assert found["setback", "eaves"].required / FOOT == pytest.approx(34.0)


def test_street_centre_is_a_rule_of_its_own() -> None:
    """Measured from the reference line in the street, square to it, also past its points."""
    text = _changed(
        ("front = 25", 'front = { ordinance = 25, center = "street", from_center = 60 }'),
        ("[lot]", "S = [-25, -40]\nR = [-25, -10]\n[lot]"),
        ("[slab]", '[[references]]\nname = "street"\nthrough = ["S", "R"]\n[slab]'),
    )
    (margin,) = (m for m in layout_of(text).margins if m.rule == "street centre")
    assert margin.distance / FOOT == pytest.approx(65.0)
    assert margin.room / FOOT == pytest.approx(5.0)


def test_uncertainty_is_shown_beside_the_margin_and_not_added() -> None:
    """A line known to 0.2 ft leaves the margin as it is; where less than that is left, the warning says so."""
    text = _changed(("front = 25", 'front = { ordinance = "39.9 ft", uncertainty = "0.2 ft" }'))
    layout = layout_of(text)
    assert layout.margins[0].room / FOOT == pytest.approx(0.1)
    assert layout.margins[0].uncertainty == pytest.approx(0.2 * FOOT)
    (thin,) = (f for f in check(layout) if f.code == "room-thin")
    assert "the line itself is known to" in thin.message


@pytest.mark.parametrize("rule", ["{ }", "{ projection = 2 }", '{ ordinance = 5, center = "x" }', "{ plat = -1 }"])
def test_setbacks_that_say_too_little_are_refused(rule: str) -> None:
    """No figure, a centre without its distance, a figure below 0."""
    with pytest.raises(InputError):
        layout_of(_changed(("front = 25", f"front = {rule}")))


def test_separation_is_square_from_the_wall() -> None:
    """A wall that leans against the line: the separation is longer than the setback distance of its near end."""
    text = _changed(
        ("D = [120, 0]", "D = [120, 12]"),
        ("clear = 30", "clear = 20"),
        ("[slab]", '[[separations]]\nname = "w"\nwall = "left"\nto = "lot left"\nleast = 5\n[slab]'),
    )
    layout = layout_of(text)
    (apart,) = (m for m in layout.margins if m.rule == "separation")
    left = next(m for m in layout.margins if m.of == "left")
    lean = math.atan2(12, 120)
    assert apart.distance == pytest.approx(left.distance / math.cos(lean))


def test_room_to_an_arc_is_measured_along_its_radius() -> None:
    """The sample on a cul-de-sac: the distance from the arc is that from its centre less the radius."""
    layout = sample("cul_de_sac_lot")
    assert layout.lot is not None
    arc = layout.lot.pieces[0]
    assert isinstance(arc, Arc)
    front = layout.margins[0]
    assert front.distance == pytest.approx(distance(front.at, arc.centre) - arc.radius, abs=1e-9)
    assert nearest(arc, front.at)[0] == pytest.approx(front.distance, abs=1e-9)


ROUNDED = """kind = "traced"
steps = ["right 36", "away 24 curve left {radius}", "left 36", "toward 24"]
"""


@given(st.floats(12.5, 200.0))
@settings(max_examples=25, deadline=None)
def test_an_arc_of_the_outline_is_exact(radius: float) -> None:
    """A bowed end reaches farther toward the right line by its middle ordinate."""
    radius = round(radius, 4)
    text = _changed(("width = 36\ndepth = 24\n", ROUNDED.format(radius=radius)))
    layout = layout_of(text)
    rise = radius - math.sqrt(radius**2 - 144)
    right = next(m for m in layout.margins if m.of == "right")
    assert right.distance / FOOT == pytest.approx(100 - 30 - 36 - rise, abs=1e-9)
    assert layout.slab.area / FOOT**2 == pytest.approx(36 * 24 + _segment(radius), rel=1e-9)


def _segment(radius: float) -> float:
    half = math.asin(12 / radius)
    return radius**2 * (half - math.sin(half) * math.cos(half))


def _smooth(layout: Layout) -> tuple[float, ...]:
    return tuple(side.length / FOOT for side in layout.sides)


def test_a_ledge_round_a_smooth_arc_keeps_its_angle() -> None:
    """Rounded corners that run smoothly into the sides grow with the ledge: radius 4 and a ledge of 1 make 5."""
    steps = (
        '"right 36", "away 20", "left 4 away 4 curve left 4", "left 28", "left 4 toward 4 curve left 4", "toward 20"'
    )
    plain = f'kind = "traced"\nsteps = [{steps}]\n'
    layout = layout_of(_changed(("width = 36\ndepth = 24\n", plain + "ledge = 1\n")))
    assert layout.sides[2].radius == pytest.approx(5 * FOOT)
    assert _smooth(layout)[2] == pytest.approx(5 * math.pi / 2)
    assert _smooth(layout)[0] == pytest.approx(38.0)


@pytest.mark.parametrize(
    ("step", "message"),
    [
        ("away 24 curve left 11", "no arc of that radius"),
        ("away 24 curve left 0", "no length"),
        ("away 24 curve up 20", "cannot be read"),
        ("away 24 curve right 12.2 long", "cross"),
    ],
)
def test_arcs_that_cannot_be_are_refused(step: str, message: str) -> None:
    """A radius below half the step, no radius, an unknown turn; the long way round runs into the other sides."""
    steps = f'"right 12", "{step}", "left 12", "toward 24"'
    text = _changed(("width = 36\ndepth = 24\n", f'kind = "traced"\nsteps = [{steps}]\n'))
    with pytest.raises(InputError) as refused:
        layout_of(text)
    assert any(message in finding.message for finding in refused.value.findings)


@pytest.mark.parametrize(
    ("distance", "severity"),
    [
        (0.75, Severity.STOP),
        (1.0, Severity.STRONG),
        (1.125, Severity.STRONG),
        (1.25, Severity.WARNING),
        (1.375, Severity.WARNING),
        (1.5, Severity.NOTE),
    ],
)
def test_room_that_is_as_large_as_a_limit_is_not_below_it(distance: float, severity: Severity) -> None:
    """Limits of 0.25 and 0.5 m and a figure of 1 m, numbers that a float holds exactly."""
    here = Point(0.0, 0.0)
    margin = judged("setback", "front", 1.0, (distance, here, here), limits=Margins(strong=0.25, warn=0.5))
    assert margin.severity == severity


def test_a_projection_larger_than_the_setback_stops_at_the_lot_line() -> None:
    """A porch may project 6 ft into a setback of 3 ft, never 3 ft over the line: 2 ft over it are 2 ft too many."""
    found = _front('{ ordinance = "3 ft", projection = "6 ft" }', PORCH.replace("depth = 6", "depth = 42"))
    assert found["setback", "parts"].room / FOOT == pytest.approx(-2.0)


def test_a_part_that_counts_has_one_margin() -> None:
    """What the setback is measured to has no margin to the lot line besides."""
    assert set(_front('{ ordinance = "25 ft" }', PORCH)) == {("setback", "outline")}
    assert set(_front('{ ordinance = "25 ft", projection = "4 ft" }', PORCH)) == {
        ("setback", "outline"),
        ("setback", "parts"),
    }


def test_eaves_stop_at_a_lot_line_without_a_setback() -> None:
    """A wall 1 ft from a line that has no figure, under a roof that reaches 2 ft beyond it."""
    text = _changed(("front = 25\n", ""), ("distance = 40", "distance = 1"), ("[placement]", "eaves = 2\n[placement]"))
    (margin,) = (m for m in layout_of(text).margins if m.of == "front" and m.what == "eaves")
    assert margin.rule == "lot line"
    assert margin.room / FOOT == pytest.approx(-1.0)


def test_beyond_a_slanted_line_the_farthest_place_counts() -> None:
    """The right line leans in by 3 ft in 120: at 64 ft it is at 98.4, and a slab that reaches to 104 is over by 5.6."""
    text = _changed(("C = [120, 100]", "C = [120, 97]"), ("clear = 30", "clear = 68"))
    right = next(m for m in layout_of(text).margins if m.of == "right")
    assert right.distance / FOOT == pytest.approx(-5.6 * math.cos(math.atan2(3, 120)))


@pytest.mark.parametrize("corner", ["C = [120, 100]", "C = [120, 99.98]"])
def test_a_separation_from_a_line_square_to_the_wall_is_refused(corner: str) -> None:
    """The right line is never in front of the front wall; a hair off square it would be met miles away."""
    asked = '[[separations]]\nname = "w"\nwall = "front"\nto = "lot right"\nleast = 5\n[slab]'
    with pytest.raises(InputError, match="runs square to the wall"):
        layout_of(_changed(("[slab]", asked), ("C = [120, 100]", corner)))
