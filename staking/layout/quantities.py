"""How much concrete is there, with nothing counted twice?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from staking.layout.boards import Corners, Opening, Run
from staking.layout.design import Piece, polygons
from staking.layout.form_heights import FormHeight
from staking.layout.rectangles import Rectangle, rectangles
from staking.survey.overlays import shared, united
from staking.survey.points import Point
from staking.survey.surface import Plane

SQUARE = 1e-4  # metres; how far a shape may leave the rectangle around it and be called one


@dataclass(frozen=True, slots=True)
class Solid:
    """A piece of the concrete. thickness [m]: the mean one. plan: its area as rectangles; none where it has
    arcs or slanting edges.

    volume [m3]: area by mean thickness.
    """

    name: str
    area: float
    thickness: float
    plan: tuple[Rectangle, ...]
    falls: bool

    @property
    def volume(self) -> float:
        """Area by mean thickness [m3]."""
        return self.area * self.thickness


@dataclass(frozen=True)
class Takeoff:
    """What the quantities are counted from.

    solids: of the concrete; none where no thickness is known. twice [m3]: of footings and walls, what another one or
    the slab already holds. extent [m]: of the slab along its own front, and away from it; area [m2]: of the slab. base:
    below the base course [m2]. runs, openings, corners, heights: of the forms. gaps: which footings have nothing
    between them and the slab, and how high it is.
    """

    solids: tuple[Solid, ...]
    twice: float
    extent: tuple[float, float]
    area: float
    base: float
    runs: tuple[Run, ...]
    openings: tuple[Opening, ...]
    corners: Corners
    heights: tuple[FormHeight, ...]
    gaps: tuple[tuple[int, float], ...]

    @cached_property
    def volume(self) -> float:
        """Of all concrete [m3], nothing twice, nothing added."""
        return math.fsum(solid.volume for solid in self.solids) - self.twice

    @property
    def whole(self) -> bool:
        """Whether the slab is a rectangle, so that strips and bars are all of one length."""
        return abs(self.extent[0] * self.extent[1] - self.area) < SQUARE * sum(self.extent)


def solid(piece: Piece) -> Solid:
    """A piece with its mean thickness. Raises ValueError where its thickness is not known."""
    if piece.volume is None or piece.bottom is None:
        raise ValueError("no thickness")
    name = piece.name if piece.kind in ("floor", "ledge") else f"{piece.kind} {piece.name}"
    area = float(piece.shape.area)
    return Solid(name, area, piece.volume / area, rectangles(piece.shape), piece.top.steepness > 0)


def counted_twice(footings: Sequence[Piece], slab: Sequence[Piece]) -> float:
    """Of the footings, what another footing or the concrete above already holds [m3]; exact between planes."""
    alone = math.fsum(piece.volume or 0.0 for piece in footings)
    return alone - math.fsum(
        shape.area * (top - bottom) - math.fsum(_shared(shape, top, bottom, piece) for piece in slab)
        for shape, top, bottom in _layers(footings)
    )


def _layers(footings: Sequence[Piece]) -> Iterator[tuple[BaseGeometry, float, float]]:
    """The footings cut at every height where one begins or ends: outline, top and underside of each layer."""
    levels = sorted({height for piece in footings for height in _span(piece)})
    for low, high in pairwise(levels):
        middle = (low + high) / 2
        inside = [piece.shape for piece in footings if _span(piece)[0] < middle < _span(piece)[1]]
        yield united(inside), high, low


def _span(piece: Piece) -> tuple[float, float]:
    return (piece.bottom.up if piece.bottom else piece.top.up), piece.top.up


def _shared(shape: BaseGeometry, top: float, bottom: float, piece: Piece) -> float:
    """How much of a level layer [m3] lies above the underside of a piece."""
    if piece.bottom is None:
        return 0.0
    under = piece.bottom
    return math.fsum(
        _below(each, under, top) - _below(each, under, bottom) for each in polygons(shared(shape, piece.shape))
    )


def _below(shape: shapely.Polygon, plane: Plane, level: float) -> float:
    """The room between a plane and a level above it [m3], where the plane lies below the level."""
    return math.fsum(
        part.area * (level - plane.height(Point(part.centroid.x, part.centroid.y)))
        for part in polygons(_lower(shape, plane, level))
    )


def _lower(shape: shapely.Polygon, plane: Plane, level: float) -> BaseGeometry:
    """The part of a shape over which a plane lies below a level."""
    heights = [plane.height(Point(x, y)) for x, y in shape.exterior.coords]
    if max(heights) <= level or min(heights) >= level:
        return shape if max(heights) <= level else shapely.Polygon()
    down, reach = plane.downhill, 10 * math.hypot(*_size(shape))
    middle = Point(shape.centroid.x, shape.centroid.y)
    run = (plane.height(middle) - level) / plane.steepness  # downhill from the middle to where plane and level meet
    along, aside = (run, run + reach), (-reach, reach)
    half = [
        (middle.east + down.east * a - down.north * s, middle.north + down.north * a + down.east * s)
        for a, s in ((along[0], aside[0]), (along[1], aside[0]), (along[1], aside[1]), (along[0], aside[1]))
    ]
    return shared(shape, shapely.Polygon(half))


def _size(shape: shapely.Polygon) -> tuple[float, float]:
    west, south, east, north = shape.bounds
    return east - west, north - south


def loads_of(volume: float, truck: float) -> tuple[int, float]:
    """How many loads a volume [m3] is, and what the last one holds [m3]."""
    loads = max(math.ceil(volume / truck - 1e-9), 1)
    return loads, volume - (loads - 1) * truck
