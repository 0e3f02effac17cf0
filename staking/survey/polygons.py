"""Closed outlines of straight sides: area, turning, offsets, faults, and how far they are from other things.

Corners in order, the first not repeated at the end; east and north in metres. This is one of the few doors to
shapely.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from staking.survey.intersections import PARALLEL, crossing
from staking.survey.lines import Line
from staking.survey.points import Point, distance, moved, vector

_ON_LINE = 1e-6  # metres; a corner this near to a line lies on it


def signed_area(corners: Sequence[Point]) -> float:
    """Area [m2], positive where the corners run counter-clockwise.

    Source: area by coordinates; the double meridian distance examples of the published cases give the same.

    >>> signed_area([Point(0, 0), Point(4, 0), Point(4, 3), Point(0, 3)])
    12.0
    """
    first = corners[0]
    steps = [vector(first, corner) for corner in corners]
    return 0.5 * math.fsum(a.cross(b) for a, b in zip(steps, steps[1:] + steps[:1], strict=True))


def sides_of(corners: Sequence[Point]) -> tuple[Line, ...]:
    """The sides, each from its corner to the next."""
    return tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))


def turning(corners: Sequence[Point], index: int) -> float:
    """Sine of the turn at a corner; positive to the left, 0 where the sides run straight on."""
    before, here = corners[index - 1], corners[index]
    after = corners[(index + 1) % len(corners)]
    return vector(before, here).unit().cross(vector(here, after).unit())


def offset_outward(corners: Sequence[Point], by: float) -> tuple[Point, ...]:
    """The outline with every side moved outward by so much [m], corners mitred; counter-clockwise corners in, out.

    A negative distance moves the sides inward. Raises ValueError where the sides would turn over.

    >>> offset_outward([Point(0, 0), Point(4, 0), Point(4, 3), Point(0, 3)], 1)[2]
    Point(east=5.0, north=4.0, up=None)
    """
    if by == 0:
        return tuple(corners)
    shifted = [
        Line(moved(s.start, s.direction.right(), by), moved(s.end, s.direction.right(), by)) for s in sides_of(corners)
    ]
    result = tuple(_mitre(shifted[i - 1], shifted[i]) for i in range(len(shifted)))
    if any(vector(b.start, b.end).dot(a.direction) <= 0 for a, b in zip(shifted, sides_of(result), strict=True)):
        raise ValueError("a side is shorter than the offset needs")
    return result


def _mitre(before: Line, after: Line) -> Point:
    """Where two shifted sides meet; where they run straight on, the end they share."""
    if abs(before.direction.cross(after.direction)) < PARALLEL:
        return after.start
    return crossing(before, after)


def first_fault(corners: Sequence[Point], least: float) -> tuple[str, int, int] | None:
    """The first thing wrong with an outline: what ("short", "spike", "touching", "crossing"), and its two sides from 0.

    least: sides shorter than this [m] are faults. None where the outline is sound.
    """
    sides = sides_of(corners)
    count = len(sides)
    for index, side in enumerate(sides):
        if side.length < least:
            return ("short", index, index)
    for index in range(count):
        before, here = sides[index - 1].direction, sides[index].direction
        if abs(before.cross(here)) < PARALLEL and before.dot(here) < 0:
            return ("spike", (index - 1) % count, index)
    return _first_crossing(sides, least)


def _first_crossing(sides: tuple[Line, ...], least: float) -> tuple[str, int, int] | None:
    ring = shapely.LinearRing([(s.start.east, s.start.north) for s in sides])
    segments = shapely.linestrings([[(s.start.east, s.start.north), (s.end.east, s.end.north)] for s in sides])
    tree = shapely.STRtree(segments)
    left, right = tree.query(segments, predicate="dwithin", distance=least)
    count = len(sides)
    pairs = sorted((int(a), int(b)) for a, b in zip(left, right, strict=True) if a < b)
    apart = [(a, b) for a, b in pairs if b - a > 1 and not (a == 0 and b == count - 1)]
    if apart:
        a, b = apart[0]
        return ("crossing" if segments[a].crosses(segments[b]) else "touching", a, b)
    return None if ring.is_simple or count == 3 else ("crossing", 0, count - 1)


def polygon(corners: Sequence[Point]) -> shapely.Polygon:
    """The outline as shapely knows it: east is x, north is y."""
    return shapely.Polygon([(corner.east, corner.north) for corner in corners])


def spots(points: Iterable[Point]) -> NDArray[np.object_]:
    """Places as shapely knows them, all at once."""
    places = np.array([(place.east, place.north) for place in points]).reshape(-1, 2)
    return np.asarray(shapely.points(places), dtype=object)


def line_string(line: Line) -> shapely.LineString:
    """The line as shapely knows it."""
    return shapely.LineString([(line.start.east, line.start.north), (line.end.east, line.end.north)])


def ring_corners(ring: shapely.LinearRing) -> tuple[Point, ...]:
    """The corners of a shapely ring, counter-clockwise, the first not repeated."""
    corners = tuple(Point(float(x), float(y)) for x, y in ring.coords[:-1])
    return corners if ring.is_ccw else corners[::-1]


def beyond_everything(lines: Sequence[Line], shape: BaseGeometry) -> tuple[float, ...]:
    """How far along each line one must go from its end to be past a whole shape [m from the line's start].

    Where nothing of the shape lies ahead of a line's end, its own length. A corner of the shape within _ON_LINE of the
    line lies on it: whether an edge that runs along the line meets it must not hang on the last digits.
    """
    west, south, east, north = shape.bounds
    rim = [Point(x, y) for x in (west, east) for y in (south, north)]
    far = [line.length + max(distance(line.end, corner) for corner in rim) + 1.0 for line in lines]
    ahead = [line_string(Line(line.end, line.at(reach))) for line, reach in zip(lines, far, strict=True)]
    shared = shapely.intersection(ahead, shape)
    corners = shapely.get_coordinates(shape)
    return tuple(
        max([line.length, *_alongs(line, shapely.get_coordinates(piece)), *_alongs(line, corners, _ON_LINE)])
        for line, piece in zip(lines, shared, strict=True)
    )


def _alongs(line: Line, corners: NDArray[np.float64], within: float = math.inf) -> list[float]:
    """How far along a line those corners stand that are so near to it [m]. corners: (n, 2), east and north."""
    from_start = corners - [line.start.east, line.start.north]
    along = from_start @ [line.direction.east, line.direction.north]
    aside = from_start @ [-line.direction.north, line.direction.east]
    return [float(each) for each in along[np.abs(aside) < within]]
