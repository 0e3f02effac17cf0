"""About where on the earth does a local site lie, so that a map can show it?

By latitude and longitude of two of its points, or of one and a bearing. The lengths of the file are kept; it is turned
and moved, never stretched. For viewing only. Slow to import, like pyproj itself: only who needs it opens it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from staking.errors import PositionError
from staking.layout.computed import Layout
from staking.sitefile.coordinates_declared import OnEarth
from staking.survey.points import Point, azimuth_of, distance, vector
from staking.survey.projections import LonLat, geodesic, geodesic_end

_LEAST = 1.0  # metres between two points that give a direction; own choice


@dataclass(frozen=True, slots=True)
class Laid:
    """start: a point of the file [m], which lies at this longitude and latitude. by: what it was laid by, in words.

    turn [deg]: true bearing of the file's north.
    """

    start: Point
    at: LonLat
    turn: float
    by: str

    def lonlat(self, point: Point) -> LonLat:
        """A point of the file [m] as longitude and latitude on WGS 84 [deg], about."""
        away = vector(self.start, point)
        length = math.hypot(away.east, away.north)
        return geodesic_end(self.at, azimuth_of(away) + self.turn, length) if length else self.at


def laid_on_earth(layout: Layout) -> Laid | None:
    """How [[on_earth]] lays the site on the earth; None where the file has none of it.

    The first two places count; with one, its bearing does. Raises PositionError where that says nothing sound.
    """
    places = layout.site.declared.on_earth
    if not places:
        return None
    stated = layout.site.declared.coordinates
    if stated is not None and stated.crs:
        raise PositionError("the site names a system, so [[on_earth]] is not for it", "take [[on_earth]] or crs out")
    if len(places) == 1:
        turn, by = turn_by_bearing(layout, places[0]), f"the place of {places[0].point} and a bearing"
    else:
        turn, by = _turn_by_two(layout, places[0], places[1]), f"the places of {places[0].point} and {places[1].point}"
    sources = ", ".join(dict.fromkeys(place.source for place in places[:2] if place.source))
    return Laid(spot(layout, places[0].point), lonlat(places[0]), turn, f"{by} ({sources})" if sources else by)


def spot(layout: Layout, name: str) -> Point:
    """A given point by its name, as the file has it [m], without its elevation."""
    given = layout.site.given[name]
    return Point(given.east, given.north)


def lonlat(place: OnEarth) -> LonLat:
    """Longitude and latitude of a declared place [deg]."""
    return place.longitude, place.latitude


def turn_by_bearing(layout: Layout, place: OnEarth) -> float:
    """True bearing of the file's north [deg] by the bearing of a place. Raises PositionError where it has none."""
    if place.bearing is None:
        raise PositionError(
            f"one place, {place.point}, does not say how the site is turned",
            "add a second [[on_earth]], or bearing = ... (with toward = a point, or of the file's north)",
        )
    if not place.toward:
        return place.bearing - layout.site.turn
    return place.bearing - _direction(layout, place.point, place.toward)


def _turn_by_two(layout: Layout, first: OnEarth, second: OnEarth) -> float:
    azimuth, length = geodesic(lonlat(first), lonlat(second))
    if length < _LEAST:
        raise PositionError(f"{first.point} and {second.point} are at one place on the earth", "check the digits")
    return azimuth - _direction(layout, first.point, second.point)


def _direction(layout: Layout, start: str, end: str) -> float:
    here, there = spot(layout, start), spot(layout, end)
    if distance(here, there) < _LEAST:
        raise PositionError(f"{start} and {end} are too near for a direction", "name points that are far apart")
    return azimuth_of(vector(here, there))
