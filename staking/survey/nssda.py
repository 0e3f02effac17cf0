"""How well do positions agree with check points, by the National Standard for Spatial Data Accuracy?

Differences are in metres; which is subtracted from which does not matter, but it must be the same for all. The check
points must come from an independent source of higher accuracy, and there must be 20 of them: the caller sees to both.

Source: FGDC-STD-007.3-1998, sections 3.2.1 to 3.2.3 and Appendix 3-A, as two public documents quote them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from staking.survey.check_points import horizontal_95, spread
from staking.survey.error_budget import LINE_95, Covariance, circle_95
from staking.survey.points import Vector


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
        larger = max(self.rmse_east, self.rmse_north)
        return min(self.rmse_east, self.rmse_north) / larger if larger > 0 else 1.0


@dataclass(frozen=True, slots=True)
class Vertical:
    """Accuracy of heights [m]; accuracy: at 95 %."""

    count: int
    mean: float
    rmse: float
    accuracy: float
    largest: float


def horizontal(differences: Sequence[Vector]) -> Horizontal:
    """The accuracy in plan of points by their differences [m]. Raises ValueError for none."""
    east, north = spread([each.east for each in differences]), spread([each.north for each in differences])
    shared = spread([each.east * each.north for each in differences]).mean
    rmse_east, rmse_north = east.root_mean_square, north.root_mean_square
    return Horizontal(
        len(differences),
        Vector(east.mean, north.mean),
        rmse_east,
        rmse_north,
        horizontal_95(rmse_east, rmse_north),
        circle_95(Covariance(rmse_east**2, rmse_north**2, shared)),
        max(each.length for each in differences),
    )


def vertical(differences: Sequence[float]) -> Vertical:
    """The accuracy of heights by differences [m]: 1.9600 times their root mean square. Raises ValueError for none."""
    found = spread(differences)
    rmse = found.root_mean_square
    return Vertical(len(differences), found.mean, rmse, LINE_95 * rmse, max(map(abs, differences)))
