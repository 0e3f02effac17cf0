"""Sides, diagonals, ties and angles between measured points."""

from __future__ import annotations

import math

import pytest
from making import layout_of, sample
from measuring import HOW, INCH, as_designed, carried, off, turned

from staking import Layout, compare
from staking.field.allowed import Tolerances
from staking.field.compared import Allowed, CheckedLength
from staking.field.shape import differ_words, judged, pair_out
from staking.field.taped import slab_spans
from staking.survey.paths import Arc
from staking.survey.points import Point, distance, vector

DISC = """
[site]
name = "a slab with a round end"
unit = "m"
[points]
A = [0, 0]
B = [0, 60]
C = [60, 60]
D = [60, 0]
[lot]
given_by = "surveyor"
corners = ["A", "B", "C", "D"]
sides = ["front", "right", "rear", "left"]
[slab]
kind = "traced"
steps = ["right 10", "away 6", "left 10 curve left 6", "toward 6"]
[placement]
kind = "from_lines"
side = 1
reference = "lot front"
distance = 20
corner = 1
from = "lot left"
clear = 20
[[stakes]]
kind = "corners"
[[stakes]]
kind = "along"
spacing = 2
"""


def test_lengths_are_those_between_measured_points() -> None:
    """Every side and diagonal of the shed by the plain distance; differences are measured less design."""
    layout = sample("tape_only_shed")
    points = as_designed(layout)
    points[2] = off(points[2], 0.02, -0.013)
    at = {each.name: each.at for each in points}
    found = compare(layout, points, HOW).lengths
    for each in found:
        if each.kind != "tie":
            assert each.measured == pytest.approx(distance(at[each.start], at[each.end]), abs=1e-12)
            assert each.difference == each.measured - each.design
    assert sum(each.kind == "side" for each in found) == 4
    assert sum(each.kind == "diagonal" for each in found) == 2


def test_ties_are_measured_square_from_their_lines() -> None:
    """A corner moved a hand away from every line has longer ties by as much as that is square to each."""
    layout = sample("tape_only_shed")
    points = [off(each, 0.01, 0.02) for each in as_designed(layout)]
    for each in compare(layout, points, HOW).lengths:
        if each.kind == "tie":
            line = layout.lines[each.end].line
            step = line.direction.east * 0.02 - line.direction.north * 0.01
            assert abs(each.difference) == pytest.approx(abs(step), abs=1e-9)


def test_an_angle_and_what_it_is_worth() -> None:
    """A back corner slid along the back by 20 mm opens its angle by so much over the side."""
    layout = sample("tape_only_shed")
    along = layout.slab.form.sides[2].direction
    points = as_designed(layout)
    points[2] = off(points[2], along.east * -0.02, along.north * -0.02)
    angles = {each.corner: each for each in compare(layout, points, HOW).angles}
    depth = layout.sides[1].chord
    assert angles["103"].measured - angles["103"].design == pytest.approx(
        -math.degrees(math.atan(0.02 / depth)), abs=1e-6
    )
    assert angles["102"].measured - angles["102"].design == pytest.approx(
        math.degrees(math.atan(0.02 / depth)), abs=1e-6
    )
    assert angles["102"].off == pytest.approx(0.02, abs=1e-4)
    assert sum(each.measured for each in angles.values()) == pytest.approx(360)


def test_an_inside_corner_has_its_angle_on_the_slabs_side() -> None:
    """270 degrees, whichever way the outline runs."""
    layout = sample("ell_house_on_grid")
    angles = [each.design for each in compare(layout, as_designed(layout), HOW).angles]
    assert sorted(round(each, 6) for each in angles) == [90.0] * 5 + [270.0]


def test_diagonals_to_where_strings_cross() -> None:
    """The check rectangles of an ell are measured through the crossing of strings, which nobody staked."""
    layout = sample("ell_house_on_grid")
    move = turned(layout.slab.form.corners[0], 2.0, 0.05)
    found = compare(layout, carried(as_designed(layout), move), HOW, limit=5.0)
    diagonals = [each for each in found.lengths if each.kind == "diagonal"]
    assert len(diagonals) == len(layout.diagonals)
    assert {"S1"} <= {name for each in diagonals for name in (each.start, each.end)}
    assert max(abs(each.difference) for each in diagonals) < 1e-9


