"""Where does a place of a projected system lie in a ground system, and the other way round?

A ground system is made from grid coordinates by stretching them until a distance reads as on the ground, about the
origin of the system or about a point, and often by taking a constant off north and east, so that nobody takes the
numbers for grid::

    ground = about + (grid - about) / factor - truncated        factor = grid distance / ground distance
"""

from __future__ import annotations

from dataclasses import dataclass

from staking.survey.points import Point, Vector

ORIGIN = Point(0.0, 0.0)
NOTHING = Vector(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class GroundSystem:
    """about: the place that stays where it is, on the grid [m]. factor: grid / ground. truncated: taken off [m].

    Source: TxDOT practice of surface coordinates (grid multiplied by one over the combined factor, about the origin),
    as told in a public surveyors' thread of 2019; truncation is common practice, no source.

    >>> GroundSystem(ORIGIN, 0.9998).to_ground(Point(99980.0, 0.0)).east
    100000.0
    """

    about: Point
    factor: float
    truncated: Vector = NOTHING

    def to_ground(self, grid: Point) -> Point:
        """From grid to ground coordinates [m]; the elevation stays."""
        return Point(
            self.about.east + (grid.east - self.about.east) / self.factor - self.truncated.east,
            self.about.north + (grid.north - self.about.north) / self.factor - self.truncated.north,
            grid.up,
        )

    def to_grid(self, ground: Point) -> Point:
        """From ground to grid coordinates [m]; the elevation stays."""
        return Point(
            self.about.east + (ground.east + self.truncated.east - self.about.east) * self.factor,
            self.about.north + (ground.north + self.truncated.north - self.about.north) * self.factor,
            ground.up,
        )
