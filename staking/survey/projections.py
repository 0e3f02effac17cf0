"""Where on the earth do coordinates of a projected system lie?

With `projected_systems` the only door to pyproj. It always speaks east, north and longitude, latitude, whatever order
a system's authority writes; coordinates come in as metres, whatever unit the system counts in. PROJ never asks the
network here. Refused: places outside a system's area of use, operations that are too coarse.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import pyproj
from pyproj.exceptions import ProjError

from staking.errors import PositionError
from staking.survey.heights import mean_radius
from staking.survey.projected_systems import System, crs_of

WORST_ACCURACY = 5.0  # metres; NAD83 to WGS 84 states 2 to 4, NAD27 without its grids 7 to 10 (EPSG v11.022)
MOST_DISTORTION = 0.01  # of a distance; zones for building stay below 0.001, maps of the world do not; own choice

_FOOT = 0.3048
_COMES_BACK = 0.001  # metres; own choice
_BOUNDS_ROUNDING = 0.01  # degrees; areas of use are printed to so many in the EPSG dataset
_ASK_SURVEYOR = "ask the surveyor for the coordinates in a system of today, such as NAD83(2011)"
_NO_SLIP = (
    "check the code of the system, and the digits of the coordinates; ground values with a constant taken off north "
    "and east, and local numbers, are none of the system"
)
_OLD_DATUM = "NAD27 is the datum of 1927, and the codes from EPSG:32001 to 32099 are on it; NAD83 has codes of its own"
_WINDS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Column = npt.NDArray[np.float64]

LonLat = tuple[float, float]
EastNorth = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Misplaced:
    """A point outside the area its system is made for. slip: "swapped", "metres", "feet", or "" where none is known."""

    slip: str
    message: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Operation:
    """How coordinates were carried over. accuracy [m]: as the EPSG dataset states it; 0 where the datums are one."""

    description: str
    accuracy: float
    source: str
    target: str = "WGS 84 (EPSG:4326)"


def to_lonlat(which: System, points: Sequence[EastNorth]) -> tuple[tuple[LonLat, ...], Operation]:
    """Longitude and latitude on WGS 84 [deg] of points given as east, north [m], and the operation used.

    One operation serves all points, the best one for the first of them. Raises PositionError where a point is
    outside the area of use or nowhere on the earth, where the system stretches distances there by more than a
    hundredth, and where the operation's accuracy is not stated or worse than 5 m.
    """
    if not points:
        raise PositionError(f"there is no point to put on the earth in {which.code}")
    _check_places(which, points)
    operation, described = _operation(which, points[0])
    stretch = grid_scale(which, points[0])
    if abs(stretch - 1) > MOST_DISTORTION:
        raise PositionError(
            f"{which.code} ({which.name}) is made for maps: it shows a distance there {stretch:.3f} times as long "
            "as it is on the ground",
            "name the state plane or UTM zone that the coordinates were measured in",
        )
    return tuple(_carried(operation, which, points)), described


def misplaced(which: System, points: Sequence[EastNorth]) -> tuple[Misplaced | None, ...]:
    """For each point given as east, north [m]: what is wrong with its place; None where it is in the area of use."""
    return tuple(
        None if _inside(which, place) else Misplaced(*_slip(which, point, _outside(which, point, place)))
        for point, place in zip(points, _places(which, points), strict=True)
    )


def from_lonlat(which: System, places: Sequence[LonLat]) -> tuple[tuple[EastNorth, ...], float]:
    """East, north [m] of places given as longitude, latitude on WGS 84 [deg], and the accuracy of that [m].

    Raises PositionError as `to_lonlat` does for operations.
    """
    general = _to_wgs84(which.code)
    size = float(which.unit_metres)
    easts, norths = general.transform([lon for lon, _ in places], [lat for _, lat in places], direction="INVERSE")
    points = tuple((east * size, north * size) for east, north in zip(easts, norths, strict=True))
    if not all(math.isfinite(number) for point in points for number in point):
        raise PositionError(f"{which.code} has no place for that latitude and longitude", "check the digits and signs")
    return points, _operation(which, points[0])[1].accuracy


def carried(source: System, target: System, point: EastNorth) -> tuple[EastNorth, float]:
    """A point of one system, east, north [m], in another one, and the accuracy of that [m]; 0 on one datum.

    Raises PositionError where the point is nowhere, and where the datums differ and no operation between them is
    known to 5 m: without grid files realisations of a datum are else taken for one another unsaid.
    """
    place = next(_places(source, [point]))
    lon, lat, accuracy = *place, 0.0
    if source.datum != target.datum:
        between = _between(source.code, target.code)
        (lon, lat), accuracy = between.transform(*place), between.accuracy
        if not 0 <= accuracy <= WORST_ACCURACY:
            raise PositionError(f"{source.datum} is not carried to {target.datum} well enough", _ASK_SURVEYOR)
    east, north = _own_geographic(target.code).transform(lon, lat, direction="INVERSE")
    if not (math.isfinite(east) and math.isfinite(north)):
        raise PositionError(f"{target.code} has no place for a point of {source.code}", "check code and digits")
    size = float(target.unit_metres)
    return (east * size, north * size), accuracy


def carried_columns(source: System, target: System, east: Column, north: Column) -> tuple[Column, Column, float]:
    """Many points of one system, in columns of east and north [m], in another one, and the accuracy of that [m].

    Raises PositionError as `carried` does, and where the corners of the area they take up lie outside the area of use
    of their system or come to lie nowhere.
    """
    if not east.size:
        return east, north, 0.0
    corners = [(float(e), float(n)) for e in (east.min(), east.max()) for n in (north.min(), north.max())]
    _check_places(source, corners)
    _, accuracy = carried(source, target, corners[0])
    size, other = float(source.unit_metres), float(target.unit_metres)
    if source.datum == target.datum:
        easts, norths = _on_one_datum(source.code, target.code).transform(east / size, north / size)
    else:
        places = _own_geographic(source.code).transform(east / size, north / size)
        places = _between(source.code, target.code).transform(*places)
        easts, norths = _own_geographic(target.code).transform(*places, direction="INVERSE")
    if not (math.isfinite(easts.sum()) and math.isfinite(norths.sum())):
        raise PositionError(f"{target.code} has no place for a point of {source.code}", "check code and digits")
    return easts * other, norths * other, accuracy


def earth_radius(which: System, point: EastNorth) -> float:
    """Radius of the system's ellipsoid at a point given as east, north [m], for the elevation factor [m].

    Raises PositionError where the point is nowhere on the earth.
    """
    ellipsoid = crs_of(which.code).ellipsoid
    _, lat = next(_places(which, [point]))
    if ellipsoid is None or not math.isfinite(lat):
        raise PositionError(f"{which.code} has no place for {point[0]:.1f} m east, {point[1]:.1f} m north")
    return mean_radius(lat, ellipsoid.semi_major_metre, ellipsoid.semi_minor_metre)


def geodesic(start: LonLat, end: LonLat) -> tuple[float, float]:
    """Azimuth at the start [deg, clockwise from true north, from -180] and length [m] of the way on WGS 84.

    Source: C. Karney's geodesics in PROJ; lines of his test set are the oracle in the tests.
    """
    azimuth, _, length = pyproj.Geod(ellps="WGS84").inv(*start, *end)
    return azimuth, length


def geodesic_end(start: LonLat, azimuth: float, length: float) -> LonLat:
    """Where one comes to who goes so far [m] in a direction [deg] from a place on WGS 84."""
    lon, lat, _ = pyproj.Geod(ellps="WGS84").fwd(*start, azimuth, length)
    return lon, lat


def grid_scale(which: System, point: EastNorth) -> float:
    """Distance in the system / distance on the ellipsoid, at a point given as east, north [m].

    The point scale factor along the meridian; the same in every direction in state plane and UTM zones. It leaves
    out the height above the ellipsoid, so a combined factor lies below it by 1.6 ppm for every 10 m of height.
    Raises PositionError where the point is nowhere on the earth.
    Source: PROJ's `proj_factors`; tests hold it against NGS values of every zone.
    """
    lon, lat = next(_places(which, [point]))
    if not (math.isfinite(lon) and math.isfinite(lat)):
        raise PositionError(f"{which.code} has no place for {point[0]:.1f} m east, {point[1]:.1f} m north")
    return float(pyproj.Proj(crs_of(which.code)).get_factors(lon, lat).meridional_scale)


@cache
def _to_wgs84(code: str) -> pyproj.Transformer:
    try:
        return pyproj.Transformer.from_crs(crs_of(code), "EPSG:4326", always_xy=True, allow_ballpark=False)
    except ProjError:
        raise PositionError(
            f"no operation is known that carries {code} ({crs_of(code).name}) to WGS 84", _ASK_SURVEYOR
        ) from None


@cache
def _between(source: str, target: str) -> pyproj.Transformer:
    ends = (crs_of(source).geodetic_crs, crs_of(target).geodetic_crs)
    try:
        return pyproj.Transformer.from_crs(*ends, always_xy=True, allow_ballpark=False)
    except ProjError:
        raise PositionError(f"no operation is known between {source} and {target}", _ASK_SURVEYOR) from None


@cache
def _on_one_datum(source: str, target: str) -> pyproj.Transformer:
    try:
        return pyproj.Transformer.from_crs(crs_of(source), crs_of(target), always_xy=True, allow_ballpark=False)
    except ProjError:
        raise PositionError(f"no operation is known between {source} and {target}", _ASK_SURVEYOR) from None


@cache
def _own_geographic(code: str) -> pyproj.Transformer:
    """To the longitudes and latitudes of the system's own datum: no datum is changed."""
    crs = crs_of(code)
    try:
        return pyproj.Transformer.from_crs(crs, crs.geodetic_crs, always_xy=True)
    except ProjError:
        raise PositionError(f"the projection of {code} ({crs.name}) cannot be computed", _ASK_SURVEYOR) from None


