"""How well do positions agree with check points, by the National Standard for Spatial Data Accuracy?

Differences are in metres; which is subtracted from which does not matter, but it must be the same for all. The check
points must come from an independent source of higher accuracy, and there must be 20 of them: the caller sees to both.

Source: FGDC-STD-007.3-1998, sections 3.2.1 to 3.2.3 and Appendix 3-A, as two public documents quote them. A root mean
square error divides by n, not by n - 1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from staking.survey.error_budget import CIRCLE_95, LINE_95, Covariance, circle_95
from staking.survey.points import Vector

LEAST_POINTS = 20  # check points; section 3.2.2
LEAST_RATIO = 0.6  # of the smaller to the larger root mean square error; Appendix 3-A

_NONE = "no differences, no accuracy"


@dataclass(frozen=True, slots=True)
class Horizontal:
    """Accuracy in plan [m].

    mean: of the differences, which is a shift that all share. rmse_east, rmse_north: root mean square errors.
    accuracy: at 95 % by the form of the standard; None where the two are so unlike that the standard gives none.
    circle: that holds 95 in 100 of differences with these second moments about 0, whatever their ratio.
    """

    count: int
    mean: Vector
    rmse_east: float
    rmse_north: float
    accuracy: float | None
    circle: float
    largest: float

    @property
    def rmse(self) -> float:
        """The radial root mean square error [m]."""
        return math.hypot(self.rmse_east, self.rmse_north)

    @property
    def ratio(self) -> float:
        """The smaller root mean square error of both axes, divided by the larger; 1 where there is no error."""
        return _ratio(self.rmse_east, self.rmse_north)


@dataclass(frozen=True, slots=True)
class Vertical:
    """Accuracy of heights [m]; accuracy: at 95 %."""

    count: int
    mean: float
    rmse: float
    accuracy: float
    largest: float


def root_mean_square(differences: Sequence[float]) -> float:
    """The root of the mean of the squares; divides by n. Raises ValueError for none.

    >>> root_mean_square([3.0, -4.0]) == (25 / 2) ** 0.5
    True
    """
    return math.sqrt(_mean([each * each for each in differences]))


def horizontal(differences: Sequence[Vector]) -> Horizontal:
    """The accuracy in plan of points by their differences [m]. Raises ValueError for none."""
    east, north = [each.east for each in differences], [each.north for each in differences]
    rmse_east, rmse_north = root_mean_square(east), root_mean_square(north)
    shared = _mean([each.east * each.north for each in differences])
    return Horizontal(
        len(differences),
        Vector(_mean(east), _mean(north)),
        rmse_east,
        rmse_north,
        radial_accuracy(rmse_east, rmse_north),
        circle_95(Covariance(rmse_east**2, rmse_north**2, shared)),
        max(each.length for each in differences),
    )


def radial_accuracy(rmse_east: float, rmse_north: float) -> float | None:
    """Accuracy at 95 % [m] from the root mean square errors of both axes [m]; None below a ratio of 0.6.

    2.4477 times their mean, which is 1.7308 times the radial error where both are alike. Appendix 3-A gives that form
    for ratios of 0.6 to 1 only: at 0.6 it is 6 % short of the true circle already.

    >>> round(radial_accuracy(0.010, 0.010), 4), radial_accuracy(0.010, 0.005)
    (0.0245, None)
    """
    if _ratio(rmse_east, rmse_north) < LEAST_RATIO:
        return None
    return CIRCLE_95 * (rmse_east + rmse_north) / 2


def vertical(differences: Sequence[float]) -> Vertical:
    """The accuracy of heights by differences [m]: 1.9600 times their root mean square. Raises ValueError for none."""
    rmse = root_mean_square(differences)
    return Vertical(len(differences), _mean(differences), rmse, LINE_95 * rmse, max(map(abs, differences)))


def _mean(numbers: Sequence[float]) -> float:
    if not numbers:
        raise ValueError(_NONE)
    return math.fsum(numbers) / len(numbers)


def _ratio(one: float, other: float) -> float:
    larger = max(one, other)
    return min(one, other) / larger if larger > 0 else 1.0
