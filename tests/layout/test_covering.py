"""Strips, rolls and bars cover an extent, and one fewer does not."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.layout.covering import bars, rolls, runs_of_bars, strips


@given(st.floats(0.5, 60.0), st.floats(0.5, 6.0), st.floats(0.0, 0.4))
def test_strips_cover_a_breadth_and_one_fewer_does_not(across: float, width: float, lap: float) -> None:
    """Laps taken off."""
    count = strips(across, width, lap)
    assert count * width - (count - 1) * lap >= across - 1e-5
    assert count == 1 or (count - 1) * width - (count - 2) * lap < across


def test_bars_have_one_more_than_spaces_and_laps_of_their_own() -> None:
    """35.5 ft in bars of 20 lapped 2 ft: one lap; 23.5 ft at 1.5 ft: 16 spaces, 17 bars."""
    laid = bars((35.5, 23.5), 1.5, 20.0, 2.0)
    assert (laid.count, laid.laps, laid.length) == (17, 1, 37.5)
    assert (laid.whole, laid.filler, laid.stock) == (1, 17.5, 34)


def test_short_pieces_come_from_one_bar() -> None:
    """25 bars of 29.5 ft, one lap of 2: a whole one and 9.5 each, two of which come from a bar of 20."""
    laid = runs_of_bars(25, 27.5, 20.0, 2.0)
    assert (laid.per, laid.stock) == (2, 25 + 13)


@given(st.integers(1, 30), st.floats(0.5, 40.0), st.floats(6.0, 12.0), st.floats(0.0, 1.0))
def test_bars_bought_hold_what_is_laid(count: int, along: float, stock: float, lap: float) -> None:
    """The steel bought is at least the steel laid."""
    laid = runs_of_bars(count, along, stock, lap)
    assert laid.stock * stock >= laid.count * laid.length - 1e-3
    assert laid.whole * stock + laid.filler - laid.laps * lap == pytest.approx(along, abs=1e-5)


def test_a_roll_goes_on_in_the_next_strip() -> None:
    """Two strips of 36 ft from rolls of 100 take one; three take two, with one lap."""
    assert rolls(2, 36.0, 100.0, 0.5).count == 1
    three = rolls(3, 36.0, 100.0, 0.5)
    assert (three.count, three.laps) == (2, 1)


def test_what_is_no_longer_than_the_lap_is_left() -> None:
    """The second strip begins with a new roll, so that nothing is lapped."""
    found = rolls(2, 9.7, 10.0, 0.5)
    assert (found.count, found.laps) == (2, 0)


def test_a_roll_no_longer_than_its_lap_is_refused() -> None:
    """It would cover nothing."""
    with pytest.raises(ValueError, match="lap"):
        rolls(2, 9.0, 1.0, 1.0)


@given(st.integers(1, 20), st.floats(1.0, 60.0), st.floats(5.0, 50.0), st.floats(0.0, 1.0))
def test_rolls_are_enough_and_not_wasted(count: int, each: float, roll: float, lap: float) -> None:
    """Never less than the strips with their laps; never more than strips cut one by one from whole rolls."""
    found = rolls(count, each, roll, lap)
    assert found.count * roll >= count * each + found.laps * lap - 1e-3
    assert found.count <= count * max(math.ceil((each - lap - 1e-6) / (roll - lap)), 1) + 1
