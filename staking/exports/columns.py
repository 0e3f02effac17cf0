"""How wide the columns of a table become, so that figures stay on one line and long names wrap."""

from __future__ import annotations

from collections.abc import Sequence

from staking.drawing.widths import text_width
from staking.exports.unbroken import words
from staking.sheets.page import Table

PADDING = 4.5  # points on either side of a cell
_TO_WRITE = 62.0  # points: room for a length written by hand
_LONGEST_WORD = 0.4  # of the table; longer words are broken


def natural_widths(table: Table, size: float) -> list[float]:
    """The widths [points] at which nothing wraps, for text of `size` [points]."""
    return [_natural(table, column, size) for column in range(len(table.head))]


def _natural(table: Table, column: int, size: float) -> float:
    widest = max((text_width(row[column], size) for row in table.rows), default=0.0)
    written = _TO_WRITE if column in table.to_fill else 0.0
    return max(widest, text_width(table.head[column], size, bold=True), written) + 2 * PADDING + 0.5


def column_widths(table: Table, size: float, room: float) -> list[float]:
    """The widths [points] of the columns; together they fill the room [points].

    The table's own relative widths are kept where every word has its place in them.
    """
    least = _least(table, size, room)
    wanted = _relative(table, room) or natural_widths(table, size)
    total = sum(wanted)
    if total <= room:
        wanted = [width * room / total for width in wanted] if total else [room / len(wanted)] * len(wanted)
    wanted = [max(width, low) for width, low in zip(wanted, least, strict=True)]
    return _squeezed(wanted, least, room)


def _least(table: Table, size: float, room: float) -> list[float]:
    least = [min(_longest_word(table, column, size), room * _LONGEST_WORD) for column in range(len(table.head))]
    total = sum(least)
    return [width * room / total for width in least] if total > room else least


def _longest_word(table: Table, column: int, size: float) -> float:
    cells = (word for row in table.rows for word in words(row[column]))
    widest = max((text_width(word, size) for word in cells), default=0.0)
    heads = max((text_width(word, size, bold=True) for word in words(table.head[column])), default=0.0)
    written = _TO_WRITE if column in table.to_fill else 0.0
    return max(widest, heads, written) + 2 * PADDING + 0.5


def _relative(table: Table, room: float) -> list[float]:
    total = sum(table.widths)
    return [width * room / total for width in table.widths] if total > 0 else []


def _squeezed(wanted: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    # What is too much is taken from each column in proportion to what it has above its least.
    spare = [width - low for width, low in zip(wanted, least, strict=True)]
    excess, total = sum(wanted) - room, sum(spare)
    if excess <= 0 or total <= 0:
        return list(wanted)
    return [width - excess * part / total for width, part in zip(wanted, spare, strict=True)]
