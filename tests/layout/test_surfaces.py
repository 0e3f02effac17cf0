"""The design surface: its heights in the corners, its pieces, and what moving or raising the site does to them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, PLAIN, RandomSite, Turn, layout_of, random_sites, sample, turns

from staking import Layout
from staking.errors import SolveError
from staking.sheets.grades import reading, rod_notation
from staking.survey.points import Point
from staking.survey.surface import height_read, rod_reading
from staking.units import parse_length

FOOT = 0.3048
FLOOR = '[floor]\nelevation = 100\nfall = "1 %"\ntoward = "front"\n'
MARKS = '[[stakes]]\nkind = "corners"\n[[stakes]]\nkind = "offsets"\ndistance = 5\n'


def _layout(floor: str = FLOOR, slab: str = "", tables: str = "", more: str = MARKS) -> Layout:
    text = PLACED_RECTANGLE.replace("depth = 24\n", f"depth = 24\n{slab}{tables}")
    return layout_of(f"{text}{more}{floor}")


def _feet(layout: Layout) -> dict[str, float]:
    return {grade.what: grade.up / FOOT for grade in layout.grades if grade.kind == "corner"}


def test_floor_falls_to_its_side() -> None:
    """The back corners have the stated height, and the front ones lie lower by the fall over the depth."""
    assert list(_feet(_layout()).values()) == pytest.approx([99.76, 99.76, 100, 100])


def test_the_corner_that_is_named_has_the_height() -> None:
    """With at = 1 the front-left corner is at the stated height."""
    assert _feet(_layout(FLOOR + "at = 1\n"))["corner 1 (front-left)"] == pytest.approx(100)


def test_a_second_fall() -> None:
    """Falls to the front and to the left add up in the front-left corner."""
    more = 'also = "2 %"\nalso_toward = "left"\n'
    assert list(_feet(_layout(FLOOR + more)).values()) == pytest.approx([99.04, 99.76, 100, 99.28])


def test_strings_over_offsets_lie_on_the_top_edge() -> None:
    """The height of an offset stake is the plane's where it stands, 5 ft on from the corner."""
    layout = _layout()
    floor = layout.design.floor if layout.design else None
    offsets = [stake for stake in layout.stakes if stake.kind == "offset"]
    assert len(offsets) == 8
    assert floor
    assert all(stake.at.up == pytest.approx(floor.height(stake.at)) for stake in offsets)


RECESS = '[[slab.recesses]]\nname = "pan"\nside = "back"\nfrom = "back-left"\nin = 2\nstart = 3\n'
RECESS += 'width = 4\ndepth = 5\nlower = "3 in"\n'


def test_pieces_cover_the_slab_once() -> None:
    """Floor, recess, ledge and edges together have the area of the slab, and the volume of their thicknesses."""
    edge = '[[slab.thickened]]\nname = "edge"\nwidth = 1\ndepth = 1\n'
    layout = _layout(slab='thickness = "4 in"\n', tables=RECESS + edge)
    assert layout.design
    area = sum(piece.shape.area for piece in layout.design.pieces)
    assert area == pytest.approx(layout.slab.form.shape.area)
    inside = 34 * 22
    assert layout.design.volume == pytest.approx((inside / 3 + (36 * 24 - inside)) * FOOT**3)


def test_recess_and_outside() -> None:
    """In the recess the top is lower, in the underside too; outside there is no height."""
    layout = _layout("[floor]\nelevation = 100\n", 'thickness = "4 in"\n', RECESS)
    assert layout.design
    corner = next(grade for grade in layout.grades if grade.kind == "recess")
    assert corner.up / FOOT == pytest.approx(99.75)
    middle = next(p.shape.centroid for p in layout.design.pieces if p.kind == "recess")
    assert layout.design.top(middle.x, middle.y) == pytest.approx(99.75 * FOOT)
    assert layout.design.bottom(middle.x, middle.y) == pytest.approx((99.75 - 1 / 3) * FOOT)
    assert layout.design.top(1e3, 1e3) is layout.design.bottom(1e3, 1e3) is None


def test_a_recess_with_its_own_fall_hangs_from_its_highest_corner() -> None:
    """It lies 3 in lower there, and falls on by 2 % over its 5 ft."""
    own = RECESS + 'fall = "2 %"\ntoward = "front"\n'
    layout = _layout("[floor]\nelevation = 100\n", tables=own)
    ups = sorted({round(grade.up / FOOT, 6) for grade in layout.grades if grade.kind == "recess"})
    assert ups == pytest.approx([99.65, 99.75])


def test_part_with_step_and_drop() -> None:
    """A ramp begins its step below the slab and ends its drop below it."""
    part = '[[slab.parts]]\nname = "ramp"\nside = "front"\nfrom = "front-left"\nstart = 4\nwidth = 10\ndepth = 6\n'
    layout = _layout("[floor]\nelevation = 100\n", tables=part + 'step = "1 in"\ndrop = "6 in"\n')
    ups = sorted({round((s.at.up or 0) / FOOT, 6) for s in layout.stakes if s.kind == "part corner"})
    assert ups == pytest.approx([99.5, 100 - 1 / 12])


def test_ledge_lies_lower() -> None:
    """The formed corners stand on the ledge; a thickened edge below it keeps its depth from the floor."""
    edge = '[[slab.thickened]]\nname = "edge"\nwidth = 1\ndepth = 1\nsides = ["front", "left"]\n'
    slab = 'thickness = "6 in"\nledge = "4 in"\nledge_depth = "4 in"\n'
    layout = _layout("[floor]\nelevation = 100\n", slab, edge)
    assert list(_feet(layout).values()) == pytest.approx([100 - 1 / 3] * 4)
    assert layout.design
    assert {round((p.bottom.up if p.bottom else 0) / FOOT, 6) for p in layout.design.pieces} == {99.0, 99.5}


