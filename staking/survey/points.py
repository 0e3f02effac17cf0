"""Where points lie and how they lie to one another: the inverse ("join") and polar computations.

East, north, up in metres, always read by name; directions in degrees clockwise from north.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Point:
    """A place: east and north [m], and up [m] where the elevation is known."""

    east: float
    north: float
    up: float | None = None


@dataclass(frozen=True, slots=True)
class Vector:
    """A step from one place to another: east and north [m], or a direction of length 1."""

    east: float
    north: float

    @property
    def length(self) -> float:
        """Its length [m]."""
        return math.hypot(self.east, self.north)

    def unit(self) -> Vector:
        """The same direction with length 1. Raises ValueError for a step of no length."""
        length = self.length
        if length == 0:
            raise ValueError("a step of no length has no direction")
        return Vector(self.east / length, self.north / length)

    def left(self) -> Vector:
        """Turned a quarter to the left, exactly."""
        return Vector(-self.north, self.east)

    def right(self) -> Vector:
        """Turned a quarter to the right, exactly."""
        return Vector(self.north, -self.east)

    def reversed(self) -> Vector:
        """The opposite step."""
        return Vector(-self.east, -self.north)

    def dot(self, other: Vector) -> float:
        """How far this step goes along the other, when the other has length 1 [m]."""
        return self.east * other.east + self.north * other.north

    def cross(self, other: Vector) -> float:
        """Positive where the other points to the left of this one."""
        return self.east * other.north - self.north * other.east


def vector(start: Point, end: Point) -> Vector:
    """The step from start to end."""
    return Vector(end.east - start.east, end.north - start.north)


def moved(point: Point, direction: Vector, distance: float) -> Point:
    """The place `distance` [m] from point along a direction of length 1; the elevation is not carried along."""
    return Point(point.east + direction.east * distance, point.north + direction.north * distance)


def distance(start: Point, end: Point) -> float:
    """Horizontal distance [m].

    Source: the inverse computation of plane coordinates, checked in tests against the cases of
    Geoscience Australia's GeodePy (tests/test_survey.py, test_joins).

    >>> distance(Point(0, 0), Point(3, 4))
    5.0
    """
    return math.hypot(end.east - start.east, end.north - start.north)


def azimuth(start: Point, end: Point) -> float:
    """Direction from start to end [deg], clockwise from north, at least 0 and below 360.

    Exact at multiples of 90. Raises ValueError where the points coincide.
    Source: as `distance`.

    >>> azimuth(Point(0, 0), Point(1, 0))
    90.0
    """
    return azimuth_of(vector(start, end))


def azimuth_of(step: Vector) -> float:
    """Direction of a step [deg], clockwise from north, at least 0 and below 360. Raises ValueError for no step."""
    if step.east == 0 and step.north == 0:
        raise ValueError("no direction between two points in the same place")
    turned = math.degrees(math.atan2(step.east, step.north)) % 360.0
    return 0.0 if turned == 360.0 else turned


def mean(points: Sequence[Point]) -> Point:
    """The centroid of the points themselves; the same whatever their order. Raises ValueError for none."""
    if not points:
        raise ValueError("no points to take the mean of")
    return Point(math.fsum(p.east for p in points) / len(points), math.fsum(p.north for p in points) / len(points))
