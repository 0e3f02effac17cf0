"""Mean, deviation and root mean square of check points, and the 95 % figure by them, as others published them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.check_points import FEWEST, horizontal_95, spread

CASES = {str(case["id"]): case for case in published("accuracy")}


@pytest.mark.parametrize("case", ["c02", "c03"])
def test_published_check_points(case: str) -> None:
    """Every printed figure to its last digit."""
    given_case = CASES[case]
    found = [spread(axis) for axis in zip(*given_case["rows"], strict=True)]
    for name in ("mean", "deviation", "root_mean_square"):
        for printed, each in zip(given_case.get(name, ()), found, strict=False):
            assert getattr(each, name) == pytest.approx(printed, abs=given_case["within"] + 1e-12)


def test_the_published_circle() -> None:
    """Five points whose axes are nearly alike."""
    case = CASES["c03"]
    east, north, _ = (spread(axis).root_mean_square for axis in zip(*case["rows"], strict=True))
    assert horizontal_95(east, north) == pytest.approx(case["horizontal_95"], abs=case["within"])


def test_the_standards_factors() -> None:
    """Alike: 1.7308 of the radial figure; unlike: the mean; below a ratio of 0.6: nothing is stated."""
    case = CASES["c01"]
    assert horizontal_95(0.1, 0.1) == pytest.approx(case["alike"] * math.hypot(0.1, 0.1), rel=1e-4)
    assert horizontal_95(0.1, 0.07) == pytest.approx(case["unlike"] * 0.085)
    assert horizontal_95(0.1, 0.1 * case["least_ratio"] - 0.001) is None
    assert horizontal_95(0.0, 0.0) == 0
    assert case["fewest"] == FEWEST


@given(st.lists(st.floats(-10, 10), min_size=2, max_size=30))
def test_spread_is_that_of_numpy(values: list[float]) -> None:
    """Mean, n - 1 deviation, and n root mean square."""
    found = spread(values)
    assert found.mean == pytest.approx(np.mean(values), abs=1e-9)
    assert found.deviation == pytest.approx(np.std(values, ddof=1), abs=1e-9)
    assert found.root_mean_square == pytest.approx(np.sqrt(np.mean(np.square(values))), abs=1e-9)


def test_no_differences() -> None:
    """One has no deviation; none has nothing."""
    assert spread([2.0]).deviation is None
    with pytest.raises(ValueError, match="no differences"):
        spread([])


def test_an_axis_without_any_error_beside_one_with_some() -> None:
    """The ratio is 0, for which nothing is stated; only without any error is the circle 0."""
    assert horizontal_95(0.0, 0.1) is None
    assert horizontal_95(0.1, 0.0) is None
