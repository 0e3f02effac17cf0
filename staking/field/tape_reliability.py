"""How large must a slip in one reading be for the others to show it, and which reading more would help most?

Source: redundancy numbers as in `survey.least_squares`; the smallest slip that shows is the internal reliability of
geodesy, after W. Baarda 1968, whose usual figure of 4.13 standard errors is for a test of 0.1 percent that sees 80 of
100 slips; both from memory.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from staking.field.tape_adjust import Net, candidates
from staking.field.taped import Span, allowed, known_places, rows_of
from staking.layout.tolerances import of_length

FALSE_ALARMS = 0.01  # chance that a clean book is suspected, shared out among its readings; own choice
SEEN = 0.95  # of slips that are to show; own choice
TIMES = 5.0  # of what a length may differ: a slip so large is to show; own choice
LONE = 0.05  # a redundancy number below this: a slip of a foot would show as an inch; own choice
_ROUNDING = 1e-9  # a redundancy number below this is 0
_LEAST = 0.25  # a redundancy number above this is as good as a tape gives, however small the tolerance; own choice

Matrix = NDArray[np.float64]


def redundancy_numbers(rows: Matrix) -> Matrix:
    """Of measurements by how the unknowns change them, each row divided by its standard error: 0 unchecked, to 1."""
    left, singular, _ = np.linalg.svd(rows, full_matrices=False)
    used = left[:, singular > 1e-6 * singular[0]]
    return np.asarray(1 - np.sum(used**2, axis=1))


def noncentrality(chance: float, seen: float = SEEN) -> float:
    """How many standard errors a slip is long that a two-sided test of this chance sees so often.

    >>> round(noncentrality(0.001, 0.80), 2)
    4.13
    """
    normal = NormalDist()
    return normal.inv_cdf(1 - chance / 2) + normal.inv_cdf(seen)


def least_slips(net: Net) -> tuple[float, ...]:
    """The smallest slip of each reading that shows in SEEN of cases [m]; infinite where nothing checks it."""
    numbers = redundancy_numbers(_weighted(net))[: len(net.readings)]
    if not len(numbers):
        return ()
    long = noncentrality(FALSE_ALARMS / len(numbers))
    return tuple(
        long * error / math.sqrt(number) if number > _ROUNDING else math.inf
        for number, error in zip(numbers, net.errors, strict=False)
    )


def unchecked(net: Net) -> Mapping[int, float]:
    """The readings whose slip of TIMES what they may differ would not be sure to show, and what would [m].

    Infinite where the redundancy number is below LONE.
    """
    numbers, slips = redundancy_numbers(_weighted(net)), least_slips(net)
    found = {}
    for at, (reading, slip) in enumerate(zip(net.readings, slips, strict=True)):
        value = reading.value
        may = allowed(net.layout, reading.span, value)[0] or of_length(value).plus_minus or 0.0
        if numbers[at] < _LEAST and slip > TIMES * may:
            found[at] = slip if numbers[at] >= LONE else math.inf
    return found


def best_check(net: Net) -> Span | None:
    """The distance which, measured too, leaves the least checked reading best checked; None where there is none."""
    tries = [span for span in candidates(net) if span.kind != "other"] or list(candidates(net))
    if not tries:
        return None
    places = {**known_places(net.layout), **net.design}
    own, error = _weighted(net), float(np.median(net.errors[: len(net.readings)]))
    _, rows = rows_of(tries, places, net.unknown)

    def least(number: int) -> float:
        both = np.vstack([own, rows[number] / error])
        return float(np.min(redundancy_numbers(both)[: len(net.readings)]))

    return tries[max(range(len(tries)), key=lambda number: round(least(number), 6))]


def _weighted(net: Net) -> Matrix:
    return np.asarray(net.rows(net.spans)[1] / np.array(net.errors)[:, None])
