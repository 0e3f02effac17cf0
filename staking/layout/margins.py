"""How much room there is between the slab and every line and area it must keep away from.

The room to a side of the lot is the least distance from the formed outline, with the parts that count, to that side
itself (edges included, square or to its end), less the figure that is required. Practice differs between codes; the
least distance to any place of the side is what a parallel line touching the nearest part of the building gives.
"""

from __future__ import annotations

from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from staking.findings import Severity
from staking.layout.computed import KeptClear, Lot, Margin, Slab
from staking.sitefile.declared import AlongSide, Margins, Site
from staking.survey.points import Point, distance
from staking.survey.polygons import line_string, polygon

NOISE = 1e-6  # metres; differences of computation below this are none


def margins_of(site: Site, lot: Lot | None, clear: tuple[KeptClear, ...], slab: Slab) -> tuple[Margin, ...]:
    """One margin a lot side, then one a keep-clear area, in file order."""
    limits = site.declared.margins
    result = []
    if lot is not None:
        beyond = _vertices_beyond(lot, slab.counted)
        for name in dict.fromkeys(side.name for side in lot.sides):
            required = site.declared.setbacks.get(name)
            rule = "lot line" if required is None else "setback"
            near = _side_distance(lot, name, slab.counted, beyond)
            result.append(_margin(rule, name, required or 0.0, near, limits))
    for declared, area in zip(site.declared.keep_clear, clear, strict=True):
        required = declared.width if isinstance(declared, AlongSide) else area.radius
        near = _area_distance(lot, area, slab.counted)
        result.append(_margin("keep clear", area.name, required, near, limits))
    return tuple(result)


_Near = tuple[float, Point, Point]  # distance, where on the slab, where on the other


def _margin(rule: str, of: str, required: float, near: _Near, limits: Margins) -> Margin:
    room = near[0] - required
    room = 0.0 if abs(room) < NOISE else room
    severity = (
        Severity.STOP
        if room < 0
        else Severity.STRONG
        if room < limits.strong
        else Severity.WARNING
        if room < limits.warn
        else Severity.NOTE
    )
    return Margin(rule, of, near[0], required, room, near[1], near[2], severity)


def _shortest(first: BaseGeometry, second: BaseGeometry) -> _Near:
    (ax, ay), (bx, by) = shapely.shortest_line(first, second).coords
    return float(first.distance(second)), Point(ax, ay), Point(bx, by)


def _vertices_beyond(lot: Lot, shape: BaseGeometry) -> dict[str, list[_Near]]:
    """By side name, the corners of what lies outside the lot, with their distance from the side they lie beyond."""
    area = polygon(lot.corners)
    outside = shape.difference(area)
    result: dict[str, list[_Near]] = {}
    for x, y in shapely.get_coordinates(outside):
        corner = shapely.Point(x, y)
        if area.covers(corner) or area.distance(corner) < NOISE:
            continue
        near, name = min(
            ((_shortest(corner, line_string(side.line)), side.name) for side in lot.sides),
            key=lambda found: found[0][0],
        )
        result.setdefault(name, []).append(near)
    return result


def _side_distance(lot: Lot, name: str, shape: BaseGeometry, beyond: dict[str, list[_Near]]) -> _Near:
    """Least distance to a side; below 0, by the corner farthest out, where the slab lies beyond it."""
    if name in beyond:
        distance, at, foot = max(beyond[name], key=lambda near: near[0])
        return -distance, at, foot
    pieces = [line_string(side.line) for side in lot.sides if side.name == name]
    return min((_shortest(shape, piece) for piece in pieces), key=lambda near: near[0])


def _area_distance(lot: Lot | None, area: KeptClear, shape: BaseGeometry) -> _Near:
    """Distance that is compared with the width or radius of an area; for a polygon, whose required room is 0, from it.

    Measured from the side or point itself, not from the drawn shape, so that it is exact.
    """
    if area.centre is not None:
        return _shortest(shape, shapely.Point(area.centre.east, area.centre.north))
    if area.along and lot is not None:
        pieces = [line_string(side.line) for side in lot.sides if side.name == area.along]
        return min((_shortest(shape, piece) for piece in pieces), key=lambda near: near[0])
    overlap = shape.intersection(area.shape)
    if overlap.area < NOISE:
        return _shortest(shape, area.shape)
    return _depth(overlap, area.shape)


def _depth(overlap: BaseGeometry, area: BaseGeometry) -> _Near:
    """How deep the slab stands in an area, below 0: the shorter side of the box around what they share."""
    box = overlap.minimum_rotated_rectangle
    sides = [distance(a, b) for a, b in pairwise([Point(x, y) for x, y in shapely.get_coordinates(box)][:3])]
    _, at, foot = _shortest(overlap.representative_point(), area.boundary)
    return -min(sides), at, foot