def _carried(by: pyproj.Transformer, which: System, points: Sequence[EastNorth]) -> Iterator[LonLat]:
    size = float(which.unit_metres)
    lons, lats = by.transform([east / size for east, _ in points], [north / size for _, north in points])
    return zip(lons, lats, strict=True)


def _operation(which: System, point: EastNorth) -> tuple[pyproj.Transformer, Operation]:
    """The operation that PROJ picks for a point, and what is known of it."""
    general = _to_wgs84(which.code)
    next(_carried(general, which, [point]))
    try:
        chosen = general.get_last_used_operation()
    except ProjError:  # raised by some releases where there is one operation only
        chosen = general
    accuracy = chosen.accuracy
    if not 0 <= accuracy <= WORST_ACCURACY:
        known = f"to {accuracy:g} m only" if accuracy >= 0 else "to an unknown accuracy"
        old = f"; {_OLD_DATUM}" if which.datum == "NAD27" else ""
        raise PositionError(
            f"{which.code} ({which.name}) can be carried to WGS 84 {known} without grid files",
            f"at most {WORST_ACCURACY:g} m are accepted; {_ASK_SURVEYOR}{old}",
        )
    return chosen, Operation(chosen.description, accuracy, f"{which.name} ({which.code})")


def _check_places(which: System, points: Sequence[EastNorth]) -> None:
    found = next((found for found in misplaced(which, points) if found), None)
    if found:
        raise PositionError(found.message, found.remedy)


