"""Quantities as a table for a spreadsheet (RFC 4180): one row a quantity, with its arithmetic."""

from __future__ import annotations

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.layout.computed import Layout
from staking.sheets.takeoff_rows import rows_of

COLUMNS = ("group", "item", "quantity", "unit", "other_quantity", "other_unit", "arithmetic")


def takeoff_csv(layout: Layout) -> bytes:
    """Quantities as the sheet has them."""
    rows = (
        (row.group, harmless(row.item), row.amount, row.unit, *row.other, harmless(row.how)) for row in rows_of(layout)
    )
    return csv_text(COLUMNS, rows)
