"""How large a slip must be to show: the published figure, the sum of redundancy numbers, and planted slips."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import sample
from scipy.stats import norm
from taping import exact, reading, set_wrong, sheet_spans

from staking.field.tape_adjust import Net, adjust
from staking.field.tape_reliability import (
    FALSE_ALARMS,
    LONE,
    SEEN,
    best_check,
    least_slips,
    noncentrality,
    redundancy_numbers,
    unchecked,
)

SHED = sample("tape_only_shed")
SIDES = [span for span in sheet_spans(SHED) if span.kind != "tie"]


def _net(ties: int | None, seed: int = 1) -> Net:
    rng = random.Random(seed)  # noqa: S311
    return Net(SHED, tuple(exact(SHED, sheet_spans(SHED, ties, rng), set_wrong(SHED, rng, 0.0))))


def test_the_usual_figure_of_geodesy() -> None:
    """4.13 standard errors: a test of 0.1 percent that sees 80 of 100 slips. Source: W. Baarda 1968, from memory."""
    assert noncentrality(0.001, 0.80) == pytest.approx(4.13, abs=0.005)


@given(chance=st.floats(1e-6, 0.2), seen=st.floats(0.5, 0.999))
def test_noncentrality_is_what_scipy_has(chance: float, seen: float) -> None:
    """The nearer tail alone: the farther one is nothing where a slip shows in half of the cases or more."""
    long = noncentrality(chance, seen)
    assert norm.sf(norm.isf(chance / 2) - long) == pytest.approx(seen, abs=1e-9)


@pytest.mark.parametrize("ties", [0, 3, 5, 8])
def test_redundancy_numbers_are_those_of_the_adjustment(ties: int) -> None:
    """They add up to the redundancy, and least squares with constraints has the same."""
    net = _net(ties)
    numbers = redundancy_numbers(net.rows(net.spans)[1] / np.array(net.errors)[:, None])
    assert math.fsum(numbers) == pytest.approx(net.redundancy, abs=1e-6)
    assert numbers == pytest.approx(adjust(net).solution.redundancies, abs=1e-6)


def test_the_least_slip_shows_as_often_as_it_says() -> None:
    """Planted on top of random errors, it moves its standardised residual past the limit in 95 of 100."""
    net, rng = _net(None), np.random.default_rng(1)
    rows, errors = net.rows(net.spans)[1], np.array(net.errors)
    numbers = redundancy_numbers(rows / errors[:, None])
    project = np.eye(len(rows)) - (w := rows / errors[:, None]) @ np.linalg.pinv(w, rcond=1e-6)
    limit = norm.isf(FALSE_ALARMS / len(net.readings) / 2)
    for at, slip in enumerate(least_slips(net)):
        noise = rng.standard_normal((4000, len(rows)))
        noise[:, at] += slip / errors[at]
        seen = np.abs(noise @ project[:, at]) / math.sqrt(numbers[at]) > limit
        assert np.mean(seen) == pytest.approx(SEEN, abs=0.015)


def test_what_nothing_checks_is_infinite() -> None:
    """One tie alone places the slab along it and is checked by nothing; of the others a slip shows."""
    net = _net(0)
    (tie,) = exact(SHED, [sheet_spans(SHED)[-1]], set_wrong(SHED, random.Random(1), 0.0))  # noqa: S311
    with_tie = Net(SHED, (*net.readings, tie))
    assert math.isinf(unchecked(with_tie)[len(net.readings)])
    assert not any(math.isinf(slip) for number, slip in unchecked(with_tie).items() if number < len(net.readings))


def test_the_whole_sheet_leaves_nothing_unchecked() -> None:
    """Sides, diagonals and all ties: a slip of five times what may differ shows in each."""
    assert not unchecked(_net(None))


def test_the_advised_reading_checks_the_least_checked_best() -> None:
    """Whatever it is, with it the least redundancy number is no smaller than before."""
    net = _net(3)
    span = best_check(net)
    assert span is not None
    both = Net(SHED, (*net.readings, reading(SHED, span, 10.0)))

    def least(one: Net) -> float:
        numbers = redundancy_numbers(one.rows(one.spans)[1] / np.array(one.errors)[:, None])
        return float(min(numbers[: len(net.readings)]))

    assert least(both) >= least(net)
    assert least(both) > LONE
