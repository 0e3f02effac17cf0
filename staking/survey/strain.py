"""Is one set of points the other one sheared and stretched alike everywhere, as a form that is out of square?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from staking.survey.chances import chi_square
from staking.survey.least_squares import linear
from staking.survey.similarity import Pair

FEWEST = 5  # pairs, so that 4 numbers are redundant and a single wrong pair is not explained away; own choice


def strain_chance(pairs: Sequence[Pair], own: Sequence[float]) -> float | None:
    """How likely noise alone leaves what no shift, turn, stretch and shear together explain; None where none is told.

    own: standard error of a coordinate of each pair [m]. None below FEWEST pairs, or where all stand on one line. Each
    axis is a sum of multiples of east and north from their middle, by least squares; what is left is held against
    chi-square. Source: the affine transformation by least squares, from memory; scipy is the oracle.
    """
    if len(pairs) < FEWEST:
        return None
    there = np.array([(one.east, one.north) for one, _ in pairs])
    here = np.array([(other.east, other.north) for _, other in pairs])
    middle = there.mean(axis=0)
    design = np.column_stack([np.ones(len(pairs)), there - middle])
    weights = 1 / np.square(own)
    try:
        left = sum(linear(design, here[:, axis] - middle[axis], weights=weights).weighted_sum for axis in (0, 1))
    except ValueError:
        return None
    return chi_square(left, 2 * len(pairs) - 6)
