"""Inverse computations against published cases, and their laws."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.points import Point, Vector, azimuth, azimuth_of, distance, mean, moved, vector

CASES = {case["id"]: case for case in published("inverse")}
places = st.builds(Point, st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))


def _pairs(case: Any) -> list[tuple[Point, Point, float, float]]:
    if "pairs" in case:
        ends = [(Point(a, b), Point(c, d)) for a, b, c, d in case["pairs"]]
    else:
        ends = [(Point(*case["from"]), Point(*to)) for to in case["to"]]
    return [(a, b, d, z) for (a, b), d, z in zip(ends, case["distance"], case["azimuth"], strict=True)]


@pytest.mark.parametrize("name", ["f01", "f02"])
def test_inverse_agrees_with_published_joins(name: str) -> None:
    """Distance and azimuth come out as printed, to half of the last digit."""
    for start, end, length, direction in _pairs(CASES[name]):
        assert distance(start, end) == pytest.approx(length, abs=CASES[name]["within"])
        assert azimuth(start, end) == pytest.approx(direction, abs=0.00006)


def test_inverse_does_not_repeat_the_wrong_answers() -> None:
    """The distances that a machine wrote for the textbook's building are wrong in the second decimal."""
    case = CASES["f01"]
    found = [distance(a, b) for a, b, _, _ in _pairs(case)]
    assert all(abs(a - b) > 0.005 for a, b in zip(found, case["wrong_distance"], strict=True))


def test_inverse_from_differences() -> None:
    """A difference in north and east gives distance and azimuth as the practical prints them."""
    case = CASES["f04"]
    step = Vector(case["east"], case["north"])
    assert step.length == pytest.approx(case["distance"], abs=case["within"])
    assert azimuth_of(step) == pytest.approx(case["azimuth"], abs=0.5 / 3600)


@given(places, st.floats(0.01, 1e4), st.sampled_from([0.0, 90.0, 180.0, 270.0]))
def test_right_angles_are_exact(start: Point, length: float, wanted: float) -> None:
    """A point due north, east, south or west has exactly that azimuth."""
    step = {0.0: Vector(0, 1), 90.0: Vector(1, 0), 180.0: Vector(0, -1), 270.0: Vector(-1, 0)}[wanted]
    assert azimuth(start, moved(start, step, max(length, 1.0))) == wanted


@given(places, places)
def test_there_and_back(start: Point, end: Point) -> None:
    """The way back is as long, and half a turn from the way there."""
    if distance(start, end) > 1e-3:
        assert distance(end, start) == distance(start, end)
        assert abs((azimuth(start, end) - azimuth(end, start)) % 360.0) == pytest.approx(180.0, abs=1e-6)


@given(st.lists(places, min_size=1, max_size=20))
def test_mean_does_not_depend_on_order(points: list[Point]) -> None:
    """The centroid is the same to the last bit whatever the order of the points."""
    assert mean(points) == mean(points[::-1])


def test_quarter_turns_are_exact() -> None:
    """Four quarters to the left lead back, and a quarter to the right undoes one to the left."""
    step = Vector(3.25, -7.5)
    assert step.left().left().left().left() == step
    assert step.left().right() == step


def test_no_direction_without_distance() -> None:
    """Two points in one place give no direction, and say so."""
    with pytest.raises(ValueError, match="no direction"):
        azimuth(Point(1, 1), Point(1, 1))
    with pytest.raises(ValueError, match="no length"):
        vector(Point(1, 1), Point(1, 1)).unit()
    with pytest.raises(ValueError, match="no points"):
        mean([])