def _round_end() -> Layout:
    return layout_of(DISC)


def test_an_arc_is_measured_by_its_chord() -> None:
    """Which is what a tape reads; it is called so."""
    layout = _round_end()
    (arc,) = (each for each in layout.sides if each.radius is not None)
    found = compare(layout, as_designed(layout), HOW)
    (chord,) = (each for each in found.lengths if each.words.startswith("chord of"))
    assert chord.design == pytest.approx(arc.chord)
    assert chord.measured == pytest.approx(arc.chord)


def test_the_tape_book_calls_it_a_chord_too() -> None:
    """The empty book and every message about a reading say so, as a comparison and the sheet of checks do."""
    layout = _round_end()
    (arc,) = (each for each in layout.sides if each.radius is not None)
    (row,) = (each for each in slab_spans(layout) if each.kind == "side" and each.words.startswith("chord of"))
    assert row.key == {arc.start, arc.end}


def test_off_an_arc_is_along_its_radius() -> None:
    """At its ends and at the marks along it: 10 mm farther from the centre is 10 mm outside."""
    layout = _round_end()
    (side,) = (each for each in layout.sides if each.radius is not None)
    arc = layout.slab.form.pieces[side.index]
    assert isinstance(arc, Arc)
    marks = [each.name for each in layout.stakes if each.kind == "mark" and each.side == side.index]
    assert marks

    def outward(at: Point) -> Point:
        radius = vector(arc.centre, at).unit()
        return Point(at.east + radius.east * 0.01, at.north + radius.north * 0.01)

    found = compare(layout, carried(as_designed(layout, side.start, side.end, *marks), outward), HOW)
    for each in found.deviations:
        (wall,) = (wall for wall in each.sides if wall.start == side.start)
        assert wall.out == pytest.approx(0.01, abs=1e-9)
        assert wall.along == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("off_by", "figure", "answer"),
    [(0.25, 0.25, "within"), (-0.25, 0.25, "within"), (0.2501, 0.25, "out"), (9.0, None, "not judged")],
)
def test_judging(off_by: float, figure: float | None, answer: str) -> None:
    """At the figure itself it is within; without a figure nothing is judged."""
    allowed = Allowed(None if figure is None else figure * INCH, "")
    assert judged(off_by * INCH, allowed) == answer


def test_figures_and_their_sources() -> None:
    """1/4 in for a side of 40 ft, 3/8 in for its diagonal pro rata, each with its source; concrete has its own."""
    layout = sample("tape_only_shed")
    forms, placed = Tolerances(layout), Tolerances(layout, placed=True)
    assert forms.position(0).plus_minus == pytest.approx(0.25 * INCH)
    assert forms.diagonal(50 * 0.3048).plus_minus == pytest.approx(0.375 * INCH)
    assert "Ballast" in forms.length(5.0).source
    assert "not read in" in forms.length(5.0).source
    assert placed.position(0).plus_minus == pytest.approx(INCH)
    assert placed.height().plus_minus == pytest.approx(0.75 * INCH)
    assert placed.length(5.0).plus_minus is None
    assert forms.length(200 * 0.3048).plus_minus is None
    assert "ends at 100 ft" in forms.length(200 * 0.3048).source
    assert [over for over, _ in forms.level()] == pytest.approx([3.048, 6.096])


@pytest.mark.parametrize(("half", "out"), [(0.009, False), (0.0104, False), (0.0106, True), (0.0145, True)])
def test_a_pair_of_diagonals_is_held_to_the_figure_of_one(half: float, out: bool) -> None:
    """One 15 mm long and one 15 mm short differ by 29 mm: each is within 21 mm, the pair is not, and that is said."""
    one, other = (_diagonal(35.0 + off) for off in (half, -half))
    assert (one.answer, other.answer) == ("within", "within")
    assert pair_out((one, other)) == pair_out((other, one)) == out
    assert differ_words((one, other), sample("metric_hall").notation).endswith("where 21 mm is allowed") == out


def _diagonal(measured: float) -> CheckedLength:
    allowed = Allowed(0.021, "a test")
    answer = judged(measured - 35.0, allowed)
    return CheckedLength("diagonal", "101", "103", "across the slab", 35.0, measured, allowed, answer)
