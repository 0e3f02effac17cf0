"""The level books of a site, reduced, as a table for a spreadsheet (RFC 4180): one row a sight."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.layout.computed import Layout
from staking.notation import COORDINATE_DECIMALS, Notation
from staking.sitefile.levelled import Levelled
from staking.survey.levels import by_rise_and_fall

COLUMNS = (
    *("book", "line", "set_up", "point", "backsight", "intermediate", "foresight", "distance"),
    *("line_of_sight", "height", "rise", "fall", "height_by_rises", "adjusted", "corrected_by", "unit"),
)


def levels_csv(layout: Layout) -> bytes:
    """Figures in the unit of each book with four decimals; what a row has not is empty. Readings are as corrected."""
    return csv_text(COLUMNS, (row for run in layout.site.levelled for row in _rows(run)))


def _rows(run: Levelled) -> Iterator[tuple[str, ...]]:
    notation = Notation(run.book.unit)

    def write(metres: float | None) -> str:
        return "" if metres is None else notation.decimal(metres, COORDINATE_DECIMALS)

    for row, again, final in zip(run.rows, by_rise_and_fall(run.rows), run.heights, strict=True):
        sight, rise = row.sight, row.rise
        kinds = ("backsight", "intermediate", "foresight")
        readings = (write(sight.reading if sight.kind == kind else None) for kind in kinds)
        yield (
            *(harmless(PurePath(run.book.file).name), str(sight.line), str(row.setup), harmless(sight.point)),
            *(*readings, write(sight.distance)),
            *(write(row.line_of_sight if sight.kind == "backsight" else None), write(row.height)),
            *(write(rise if rise is not None and rise >= 0 else None), write(-rise if rise and rise < 0 else None)),
            *(write(again), write(final), write(sight.corrected), run.book.unit.name),
        )
