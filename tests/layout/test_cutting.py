"""Pieces cover a length exactly, with the fewest boards, the least filler, and as little lumber as there is."""

from __future__ import annotations

import math
from itertools import combinations_with_replacement

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staking.layout.cutting import KERF, lay, pack, sawn, stack

FOOT = 0.3048
STOCK = st.lists(st.floats(1.0, 8.0), min_size=1, max_size=4)


def test_whole_boards_first_then_a_filler() -> None:
    """48 ft of 16 ft boards lapped 2 ft: three whole ones reach 44, the filler of 6 comes from the 12."""
    cuts = lay(48.0, (12.0, 16.0), 2.0)
    assert [(cut.stock, cut.used) for cut in cuts] == [(16, 16)] * 3 + [(12, 6)]


def test_a_side_as_long_as_its_boards_needs_no_filler() -> None:
    """Two boards of 16 ft for 32 ft, in spite of the noise of feet in metres."""
    assert [cut.used for cut in lay(32 * FOOT, (16 * FOOT,), 0.0)] == pytest.approx([16 * FOOT] * 2)


def test_a_filler_of_an_inch_is_not_laid() -> None:
    """16 ft 1 in of 16 ft boards: the first is shortened, so that the filler has its foot."""
    inch = FOOT / 12
    cuts = lay(193 * inch, (16 * FOOT, 10 * FOOT), 0.0, FOOT)
    assert [cut.used for cut in cuts] == pytest.approx([181 * inch, FOOT])
    assert [cut.stock for cut in cuts] == [16 * FOOT, 10 * FOOT]


@given(st.floats(0.01, 80.0), STOCK, st.floats(0.0, 0.5), st.floats(0.0, 0.4))
def test_pieces_cover_a_side_exactly(length: float, stock: list[float], share: float, least: float) -> None:
    """What is used, less the laps, is the side; and one piece fewer of the longest could not reach."""
    lap = share * min(stock)
    cuts = lay(length, stock, lap, least)
    assert sum(cut.used for cut in cuts) - (len(cuts) - 1) * lap == pytest.approx(length, abs=2e-6)
    fewer = len(cuts) - 1
    assert all(0 < cut.used <= cut.stock for cut in cuts)
    assert fewer == 0 or fewer * max(stock) - (fewer - 1) * lap < length


@given(st.floats(0.01, 80.0), st.permutations([2.4, 3.6, 4.8]))
def test_the_order_of_lengths_on_hand_changes_nothing(length: float, stock: list[float]) -> None:
    """The plan is the same for every order."""
    assert lay(length, stock, 0.1) == lay(length, (2.4, 3.6, 4.8), 0.1)


def test_a_lap_as_long_as_the_board_is_refused() -> None:
    """Nothing would ever be covered."""
    with pytest.raises(ValueError, match="lap"):
        lay(10.0, (2.0,), 2.0)


def test_panels_leave_the_least_filler() -> None:
    """10 ft of panels of 6 and 5: two of 5 leave nothing, where 6 first would leave 4."""
    assert pack(10 * FOOT, (6 * FOOT, 5 * FOOT)).panels == (5 * FOOT, 5 * FOOT)
    assert pack(10 * FOOT, (6 * FOOT, 5 * FOOT)).filler == pytest.approx(0.0, abs=1e-9)


def test_a_side_shorter_than_every_panel_is_all_filler() -> None:
    """Nothing whole fits."""
    assert pack(0.4, (0.5, 3.0)).panels == ()
    assert pack(0.4, (0.5, 3.0)).filler == pytest.approx(0.4)


@given(st.integers(1, 160), st.lists(st.integers(3, 40), min_size=1, max_size=3, unique=True))
@settings(deadline=None)
def test_no_other_panels_leave_less(length: int, panels: list[int]) -> None:
    """Against every set of panels that fits, in tenths of a metre: least filler, then fewest."""
    found = pack(length / 10, [panel / 10 for panel in panels])
    counts = range(length // min(panels) + 1)
    ways = (way for count in counts for way in combinations_with_replacement(panels, count) if sum(way) <= length)
    best = min(((length - sum(way), len(way)) for way in ways), default=(length, 0))
    assert (found.filler * 10, len(found.panels)) == pytest.approx(best, abs=1e-3)


def test_heights_are_stacked_with_the_least_over() -> None:
    """Half a metre of 0.2 and 0.3 is both; 0.18 is the lower one; 0.55 takes one more."""
    assert stack(0.5, (0.2, 0.3)) == (0.3, 0.2)
    assert stack(0.18, (0.2, 0.3)) == (0.2,)
    assert sum(stack(0.55, (0.2, 0.3))) == pytest.approx(0.6)


def test_fillers_are_sawn_from_one_board() -> None:
    """1.64 and 2.94 m come from one of 4.8 m, where each alone would take one of 3.6."""
    (board,) = sawn([1.64, 2.94], (4.8, 3.6))
    assert board.stock == 4.8
    assert board.pieces == (2.94, 1.64)


def test_the_saw_takes_something() -> None:
    """Two halves of a board do not come from it."""
    assert [board.stock for board in sawn([1.8, 1.8], (3.6,))] == [3.6, 3.6]
    assert [board.stock for board in sawn([1.8, 1.8 - KERF], (3.6,))] == [3.6]


def test_a_piece_longer_than_all_stock_is_refused() -> None:
    """Nothing can be sawn longer."""
    with pytest.raises(ValueError, match="no stock"):
        sawn([5.0], (4.8,))


@given(st.lists(st.floats(0.3, 4.8), min_size=1, max_size=20), st.lists(st.floats(4.8, 6.0), min_size=1, max_size=3))
@settings(max_examples=25, deadline=None)
def test_every_piece_is_sawn_once_and_fits(pieces: list[float], stock: list[float]) -> None:
    """Nothing lost, nothing twice; no board too short; never more lumber than one board a piece."""
    boards = sawn(pieces, stock)
    assert sorted(piece for board in boards for piece in board.pieces) == pytest.approx(sorted(pieces))
    assert all(math.fsum(b.pieces) + (len(b.pieces) - 1) * KERF <= b.stock + 1e-5 for b in boards)
    assert sum(board.stock for board in boards) <= len(pieces) * min(stock) + 1e-6
