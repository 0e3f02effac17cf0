"""Which quantities are there? One row each, for the sheet and for the table, in the order of the work."""

from __future__ import annotations

from staking.layout.computed import Layout
from staking.sheets.takeoff_below import base_rows, sheet_rows, steel_rows
from staking.sheets.takeoff_concrete import concrete_rows, joint_rows
from staking.sheets.takeoff_earth import earth_rows
from staking.sheets.takeoff_forms import form_rows, stake_rows
from staking.sheets.takeoff_row import Row

MAKERS = (form_rows, stake_rows, base_rows, sheet_rows, steel_rows, concrete_rows, joint_rows)


def rows_of(layout: Layout) -> tuple[Row, ...]:
    """All rows, in the order of the work; none for what the site file does not declare."""
    takeoff = layout.takeoff
    if takeoff is None:
        return ()
    return (*earth_rows(layout), *(row for make in MAKERS for row in make(layout, takeoff)))


def bought(rows: tuple[Row, ...]) -> tuple[tuple[str, str], ...]:
    """What to order and how much; bars of one kind and length in one line."""
    counts: dict[str, list[Row]] = {}
    for row in rows:
        if row.buy:
            counts.setdefault(row.buy, []).append(row)
    return tuple(
        (name, own[0].both if len(own) == 1 else f"{sum(int(row.amount) for row in own)} {own[0].unit}")
        for name, own in counts.items()
    )
