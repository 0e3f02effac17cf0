"""What a sheet says of a lot that was laid out from a record: how it closes, its area, and the pins found."""

from __future__ import annotations

from collections.abc import Iterator

from staking.kinds.courses import CurveCourse
from staking.layout.computed import Layout
from staking.layout.records import RecordReport
from staking.sheets.columns import cells, heads, shares
from staking.sheets.page import Block, Heading, Paragraph, Table
from staking.survey.paths import Arc
from staking.survey.points import azimuth, azimuth_of


def record_blocks(layout: Layout) -> Iterator[Block]:
    """Nothing for a lot given by corners."""
    lot, declared = layout.lot, layout.site.declared.lot
    if lot is None or lot.record is None or declared is None:
        return
    yield Heading("The record of the lot")
    yield _calls(layout, lot.record)
    yield Paragraph(_closure(layout, lot.record))
    yield Paragraph(f"Area of the lot, circular segments included: {layout.notation.areas(lot.area)}.")
    if lot.record.changes:
        yield Paragraph("Balanced by the compass rule; every course changed by so much:")
        yield _changes(layout, lot.record)
    if lot.record.fit is not None:
        yield Paragraph(_fit(layout, lot.record))
        yield _pins(layout, lot.record)


def _calls(layout: Layout, record: RecordReport) -> Table:
    declared = layout.site.declared.lot
    courses = declared.courses if declared else ()
    rows = []
    for index, (course, piece) in enumerate(zip(courses, record.called, strict=True), start=1):
        bearing = layout.notation.bearing(azimuth(piece.start, piece.end))
        curve = ""
        if isinstance(course, CurveCourse) and isinstance(piece, Arc):
            curve = (
                f"arc {course.turn}, R {layout.notation.length(piece.radius)}, {layout.notation.azimuth(piece.sweep)}"
            )
        rows.append((str(index), course.side, bearing, *cells(layout, piece.length), curve))
    head = ("call", "side", "bearing (of a chord)", *heads(layout, "length"), "curve")
    return Table(head, tuple(rows), (0.5, 1.1, 1.6, *shares(layout), 2.2))


def _closure(layout: Layout, record: RecordReport) -> str:
    gap, write = record.closure, layout.notation
    perimeter = f"Perimeter {write.both(gap.perimeter)}."
    if gap.ratio is None or gap.azimuth is None:
        return f"The calls close. {perimeter}"
    return (
        f"Misclosure, from the beginning to where the calls end: {write.decimal(gap.north)} north, "
        f"{write.decimal(gap.east)} east, {write.both(gap.distance)} {write.bearing(gap.azimuth)}, 1 part in "
        f"{gap.ratio:,.0f}. {perimeter}"
    )


def _changes(layout: Layout, record: RecordReport) -> Table:
    write = layout.notation
    rows = tuple(
        (str(index), write.decimal(change.length, 4), _seconds(change.azimuth))
        for index, change in enumerate(record.changes, start=1)
    )
    return Table(("call", "length", "direction"), rows, (1, 1.5, 1.5))


def _seconds(degrees: float) -> str:
    seconds = round(degrees * 3600)
    return f'{seconds:+d}"' if seconds else '0"'


def _fit(layout: Layout, record: RecordReport) -> str:
    fit = record.fit
    assert fit is not None  # noqa: S101 # asked for only where there is one
    declared = layout.site.declared.lot
    scale = f"{(fit.scale - 1) * 1e6:+,.0f} parts in a million"
    applied = "applied" if declared is not None and declared.scale else "not applied"
    turn = layout.notation.azimuth(abs(fit.similarity.turn))
    way = "clockwise" if fit.similarity.turn >= 0 else "counter-clockwise"
    return f"Laid over the pins found: turned {turn} {way}; the stretch that would fit best, {scale}, is {applied}."


def _pins(layout: Layout, record: RecordReport) -> Table:
    fit, declared = record.fit, layout.site.declared.lot
    found = declared.found if declared else {}
    rows = []
    for corner, left in zip(record.pins, fit.residuals if fit else (), strict=True):
        way = layout.notation.bearing(azimuth_of(left)) if left.length > 1e-6 else "-"
        rows.append((corner, found[corner], *cells(layout, left.length), way))
    return Table(("corner", "pin", *heads(layout, "off by"), "toward"), tuple(rows), (1, 1, *shares(layout), 1.6))
