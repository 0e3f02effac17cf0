"""A set of points that is sheared or stretched alike everywhere, against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy import optimize, stats

from staking.survey.points import Point
from staking.survey.similarity import Pair
from staking.survey.strain import FEWEST, strain_chance

Matrix = NDArray[np.float64]
seeds = st.integers(0, 10_000)


def _pairs(there: Matrix, here: Matrix) -> list[Pair]:
    return [(Point(*a), Point(*b)) for a, b in zip(there.tolist(), here.tolist(), strict=True)]


@given(seeds, st.integers(FEWEST, 12))
def test_the_chance_agrees_with_scipy(seed: int, count: int) -> None:
    """Weighted squares by its solver, their upper tail by its chi-square."""
    drawn = np.random.default_rng(seed)
    there, own = drawn.uniform(-20, 20, (count, 2)), drawn.uniform(0.002, 0.01, count)
    here = there @ drawn.normal(0, 1, (2, 2)) + drawn.normal(0, 0.006, (count, 2))

    def left(numbers: Matrix) -> Matrix:
        rest = here - there @ numbers[:4].reshape(2, 2) - numbers[4:]
        return (rest / own[:, None]).ravel()

    squares = 2 * optimize.least_squares(left, np.zeros(6), xtol=1e-15, ftol=1e-15, gtol=1e-15).cost
    expected = float(stats.chi2.sf(squares, 2 * count - 6))
    assert strain_chance(_pairs(there, here), own.tolist()) == pytest.approx(expected, rel=1e-4, abs=1e-12)


def test_one_point_that_is_off_is_no_shear() -> None:
    """Among six points round a slab one that is 5 times a tolerance away is explained so in 1 of 100 sets at most."""
    drawn = np.random.default_rng(1)
    there = np.array([(0, 0), (12, 0), (12, 9), (0, 9), (4, -2), (8, -2)], float)
    explained = 0
    for _ in range(200):
        here, way = there + drawn.normal(0, 0.0026, there.shape), drawn.uniform(0, 2 * np.pi)
        here[drawn.integers(6)] += 0.03175 * np.array([np.cos(way), np.sin(way)])
        explained += (strain_chance(_pairs(there, here), [0.0026] * 6) or 0.0) > 1e-3
    assert explained <= 2


def test_too_few_or_on_one_line() -> None:
    """Nothing is told."""
    line = np.array([(float(at), 2.0 * at) for at in range(8)])
    assert strain_chance(_pairs(line, line), [0.003] * 8) is None
    square = np.array([(0, 0), (9, 0), (9, 9), (0, 9)], float)
    assert strain_chance(_pairs(square, square), [0.003] * 4) is None
