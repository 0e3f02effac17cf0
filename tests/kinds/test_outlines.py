"""Outlines in their own axes: names of corners and sides, the four hands of an ell, traced shapes."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from staking.errors import RuleError
from staking.kinds.outlines import Ell, Rectangle, Traced
from staking.survey.polygons import signed_area

FEET = {"unit": "ft"}
ELL = {"kind": "ell", "width": 30, "depth": 20, "cut_width": 12, "cut_depth": 8}
HANDS = {
    "back-right": (("front-left", "front-right", "", "inside", "", "back-left"), "front"),
    "back-left": (("front-left", "front-right", "back-right", "", "inside", ""), "front"),
    "front-right": (("front-left", "", "inside", "", "back-right", "back-left"), "front"),
    "front-left": (("", "front-right", "back-right", "back-left", "", "inside"), "front"),
}


def test_rectangle_is_numbered_from_the_front_left_corner() -> None:
    """Counter-clockwise, with the names of the trade."""
    outline = Rectangle.model_validate({"width": "36'", "depth": "48'-6"}, context=FEET).outline()
    assert outline.corner_names == ("front-left", "front-right", "back-right", "back-left")
    assert outline.side_names == ("front", "right", "back", "left")
    assert signed_area(outline.corners) / 0.3048**2 == pytest.approx(36 * 48.5)


@pytest.mark.parametrize("missing", HANDS)
def test_ell_in_four_hands(missing: str) -> None:
    """The cut is where it is said to be, the front side comes first, the inside corner has its name."""
    outline = Ell.model_validate(ELL | {"missing": missing}, context=FEET).outline()
    names, first = HANDS[missing]
    assert outline.corner_names == names
    assert outline.side_names[0] == first
    assert outline.counter_clockwise
    assert signed_area(outline.corners) / 0.3048**2 == pytest.approx(30 * 20 - 12 * 8)


def test_corners_and_sides_are_found_by_number_and_name() -> None:
    """Numbers from 1, as text too; sides also by the corners they join."""
    outline = Rectangle.model_validate({"width": 4, "depth": 3}, context=FEET).outline()
    assert [outline.corner(w) for w in (3, "3", "back-right")] == [2, 2, 2]
    assert [outline.side(w) for w in (4, "4", "left", "4-1")] == [3, 3, 3, 3]
    with pytest.raises(RuleError) as refused:
        outline.corner("frnt-left")
    assert 'did you mean "front-left"?' in refused.value.remedy


def test_sides_that_share_an_edge_of_the_box_take_no_name() -> None:
    """The two legs of a U both end on the back edge; neither is "back"."""
    steps = ["right 9", "away 6", "left 3", "toward 4", "left 3", "away 4", "left 3", "toward 6"]
    outline = Traced.model_validate({"kind": "traced", "steps": steps}, context=FEET).outline()
    assert outline.side_names == ("front", "right", "", "", "", "", "", "left")


def test_traced_by_vertices_is_the_same_as_by_steps() -> None:
    """A repeated first corner at the end is dropped."""
    steps = {"kind": "traced", "steps": ["right 9", "away 4", "left 9", "toward 4"]}
    vertices = {"kind": "traced", "vertices": [[0, 0], [9, 0], [9, 4], [0, 4], [0, 0]]}
    one, two = (Traced.model_validate(given, context=FEET).outline() for given in (steps, vertices))
    assert (one.corners, one.corner_names, one.side_names) == (two.corners, two.corner_names, two.side_names)


def test_traced_outline_takes_names_of_its_own() -> None:
    """Names in the order of corners and sides; an empty one leaves the corner its number."""
    given = {"kind": "traced", "steps": ["right 9", "away 4", "left 9", "toward 4"], "corners": ["oak", "", "", "gate"]}
    outline = Traced.model_validate(given, context=FEET).outline()
    assert outline.corner("gate") == 3
    assert outline.side_names == ("front", "right", "back", "left")
    with pytest.raises(RuleError, match="2 names for 4 sides"):
        Traced.model_validate(given | {"sides": ["a", "b"]}, context=FEET).outline()
    with pytest.raises(RuleError, match="same name"):
        Traced.model_validate(given | {"sides": ["a", "a", "", ""]}, context=FEET).outline()


@pytest.mark.parametrize(
    "given",
    [
        {"steps": ["right 9"], "vertices": [[0, 0]]},
        {},
        {"steps": ["up 9"]},
        {"steps": ["right 9 foo"]},
        {"steps": ["right 0"]},
        {"steps": ["right 5' 13"]},
        {"steps": [9]},
    ],
)
def test_steps_that_cannot_be_read_are_refused(given: dict[str, object]) -> None:
    """Both ways of tracing, none, unknown words, no length, a length that cannot be read, a bare number."""
    with pytest.raises(ValidationError):
        Traced.model_validate({"kind": "traced"} | given, context=FEET)


def test_cut_as_large_as_the_box_is_refused() -> None:
    """A cut must leave something of the width and of the depth."""
    with pytest.raises(RuleError, match="cut_depth leaves nothing of the depth"):
        Ell.model_validate(ELL | {"missing": "back-left", "cut_depth": 20}, context=FEET).outline()


def test_a_circle_of_two_arcs_is_refused_with_what_to_write() -> None:
    """Two corners make no outline; three or four arcs do."""
    two = {"kind": "traced", "steps": ["right 24 curve left 12", "left 24 curve left 12"]}
    with pytest.raises(RuleError, match="at least three corners") as refused:
        Traced.model_validate(two, context=FEET).outline()
    assert refused.value.remedy == "write a circle as three arcs or more; with four its corners are those of a square"
