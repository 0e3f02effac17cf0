"""Angles right, heights and walks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.points import Point
from staking.survey.polar import angle_right, rise, walk, walked

CASES = {str(case["id"]): case for case in published("inverse")}
points = st.builds(Point, st.floats(-100, 100), st.floats(-100, 100))


def test_published_building_from_one_station() -> None:
    """Turned from the first corner, the others stand at the published differences of azimuths."""
    case = CASES["f01"]
    station, corners = Point(*case["from"]), [Point(*each) for each in case["to"]]
    for corner, printed in zip(corners[1:], case["azimuth"][1:], strict=True):
        turned = angle_right(station, corners[0], corner)
        assert turned == pytest.approx(printed - case["azimuth"][0], abs=0.0001)


def test_rise() -> None:
    """Below the axis the vertical distance is negative and the zenith angle above 90; unknown heights give none."""
    seen = rise(Point(0, 0, 100.0), Point(40, 0, 68.2), instrument=1.5, prism=3.3)
    assert seen is not None
    assert (seen.vertical, seen.slope) == pytest.approx((-30.0, 50.0))
    assert seen.zenith == pytest.approx(126.8698976)
    assert rise(Point(0, 0), Point(1, 1, 5.0), instrument=1.5, prism=1.5) is None


@given(st.lists(points, max_size=12))
def test_walk_visits_each_once(places: list[Point]) -> None:
    """Every place once, and the same walk again for the same places."""
    start = Point(0, 0)
    order = walk(start, places)
    assert sorted(order) == list(range(len(places)))
    assert order == walk(start, places)


def test_walk_round_a_square_crosses_nothing() -> None:
    """Four corners named crosswise are walked round: 14.142 + 3 * 40 + 50.990."""
    places = [Point(10, 10), Point(50, 50), Point(50, 10), Point(10, 50)]
    assert walked(Point(0, 0), places, walk(Point(0, 0), places)) == pytest.approx(185.1323, abs=1e-3)


def test_same_place() -> None:
    """A backsight under the instrument is refused."""
    with pytest.raises(ValueError, match="same place"):
        angle_right(Point(1, 1), Point(1, 1), Point(2, 2))
