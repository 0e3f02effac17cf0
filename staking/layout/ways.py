"""How far can the slab still go, one way or another, before a rule stops it?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely

from staking.layout.computed import Layout, Margin
from staking.layout.margins import FAR
from staking.layout.places import Places
from staking.layout.shifted import least, margins_at
from staking.survey.points import Vector

FINE = 5e-6  # metres; how closely a limit is found on the exact margins
_SHORT = 1e-5  # metres; a shorter stretch of the way is none


@dataclass(frozen=True, slots=True)
class Way:
    """One way to go. name: as seen from the slab's front, or a point of the compass; direction: of length 1.

    reach [m]: how far the slab can go and clears all the way; 0 where it does not clear now, infinite where nothing
    stops it. stop: the margin that is crossed next, as it is a hair beyond the limit, or now.
    clears_at [m]: where the slab does not clear now, how far it must go this way to clear; None where it never does.
    """

    name: str
    direction: Vector
    reach: float
    stop: Margin | None
    clears_at: float | None = None


def ways_of(layout: Layout, places: Places) -> tuple[Way, ...]:
    """Right, left, away and toward as seen from the slab's front; then north, south, east and west of the file."""
    right = layout.slab.form.pose.right
    named = {
        "right": right,
        "left": right.reversed(),
        "away": right.left(),
        "toward": right.right(),
        "north": Vector(0.0, 1.0),
        "south": Vector(0.0, -1.0),
        "east": Vector(1.0, 0.0),
        "west": Vector(-1.0, 0.0),
    }
    return tuple(_way(layout, places, name, direction) for name, direction in named.items())


def _way(layout: Layout, places: Places, name: str, direction: Vector) -> Way:
    if not layout.margins:
        return Way(name, direction, math.inf, None)
    clear_now = _clears(layout, direction, 0.0)
    turn = _first_turn(layout, places, direction, clear=clear_now)
    if clear_now:
        stop = None if turn is None else least(margins_at(layout, _step(direction, turn[1])))
        return Way(name, direction, math.inf if turn is None else turn[0], stop)
    return Way(name, direction, 0.0, least(layout.margins), None if turn is None else turn[1])


def _first_turn(layout: Layout, places: Places, direction: Vector, *, clear: bool) -> tuple[float, float] | None:
    """Between which distances [m] the slab first stops clearing, or first clears; None where it never does."""
    before = 0.0
    for begin, end in pairwise(_stretches(places, direction)):
        middle = (begin + end) / 2
        if end - begin > _SHORT:
            if _clears(layout, direction, middle) != clear:
                return _narrowed(layout, direction, before, middle)
            before = middle
    return None


def _stretches(places: Places, direction: Vector) -> Iterator[float]:
    """Where the way enters and leaves forbidden places: between two of these, all is clear or nothing is."""
    end = _step(direction, FAR)
    met = shapely.intersection(shapely.LineString([(0.0, 0.0), (end.east, end.north)]), places.forbidden)
    along = shapely.get_coordinates(met) @ [direction.east, direction.north]
    yield from (0.0, *sorted(float(each) for each in along if 0 < each < FAR), FAR)


def _narrowed(layout: Layout, direction: Vector, near: float, far: float) -> tuple[float, float]:
    """The two distances brought together, so that the slab clears at one of them and not at the other."""
    state = _clears(layout, direction, near)
    while far - near > FINE:
        middle = (near + far) / 2
        if _clears(layout, direction, middle) == state:
            near = middle
        else:
            far = middle
    return near, far


def _clears(layout: Layout, direction: Vector, far: float) -> bool:
    return least(margins_at(layout, _step(direction, far))).room >= 0


def _step(direction: Vector, far: float) -> Vector:
    return Vector(direction.east * far, direction.north * far)
