"""How a table of a sheet is set in PDF: clear rules, a head on every page, boxes to write into."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from reportlab.lib import colors
from reportlab.platypus import Flowable, Paragraph
from reportlab.platypus.tables import TableStyle

from staking.drawing.widths import text_width
from staking.exports.columns import PADDING, column_widths
from staking.exports.pdf_kept import Grid
from staking.exports.pdf_parts import FillBox
from staking.exports.pdf_style import (
    BOLD,
    CELL,
    CELL_HEAD,
    CELL_HEAD_RIGHT,
    CELL_RIGHT,
    REGULAR,
    TABLE_SIZE,
    paragraph,
)
from staking.sheets.page import Table

_RULES = (
    ("FONT", (0, 0), (-1, -1), REGULAR, TABLE_SIZE, TABLE_SIZE * 1.22),
    ("FONT", (0, 0), (-1, 0), BOLD, TABLE_SIZE, TABLE_SIZE * 1.22),
    ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
    ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
    ("LEFTPADDING", (0, 0), (-1, -1), PADDING),
    ("RIGHTPADDING", (0, 0), (-1, -1), PADDING),
    ("TOPPADDING", (0, 0), (-1, -1), 2.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ("LINEBELOW", (0, 1), (-1, -1), 0.5, colors.HexColor("#555555")),
    ("LINEABOVE", (0, 0), (-1, 0), 1.2, colors.black),
    ("LINEBELOW", (0, 0), (-1, 0), 1.2, colors.black),
)

_LONG = 400  # letters; in the narrowest column that is less than a page

Cell = str | Paragraph | Flowable


def grid(table: Table, room: float) -> Grid:
    """The table, as wide as the room [points]."""
    widths = column_widths(table, TABLE_SIZE, room)
    rows = [[_head_cell(table, column, widths[column]) for column in range(len(table.head))]]
    rows += [[_cell(table, row, column, widths[column]) for column in range(len(table.head))] for row in table.rows]
    flush = [("ALIGN", (column, 0), (column, -1), "RIGHT") for column in sorted(table.right)]
    inside = split_inside(chain.from_iterable(table.rows))
    made = Grid(rows, colWidths=widths, repeatRows=1, splitInRow=inside, spaceBefore=2, spaceAfter=6)
    made.setStyle(TableStyle([*_RULES, *flush]))
    return made


def split_inside(texts: Iterable[str]) -> int:
    """1 where a row may have to be broken inside, because a text in it may be longer than a page, otherwise 0.

    Other rows stay whole: a figure must not be torn from its stake.
    """
    return int(any(len(text) > _LONG for text in texts))


def _head_cell(table: Table, column: int, width: float) -> Cell:
    text = table.head[column]
    if text_width(text, TABLE_SIZE, bold=True) <= width - 2 * PADDING:
        return text
    return paragraph(text, CELL_HEAD_RIGHT if column in table.right else CELL_HEAD)


def _cell(table: Table, row: tuple[str, ...], column: int, width: float) -> Cell:
    text = row[column]
    if not text.strip():
        return FillBox() if column in table.to_fill else ""
    if "\n" not in text and text_width(text, TABLE_SIZE) <= width - 2 * PADDING:
        return text
    return paragraph(text, CELL_RIGHT if column in table.right else CELL)
