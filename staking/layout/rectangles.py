"""Of which rectangles is a shape of square corners made, so that its area can be checked by hand?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

SQUARE = 1e-4  # metres; how far a corner may lie off the lines of its neighbours


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Sides [m], longer first; a hole counts against the area."""

    long: float
    short: float
    hole: bool = False


Ring = Sequence[tuple[float, float]]


def rectangles(shape: shapely.Polygon) -> tuple[Rectangle, ...]:
    """The rectangles of a shape, holes last; none where it has a slanting edge, as an arc drawn in chords has.

    The outline is cut across or along, whichever gives fewer pieces.
    """
    turned = _turned(shape)
    rings = [_ring(turned.exterior), *map(_ring, turned.interiors)]
    if not all(_square(ring) for ring in rings):
        return ()
    outer, *holes = rings
    return (*_fewest(outer, hole=False), *(each for ring in holes for each in _fewest(ring, hole=True)))


def _turned(shape: shapely.Polygon) -> shapely.Polygon:
    """The shape turned about its first corner, so that its longest edge runs east."""
    coords = np.asarray(shape.exterior.coords)
    steps = np.diff(coords, axis=0)
    along = steps[int(np.hypot(steps[:, 0], steps[:, 1]).argmax())]
    size = math.hypot(*along)
    cos, sin = along[0] / size, along[1] / size

    return shapely.transform(shape, lambda places: (places - coords[0]) @ np.array([[cos, -sin], [sin, cos]]))


def _ring(ring: shapely.LinearRing) -> Ring:
    return [(x, y) for x, y, *_ in ring.coords]


def _square(ring: Ring) -> bool:
    return all(min(abs(a[0] - b[0]), abs(a[1] - b[1])) < SQUARE for a, b in pairwise(ring))


def _fewest(ring: Ring, *, hole: bool) -> Sequence[Rectangle]:
    flipped = [(y, x) for x, y in ring]
    ways = [[Rectangle(max(size), min(size), hole) for size in _strips(each)] for each in (ring, flipped)]
    return min(ways, key=len)


def _strips(ring: Ring) -> Iterator[tuple[float, float]]:
    """Width and height of the rectangles between one corner and the next higher one; equal ones in one are joined."""
    levels = _levels([y for _, y in ring])
    open_: dict[tuple[float, float], float] = {}
    for low, high in pairwise(levels):
        spans = set(_spans(ring, (low + high) / 2))
        for span in [span for span in open_ if span not in spans]:
            yield span[1] - span[0], low - open_.pop(span)
        for span in spans:
            open_.setdefault(span, low)
    for span, low in open_.items():
        yield span[1] - span[0], levels[-1] - low


def _levels(heights: Sequence[float]) -> list[float]:
    found: list[float] = []
    for height in sorted(heights):
        if not found or height - found[-1] > SQUARE:
            found.append(height)
    return found


def _spans(ring: Ring, level: float) -> Iterator[tuple[float, float]]:
    """From where to where a level line runs inside a ring."""
    crossed = sorted(round(a[0] / SQUARE) * SQUARE for a, b in pairwise(ring) if (a[1] - level) * (b[1] - level) < 0)
    return zip(crossed[::2], crossed[1::2], strict=True)
