"""Do latitude and longitude of a local site's points fit the site?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING

from staking.checks.question import Check
from staking.errors import PositionError
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.sitefile.coordinates_declared import OnEarth
from staking.survey.angles import difference
from staking.survey.points import Point, distance

if TYPE_CHECKING:
    from staking.layout.on_earth import Laid

WORST_SCALE = 0.01  # of a distance; own choice
WORST_TURN = 2.0  # degrees between a bearing and what two places say; own choice
LEAST_OFF = 10.0  # metres; a phone on open ground is good to half of that; common practice, no source
_FOOT = 0.3048

CODES = MappingProxyType(
    {
        "earth-approximate": "A local site is laid on the map by latitude and longitude of its points. layout.geojson "
        "is approximate, says so, and is for viewing only.",
        "earth-refused": "[[on_earth]] does not say where the site lies; the sentence says why. No GeoJSON is written.",
        "earth-scale": "Two places are not as far apart on the earth as their points in the file, by more than 1 % "
        "(own choice). Feet and metres taken for one another are named.",
        "earth-differs": "A third place, or a bearing beside two places, lies elsewhere than the first two put it. "
        "Where it would fit a mirrored site, north and east are swapped in the file.",
        "earth-sign": "A longitude above 0 is east of Greenwich. Sites in feet are as good as all in the US, where "
        "longitudes are west, below 0.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    places = layout.site.declared.on_earth
    if not places:
        return
    # pyproj is slow to import: only sites that are laid on the earth pay for it
    from staking.layout.on_earth import laid_on_earth  # noqa: PLC0415

    yield from _signs(layout)
    try:
        laid = laid_on_earth(layout)
        if laid is None:
            return
        yield from _scale(layout)
        yield from _others(layout, laid)
    except PositionError as error:
        message = f"layout.geojson is not written: {error.message}"
        yield _finding(layout, "earth-refused", Severity.WARNING, message, error.remedy)
        return
    message = f"layout.geojson is approximate: laid on the map by {laid.by}"
    yield _finding(layout, "earth-approximate", Severity.NOTE, message, "look at it, and stake nothing from it")


def _finding(layout: Layout, code: str, severity: Severity, message: str, remedy: str, *, index: int = 0) -> Finding:
    return Finding(code, severity, message, layout.site.place("on_earth", index), remedy)


def _signs(layout: Layout) -> Iterator[Finding]:
    for index, place in enumerate(layout.site.declared.on_earth):
        if place.longitude > 0 and layout.site.unit.name != "m":
            message = f"the longitude of {place.point}, {place.longitude:g}, is east of Greenwich"
            remedy = f"in the US longitudes are west: write {-place.longitude:g}"
            yield _finding(layout, "earth-sign", Severity.WARNING, message, remedy, index=index)


def _scale(layout: Layout) -> Iterator[Finding]:
    from staking.layout.on_earth import lonlat, spot  # noqa: PLC0415
    from staking.survey.projections import geodesic  # noqa: PLC0415

    if len(layout.site.declared.on_earth) < 2:
        return
    first, second = layout.site.declared.on_earth[:2]
    length = geodesic(lonlat(first), lonlat(second))[1]
    ratio = distance(spot(layout, first.point), spot(layout, second.point)) / length
    if abs(ratio - 1) <= WORST_SCALE:
        return
    written = layout.notation.decimal
    message = (
        f"{first.point} to {second.point} is {written(length * ratio)} {layout.site.unit.name} in the file and "
        f"{written(length)} {layout.site.unit.name} by latitude and longitude"
    )
    words, remedy = _why(ratio, first, second)
    yield _finding(layout, "earth-scale", Severity.STRONG, f"{words}{message}", remedy, index=1)


def _why(ratio: float, first: OnEarth, second: OnEarth) -> tuple[str, str]:
    if first.longitude * second.longitude < 0:
        return "one longitude is east, the other west: ", "write both with the same sign; west is below 0"
    for times, words, unit in (
        (_FOOT, "metres taken for feet: ", '"m"'),
        (1 / _FOOT, "feet taken for metres: ", '"ft"'),
    ):
        if abs(ratio / times - 1) <= 2 * WORST_SCALE:
            return words, f"ask which unit the numbers are in; unit = {unit} would fit"
    return "", "check the digits; latitude and longitude want 6 decimals of a degree, and points far apart"


def _others(layout: Layout, laid: Laid) -> Iterator[Finding]:
    """Places beyond the second, and bearings beside two places."""
    from staking.layout.on_earth import lonlat, spot, turn_by_bearing  # noqa: PLC0415
    from staking.survey.projections import geodesic  # noqa: PLC0415

    places = layout.site.declared.on_earth
    for index, place in enumerate(places[1:] and places):
        at = spot(layout, place.point)
        off = geodesic(laid.lonlat(at), lonlat(place))[1]
        allowed = max(LEAST_OFF, WORST_SCALE * distance(laid.start, at))
        if index > 1 and off > allowed:
            mirrored = geodesic(laid.lonlat(_mirrored(layout, at)), lonlat(place))[1] <= allowed
            message = f"{place.point} lies {layout.notation.decimal(off, 1)} {layout.site.unit.name} off"
            yield _differs(layout, index, message, mirrored=mirrored)
        if place.bearing is not None:
            turned = difference(laid.turn % 360, turn_by_bearing(layout, place) % 360)
            if abs(turned) > WORST_TURN:
                message = f"the bearing at {place.point} is {abs(turned):.1f} degrees off what the two places say"
                yield _differs(layout, index, message, mirrored=False)


def _differs(layout: Layout, index: int, message: str, *, mirrored: bool) -> Finding:
    words = "the site is mirrored, north and east swapped: " if mirrored else ""
    remedy = "write north first" if mirrored else "check the digits; a compass shows magnetic, not true north"
    return _finding(
        layout, "earth-differs", Severity.STRONG if mirrored else Severity.WARNING, words + message, remedy, index=index
    )


def _mirrored(layout: Layout, point: Point) -> Point:
    """The point on the other side of the line through the first two."""
    from staking.layout.on_earth import spot  # noqa: PLC0415

    start, end = (spot(layout, place.point) for place in layout.site.declared.on_earth[:2])
    way = math.atan2(end.north - start.north, end.east - start.east)
    east, north = point.east - start.east, point.north - start.north
    cos, sin = math.cos(2 * way), math.sin(2 * way)
    return Point(start.east + east * cos + north * sin, start.north + east * sin - north * cos)


CHECK = Check("Do latitude and longitude of a local site's points fit the site?", CODES, _findings)
