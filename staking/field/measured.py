"""Which points were measured? A list in any order of columns, unit and dialect, brought to the layout's ground.

Rows that cannot be used are named, all of them, and nothing is compared before they are put right.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isnan
from pathlib import Path
from types import MappingProxyType

from staking.errors import InputError
from staking.field.compared import HowMeasured, MeasuredPoint
from staking.field.design_points import design_points
from staking.findings import Finding, Place
from staking.layout.accuracy import accuracy_of
from staking.layout.computed import Layout
from staking.sitefile.declared import GivenPoint
from staking.sitefile.places import mistake, plain
from staking.sitefile.pointlists.blocks import Block, read_blocks
from staking.sitefile.pointlists.lines import Fingerprint
from staking.sitefile.pointlists.opening import Asked, begin
from staking.sitefile.pointlists.order import Evidence, tell
from staking.sitefile.which_book import refuse_other
from staking.survey.error_budget import CIRCLE_95
from staking.survey.points import Point

MOST_FINDINGS = 20  # rows that are complained of


def read_measured(
    layout: Layout, path: Path, asked: Asked, how: HowMeasured
) -> tuple[list[MeasuredPoint], HowMeasured]:
    """The points of a list on the ground, and how they were measured with the file's name and fingerprint.

    North and east are told by the header, by what is asked, else by the points of the layout. Raises InputError for a
    list that cannot be read, and for every row that cannot be used.
    """
    shown, fingerprint = plain(str(path), 200), Fingerprint()
    beginning = begin(path, shown=shown, decimal=asked.decimal)
    if not asked.columns:
        refuse_other(beginning.piece.lines[0], beginning.piece.numbers[0], shown, "list of points")
    opening, _ = tell(beginning, asked, _evidence(layout), shown=shown)
    blocks = list(read_blocks(path, opening, shown=shown, fingerprint=fingerprint))
    findings = [finding for block in blocks for finding in block.findings]
    if findings:
        raise InputError(*_few(findings, shown))
    points = [point for block in blocks for point in _points(layout, block)]
    if not points:
        raise InputError(mistake("bad-columns", "the list holds no points, only a header", Place(shown)))
    return points, HowMeasured(
        shown, fingerprint.hex, how.method, how.instrument, how.by, how.date, how.error, how.error_up
    )


def error_of_instrument(layout: Layout) -> float | None:
    """Standard error of a coordinate [m] as the site file's [instrument] measures the stakes; None without one.

    The widest of the 95 % circles of the stakes, over 2.4477.
    """
    known = accuracy_of(layout)
    circles = [doubt.circle for doubt in known.stakes] if known else []
    return max(circles) / CIRCLE_95 if circles else None


def _evidence(layout: Layout) -> Evidence:
    """Everything the layout knows the place of, as the list would have it."""
    coordinates = layout.site.declared.coordinates
    places = {point.name: layout.frame.to_file(point.at) for point in design_points(layout)}
    known = {name: GivenPoint.model_construct(north=at.north, east=at.east) for name, at in places.items()}
    return Evidence(MappingProxyType(known), coordinates.crs if coordinates else "")


def _few(findings: list[Finding], shown: str) -> list[Finding]:
    if len(findings) <= MOST_FINDINGS:
        return findings
    more = mistake("too-many", "there are more rows that cannot be used; correct these first", Place(shown))
    return [*findings[:MOST_FINDINGS], more]


def _points(layout: Layout, block: Block) -> Iterator[MeasuredPoint]:
    columns = (block.north.tolist(), block.east.tolist(), block.elevation.tolist())
    for name, north, east, high, note, line in zip(block.names, *columns, block.notes, block.numbers, strict=True):
        at = layout.frame.to_ground(Point(east, north))
        yield MeasuredPoint(name, at, None if isnan(high) else high, note, line)
