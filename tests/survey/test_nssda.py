"""Positional accuracy in plan and height: a published set of check points, and simulated differences."""

from __future__ import annotations

import math

import numpy as np
import pytest
from making import published
from scipy.stats import chi2

from staking.survey.check_points import horizontal_95, spread
from staking.survey.nssda import horizontal, vertical
from staking.survey.points import Vector

CASES = {str(case["id"]): case for case in published("accuracy")}
SEVEN = CASES["c02"]


def test_published_check_points() -> None:
    """Seven published residuals, in plan and in height: the same figures as axis by axis, times the printed factors."""
    plan = horizontal([Vector(*row[:2]) for row in SEVEN["rows"]])
    heights = vertical([row[2] for row in SEVEN["rows"]])
    roots = np.sqrt(np.mean(np.square(SEVEN["rows"]), axis=0))
    assert [plan.rmse_east, plan.rmse_north, heights.rmse] == pytest.approx(roots)
    assert plan.rmse == pytest.approx(np.hypot(*roots[:2]))
    assert plan.ratio == pytest.approx(roots[1] / roots[0])
    assert plan.accuracy == pytest.approx(CASES["c01"]["unlike"] * roots[:2].mean())
    assert heights.accuracy == pytest.approx(CASES["e01"]["line"] * roots[2])


def test_a_height_has_the_factor_of_one_number() -> None:
    """The printed 1.9600 is that of a normal distribution."""
    assert vertical([1.0, -1.0]).accuracy == pytest.approx(math.sqrt(chi2.ppf(0.95, 1)), abs=CASES["e01"]["within"])


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
