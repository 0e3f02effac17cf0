"""Free stations against published ones and scipy; two answers, the danger circle, what cannot be solved."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published
from scipy.optimize import least_squares as scipy_least_squares

from staking.survey.angles import difference
from staking.survey.points import Point, azimuth, distance
from staking.survey.resection import Sight, adjusted, by_angles, by_unsigned_angles, danger, stations

CASES = {str(case["id"]): case for case in published("resection")}
MARKS = (Point(0, 100), Point(80, 90), Point(100, -10))
places = st.builds(Point, st.floats(10, 70), st.floats(0, 70))


def _marks(case_id: str) -> tuple[Point, Point, Point]:
    one, two, three = (Point(*each) for each in CASES[case_id]["marks"])
    return one, two, three


def _sights(place: Point, *, zero: float = 77.0, off: float = 0.0) -> list[Sight]:
    return [
        Sight(mark, (azimuth(place, mark) - zero) % 360, distance(place, mark) + off, 5 / 3600, 0.003) for mark in MARKS
    ]


@pytest.mark.parametrize("case_id", ["f08", "f08, second set", "f11"])
def test_published_angles(case_id: str) -> None:
    """Three marks and two clockwise angles give the published station."""
    case = CASES[case_id]
    assert distance(by_angles(_marks(case_id), *case["angles"]), Point(*case["place"])) < 2 * case["within"]


def test_angles_without_a_sense_have_two_answers() -> None:
    """The published angles fit a second station, with the marks seen the other way round."""
    case = CASES["f11"]
    first, second = by_unsigned_angles(_marks("f11"), *case["angles"])
    assert distance(first, Point(*case["place"])) < 2 * case["within"]
    assert distance(second, Point(*case["other"])) < 2 * case["within"]


def test_published_distances() -> None:
    """Place, residuals and misfit of the published trilateration."""
    case = CASES["g01"]
    sights = [Sight(mark, length=read) for mark, read in zip(_marks("g01"), case["distances"], strict=True)]
    (fixed,) = stations(sights)
    assert distance(fixed.place, Point(*case["place"])) < 2 * case["within"]
    assert [each.length for each in fixed.residuals] == pytest.approx(case["residuals"], abs=case["within"])
    assert fixed.misfit == pytest.approx(case["misfit"], abs=1e-7)


def test_scipy_finds_the_same_place() -> None:
    """Contradicting readings are adjusted to where scipy puts the least sum of weighted squares."""
    sights = _sights(Point(30, 20), off=0.01)
    (fixed,) = stations(sights)

    def misses(guess: list[float]) -> list[float]:
        place = Point(guess[0], guess[1])
        angles = [difference(each.reading or 0, azimuth(place, each.to) - guess[2]) * 720 for each in sights]
        return angles + [(distance(place, each.to) - (each.length or 0)) / 0.003 for each in sights]

    found = scipy_least_squares(misses, [29.0, 21.0, 77.1], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert distance(fixed.place, Point(*found.x[:2])) < 1e-6
    assert fixed.misfit == pytest.approx(math.sqrt(2 * found.cost / 3), abs=1e-6)


@given(places, st.floats(0, 359))
def test_every_kind_of_reading_leads_back(place: Point, zero: float) -> None:
    """Readings computed from a place lead back to it, whatever the circle's zero."""
    (fixed,) = stations(_sights(place, zero=zero))
    assert distance(fixed.place, place) < 1e-6
    assert abs(difference(fixed.orientation or 0.0, zero)) < 1e-6


def test_two_distances_leave_two_places() -> None:
    """Two tapes meet on either side of the line between their marks."""
    place = Point(30, 20)
    sights = [Sight(mark, length=distance(place, mark)) for mark in MARKS[:2]]
    assert min(distance(each.place, place) for each in stations(sights)) < 1e-6
    assert len(stations(sights)) == 2


def test_danger_circle() -> None:
    """On the circle through the marks the share is 0, in its middle 1, and angles give no place there."""
    marks = (Point(10, 0), Point(0, 10), Point(-10, 0))
    assert danger(marks, Point(0, -10)) == pytest.approx(0)
    assert danger(marks, Point(0, 0)) == pytest.approx(1)
    with pytest.raises(ValueError, match="one circle"):
        by_angles(marks, 315.0, 315.0)


def test_too_few_sights() -> None:
    """One distance fixes nothing."""
    with pytest.raises(ValueError, match="too few"):
        adjusted([Sight(Point(0, 0), length=5.0)], Point(3, 4))
    assert stations([Sight(Point(0, 0), length=5.0)]) == ()
