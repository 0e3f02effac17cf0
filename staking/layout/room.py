"""Does the slab fit on its lot, turned as it is, where, and how far can it still go?

Every answer is found on the exact margins; the region alone is drawn by chords, on the safe side (see `places`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from staking.layout.climbing import Hill
from staking.layout.collisions import Collision, collisions_of
from staking.layout.computed import Layout, Margin
from staking.layout.places import ERROR, Places, places_of
from staking.layout.shifted import least, margins_at
from staking.layout.ways import Way, ways_of
from staking.survey.points import Point, Vector

_CLOSE = 1e-4  # metres; how closely the greatest least room is found on the region
_CORE = 4e-4  # metres; places that have less room than the best one by no more than this are as good
_FIRST, _LAST = 4 * ERROR, 1e-5  # metres; steps of the search on the exact margins, which begins next to its end
_STAY = Vector(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Place:
    """Where the slab could stand. by: the step from where it is; corner: of its corner 1; least: room at the least.

    Where many places have the same least room, it is the middle of them.
    """

    by: Vector
    corner: Point
    least: float
    margins: tuple[Margin, ...]


@dataclass(frozen=True)
class Room:
    """The places at which the slab, turned as it is, clears everything.

    region: of its corner 1, on the ground; empty where it cannot fit, or where no lot bounds it. Every place in it
    clears; a place that clears lies in it or within ERROR of it. area [m2]: of the region.
    corner: where corner 1 is; clears: whether the slab clears there, with its margins, as `Layout` has them.
    bounded: whether there is a lot. best: the place with the greatest least room, within a millimetre; None where the
    slab cannot fit or is not bounded. ways: how far it can still go. collisions: why it cannot fit, the worst first.
    """

    region: BaseGeometry
    area: float
    corner: Point
    clears: bool
    margins: tuple[Margin, ...]
    bounded: bool
    best: Place | None
    ways: tuple[Way, ...]
    collisions: tuple[Collision, ...]

    @property
    def fits(self) -> bool:
        """Whether there is a place for the slab at all."""
        return self.clears or self.best is not None or not self.bounded

    @property
    def pieces(self) -> int:
        """In how many pieces the region lies: the slab cannot be slid from one into another."""
        return sum(1 for part in shapely.get_parts(self.region) if not part.is_empty)


def room_of(layout: Layout) -> Room:
    """All of it, for the outline and the direction that the layout has."""
    places = places_of(layout)
    allowed = places.allowed()
    clears = all(margin.room >= 0 for margin in layout.margins)
    collisions: tuple[Collision, ...] = ()
    best: Place | None = None
    if not allowed.is_empty:
        best = _best(layout, places, allowed)
    elif clears and layout.lot is not None:
        best = _place(layout, _STAY)
    elif layout.lot is not None:
        # Chords on the safe side may hide a place that fits to a hair: the exact margins have the last word.
        collisions, by = collisions_of(layout, places)
        best = None if collisions else _place(layout, by)
    corner = layout.slab.form.corners[0]
    return Room(
        region=shapely.affinity.translate(allowed, corner.east, corner.north),
        area=float(allowed.area),
        corner=corner,
        clears=clears,
        margins=layout.margins,
        bounded=layout.lot is not None,
        best=best,
        ways=ways_of(layout, places),
        collisions=collisions,
    )


def _best(layout: Layout, places: Places, allowed: BaseGeometry) -> Place:
    """Room is the distance to forbidden places: what is left longest as these grow has most of it."""
    low, high = 0.0, math.sqrt(allowed.area / math.pi)
    while high - low > _CLOSE:
        room = (low + high) / 2
        low, high = (low, room) if places.allowed(room).is_empty else (room, high)
    core = places.allowed(max(0.0, low - _CORE))
    part = max(shapely.get_parts(core), key=lambda each: each.area)
    middle = part.centroid if part.covers(part.centroid) else part.representative_point()
    return _place(layout, Hill(layout).climb(Vector(middle.x, middle.y), _FIRST, _LAST))


def _place(layout: Layout, by: Vector) -> Place:
    corner, margins = layout.slab.form.corners[0], margins_at(layout, by)
    return Place(by, Point(corner.east + by.east, corner.north + by.north), least(margins).room, margins)


__all__ = ["ERROR", "Collision", "Place", "Room", "Way", "room_of"]
