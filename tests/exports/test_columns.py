"""Columns: as wide as their words need, together as wide as the page."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.drawing.widths import text_width
from staking.exports.columns import PADDING, column_widths, natural_widths
from staking.sheets.page import Table

cells = st.text(alphabet="abc 0123'\"-⅛", max_size=60)


@given(st.lists(st.tuples(cells, cells, cells), max_size=6), st.floats(80, 600))
def test_columns_fill_the_room(rows: list[tuple[str, ...]], room: float) -> None:
    """Whatever is in them, the columns are together as wide as the room and none is empty."""
    widths = column_widths(Table(("a", "b", "c"), tuple(rows)), 9.5, room)
    assert sum(widths) == pytest.approx(room)
    assert min(widths) > 0


def test_relative_widths_are_kept_where_words_fit() -> None:
    """Widths 1 to 3 of 400 points are 100 and 300."""
    assert column_widths(Table(("a", "b"), (("1", "2"),), widths=(1, 3)), 9.5, 400) == pytest.approx([100, 300])


def test_narrow_column_is_widened_for_its_longest_word() -> None:
    """A length is not broken because its column was given too little."""
    table = Table(("a", "b"), (("123'-11⅞\"", "x"),), widths=(1, 30))
    assert column_widths(table, 9.5, 400)[0] >= text_width("123'-11⅞\"", 9.5) + 2 * PADDING


def test_column_to_fill_has_room_for_a_hand() -> None:
    """A box for a measured length is at least 62 points wide, however short its head."""
    table = Table(("a", "b"), (("1", ""),), to_fill=frozenset({1}))
    assert natural_widths(table, 9.5)[1] > 62


def test_long_name_leaves_room_for_the_figures() -> None:
    """A name of eighty letters wraps or breaks; the length beside it stays on one line."""
    table = Table(("name", "length"), (("N" * 80, "12'-3½\""),))
    assert column_widths(table, 9.5, 250)[1] >= text_width("12'-3½\"", 9.5) + 2 * PADDING
