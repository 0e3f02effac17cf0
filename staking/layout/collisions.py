"""Where the slab cannot stand anywhere: which rules leave too little between them, and by how much?

At the place where the least room is greatest, what holds the slab there is what collides. Two rules that push against
each other want together so much more than there is; three that hold it in a corner are named together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
import shapely

from staking.layout.climbing import Hill, way_up
from staking.layout.computed import Layout, Margin
from staking.layout.places import Places
from staking.layout.shifted import least
from staking.survey.points import Vector, vector

_GRID = 9  # so many places to begin from, each way
_STARTS = 3  # of the best of them
_HOLDING = 0.002  # metres; a margin within this of the least holds the slab where it is
_AGAINST = -0.94  # cosine: rules that push within 20 degrees of straight against each other
_ROUGH = 0.01  # metres; the last step of all searches but the one from the best of them


@dataclass(frozen=True, slots=True)
class Collision:
    """Rules that cannot all be kept. short [m]: what is missing between them; with three rules, at each of them.

    size [m]: how far the slab reaches from one rule to the other; left [m]: what they leave; both 0 with three rules.
    across: the direction from the first rule's line to the slab.
    """

    rules: tuple[Margin, ...]
    short: float
    size: float
    left: float
    across: Vector


def collisions_of(layout: Layout, places: Places) -> tuple[tuple[Collision, ...], Vector]:
    """The collisions, the worst one first, and the place where the slab stands least badly.

    No collision where that place clears: the slab then fits there and hardly anywhere else.
    """
    found: list[Collision] = []
    hill = Hill(layout, within=places.inside, deep=True)
    first = place = _least_bad(hill)
    while hill.height(place) < 0:
        found.append(_collision(hill.margins(place)))
        hill = replace(hill, ignored=hill.ignored | {rule.of for rule in found[-1].rules})
        if not hill.margins(place):
            break
        place = _least_bad(hill)
    return tuple(found), first


def _least_bad(hill: Hill) -> Vector:
    """The place with the greatest least room, or the first that is found to clear."""
    west, south, east, north = (hill.within or shapely.Point(0.0, 0.0)).bounds
    grid = [Vector(float(x), float(y)) for x in _spread(west, east) for y in _spread(south, north)]
    starts = sorted((place for place in grid if hill.holds(place)), key=hill.height, reverse=True)[:_STARTS]
    long = max(east - west, north - south) / _GRID
    climbed = [hill.climb(start, long, _ROUGH, 0.0) for start in starts]
    return hill.climb(max(climbed, key=hill.height), _ROUGH, enough=0.0)


def _spread(low: float, high: float) -> Sequence[float]:
    return list(np.linspace(low, high, _GRID + 2)[1:-1])


def _collision(margins: Sequence[Margin]) -> Collision:
    """What holds the slab where its least room is greatest."""
    bottom = least(margins)
    holding = [margin for margin in margins if margin.room < bottom.room + _HOLDING and way_up(margin)]
    pairs = [(_against(a, b), a, b) for a, b in combinations(holding, 2)]
    if pairs:
        cosine, a, b = min(pairs, key=lambda pair: pair[0])
        if cosine < _AGAINST:
            return _between(a, b)
    return Collision(tuple(holding) or (bottom,), -bottom.room, 0.0, 0.0, way_up(bottom) or Vector(0.0, 1.0))


def _against(a: Margin, b: Margin) -> float:
    """Cosine of the angle between the ways in which two margins grow."""
    one, other = way_up(a), way_up(b)
    return one.dot(other) if one and other else 1.0


def _between(a: Margin, b: Margin) -> Collision:
    across = way_up(a) or Vector(0.0, 1.0)
    size = vector(a.at, b.at).dot(across)
    short = -(a.room + b.room)
    return Collision((a, b), short, size, size - short, across)
