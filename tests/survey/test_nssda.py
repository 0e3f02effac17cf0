"""Positional accuracy: factors of the standard, a published set of check points, and simulated differences."""

from __future__ import annotations

import math

import numpy as np
import pytest
from making import published
from scipy.stats import chi2

from staking.survey.check_points import FEWEST, horizontal_95, spread
from staking.survey.error_budget import RADIAL_95
from staking.survey.nssda import horizontal, vertical
from staking.survey.points import Vector

CASES = {str(case["id"]): case for case in published("positional_accuracy")}
SEVEN = CASES["c02"]
EAST, NORTH, UP = ([row[axis] for row in SEVEN["residuals"]] for axis in range(3))


def test_factors_of_the_standard() -> None:
    """Errors of 1 on both axes give the printed factors, which are those of a normal distribution."""
    case = CASES["c01"]
    one = horizontal_95(1.0, 1.0)
    assert one == pytest.approx(case["axis"], abs=case["within"])
    assert one == pytest.approx(case["radial"] * math.sqrt(2), abs=2 * case["within"])
    assert one == pytest.approx(math.sqrt(chi2.ppf(0.95, 2)), abs=case["within"])
    assert vertical([1.0, -1.0]).accuracy == pytest.approx(case["vertical"], abs=case["within"])
    assert vertical([1.0, -1.0]).accuracy == pytest.approx(math.sqrt(chi2.ppf(0.95, 1)), abs=case["within"])
    assert case["least_points"] == FEWEST
    assert horizontal_95(1.0, case["least_ratio"]) is not None
    assert horizontal_95(1.0, case["least_ratio"] - 0.01) is None


def test_published_check_points() -> None:
    """Seven published residuals: root mean squares divide by n, while the deviations printed beside them do not."""
    found = horizontal([Vector(*each) for each in zip(EAST, NORTH, strict=True)])
    heights = vertical(UP)
    roots = [found.rmse_east, found.rmse_north, heights.rmse]
    assert roots == pytest.approx(SEVEN["recomputed_rmse"], abs=SEVEN["recomputed_within"])
    assert found.rmse == pytest.approx(SEVEN["recomputed_radial"], abs=SEVEN["recomputed_within"])
    means = [found.mean.east, found.mean.north, heights.mean]
    about_mean = [math.sqrt((root**2 - mean**2) * 7 / 6) for root, mean in zip(roots, means, strict=True)]
    assert about_mean == pytest.approx(SEVEN["printed_deviation"], abs=SEVEN["within"])
    # their axes are unlike (0.89), so the form for unlike axes gives a little less than 1.7308 x radial
    assert found.accuracy is not None
    assert 0.995 < found.accuracy / (RADIAL_95 * found.rmse) < 1
    accuracies = [RADIAL_95 * found.rmse, heights.accuracy]
    assert accuracies == pytest.approx(SEVEN["recomputed_accuracy"], abs=SEVEN["recomputed_within"])


@pytest.mark.parametrize(("ratio", "short"), [(1.0, 0.0), (0.8, 0.012), (0.6, 0.06)])
def test_the_form_for_unlike_axes_is_short_of_the_true_circle(ratio: float, short: float) -> None:
    """Of 400000 simulated differences the standard's circle holds 95 in 100 at like axes, ever fewer at unlike ones."""
    random = np.random.default_rng(20260506)
    away = np.hypot(random.standard_normal(400_000), ratio * random.standard_normal(400_000))
    true = float(np.quantile(away, 0.95))
    stated = horizontal_95(1.0, ratio)
    assert stated is not None
    assert 1 - stated / true == pytest.approx(short, abs=0.005)


def test_axes_that_are_too_unlike_have_no_form() -> None:
    """Below 0.6 the standard gives no figure; the circle by the moments still holds 95 in 100."""
    random = np.random.default_rng(7)
    east, north = random.standard_normal((2, 20_000)) * np.array([[1.0], [0.3]])
    found = horizontal([Vector(*each) for each in zip(east.tolist(), north.tolist(), strict=True)])
    assert found.accuracy is None
    assert float(np.mean(np.hypot(east, north) <= found.circle)) == pytest.approx(0.95, abs=0.005)


def test_a_shift_that_all_share_is_in_the_accuracy() -> None:
    """An error that is the same everywhere does not vanish in the mean: it is the whole of the accuracy."""
    found = horizontal([Vector(0.003, 0.004)] * 20)
    assert (found.mean.east, found.mean.north, found.largest) == pytest.approx((0.003, 0.004, 0.005))
    assert found.rmse == pytest.approx(0.005)


def test_two_wild_ones_among_many_rule_the_figure() -> None:
    """Two blunders of half a metre among 498 good differences make the root mean square several times worse."""
    good = [0.005 * (-1) ** number for number in range(498)]
    assert spread([*good, 0.5, -0.5]).root_mean_square > 6 * spread(good).root_mean_square


def test_nothing_measured_has_no_accuracy() -> None:
    """No differences are refused; differences of nothing are an accuracy of nothing."""
    with pytest.raises(ValueError, match="no differences"):
        horizontal([])
    with pytest.raises(ValueError, match="no differences"):
        vertical([])
    still = horizontal([Vector(0.0, 0.0)] * 20)
    assert (still.accuracy, still.ratio) == (0.0, 1.0)
