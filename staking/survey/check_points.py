"""How well do measured points agree with independent ones, all taken together?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from staking.survey.error_budget import CIRCLE_95

FEWEST = 20  # check points that a statement of accuracy asks for: NSSDA (FGDC-STD-007.3-1998), 3.2.1
_ROUND = 0.6  # ratio of the two axes, below which the averaged form is not stated: the same, 3.2.3


@dataclass(frozen=True, slots=True)
class Spread:
    """Of differences along one axis [m]: mean, standard deviation about it (n - 1), root mean square about 0 (n)."""

    mean: float
    deviation: float | None
    root_mean_square: float


def spread(differences: Sequence[float]) -> Spread:
    """Of differences [m], one at least; no deviation of one alone. Raises ValueError for none.

    Source: NSSDA (FGDC-STD-007.3-1998), 3.2.3, which divides by n for the root mean square; seven check points of
    PE&RS, May 2014, for the deviation, which divides by n - 1.

    >>> spread([3.0, -4.0]).root_mean_square == math.sqrt(12.5)
    True
    """
    count = len(differences)
    if not count:
        raise ValueError("no differences to take the mean of")
    mean = math.fsum(differences) / count
    squares = math.fsum((each - mean) ** 2 for each in differences)
    deviation = math.sqrt(squares / (count - 1)) if count > 1 else None
    return Spread(mean, deviation, math.sqrt(math.fsum(each * each for each in differences) / count))


def horizontal_95(east: float, north: float) -> float | None:
    """Radius of the circle that holds 95 of 100 points [m], by the root mean squares of both axes [m].

    None where one is less than 0.6 of the other, for which no form is stated. Source: NSSDA, appendix 3-A: 2.4477 times
    their mean; where they are alike that is 1.7308 times the root of the sum of their squares.
    """
    if max(east, north) == 0:
        return 0.0
    return CIRCLE_95 * 0.5 * (east + north) if min(east, north) >= _ROUND * max(east, north) else None
