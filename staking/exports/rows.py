"""What is exported, point by point? The one list that every point format writes.

Given points first, in the order of the site file, then the stakes in the order they were asked for, then corners and
drains of recesses. Coordinates are metres in the file's frame, which are grid values where the site file holds grid
values.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.kinds.stakes.placing import Series
from staking.layout.computed import Layout, NamedPoint, Stake

GIVEN = "given"
LOT_CORNER = "lot corner"

_LAYERS: Mapping[Series, str] = MappingProxyType(
    {"corners": "CORNER", "offsets": "OFFSET", "batter_boards": "BOARD", "marks": "MARK"}
)


@dataclass(frozen=True, slots=True)
class PointRow:
    """A point by name: north, east, elevation [m] in the file's frame; kind and note in words; layer of drawings."""

    name: str
    north: float
    east: float
    elevation: float | None
    kind: str
    note: str
    layer: str


def point_rows(layout: Layout) -> tuple[PointRow, ...]:
    """Every given and computed point: what is staked, and corners and drains of recesses, which are not."""
    return given_rows(layout) + stake_rows(layout) + tuple(_recess_rows(layout))


def given_rows(layout: Layout) -> tuple[PointRow, ...]:
    """The given points, lot corners among them, exactly as they were given."""
    return tuple(_given(layout, point) for point in layout.points.values())


def stake_rows(layout: Layout) -> tuple[PointRow, ...]:
    """What is staked."""
    return tuple(_staked(layout, stake) for stake in layout.stakes)


def _given(layout: Layout, point: NamedPoint) -> PointRow:
    at = layout.frame.to_file(point.at)
    north, east = at.north, at.east
    declared = layout.site.given.get(point.name)
    if declared is not None:  # not by way of the ground, which would cost the last bits
        north, east = declared.north, declared.east
    kind = LOT_CORNER if point.lot_corner else GIVEN
    return PointRow(point.name, north, east, at.up, kind, point.note, "GIVEN")


def _recess_rows(layout: Layout) -> Iterator[PointRow]:
    for grade in layout.grades:
        if grade.kind in ("recess", "drain"):
            at = layout.frame.to_file(grade.at)
            yield PointRow(grade.name, at.north, at.east, grade.up, grade.kind, grade.what, "PART")


def _staked(layout: Layout, stake: Stake) -> PointRow:
    at = layout.frame.to_file(stake.at)
    return PointRow(stake.name, at.north, at.east, at.up, stake.kind, stake.note, _LAYERS[stake.series])
