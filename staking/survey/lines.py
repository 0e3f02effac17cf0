"""Straight lines on the ground: distances square to them, along them, and the line that fits several points best.

East and north in metres; a distance off a line is positive to the left of its direction.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from staking.survey.points import Point, Vector, distance, mean, moved, vector


@dataclass(frozen=True)
class Line:
    """From start to end; the two must not coincide."""

    start: Point
    end: Point

    @cached_property
    def direction(self) -> Vector:
        """Of length 1, from start to end. Raises ValueError where they coincide."""
        return vector(self.start, self.end).unit()

    @property
    def length(self) -> float:
        """From start to end [m]."""
        return distance(self.start, self.end)

    def offset(self, point: Point) -> float:
        """Distance of point square to the line, however far it is extended [m]; positive on the left."""
        return self.direction.cross(vector(self.start, point))

    def along(self, point: Point) -> float:
        """How far along the line from its start the point stands, measured square to it [m]."""
        return vector(self.start, point).dot(self.direction)

    def at(self, along: float, offset: float = 0.0) -> Point:
        """The place so far along from the start and so far to the left [m]."""
        return moved(moved(self.start, self.direction, along), self.direction.left(), offset)

    def foot(self, point: Point) -> Point:
        """Where the square from point meets the line, however far it is extended."""
        return self.at(self.along(point))


def best_fit(points: Sequence[Point]) -> tuple[Line, tuple[float, ...]]:
    """The line with the least sum of squared square distances from points, and the distance of each from it.

    It runs from the foot of the first point toward the foot of the last. Distances [m] are positive on its left.
    Raises ValueError for fewer than two points, or when all coincide or none stands out as a direction.
    Source: orthogonal regression; the direction is the principal axis of the moments about the centroid
    (closed form, tan 2t = 2 Sxy / (Sxx - Syy)), from memory; scikit-image's total least squares line is the
    oracle in the tests.
    """
    if len(points) < 2:
        raise ValueError("a line needs two points")
    if len(points) == 2:
        return Line(points[0], points[1]), (0.0, 0.0)
    centre = mean(points)
    steps = [vector(centre, point) for point in points]
    east2 = math.fsum(s.east * s.east for s in steps)
    north2 = math.fsum(s.north * s.north for s in steps)
    mixed = math.fsum(s.east * s.north for s in steps)
    if math.hypot(2 * mixed, east2 - north2) < 1e-9 * (east2 + north2) or east2 + north2 == 0:
        raise ValueError("the points lie in a heap, not along a line")
    turn = 0.5 * math.atan2(2 * mixed, east2 - north2)
    axis = Vector(math.cos(turn), math.sin(turn))
    through = Line(centre, moved(centre, axis, 1.0))
    start, end = through.foot(points[0]), through.foot(points[-1])
    line = Line(start, end)
    return line, tuple(line.offset(point) for point in points)
