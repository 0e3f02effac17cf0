"""How likely is it that noise alone makes a sum of squares so large?

Upper tails of two distributions, in closed form where the freedom is a whole number, so that no tables are needed.
"""

from __future__ import annotations

import math


def chi_square(value: float, freedom: int) -> float:
    """The chance that the squares of so many standard normal numbers add up to more than a value.

    1 for no freedom at all. Raises ValueError for a value below 0.
    Source: the finite sums for whole freedoms, Abramowitz and Stegun 26.4.4 and 26.4.5, from memory; scipy is the
    oracle in the tests.

    >>> round(chi_square(3.841, 1), 3), round(chi_square(5.991, 2), 3)
    (0.05, 0.05)
    """
    if value < 0:
        raise ValueError("a sum of squares is not below 0")
    half = value / 2
    if freedom < 1 or half == 0:
        return 1.0
    first = 0.5 if freedom % 2 else 0.0
    terms = (math.exp(j * math.log(half) - half - math.lgamma(j + 1)) for j in _steps(first, freedom))
    return min(1.0, (math.erfc(math.sqrt(half)) if freedom % 2 else 0.0) + math.fsum(terms))


def _steps(first: float, freedom: int) -> list[float]:
    """The powers in the finite sum: 0, 1, 2 ... for even freedoms, 1/2, 3/2 ... for odd ones."""
    return [first + step for step in range(freedom // 2)]


def ratio_of_pair(value: float, freedom: int) -> float:
    """The chance that two squares, divided by 2, are more than `value` times a variance known from `freedom` others.

    Source: the F distribution with 2 and n degrees of freedom, of which the upper tail is (1 + 2 f / n)^(-n/2); from
    memory; scipy is the oracle in the tests. Raises ValueError for a value below 0 or no freedom.

    >>> round(ratio_of_pair(4.103, 10), 3)
    0.05
    """
    if value < 0 or freedom < 1:
        raise ValueError("a ratio of variances is not below 0, and its lower one needs freedom")
    return math.exp(-freedom / 2 * math.log1p(2 * value / freedom))
