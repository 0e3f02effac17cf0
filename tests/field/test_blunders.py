"""How surely are blunders named? The figures of tests/bench/blunders.py, asserted."""

from __future__ import annotations

import random

import blunders
import pytest

SETS = 100


@pytest.mark.parametrize(("least", "moved"), [(4, False), (4, True), (3, True)])
def test_five_times_the_tolerance_is_named(least: int, moved: bool) -> None:
    """In 95 of 100 random sets and more, with no more than 5 false alarms in 100 clean ones.

    Where three points leave it open which of two it is, both are named: a corner that moved square to one of its sides
    changes the other side alone, and so does the corner at its far end.
    """
    drawn = random.Random(100 + least + moved)  # noqa: S311 - the same sets each time
    alone, grouped = blunders.in_plan(drawn, SETS, least=least, moved=moved)
    assert alone + grouped >= 0.95 * SETS
    assert alone >= 0.85 * SETS
    assert blunders.false_alarms(drawn, SETS, least=least, moved=moved) <= 0.05 * SETS


def test_a_rod_height_is_named() -> None:
    """In 95 of 100 and more, it alone."""
    assert blunders.in_height(random.Random(7), SETS) >= 0.95 * SETS  # noqa: S311 - as above


def test_two_names_exchanged_are_named() -> None:
    """In 95 of 100 and more, those two."""
    assert blunders.exchanged(random.Random(8), SETS) >= 0.95 * SETS  # noqa: S311 - as above
