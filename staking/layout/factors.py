"""How do grid and ground distances compare at the site: grid scale, elevation factor, and both combined?

A factor that is computed is rounded to 8 decimals, as NGS prints it, so that what is printed is what was used.
Slow to import, like pyproj itself: only sites that name a system open it.
"""

from __future__ import annotations

from dataclasses import dataclass

from staking.errors import PositionError
from staking.layout.computed import Layout
from staking.layout.positions import known_position
from staking.sitefile.coordinates_declared import Coordinates
from staking.survey.heights import elevation_factor, height_of_factor
from staking.survey.points import Point
from staking.survey.projected_systems import System, system
from staking.survey.projections import earth_radius, grid_scale, misplaced

PRINTED = 8  # decimals, as NGS prints factors


@dataclass(frozen=True, slots=True)
class Factors:
    """grid_scale: grid / ellipsoid. elevation: ellipsoid / ground. combined: grid / ground.

    height [m]: above the ellipsoid, that the elevation factor is of. by: the height it is from, in words; empty where
    the combined factor was given and the other parts follow from it.
    """

    grid_scale: float
    elevation: float
    combined: float
    height: float
    by: str = ""


def factors_by_height(stated: Coordinates, point: Point) -> Factors:
    """The factors at a point in grid coordinates [m], from the height that the site file states.

    Raises PositionError where the system is unknown or the point outside the area it is made for.
    """
    which = system(stated.crs)
    _check(which, point)
    height, by = _height(stated)
    at = (point.east, point.north)
    scale, high = grid_scale(which, at), elevation_factor(earth_radius(which, at), height)
    return Factors(scale, high, round(scale * high, PRINTED), height, by)


def factors_of(layout: Layout) -> Factors | None:
    """The factors that a layout was solved with; None where no system or no factor is known.

    Raises PositionError as `factors_by_height`.
    """
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs or not (stated.factor_given or stated.height_given):
        return None
    position = known_position(layout)
    at = position.grid(layout.frame.anchor)
    if not stated.factor_given:
        return factors_by_height(stated, at)
    _check(position.system, at)
    place = (at.east, at.north)
    scale = grid_scale(position.system, place)
    high = stated.combined_factor / scale
    return Factors(scale, high, stated.combined_factor, height_of_factor(earth_radius(position.system, place), high))


def _check(which: System, point: Point) -> None:
    (found,) = misplaced(which, [(point.east, point.north)])
    if found:
        raise PositionError(found.message, found.remedy)


def _height(stated: Coordinates) -> tuple[float, str]:
    if stated.ellipsoid_height is not None:
        return stated.ellipsoid_height, "the ellipsoid height"
    elevation = stated.elevation or 0.0
    if stated.geoid_height is None:
        return elevation, "the elevation in place of the ellipsoid height, which is 3 to 5 ppm off in the US"
    return elevation + stated.geoid_height, "the elevation and the geoid height"
