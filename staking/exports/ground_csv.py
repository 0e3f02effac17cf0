"""The ground at corners and stakes as a table for a spreadsheet (RFC 4180): one row a point."""

from __future__ import annotations

from collections.abc import Iterator

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.layout.computed import Layout

COLUMNS = ("name", "north", "east", "kind", "ground", "top", "form_height", "subgrade", "cut", "finished", "note")


def ground_csv(layout: Layout) -> bytes:
    """Figures in the site's unit with four decimals; cut is negative for a fill; what is not known is empty."""
    return csv_text(COLUMNS, _rows(layout))


def _rows(layout: Layout) -> Iterator[tuple[str, ...]]:
    for spot in layout.earth.spots if layout.earth else ():
        figures = (spot.ground, spot.top, spot.form_height, spot.subgrade, spot.cut, spot.finished)
        written = ("" if each is None else layout.notation.coordinate(each) for each in figures)
        at = layout.frame.to_file(spot.at)
        place = (layout.notation.coordinate(each) for each in (at.north, at.east))
        yield harmless(spot.name), *place, spot.kind, *written, harmless(spot.what)
