"""Each slip is named when it was made, and none where two systems agree."""

from __future__ import annotations

import pytest

from staking.survey.disagreements import FEET, Told, slip_of
from staking.survey.points import Point

FOOT = 0.3048
RIGHT = Point(6000000.37 * FOOT, 2000000.81 * FOOT)
FACTOR = 0.99986


@pytest.mark.parametrize(
    ("east", "north", "slip"),
    [
        (2000000.81, 6000000.37, "swapped"),
        # published reader letter on state plane feet: 4 ft by 12 ft at 2,000,000 and 6,000,000
        (6000000.37 + 12.0, 2000000.81 + 4.0, "survey foot"),
        (6000000.37 - 12.0, 2000000.81 - 4.0, "survey foot"),
        (6000000.37 * FOOT, 2000000.81 * FOOT, "feet"),
        (6000000.37 / FACTOR, 2000000.81 / FACTOR, "ground for grid"),
        (6000000.37 - 5000000, 2000000.81 - 2000000, "constant"),
        (6000000.37, 2000400.81, "digit"),
        (6000900.37, 2000000.81, "digit"),
        (6000000.37 + 3.3, 2000000.81 - 7.7, "other"),
    ],
)
def test_slips_are_named(east: float, north: float, slip: str) -> None:
    """What was written instead of the right numbers tells the slip."""
    found = slip_of(Point(east * FOOT, north * FOOT), RIGHT, Told(FOOT, 0.05, FACTOR))
    assert found is not None
    assert found.slip == slip


def test_grid_values_taken_for_ground_are_named() -> None:
    """Where the file says ground, numbers that are the grid's own are named."""
    ground = Point(RIGHT.east / FACTOR, RIGHT.north / FACTOR)
    found = slip_of(RIGHT, ground, Told(FOOT, 0.05, FACTOR), RIGHT)
    assert found is not None
    assert found.slip == "grid for ground"


def test_what_agrees_is_no_slip() -> None:
    """Two systems within the tolerance say nothing, and the feet differ by 2 ppm."""
    assert slip_of(Point(RIGHT.east + 0.04, RIGHT.north), RIGHT, Told(FOOT, 0.05)) is None
    assert pytest.approx(2.000004, abs=1e-6) == (FEET - 1) * 1e6  # Fed. Reg. 84 FR 55562 (17 Oct 2019)
