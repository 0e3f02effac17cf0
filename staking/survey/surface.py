"""How high is a plane at a place, and what does a level's rod read there?

Heights and readings in metres, up positive; falls are ratios, rise over run, so that 2 % is 0.02.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from staking.survey.points import Point, Vector

PARALLEL = 1e-9  # sine; two directions that differ by less tell one fall only

LEVEL = Vector(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane: its height `up` [m] over the place `at`, and how much it rises a metre toward east and north."""

    at: Point
    up: float
    rise: Vector = LEVEL

    def height(self, place: Point) -> float:
        """How high it is at a place [m].

        >>> Plane(Point(0, 0), 100.0, Vector(0.02, 0)).height(Point(5, 7))
        100.1
        """
        return self.up + (place.east - self.at.east) * self.rise.east + (place.north - self.at.north) * self.rise.north

    def lowered(self, by: float) -> Plane:
        """The same plane, so much lower [m]."""
        return Plane(self.at, self.up - by, self.rise)

    @property
    def steepness(self) -> float:
        """Its steepest fall, as a ratio: the length of its gradient; definition."""
        return self.rise.length

    @property
    def downhill(self) -> Vector:
        """The direction in which water runs off it, of length 1. Raises ValueError for a level plane."""
        return self.rise.reversed().unit()


def rise_of(falls: list[tuple[Vector, float]]) -> Vector:
    """How a plane rises toward east and north, from one fall or two: each a direction of length 1, and its ratio.

    With two falls each is what a level laid along its own direction would show. Raises ValueError for more than two,
    or for two along one line. Source: the directional derivative of a plane; two of them are two linear equations,
    solved by Cramer's rule.

    >>> rise_of([(Vector(0, -1), 0.02)])
    Vector(east=0.0, north=0.02)
    """
    if len(falls) == 1:
        toward, fall = falls[0]
        return Vector(0.0 - toward.east * fall, 0.0 - toward.north * fall)
    if len(falls) > 2:
        raise ValueError("a plane has no more than two falls")
    if not falls:
        return Vector(0.0, 0.0)
    (one, first), (other, second) = falls
    turn = one.cross(other)
    if abs(turn) < PARALLEL:
        raise ValueError("both falls lie along one line")
    return Vector((second * one.north - first * other.north) / turn, (first * other.east - second * one.east) / turn)


def plane_through(one: Point, other: Point, third: Point) -> Plane:
    """The plane through three places whose `up` is known. Raises ValueError where they lie on one line.

    Source: the same two linear equations, for the two steps from the first place.
    """
    ups = [point.up for point in (one, other, third)]
    if None in ups:
        raise ValueError("a plane needs three heights")
    low, middle, high = (float(up) for up in ups if up is not None)
    first, second = (Vector(p.east - one.east, p.north - one.north) for p in (other, third))
    turn = first.cross(second)
    if abs(turn) <= PARALLEL * first.length * second.length:
        raise ValueError("three places on one line tell no plane")
    up, upper = middle - low, high - low
    rise = Vector((up * second.north - upper * first.north) / turn, (upper * first.east - up * second.east) / turn)
    return Plane(one, low, rise)


def height_of_instrument(benchmark: float, backsight: float) -> float:
    """Height of the line of sight [m]: the benchmark's and what the rod reads on it.

    Source: US Navy Equipment Operator Advanced, NAVEDTRA 14081, p. 15-30, figure 15-52.

    >>> round(height_of_instrument(365.01, 11.56), 2)
    376.57
    """
    return benchmark + backsight


def rod_reading(line_of_sight: float, height: float) -> float:
    """What the rod reads with its foot at a height [m], the grade rod; below 0 where that is above the line of sight.

    Below 0 nothing can be read with the rod upright; upside down with its foot at that height it reads the same figure
    without the sign. Source: as `height_of_instrument`, figure 15-51; the inverted rod is common practice, no source.
    """
    return line_of_sight - height


def height_read(line_of_sight: float, reading: float) -> float:
    """How high the rod's foot stands [m]. Source: as `height_of_instrument`."""
    return line_of_sight - reading


def cut(ground: float, design: float) -> float:
    """How far the design lies below the ground or the top of a stake [m]; below 0 it is a fill, so far above.

    It does not ask for a grade rod, so it is right where the design lies above the line of sight too.
    Source: as `height_of_instrument`, figures 15-51 and 15-52.
    """
    return ground - design


def same_height(one: float, other: float, within: float) -> bool:
    """Whether two heights [m] are one within so much [m]."""
    return math.fabs(one - other) <= within
