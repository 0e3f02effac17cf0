"""In which system, if any, a site's numbers are places on the earth, and how they become grid coordinates.

Slow to import, like pyproj itself: only who needs it opens it.
"""

from __future__ import annotations

from dataclasses import dataclass

from staking.errors import PositionError
from staking.layout.computed import Layout
from staking.sitefile.coordinates_declared import ORIGIN, Coordinates
from staking.survey import ground_systems
from staking.survey.ground_systems import GroundSystem
from staking.survey.points import Point, Vector
from staking.survey.projected_systems import System, system

_NO_SYSTEM = "the site's coordinates are local, so its place on the earth is not known"
_NAME_SYSTEM = 'name the system in [coordinates], crs = "EPSG:...", and say values = "grid" or "ground"'


@dataclass(frozen=True, slots=True)
class Position:
    """system: of the earth. ground: how the file's numbers were made from grid ones; None where they are those."""

    system: System
    ground: GroundSystem | None = None

    def grid(self, point: Point) -> Point:
        """A point of the file [m] in grid coordinates [m]."""
        return self.ground.to_grid(point) if self.ground else point

    def file(self, grid: Point) -> Point:
        """A point in grid coordinates [m] as the file would have it [m]."""
        return self.ground.to_ground(grid) if self.ground else grid


def known_position(layout: Layout) -> Position:
    """How the site file's numbers lie on the earth. Raises PositionError where that is not known."""
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        raise PositionError(_NO_SYSTEM, _NAME_SYSTEM)
    if stated.values == "grid" or (stated.factor_given and stated.combined_factor == 1 and not stated.scaled_about):
        return Position(system(stated.crs))
    if not stated.factor_given:
        raise PositionError(
            f"the site's numbers are ground values, and how they differ from the grid of {stated.crs} is not said",
            'give grid values and say values = "grid"; where grid and ground are one, say combined_factor = 1',
        )
    if stated.scaled_about is None:
        raise PositionError(
            "ground values cannot be put on the earth without the origin of their scaling",
            'add scaled_about = "origin" or the point, or give grid values and say values = "grid"',
        )
    return Position(system(stated.crs), ground_system(layout, stated))


def ground_system(layout: Layout, stated: Coordinates) -> GroundSystem:
    """How ground values of the site are made from grid ones, whichever of them its file holds."""
    off = stated.truncated
    truncated = Vector(off.east, off.north) if off else Vector(0.0, 0.0)
    factor = stated.combined_factor if stated.factor_given else layout.frame.factor
    return GroundSystem(_about(layout, stated, truncated), factor, truncated)


def _about(layout: Layout, stated: Coordinates, truncated: Vector) -> Point:
    """The place that keeps its coordinates: of a point in the file, its numbers before anything was taken off."""
    about = stated.scaled_about
    if about is None or about.point == ORIGIN:
        return ground_systems.ORIGIN
    if about.north is not None and about.east is not None:
        return Point(about.east, about.north)
    there = layout.site.given[about.point]
    if stated.values == "grid":
        return Point(there.east, there.north)
    return Point(there.east + truncated.east, there.north + truncated.north)
