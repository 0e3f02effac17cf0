"""As few marks are moved as can be, and afterwards everything is within; other programs are the oracles."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import scipy.optimize
import scipy.sparse.csgraph
from hypothesis import given, settings
from hypothesis import strategies as st

from staking.survey.fewest_moves import fewest_moves, heaviest_apart, within_reach

EIGHTHS = st.lists(st.integers(-8, 8).map(lambda n: n / 8), min_size=1, max_size=9)


def _row(count: int, step: float) -> np.ndarray:
    """Steps along a row of marks, each said of neighbours only."""
    apart = np.abs(np.subtract.outer(np.arange(count), np.arange(count)))
    return np.where(apart <= 1, step, np.inf)


def _settable(off: list[float], plus_minus: float, steps: np.ndarray, left: tuple[int, ...]) -> bool:
    """Whether the others can be set with these left, asked of scipy's linear programs."""
    pairs = [(i, j) for i, j in combinations(range(len(off)), 2) if np.isfinite(steps[i, j])]
    rows = np.zeros((2 * len(pairs), len(off)))
    for k, (i, j) in enumerate(pairs):
        rows[2 * k, [i, j]], rows[2 * k + 1, [i, j]] = (1, -1), (-1, 1)
    most = np.repeat([steps[i, j] for i, j in pairs], 2)
    bounds = [(off[i], off[i]) if i in left else (-plus_minus, plus_minus) for i in range(len(off))]
    if any(abs(off[i]) > plus_minus + 1e-9 for i in left):
        return False
    if not pairs:
        return True
    return bool(scipy.optimize.linprog(np.zeros(len(off)), rows, most + 1e-9, bounds=bounds).success)


@given(EIGHTHS, st.sampled_from([0.125, 0.25, 0.5]))
@settings(max_examples=40, deadline=None)
def test_no_set_of_fewer_moves_does(off: list[float], step: float) -> None:
    """Of all sets of marks that could be left, none larger than ours lets the rest be set."""
    steps = _row(len(off), step)
    moves = fewest_moves(off, 0.5, within_reach(steps))
    left = sum(move == 0 for move in moves)
    larger = combinations(range(len(off)), left + 1)
    assert not any(_settable(off, 0.5, steps, chosen) for chosen in larger)


@given(EIGHTHS, st.sampled_from([0.125, 0.25, 0.5]))
@settings(max_examples=40, deadline=None)
def test_the_number_is_that_of_a_mixed_integer_program(off: list[float], step: float) -> None:
    """A mixed integer program of scipy moves as many marks, all kinds of neighbours allowed for."""
    count, steps = len(off), _row(len(off), step)
    pairs = [(i, i + 1) for i in range(count - 1)]
    same = np.hstack([np.eye(count), 2 * np.eye(count)])  # |height - off| <= 2 where moved
    less = np.hstack([np.eye(count), -2 * np.eye(count)])
    level = np.array([np.eye(2 * count)[i] - np.eye(2 * count)[j] for i, j in pairs]).reshape(-1, 2 * count)
    limits = [scipy.optimize.LinearConstraint(same, off, np.inf), scipy.optimize.LinearConstraint(less, -np.inf, off)]
    if pairs:
        limits.append(scipy.optimize.LinearConstraint(level, -step, step))
    bounds = scipy.optimize.Bounds([-0.5] * count + [0] * count, [0.5] * count + [1] * count)
    whole = [0] * count + [1] * count
    found = scipy.optimize.milp([0] * count + [1] * count, constraints=limits, bounds=bounds, integrality=whole)
    assert sum(move != 0 for move in fewest_moves(off, 0.5, within_reach(steps))) == round(found.fun)


@given(EIGHTHS, st.sampled_from([0.125, 0.25, 0.5]))
def test_afterwards_all_are_within(off: list[float], step: float) -> None:
    """Every mark is near design, and every two neighbours to one another."""
    moves = fewest_moves(off, 0.5, within_reach(_row(len(off), step)))
    now = np.add(off, moves)
    assert np.all(np.abs(now) <= 0.5 + 1e-6)
    assert np.all(np.abs(np.diff(now)) <= step + 1e-6)


def test_ways_over_other_marks_are_those_of_scipy() -> None:
    """What two marks may differ by is the shortest way between them."""
    steps = np.random.default_rng(7).uniform(0.1, 1, (12, 12))
    steps = np.where(steps + steps.T < 0.9, steps + steps.T, np.inf)
    oracle = scipy.sparse.csgraph.shortest_path(np.where(np.isfinite(steps), steps, 0), method="D")
    assert within_reach(steps) == pytest.approx(oracle)


def test_nothing_to_do() -> None:
    """A form that is well set is left, and so is one at the very limit."""
    assert fewest_moves([0.01, -0.01, 0.0127], 0.0127, np.full((3, 3), np.inf)) == (0, 0, 0)


def test_one_stake_that_was_knocked() -> None:
    """One of five is low, and it alone goes to design."""
    assert fewest_moves([0, 0, -0.03, 0, 0], 0.0127, within_reach(_row(5, 0.006))) == pytest.approx((0, 0, 0.03, 0, 0))


def test_a_moved_mark_meets_the_neighbours_that_are_left() -> None:
    """Between two marks at the top of what is allowed it may not go down to design."""
    assert fewest_moves([0.5, 0.9, 0.5], 0.5, within_reach(_row(3, 0.25))) == pytest.approx((0, -0.65, 0))


def test_of_two_marks_that_do_not_agree_the_farther_one_is_moved() -> None:
    """Both are within, but not to one another: the one nearer to design stays."""
    assert fewest_moves([0.05, 0.4], 0.5, within_reach(_row(2, 0.25))) == pytest.approx((0, -0.4))


def test_marks_that_all_are_off() -> None:
    """With none left each goes to design."""
    assert fewest_moves([-1, -1.1], 0.5, within_reach(_row(2, 0.25))) == pytest.approx((1, 1.1))


def test_two_chains_of_three() -> None:
    """Of an order of two chains one of each can be taken, the heavier ones."""
    assert heaviest_apart([[1, 2], [2], [], [4, 5], [5], []], [1, 3, 1, 1, 1, 2]) == {1, 5}