UNKNOWN_STAKE = '[[level_setups]]\nbenchmark = "B"\nbacksight = 4\nreadings = { 999 = 4 }\n'


@pytest.mark.parametrize(
    ("floor", "tables", "words"),
    [
        ('[floor]\nabove = "A"\nby = 1\n', "", "has no elevation"),
        (FLOOR + 'also = "1 %"\nalso_toward = "back"\n', "", "along one line"),
        (FLOOR.replace("front", "frnt"), "", "no side"),
        (FLOOR, RECESS.replace("in = 2", "in = 22"), "reaches out of the slab"),
        (FLOOR, RECESS + RECESS.replace("pan", "tub"), "lies over"),
        (FLOOR, RECESS.replace("back-left", "front-left"), "is no end"),
        (FLOOR, RECESS + 'fall = "1 %"\n', "go together"),
        (FLOOR + '[[level_setups]]\nbenchmark = "A"\n', "", "has no elevation"),
        (FLOOR + UNKNOWN_STAKE, "", "no stake"),
    ],
)
def test_what_cannot_be_is_said(floor: str, tables: str, words: str) -> None:
    """One sentence for each contradiction, at its key."""
    text = PLACED_RECTANGLE.replace("depth = 24\n", f"depth = 24\n{tables}").replace("B = [0, 100]", "B = [0, 100, 9]")
    with pytest.raises(SolveError) as refused:
        layout_of(text + MARKS + floor)
    assert words in refused.value.findings[0].message


def test_a_ledge_below_the_underside_is_refused() -> None:
    """A ledge as deep as the slab is thick has no concrete."""
    with pytest.raises(SolveError, match="underside"):
        _layout(slab='thickness = "4 in"\nledge = "4 in"\nledge_depth = "5 in"\n')


HERE = Turn()
SETUPS = """
[floor]
elevation = {up}
fall = "1 %"
toward = "front"
[[level_setups]]
benchmark = "L1"
backsight = 1.5
"""


def _readings(site: RandomSite, turn: Turn = HERE, up: float = 100.4) -> list[float]:
    text = site.text(turn, slab=PLAIN + SETUPS.replace("{up}", str(up)))
    lines = [f"{line[:-2]}, elevation = 100 }}" if line.startswith("L1 =") else line for line in text.splitlines()]
    layout = layout_of("\n".join(lines))
    sight = layout.setups[0].sight or 0.0
    return [rod_reading(sight, grade.up) for grade in layout.grades]


@given(random_sites, turns)
@settings(max_examples=15, deadline=None)
def test_turning_the_site_changes_no_reading(site: RandomSite, turn: Turn) -> None:
    """The same site elsewhere and turned has the same readings."""
    assert _readings(site, turn) == pytest.approx(_readings(site), abs=1e-7)


@given(random_sites, st.floats(-0.3, 0.3))
@settings(max_examples=10, deadline=None)
def test_raising_the_floor_lowers_each_reading(site: RandomSite, by: float) -> None:
    """A floor higher by h is read lower by h everywhere."""
    assert _readings(site, up=100.4 + by) == pytest.approx([r - by for r in _readings(site)], abs=1e-9)


def test_a_rod_man_who_sets_what_is_printed_sets_the_design() -> None:
    """The printed readings, read back, give the design heights within half a thirty-second of an inch."""
    layout = sample("flag_lot")
    sight = layout.setups[0].sight or 0.0
    for grade in layout.grades:
        printed = reading(layout, rod_reading(sight, grade.up))
        found = height_read(sight, float(parse_length(printed, rod_notation(layout)[0].unit)))
        assert found == pytest.approx(grade.up, abs=0.0254 / 32 + 1e-9)


def test_turning_points_carry_the_height_on() -> None:
    """A later set-up may begin on a turning point read in an earlier one."""
    setups = '[[level_setups]]\nbenchmark = "B"\nbacksight = 4\nturning = { TP1 = 6 }\n'
    setups += '[[level_setups]]\nbenchmark = "TP1"\nbacksight = 3\nreadings = { 101 = 5 }\n'
    text = (PLACED_RECTANGLE + MARKS + FLOOR + setups).replace("B = [0, 100]", "B = [0, 100, 99]")
    first, second = layout_of(text).setups
    assert ((first.sight or 0) / FOOT, second.height / FOOT) == pytest.approx((103, 97))
    assert second.tops["101"] / FOOT == pytest.approx(95)


FOOTING = '[[slab.footings]]\nname = "wall"\nwidth = 2\nout = 0.5\ntop = 3\ndepth = 1\n'


@pytest.mark.parametrize(("sides", "area"), [("", 37 * 25 - 33 * 21), ('sides = ["front"]\n', 36 * 2)])
def test_footings_are_level_below_the_edges(sides: str, area: float) -> None:
    """2 ft wide, half a foot outside the edge, 3 ft below the stated height however the floor falls."""
    layout = _layout(tables=FOOTING + sides)
    assert layout.design
    (footing,) = layout.design.footings
    assert footing.shape.area / FOOT**2 == pytest.approx(area)
    assert (footing.volume or 0) / FOOT**3 == pytest.approx(area)
    assert footing.top.height(Point(5, 5)) / FOOT == pytest.approx(97)


def test_a_footing_beside_the_slab_is_refused() -> None:
    """Its inner face must lie below the slab."""
    with pytest.raises(SolveError, match="outside"):
        _layout(tables=FOOTING.replace("out = 0.5", "out = 2.5"))
