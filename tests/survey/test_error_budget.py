"""95 % circles against published ones and simulated stakes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from making import published

from staking.survey.error_budget import (
    CIRCLE_95,
    LINE_95,
    RADIAL_95,
    SECOND,
    Covariance,
    TotalStation,
    circle_95,
    ellipse,
    round_error,
    satellite,
    set_up,
    shot,
)
from staking.survey.points import Point

CASES = {str(case["id"]): case for case in published("accuracy")}
INSTRUMENT = TotalStation(direction=5.0, fixed=0.002, ppm=2.0, centring=0.0015, pole=0.003)


def test_factors() -> None:
    """The factors are the published ones, and those of a circular normal distribution."""
    case = CASES["e01"]
    assert (case["circle"], case["radial"], case["line"]) == (CIRCLE_95, RADIAL_95, LINE_95)
    assert pytest.approx(math.sqrt(-2 * math.log(0.05)), abs=case["within"]) == CIRCLE_95
    assert pytest.approx(CIRCLE_95 / math.sqrt(2), abs=case["within"]) == RADIAL_95


@pytest.mark.parametrize("row", CASES["e02"]["rows"])
def test_published_circles(row: list[float]) -> None:
    """Sigmas and correlation give the printed circle to its last digit."""
    north, east, correlation, printed = row
    place = Covariance(east**2, north**2, correlation * east * north)
    assert circle_95(place) == pytest.approx(printed, abs=CASES["e02"]["within"] + 1e-9)


def test_simulated_stakes_lie_in_their_circle() -> None:
    """Of 40000 stakes set out with random errors of every cause, 95 in 100 lie in the circle (three sigma: 0.4)."""
    random = np.random.default_rng(20260504)
    station, back, stake = np.zeros(2), np.array([60.0, 20.0]), np.array([-15.0, 38.0])
    away, n, mark = float(np.hypot(*stake)), 40000, math.hypot(0.0015, 0.004)
    at, seen = random.normal(0, mark, (n, 2)), back + random.normal(0, mark, (n, 2))
    turned = np.arctan2(*(seen - at).T) - math.atan2(*back) + random.normal(0, 5 * SECOND * math.sqrt(2), n)
    way = math.atan2(*stake) + turned
    length = away + random.normal(0, INSTRUMENT.length(away), n)
    there = at + length[:, None] * np.stack([np.sin(way), np.cos(way)], 1) + random.normal(0, 0.003, (n, 2))
    places = [Point(*map(float, each)) for each in (station, back, stake)]
    budget = shot(INSTRUMENT, places[0], places[2]) + set_up(INSTRUMENT, *places, control=0.004)
    inside = np.hypot(*(there - stake).T) <= circle_95(budget)
    assert inside.mean() == pytest.approx(0.95, abs=0.004)


def test_ellipse() -> None:
    """The longer half axis and where it points."""
    axes = ellipse(Covariance(0.0004, 0.0001))
    assert (axes.major, axes.minor, axes.azimuth) == pytest.approx((0.02, 0.01, 90.0))
    assert circle_95(round_error(0.0)) == 0


def test_rover() -> None:
    """Fixed part, ppm of the base, pole and control add up as squares."""
    place = satellite(fixed=0.003, ppm=1.0, base=4000.0, pole=0.0, control=0.012)
    assert math.sqrt(place.east) == pytest.approx(0.013)
