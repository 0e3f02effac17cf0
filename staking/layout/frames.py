"""Between the coordinates a file holds and the ground on which everything is solved.

Ground = grid / combined factor, about an anchor on the site (traps of "surface" coordinates: the factor is
demanded, never guessed). The ground's own coordinates count from the anchor, so that state plane numbers of
millions lose no digits.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from staking.survey.points import Point


@dataclass(frozen=True, slots=True)
class Frame:
    """anchor: in the file's frame [m]. factor: grid / ground distance; 1 where the file holds ground values."""

    anchor: Point
    factor: float = 1.0

    def to_ground(self, point: Point) -> Point:
        """From the file's frame [m] to the ground, counted from the anchor [m]."""
        return Point(
            (point.east - self.anchor.east) / self.factor,
            (point.north - self.anchor.north) / self.factor,
            point.up,
        )

    def to_file(self, point: Point) -> Point:
        """From the ground back to the file's frame [m]."""
        return Point(
            self.anchor.east + point.east * self.factor,
            self.anchor.north + point.north * self.factor,
            point.up,
        )


def frame_about(points: Iterable[Point], factor: float) -> Frame:
    """A frame anchored near the middle of points, on a whole metre; the same whatever their order."""
    known = list(points)
    east = math.fsum(p.east for p in known) / max(1, len(known))
    north = math.fsum(p.north for p in known) / max(1, len(known))
    return Frame(Point(float(round(east)), float(round(north))), factor)
