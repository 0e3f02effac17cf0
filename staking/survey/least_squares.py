"""Which unknowns fit measurements best, how well are they known then, and which measurement does not belong?

Each measurement is a number; a design matrix says how it changes with the unknowns, a weight how well it is known
(1 / its variance, in any common measure). Residuals are computed less observed: what is added to a measurement.
Units are the caller's. Whoever has large coordinates subtracts their centroid first: normal equations of numbers of
millions lose all digits (condition 1e11 was seen).

Sources: least squares of indirect observations with weights, cofactors, constraints and redundancy numbers as in
E. M. Mikhail and F. Ackermann, Observations and Least Squares (1976), whose examples 6.2, 7.5, 7.8 and 9.1 are in the
tests; W. Baarda, A testing procedure for use in geodetic networks (1968), for standardised residuals; both from memory.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from staking.survey.chances import chi_square

Matrix = NDArray[np.float64]
Model = Callable[[Matrix], tuple[Matrix, Matrix]]  # at these unknowns: what would be measured, and the design matrix

_NO_CONTROL = 1e-9  # a redundancy number below this is rounding: no other measurement checks this one
_STILL = 1e-12  # of an unknown's size, or of 1: a step as small as this is the last
_DETERMINED = 1e-10  # smallest singular value of a scaled design, against the largest; below it is rounding


@dataclass(frozen=True, eq=False)
class Solution:
    """Unknowns of the least weighted sum of squared residuals.

    cofactors: of the unknowns; times the variance of unit weight they are variances and covariances.
    residual_cofactors: of the residuals. redundancy: measurements and constraints beyond the unknowns.
    steps: of the iteration; 1 for a linear problem.
    """

    unknowns: Matrix
    residuals: Matrix
    weights: Matrix
    cofactors: Matrix
    residual_cofactors: Matrix
    redundancy: int
    steps: int = 1

    @cached_property
    def weighted_sum(self) -> float:
        """The weighted sum of squared residuals."""
        return float(self.residuals @ self.weights @ self.residuals)

    @property
    def standard_error(self) -> float | None:
        """Of a measurement of weight 1, from the residuals; None without redundancy."""
        return math.sqrt(self.weighted_sum / self.redundancy) if self.redundancy > 0 else None

    @cached_property
    def redundancies(self) -> tuple[float, ...]:
        """The redundancy number of each measurement, 0 (nothing checks it) to 1; they add up to the redundancy."""
        return tuple(float(number) for number in np.diag(self.residual_cofactors @ self.weights))

    def standard_errors(self, unit: float) -> tuple[float, ...]:
        """Of the unknowns. unit: the standard error of a measurement of weight 1."""
        return tuple(unit * math.sqrt(max(0.0, float(number))) for number in np.diag(self.cofactors))

    def standardised(self, unit: float) -> tuple[float | None, ...]:
        """Each residual over its own standard error; None where nothing checks the measurement, or unit is 0."""
        own = np.diag(self.residual_cofactors)
        return tuple(
            float(left) / (unit * math.sqrt(float(size))) if number > _NO_CONTROL and unit > 0 else None
            for left, size, number in zip(self.residuals, own, self.redundancies, strict=True)
        )

    def gain(self, rows: Sequence[int]) -> float:
        """By how much the weighted sum falls when some measurements are left out; what nothing checks adds nothing."""
        pick = np.eye(len(self.residuals))[:, list(rows)]
        pull = pick.T @ self.weights @ self.residuals
        spread = pick.T @ self.weights @ self.residual_cofactors @ self.weights @ pick
        return float(pull @ np.linalg.pinv(spread, rcond=_NO_CONTROL, hermitian=True) @ pull)

    def chance(self, unit: float) -> float:
        """The chance of residuals as large as these or larger if the standard error of weight 1 is `unit`.

        The global test: below a few hundredths something is wrong, in a measurement, the model or `unit`.
        """
        return chi_square(self.weighted_sum / unit**2, self.redundancy)


def linear(
    design: ArrayLike,
    observed: ArrayLike,
    *,
    weights: ArrayLike | None = None,
    constraints: tuple[ArrayLike, ArrayLike] | None = None,
) -> Solution:
    """The best unknowns where each measurement is a sum of multiples of them.

    design: a row a measurement, a column an unknown. weights: one a measurement, or their whole matrix where
    measurements are correlated (the inverse of their cofactors); left out, all are 1. constraints: C and c, of which
    C x = c holds exactly. Raises ValueError where shapes do not fit, weights are not positive, constraints contradict
    one another, or the measurements leave an unknown open.
    """
    rows, measured = np.atleast_2d(np.asarray(design, float)), np.asarray(observed, float)
    weight = _weights(weights, len(measured))
    start, free = _allowed(constraints, rows.shape[1])
    root = np.linalg.cholesky(weight).T
    loose, inner = _solved(root @ rows @ free, root @ (measured - rows @ start))
    unknowns = start + free @ loose
    cofactors = free @ inner @ free.T
    return Solution(
        unknowns,
        rows @ unknowns - measured,
        weight,
        cofactors,
        np.linalg.inv(weight) - rows @ cofactors @ rows.T,
        len(measured) - free.shape[1],
    )


def nonlinear(
    model: Model,
    start: ArrayLike,
    observed: ArrayLike,
    *,
    weights: ArrayLike | None = None,
    constraints: Model | None = None,
    most: int = 50,
) -> Solution:
    """The best unknowns where measurements depend on them in any smooth way, step by step from a start.

    model: what would be measured at given unknowns, and how it changes with them. constraints: what must come out 0,
    and how it changes. A step is a linear problem (Gauss and Newton); it ends once a step moves no unknown by more
    than 1e-12 of its size, or of 1. Raises ValueError as `linear`, and where `most` steps do not get there.
    """
    unknowns, measured = np.array(start, float), np.asarray(observed, float)
    for steps in range(1, most + 1):
        computed, design = model(unknowns)
        held = None
        if constraints is not None:
            gap, change = constraints(unknowns)
            held = (change, -np.asarray(gap, float))
        step = linear(design, measured - computed, weights=weights, constraints=held)
        unknowns = unknowns + step.unknowns
        if np.all(np.abs(step.unknowns) <= _STILL * np.maximum(1.0, np.abs(unknowns))):
            left = model(unknowns)[0] - measured
            return Solution(
                unknowns, left, step.weights, step.cofactors, step.residual_cofactors, step.redundancy, steps
            )
    raise ValueError(f"no solution after {most} steps: start nearer to it, or look for a gross error")


def _weights(weights: ArrayLike | None, count: int) -> Matrix:
    given = np.ones(count) if weights is None else np.asarray(weights, float)
    whole = np.diag(given) if given.ndim == 1 else given
    if whole.shape != (count, count):
        raise ValueError(f"{count} measurements need {count} weights, or a matrix of {count} by {count}")
    if not np.all(np.isfinite(whole)) or not np.all(np.linalg.eigvalsh(whole) > 0):
        raise ValueError("weights are more than 0, and a matrix of them is positive definite")
    return whole


def _allowed(constraints: tuple[ArrayLike, ArrayLike] | None, count: int) -> tuple[Matrix, Matrix]:
    """Unknowns that obey the constraints, and the directions in which they may still move."""
    if constraints is None:
        return np.zeros(count), np.eye(count)
    rows, right = np.atleast_2d(np.asarray(constraints[0], float)), np.atleast_1d(np.asarray(constraints[1], float))
    start, _, rank, _ = np.linalg.lstsq(rows, right, rcond=None)
    if not np.allclose(rows @ start, right, rtol=1e-9, atol=1e-12):
        raise ValueError("the constraints contradict one another")
    directions = np.linalg.svd(rows)[2][rank:].T
    return start, directions


def _solved(design: Matrix, observed: Matrix) -> tuple[Matrix, Matrix]:
    """Unknowns and their cofactors. Columns are brought to one size first, so that units do not matter."""
    sizes = np.linalg.norm(design, axis=0)
    if design.shape[1] == 0:
        return np.zeros(0), np.zeros((0, 0))
    if design.shape[0] < design.shape[1] or not np.all(np.isfinite(sizes)) or not np.all(sizes > 0):
        raise ValueError(_OPEN)
    left, singular, right = np.linalg.svd(design / sizes, full_matrices=False)
    if singular[-1] < _DETERMINED * singular[0]:
        raise ValueError(_OPEN)
    inverse = (right.T / singular) / sizes[:, None]
    return inverse @ (left.T @ observed), inverse @ inverse.T


_OPEN = "the measurements leave an unknown open"
