"""Which way, and how steeply, does each surface fall: the floor, the parts of the slab, the drives?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely

from staking.layout.computed import Layout
from staking.layout.surfaces import part_slope
from staking.sitefile.plan_declared import Feature
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, distance, mean, vector

AT_CONCRETE = 0.6  # metres; the end of a drive nearer to the concrete than this meets its top; own choice
ON_DRIVE = (0.72, 0.88)  # shares of its longest piece between which the arrow lies, off the name in the middle
LEVEL = 1e-9  # a ratio below this is none


@dataclass(frozen=True, slots=True)
class Fall:
    """of: what falls, in words. ratio: height over run, above 0. start, end [m on the ground]: an arrow downhill.

    to: the name of the point at a drive's lower end.
    """

    kind: str
    of: str
    ratio: float
    start: Point
    end: Point
    to: str = ""


def falls_of(layout: Layout) -> tuple[Fall, ...]:
    """Of the floor, the parts that fall or rise, and the drives whose ends have a height."""
    return (*_floor(layout), *_parts(layout), *_drives(layout))


def _floor(layout: Layout) -> Iterator[Fall]:
    floor = layout.design.floor if layout.design else None
    if floor is None or floor.steepness < LEVEL:
        return
    start, end = _arrow(layout.slab.form.shape, floor.downhill)
    yield Fall("floor", "floor", floor.steepness, start, end)


def _arrow(shape: shapely.Polygon, way: Vector) -> tuple[Point, Point]:
    """An arrow along a direction inside a shape, beside its middle where it can be: names stand in the middle."""
    aside = way.left()
    middle = shape.representative_point()
    corners = [vector(Point(middle.x, middle.y), Point(x, y)) for x, y in shape.exterior.coords[:-1]]
    wide, long = (max(c.dot(d) for c in corners) - min(c.dot(d) for c in corners) for d in (aside, way))
    half = 0.15 * long
    for share in (0.25, -0.25, 0.35, -0.35, 0.15, -0.15):
        at = Point(middle.x + aside.east * share * wide, middle.y + aside.north * share * wide)
        ends = [Point(at.east + way.east * by, at.north + way.north * by) for by in (-half, half)]
        if shape.covers(shapely.LineString([(p.east, p.north) for p in ends])):
            return ends[0], ends[1]
    return Point(middle.x, middle.y), Point(middle.x + way.east * half, middle.y + way.north * half)


def _parts(layout: Layout) -> Iterator[Fall]:
    if layout.design is None:
        return
    for part, (name, corners) in zip(layout.site.declared.slab.parts, layout.slab.form.parts, strict=True):
        ratio = part_slope(part, corners)
        joint, edge = mean(corners[:2]), mean(corners[2:])
        if abs(ratio) >= LEVEL:
            start, end = (joint, edge) if ratio > 0 else (edge, joint)
            yield Fall("part", name, abs(ratio), start, end)


def _drives(layout: Layout) -> Iterator[Fall]:
    for feature in layout.site.declared.features:
        if feature.kind == "drive" and feature.points and len(feature.points) > 1:
            yield from _drive(layout, feature)


def _drive(layout: Layout, feature: Feature) -> Iterator[Fall]:
    places = [layout.points[name].at for name in feature.points]
    run = sum(distance(one, other) for one, other in pairwise(places))
    first, last = (height_at(layout, places[index]) for index in (0, -1))
    if first is None or last is None or run == 0 or abs(first - last) / run < LEVEL:
        return
    downhill = first > last
    one, other = max(pairwise(places), key=lambda piece: distance(*piece))
    piece = Line(one, other) if downhill else Line(other, one)
    start, end = (piece.at(share * piece.length) for share in ON_DRIVE)
    ratio = abs(first - last) / run
    yield Fall("drive", feature.name, ratio, start, end, feature.points[-1 if downhill else 0])


def height_at(layout: Layout, place: Point) -> float | None:
    """How high a point stands [m]: as given, else the concrete it meets, else the ground; None where none is known."""
    if place.up is not None:
        return place.up
    top = _concrete(layout, place)
    if top is not None or layout.earth is None:
        return top
    return layout.earth.triangles.height(place)


def _concrete(layout: Layout, place: Point) -> float | None:
    """The top of the concrete at the nearest place of it; None farther away than AT_CONCRETE."""
    spot, whole = shapely.Point(place.east, place.north), layout.slab.form.whole
    if layout.design is None or whole.distance(spot) > AT_CONCRETE:
        return None
    near = shapely.get_coordinates(shapely.shortest_line(whole, spot))[0]
    return layout.design.top(float(near[0]), float(near[1]))