def _places(which: System, points: Sequence[EastNorth]) -> Iterator[LonLat]:
    """Longitude and latitude in the system's own datum [deg]; infinite for a point that is nowhere.

    A transverse Mercator northing of a million kilometres wraps round the earth to an innocent latitude, so a place
    counts only where it leads back to the point it came from.
    """
    own, size = _own_geographic(which.code), float(which.unit_metres)
    places = list(_carried(own, which, points))
    lons, lats = [lon for lon, _ in places], [lat for _, lat in places]
    easts, norths = own.transform(lons, lats, direction="INVERSE")
    for point, place, east, north in zip(points, places, easts, norths, strict=True):
        away = math.hypot(east * size - point[0], north * size - point[1])
        yield place if away <= _COMES_BACK else (math.inf, math.inf)


def _inside(which: System, place: LonLat) -> bool:
    lon, lat = place
    west, south, east, north = which.bounds
    if not (math.isfinite(lon) and math.isfinite(lat)):
        return False
    width = (east - west) % 360 or 360
    past_west = (lon - west + _BOUNDS_ROUNDING) % 360
    between = south - _BOUNDS_ROUNDING <= lat <= north + _BOUNDS_ROUNDING
    return between and past_west <= width + 2 * _BOUNDS_ROUNDING


def _outside(which: System, point: EastNorth, place: LonLat) -> str:
    size = float(which.unit_metres)
    written = f"east {point[0] / size:.1f}, north {point[1] / size:.1f} ({which.unit})"
    if not all(map(math.isfinite, place)):
        return f"{written} is nowhere on the earth in {which.code} ({which.name})"
    lon, lat = place
    west, south, east, north = which.bounds
    # the nearest place of the area, its edges taken as meridians and parallels
    across = (lon - west) % 360 <= (east - west) % 360
    nearest = lon if across else min((west, east), key=lambda edge: abs((lon - edge + 180) % 360 - 180))
    bearing, _, distance = pyproj.Geod(ellps="GRS80").inv(nearest, min(max(lat, south), north), lon, lat)
    wind = _WINDS[round(bearing % 360 / 45) % 8]
    return (
        f"{written} lies {distance / 1000:,.0f} km {wind} of the area in which {which.code} ({which.name}) may be used"
    )


def _slip(which: System, point: EastNorth, message: str) -> tuple[str, str, str]:
    """What the writer may have mixed up: the slip that would put the point where the system is used."""
    east, north = point
    slips = (
        ("swapped", (north, east), "north and east may be swapped: swapped, the point lies inside"),
        ("metres", (east / _FOOT, north / _FOOT), "the unit may be wrong: read as metres, the numbers lie inside"),
        ("feet", (east * _FOOT, north * _FOOT), "the unit may be wrong: read as feet, the numbers lie inside"),
    )
    for slip, tried, words in slips:
        if _inside(which, next(_places(which, [tried]))):
            return slip, message, words
    return "", message, _NO_SLIP
