"""What was measured, point by point, as a table for a spreadsheet (RFC 4180).

It begins name,north,east,elevation, so that it reads as a list of the measured points. Figures are in the site's unit
with four decimals and measured less computed; what is not known is an empty cell.
"""

from __future__ import annotations

from collections.abc import Iterator

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.field.compared import Comparison, Deviation, MeasuredPoint
from staking.layout.computed import Layout
from staking.layout.wall_lines import FromSide
from staking.survey.points import Point

COLUMNS = (
    "name",
    "north",
    "east",
    "elevation",
    "kind",
    "design",
    "design_north",
    "design_east",
    "design_elevation",
    "off_north",
    "off_east",
    "off",
    "off_up",
    "allowed",
    "answer",
    "allowed_up",
    "answer_up",
    "wall_1",
    "out_1",
    "along_1",
    "wall_2",
    "out_2",
    "along_2",
    "note",
)
STRANGER = "not of the design"
_WALLS = 2  # at a corner


def as_built_csv(comparison: Comparison) -> bytes:
    """Every measured point: first those of the design, then the strangers."""
    return csv_text(COLUMNS, _rows(comparison))


def _rows(comparison: Comparison) -> Iterator[tuple[str, ...]]:
    layout = comparison.layout
    for each in comparison.deviations:
        yield *_place(layout, each.measured), *_held(layout, each), harmless(each.measured.note)
    empty = ("",) * (len(COLUMNS) - 6)
    for point in comparison.strangers:
        yield *_place(layout, point), STRANGER, *empty, harmless(point.note)


def _place(layout: Layout, point: MeasuredPoint) -> tuple[str, ...]:
    return harmless(point.name), *_numbers(layout, point.at, point.up)


def _numbers(layout: Layout, at: Point, up: float | None) -> tuple[str, str, str]:
    """North, east and elevation in the frame of the site file."""
    there = layout.frame.to_file(at)
    return layout.notation.coordinate(there.north), layout.notation.coordinate(there.east), _length(layout, up)


def _length(layout: Layout, metres: float | None) -> str:
    return "" if metres is None else layout.notation.coordinate(metres)


def _held(layout: Layout, each: Deviation) -> Iterator[str]:
    yield each.design.what
    yield harmless(each.design.name)
    yield from _numbers(layout, each.design.at, each.design.up)
    for figure in (each.plan.north, each.plan.east, each.plan.length, each.up, each.allowed.plus_minus):
        yield _length(layout, figure)
    yield each.answer
    yield _length(layout, each.allowed_up.plus_minus if each.up is not None else None)
    yield each.answer_up if each.up is not None else ""
    for side in (*each.sides[:_WALLS], *(None,) * (_WALLS - len(each.sides))):
        yield from _wall(layout, side)


def _wall(layout: Layout, side: FromSide | None) -> tuple[str, str, str]:
    if side is None:
        return "", "", ""
    return harmless(side.side), _length(layout, side.out), _length(layout, side.along)
