"""Columns for a length: feet and inches beside decimals on a site in feet, metres alone on a site in metres."""

from __future__ import annotations

from staking.layout.computed import Layout
from staking.sheets.page import Table


def in_feet(layout: Layout) -> bool:
    """Whether a length has two columns."""
    return layout.site.unit.name != "m"


def heads(layout: Layout, title: str) -> tuple[str, ...]:
    """The heads of the columns of a length."""
    return (title, "decimal") if in_feet(layout) else (title,)


def cells(layout: Layout, length: float) -> tuple[str, ...]:
    """A length [m] as the cells of one row."""
    write = layout.notation
    return (write.length(length), write.decimal(length)) if in_feet(layout) else (write.length(length),)


def shares(layout: Layout) -> tuple[float, ...]:
    """The relative widths of the columns of a length."""
    return (1.5, 1.0) if in_feet(layout) else (1.4,)


def measured(
    layout: Layout,
    before: tuple[str, ...],
    title: str,
    rows: tuple[tuple[str, ...], ...],
    widths: tuple[float, ...],
) -> Table:
    """A table that ends in a length and a box for the measured value."""
    head = (*before, *heads(layout, title), "measured")
    return Table(head, rows, (*widths, *shares(layout), 1.3), to_fill=frozenset({len(head) - 1}))
