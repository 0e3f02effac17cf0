"""At which place near by is the least room greatest? A search on the exact margins."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from operator import itemgetter

import shapely
from shapely.geometry.base import BaseGeometry

from staking.layout.computed import Layout, Margin
from staking.layout.places import figure_of
from staking.layout.shifted import least, margins_at, shifted
from staking.survey.paths import contains
from staking.survey.points import Point, Vector, vector

FINEST = 2e-7  # metres; the last step
_COMPASS = tuple(
    Vector(math.cos(math.radians(angle)), math.sin(math.radians(angle))) for angle in (i * 22.5 for i in range(16))
)
_GAIN = 1e-3  # of a step; a place that gains less is not worth a step so long, and a shorter one is tried
_BINDING = 4  # so many of the least margins tell which way a ridge runs


@dataclass(frozen=True)
class Hill:
    """Least room as the height of a place. ignored: lines and areas, by name, that are left out.

    within: no step leads out of it [places]; None where nothing bounds them. deep: what lies over a straight side of
    the lot is measured square to it, so that every step back counts, also for a slab that is larger than the lot.
    """

    layout: Layout
    ignored: frozenset[str] = frozenset()
    within: BaseGeometry | None = None
    deep: bool = False

    def margins(self, place: Vector) -> list[Margin]:
        """The margins that are not left out."""
        kept = [margin for margin in margins_at(self.layout, place) if margin.of not in self.ignored]
        return [_deepened(self.layout, margin, place) for margin in kept] if self.deep else kept

    def height(self, place: Vector) -> float:
        """The least room there [m]."""
        return least(self.margins(place)).room

    def holds(self, place: Vector) -> bool:
        """Whether a step may lead there."""
        return self.within is None or bool(shapely.intersects_xy(self.within, place.east, place.north))

    def climb(self, start: Vector, step: float, finest: float = FINEST, enough: float = math.inf) -> Vector:
        """The place that steps of the greatest gain lead to, `step` [m] long at first, halved down to `finest`.

        Room falls off to both sides of a ridge, so the ways along the ridges between the least margins are tried
        besides the points of the compass. enough [m]: a place with so much room ends the search.
        """
        here, room = start, self.height(start)
        while step > finest and room < enough:
            found = max(((self.height(there), there) for there in self._around(here, step)), key=itemgetter(0))
            if found[0] > room + _GAIN * step:
                room, here = found
            else:
                step /= 2
        return here

    def _around(self, here: Vector, step: float) -> Iterator[Vector]:
        binding = sorted(self.margins(here), key=lambda margin: margin.room)[:_BINDING]
        yield here
        for way in (*_COMPASS, *_ridges(binding)):
            there = Vector(here.east + way.east * step, here.north + way.north * step)
            if self.holds(there):
                yield there


def _deepened(layout: Layout, margin: Margin, place: Vector) -> Margin:
    """The margin by the place farthest over a straight side, that side taken whole, where that is outside the lot."""
    base, lot = layout.lines.get(f"lot {margin.of}"), layout.lot
    if margin.rule not in ("setback", "lot line") or lot is None or base is None or base.inside is None:
        return margin
    shape = figure_of(layout, margin, shifted(layout.slab, place)).shape
    corners = [Point(float(x), float(y)) for x, y in shapely.get_coordinates(shape)]
    far, corner = min(((vector(base.line.start, c).dot(base.inside), c) for c in corners), key=itemgetter(0))
    if far >= 0 or contains(lot.pieces, corner):
        return margin
    return replace(margin, distance=far, room=far - margin.required, at=corner, foot=base.line.foot(corner))


def way_up(margin: Margin) -> Vector | None:
    """The direction in which a margin grows fastest; None where the slab stands on the line."""
    step = vector(margin.foot, margin.at) if margin.distance > 0 else vector(margin.at, margin.foot)
    return step.unit() if step.length > 0 else None


def _ridges(binding: Sequence[Margin]) -> Iterator[Vector]:
    ways = [way for way in map(way_up, binding) if way is not None]
    yield from ways
    for one, other in combinations(ways, 2):
        across = Vector(one.east - other.east, one.north - other.north)
        if across.length > 0:
            yield across.unit().left()
            yield across.unit().right()
