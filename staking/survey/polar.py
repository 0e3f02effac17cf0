"""What must an instrument read toward a place: the angle from the backsight, the distances, and in which order to walk?

Metres on the ground, degrees; angles to the right are counted clockwise, as seen from above, from the backsight. Zenith
angles are 0 straight up and 90 level. Nothing is taken off for the curve of the earth and the bending of light: level
places then seem (1 - k) D^2 / 2R lower, with k = 0.13 and R = 6371 km under 0.7 mm at 100 m; from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from staking.survey.angles import fold
from staking.survey.points import Point, azimuth, distance

_ROUNDS = 30  # over all pairs; a walk over a few hundred stakes is settled after a few
_CROWD = 400  # more stakes than this are left as the nearest neighbour has them, since pairs take too long
_GAIN = 1e-9  # metres: a shorter way than this is no shorter way


@dataclass(frozen=True, slots=True)
class Rise:
    """What is read where heights are known.

    vertical [m]: from the instrument's axis to the prism, positive up. slope [m]: straight from one to the other.
    zenith [deg]: of that line.
    """

    vertical: float
    slope: float
    zenith: float


def angle_right(station: Point, backsight: Point, target: Point) -> float:
    """The angle at station from backsight to target [deg], clockwise, at least 0 and below 360.

    Raises ValueError where two of the three stand in one place. Source: the difference of two azimuths.

    >>> angle_right(Point(0, 0), Point(0, 10), Point(10, 0))
    90.0
    """
    return fold(azimuth(station, target) - azimuth(station, backsight))


def rise(station: Point, target: Point, *, instrument: float, prism: float) -> Rise | None:
    """Vertical and slope distance and zenith angle; None where one of the two elevations is not known.

    instrument, prism [m]: heights over the marks. Source: plane trigonometry, V = (up + prism) - (up + instrument),
    S^2 = H^2 + V^2, cot z = V / H.

    >>> rise(Point(0, 0, 10.0), Point(0, 40, 8.5), instrument=1.5, prism=33.0)
    Rise(vertical=30.0, slope=50.0, zenith=53.13010235415598)
    """
    if station.up is None or target.up is None:
        return None
    vertical = (target.up + prism) - (station.up + instrument)
    level = distance(station, target)
    return Rise(vertical, math.hypot(level, vertical), math.degrees(math.atan2(level, vertical)))


def walk(start: Point, places: Sequence[Point]) -> tuple[int, ...]:
    """The order of a short walk from start over all places and back, as their numbers from 0.

    Always to the nearest place not yet visited, then pieces of the walk are turned round as long as that shortens it
    (nearest neighbour and 2-opt; from memory). Not always the shortest walk, and the same one for the same places.
    """
    order = _nearest(start, places)
    return tuple(order if len(order) > _CROWD else _turned(start, places, order))


def walked(start: Point, places: Sequence[Point], order: Sequence[int]) -> float:
    """The length of a walk over places in an order, from start and back [m]."""
    stops = [start, *(places[index] for index in order), start]
    return math.fsum(distance(one, two) for one, two in pairwise(stops))


def _nearest(start: Point, places: Sequence[Point]) -> list[int]:
    left, here, order = list(range(len(places))), start, []
    while left:
        chosen = min(left, key=lambda index: (round(distance(here, places[index]), 6), index))
        left.remove(chosen)
        order.append(chosen)
        here = places[chosen]
    return order


def _turned(start: Point, places: Sequence[Point], order: list[int]) -> list[int]:
    stops = [start, *(places[index] for index in order), start]
    numbers = [-1, *order, -1]
    for _ in range(_ROUNDS):
        if not _round(stops, numbers):
            break
    return numbers[1:-1]


def _round(stops: list[Point], numbers: list[int]) -> bool:
    """Turns round every piece that makes the walk shorter; whether there was one."""
    found = False
    for first in range(1, len(stops) - 2):
        for last in range(first + 1, len(stops) - 1):
            before, after = stops[first - 1], stops[last + 1]
            now = distance(before, stops[first]) + distance(stops[last], after)
            if distance(before, stops[last]) + distance(stops[first], after) < now - _GAIN:
                stops[first : last + 1] = reversed(stops[first : last + 1])
                numbers[first : last + 1] = reversed(numbers[first : last + 1])
                found = True
    return found
