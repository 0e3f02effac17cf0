"""Texts of the plan in their places."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staking.drawing.marks import LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.paper import Spot, boxes_meet, line_meets, segment
from staking.drawing.placing import inside
from staking.drawing.plan_labels import labelled
from staking.drawing.scale import View
from staking.survey.points import Point

VIEW = View(10.0, Point(0, 0), Spot(0, 0), (200, 200))


def side(length: float, text: str, layer: str = "LOT") -> tuple[Mark, ...]:
    """A line to the east from the middle of the paper with a text along it."""
    start, end = Point(10 - length / 2, 10), Point(10 + length / 2, 10)
    return LineMark(layer, start, end), TextMark(layer, Point(10, 10), text, along=90.0, size=7.5)


def test_a_text_stands_along_its_line() -> None:
    """Where there is room it is there, and no note is needed."""
    found = labelled(side(15, "front: N 90 E"), VIEW)
    assert (found.notes, found.unplaced, found.leaders) == ((), (), ())
    assert abs(found.texts[0].box.y - 100) < 12


def test_a_text_too_long_for_its_line_becomes_a_note() -> None:
    """A number takes its place, and the note says what it was."""
    found = labelled(side(2, "a very long bearing and its length"), VIEW)
    assert found.notes == ("a very long bearing and its length",)
    assert [text.text for text in found.texts] == ["[1]"]


def test_a_dimension_too_long_for_its_line_stands_beside_it() -> None:
    """A short tie keeps its figure in sight: upright, near its middle."""
    found = labelled(side(2, "9' 2-1/2\"", "DIMENSION"), VIEW)
    assert found.notes == ()
    assert found.texts[0].rotation == 0
    assert abs(found.texts[0].box.y - 100) < 25


def test_another_thing_on_the_line_does_not_shorten_it() -> None:
    """A drive that ends on a lot line leaves that line as long as it is."""
    drive = PathMark("FEATURE", (Point(9, 10), Point(11, 10), Point(11, 12)), closed=True)
    assert labelled((*side(15, "front: N 90 E"), drive), VIEW).notes == ()


def test_a_diagonal_without_room_is_left_to_its_table() -> None:
    """It makes no note, since a table of diagonals says it too."""
    wall = [SymbolMark("GIVEN", Point(x / 2, 10 + y / 2), "") for x in range(40) for y in range(-4, 5)]
    found = labelled((*wall, *side(15, "43' 3-3/16\"", "TIE")), VIEW)
    assert (found.texts, found.notes, found.unplaced) == ((), (), ())


def test_what_finds_no_place_is_told() -> None:
    """On a paper full of symbols nothing is written over them; the text comes back as not placed."""
    wall = [SymbolMark("GIVEN", Point(x / 2, y / 2), "") for x in range(41) for y in range(41)]
    found = labelled((*wall, *side(15, "front")), VIEW)
    assert found.texts == ()
    assert found.unplaced == ("front",)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 20), st.floats(0, 20), st.text("abc", min_size=1, max_size=60)), max_size=40))
def test_no_two_texts_meet(points: list[tuple[float, float, str]]) -> None:
    """However the points lie, texts stand apart and on the paper, and none is lost."""
    found = labelled([SymbolMark("GIVEN", Point(x, y), name) for x, y, name in points], VIEW)
    assert not any(boxes_meet(a.box, b.box) for a, b in combinations(found.texts, 2))
    assert all(inside(text.box, VIEW.size) for text in found.texts)
    assert len(found.texts) + len(found.unplaced) == len(points)


def test_hundreds_of_names_are_thinned_out_by_a_rule() -> None:
    """Not a page of numbers in brackets: a part is written, and the rule comes back for the notes."""
    found = labelled(
        [SymbolMark("CORNER", Point(5 + x / 4, 5 + y), f"{x}-{y}") for x in range(40) for y in range(10)], VIEW
    )
    assert found.rule.startswith("Every ")
    assert (found.notes, found.unplaced) == ((), ())
    assert 0 < len(found.texts) < 200


def test_a_contour_is_broken_under_its_height() -> None:
    """The text stands on its own line, in the line's direction, as near to the middle as it can."""
    found = labelled((PathMark("CONTOUR", (Point(2, 4), Point(18, 12)), up=101.0, label="101.0"),), VIEW)
    (text,) = found.texts
    assert text.rotation == pytest.approx(math.degrees(math.atan2(8, 16)))
    assert (text.box.x, text.box.y) == pytest.approx((100, 80), abs=0.5)


def test_a_contour_without_room_stays_bare() -> None:
    """Too short for its height, or too winding: no text, and no note either."""
    short = PathMark("CONTOUR", (Point(9, 10), Point(11, 10)), label="101.0")
    winding = PathMark("CONTOUR", tuple(Point(2 + n, 10 + n % 2) for n in range(16)), label="102.0")
    found = labelled((short, winding), VIEW)
    assert (found.texts, found.notes, found.unplaced) == ((), (), ())


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(1, 19), st.floats(1, 19)), min_size=1, max_size=8), st.floats(0.0, 3.0))
def test_heights_of_contours_move_no_other_text(stakes: list[tuple[float, float]], slope: float) -> None:
    """With contours or without, every name has the same place; their heights stand on none of them, nor on a line."""
    names: list[Mark] = [SymbolMark("OFFSET", Point(*at), f"{201 + n}") for n, at in enumerate(stakes)]
    line = LineMark("REFERENCE", Point(0, 10), Point(20, 10))
    contours = [PathMark("CONTOUR", (Point(0, n * 2), Point(20, n * 2 + slope)), label=f"{99 + n}.0") for n in range(9)]
    bare, drawn = labelled([line, *names], VIEW), labelled([*contours, line, *names], VIEW)
    assert drawn.texts[: len(bare.texts)] == bare.texts
    heights = drawn.texts[len(bare.texts) :]
    assert not any(boxes_meet(one.box, other.box) for one, other in combinations(drawn.texts, 2))
    assert not any(line_meets(segment(Spot(0, 100), Spot(200, 100)), text.box) for text in heights)
