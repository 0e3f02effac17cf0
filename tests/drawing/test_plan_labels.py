"""Texts of the plan in their places."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from staking.drawing.marks import LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.paper import Spot, boxes_meet
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
