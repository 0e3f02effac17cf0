"""Intersections against published cases, and their laws."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from making import published

from staking.survey.angles import direction
from staking.survey.intersections import along_and_tape, angle_at, angle_between, crossing, two_tapes
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, distance, moved

CASES = {case["id"]: case for case in published("inverse")}
numbers = st.floats(-500.0, 500.0)
places = st.builds(Point, numbers, numbers)


def _ray(at: list[float], azimuth: float) -> Line:
    start = Point(*at)
    return Line(start, moved(start, direction(azimuth), 1.0))


def test_two_directions_cross_as_published() -> None:
    """Lines of sight from L and M cross in P."""
    case = CASES["f07a"]
    place = crossing(_ray(case["first"], case["first_azimuth"]), _ray(case["second"], case["second_azimuth"]))
    assert distance(place, Point(*case["at"])) < case["within"]


def test_direction_and_tape_meet_as_published() -> None:
    """The line from J meets the tape from K twice; the nearer distance is the printed one."""
    case = CASES["f06"]
    found = along_and_tape(_ray(case["from"], case["azimuth"]), Point(*case["centre"]), case["tape"])
    lengths = [distance(Point(*case["from"]), place) for place in found]
    assert lengths[0] == pytest.approx(case["printed"], abs=case["within"])
    assert lengths == pytest.approx(case["both"], abs=0.0005)


def test_two_tapes_meet_as_published() -> None:
    """Tapes from R and S meet on the right hand, and in the other place on the left."""
    case = CASES["f07b"]
    left, right = two_tapes(Point(*case["first"]), case["first_tape"], Point(*case["second"]), case["second_tape"])
    assert distance(right, Point(*case["at"])) < case["within"]
    assert distance(left, Point(*case["other"])) < case["within"]


@given(places, places, places)
def test_two_tapes_find_the_place_they_were_read_at(first: Point, second: Point, place: Point) -> None:
    """Distances read from two points lead back to the place, on its own hand."""
    assume(distance(first, second) > 1.0)
    off = Line(first, second).offset(place)
    assume(abs(off) > 0.5)
    left, right = two_tapes(first, distance(first, place), second, distance(second, place))
    assert distance(left if off > 0 else right, place) < 1e-6


def test_tapes_that_are_too_short_name_the_gap() -> None:
    """Tapes of 3 and 4 held 8 apart miss each other by 1; a long one can also miss round a short one."""
    with pytest.raises(ValueError, match=r"by 1\.0000 m"):
        two_tapes(Point(0, 0), 3, Point(8, 0), 4)
    with pytest.raises(ValueError, match=r"by 4\.0000 m"):
        two_tapes(Point(0, 0), 9, Point(2, 0), 3)
    with pytest.raises(ValueError, match="same place"):
        two_tapes(Point(1, 1), 3, Point(1, 1), 3)


def test_a_tape_may_miss_or_touch_a_line() -> None:
    """No place, one place or two."""
    line = Line(Point(0, 0), Point(10, 0))
    assert along_and_tape(line, Point(5, 4), 3) == ()
    assert along_and_tape(line, Point(5, 4), 4) == (Point(5, 0),)
    assert [place.east for place in along_and_tape(line, Point(5, 4), 5)] == [2, 8]


def test_parallel_lines_do_not_cross() -> None:
    """Lines side by side are refused, also when they run against each other."""
    with pytest.raises(ValueError, match="parallel"):
        crossing(Line(Point(0, 0), Point(1, 0)), Line(Point(5, 1), Point(0, 1)))


@given(places, places, places, places)
def test_a_crossing_lies_on_both_lines(a: Point, b: Point, c: Point, d: Point) -> None:
    """The crossing has no offset from either line."""
    assume(distance(a, b) > 1 and distance(c, d) > 1)
    first, second = Line(a, b), Line(c, d)
    assume(angle_between(first.direction, second.direction) > 1)
    place = crossing(first, second)
    assert abs(first.offset(place)) < 1e-6
    assert abs(second.offset(place)) < 1e-6


def test_angles_between_and_at() -> None:
    """A 3-4-5 triangle shows its right angle; directions are compared without their sense."""
    assert angle_at(Point(0, 0), Point(3, 0), Point(0, 4)) == pytest.approx(90.0)
    assert angle_between(Vector(1, 0), Vector(-1, 1)) == pytest.approx(45.0)
