"""Where on the earth was measured what was computed, for a map to look at (RFC 7946)?

Measured points, the outline as computed and as measured, and a line from each point as computed to the same as
measured, at true size. As `geojson`: for viewing only.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import PurePath
from typing import Any

from staking.drawing.as_built import enlarged
from staking.exports.geojson import Thing, area_of, collection_of
from staking.field.compared import Comparison, Deviation, MeasuredPoint
from staking.layout.computed import Layout
from staking.survey.points import Point

STRANGER = "not of the design"


def as_built_geojson(comparison: Comparison) -> bytes:
    """The comparison as a feature collection. Raises PositionError where the place on the earth is not known."""
    how = comparison.how
    facts = {
        "measured_file": {"name": PurePath(how.file).name, "sha256": how.fingerprint},
        "measured_by": how.by,
        "measured_on": how.date,
    }
    return collection_of(comparison.layout, tuple(_things(comparison)), facts)


def _things(comparison: Comparison) -> Iterator[Thing]:
    layout = comparison.layout
    for each in comparison.deviations:
        yield _point(layout, each.measured, _held(layout, each))
    for point in comparison.strangers:
        yield _point(layout, point, {"kind": STRANGER})
    form, measured = layout.slab.form, tuple(each.measured.at for each in comparison.corners)
    yield area_of(layout, "slab", "outline as computed", form.shape)
    if len(measured) == len(form.corners):
        outline = replace(form, corners=measured).shape
        if outline.is_valid:
            yield area_of(layout, "slab", "outline as measured", outline)
    for each in comparison.deviations:
        if each.plan.length > 0:
            ends = tuple(_bare(layout, at) for at in (each.design.at, enlarged(each, 1)))
            properties = {"name": each.design.name, "kind": "from computed to measured"}
            yield Thing("LineString", ((ends,),), properties | _held(layout, each))


def _bare(layout: Layout, at: Point) -> Point:
    there = layout.frame.to_file(at)
    return Point(there.east, there.north)


def _point(layout: Layout, point: MeasuredPoint, more: dict[str, Any]) -> Thing:
    at, write = _bare(layout, point.at), layout.notation
    properties: dict[str, Any] = {
        "name": point.name,
        "kind": "measured",
        "note": point.note,
        "north": float(write.coordinate(at.north)),
        "east": float(write.coordinate(at.east)),
        "unit": layout.site.unit.name,
    }
    if point.up is not None:
        properties |= {"elevation": float(write.coordinate(point.up)), "elevation_unit": layout.site.unit.name}
    return Thing("Point", (((at,),),), properties | more)


def _held(layout: Layout, each: Deviation) -> dict[str, Any]:
    write = layout.notation
    found: dict[str, Any] = {
        "design": each.design.name,
        "off_north": float(write.coordinate(each.plan.north)),
        "off_east": float(write.coordinate(each.plan.east)),
        "off": float(write.coordinate(each.plan.length)),
        "answer": each.answer,
    }
    if each.up is not None:
        found |= {"off_up": float(write.coordinate(each.up)), "answer_up": each.answer_up}
    return found
