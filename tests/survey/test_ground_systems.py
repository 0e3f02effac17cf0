"""Ground systems: there and back, and a published shift."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.survey.ground_systems import ORIGIN, GroundSystem
from staking.survey.points import Point, Vector, distance

numbers = st.floats(-7e6, 7e6)


@given(numbers, numbers, numbers, numbers, st.floats(0.999, 1.001))
def test_there_and_back(east: float, north: float, off: float, about: float, factor: float) -> None:
    """A point comes back from ground to grid within a millionth of a metre."""
    made = GroundSystem(Point(about, off), factor, Vector(off, about))
    assert distance(made.to_grid(made.to_ground(Point(east, north))), Point(east, north)) < 1e-6


def test_surface_coordinates_lie_far_from_grid() -> None:
    """San Antonio, public surveyors' thread on a TxDOT job (2019): a factor of 1.00014 moves a point 2,000 ft."""
    grid = Point(2130854.9, 13701831.7)  # feet; from the published shifts of 350 and 2,220 ft at 1.000163, rounded
    ground = GroundSystem(ORIGIN, 1 / 1.00014).to_ground(grid)
    assert distance(grid, ground) == pytest.approx(2000, abs=100)
