"""Design heights, readings and cuts as a table for a spreadsheet (RFC 4180): one row a point and set-up."""

from __future__ import annotations

from collections.abc import Iterator

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.layout.computed import Layout
from staking.survey.surface import cut

COLUMNS = ("name", "north", "east", "elevation", "kind", "setup", "rod_reading", "stake_top", "cut", "note")


def grades_csv(layout: Layout) -> bytes:
    """Figures in the site's unit with four decimals. cut is negative for a fill; rod_reading below 0 cannot be read.

    stake_top: as read from that set-up, else as [stake_tops] has it.
    """
    return csv_text(COLUMNS, _rows(layout))


def _rows(layout: Layout) -> Iterator[tuple[str, ...]]:
    write = layout.notation.coordinate
    for number, setup in enumerate(layout.setups, 1) if layout.setups else [(0, None)]:
        for grade in layout.grades:
            reads = setup.reads(grade.at) if setup else None
            read = "" if reads is None else write(reads)
            top = (setup.tops if setup else {}).get(grade.name, layout.stake_tops.get(grade.name))
            tops = ("", "") if top is None else (write(top), write(cut(top, grade.up)))
            at = layout.frame.to_file(grade.at)
            place = harmless(grade.name), write(at.north), write(at.east), write(grade.up)
            yield (*place, grade.kind, str(number) if number else "", read, *tops, harmless(grade.what))
