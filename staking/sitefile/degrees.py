"""Are the numbers of the points latitude and longitude, which cannot be set out from?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from staking.findings import Finding, Place
from staking.sitefile.declared import GivenPoint
from staking.sitefile.places import mistake
from staking.units import UNITS

NEAR = 0.1  # units of the site: no slab fits between points so near, and a tenth of a degree is miles
FEWEST = 3  # points: two so near may be a corner by its record and the pin found beside it
_REMEDY = (
    "give north and east in a projected system, as a surveyor's list has them\n"
    "or measure with a tape, and count north and east from one corner, as 1000, 1000"
)


def degrees(given: Mapping[str, GivenPoint], unit: str | None, places: Mapping[str, Place]) -> Iterator[Finding]:
    """The finding that all given points look like degrees; none where one of them does not.

    unit: of the site; None where it is not known, so that nobody can tell.  places: where each point stands.
    """
    if unit is None or len(given) < FEWEST:
        return
    size = float(UNITS[unit].metres)
    norths = [point.north / size for point in given.values()]
    easts = [point.east / size for point in given.values()]
    if _on_earth(norths, easts) and all(0 < max(each) - min(each) < NEAR for each in (norths, easts)):
        message = "the points look like latitude and longitude in degrees, which are not read"
        yield mistake("bad-value", message, places[next(iter(given))], _REMEDY)


def _on_earth(norths: list[float], easts: list[float]) -> bool:
    """Whether all numbers can be latitudes and longitudes, in either order, away from 0, 0, which is open sea."""
    north, east = (max(map(abs, each)) for each in (norths, easts))
    read = all(map(math.isfinite, (*norths, *easts)))  # a point that cannot be read is not known to be near
    return read and min(north, east) <= 90 and 1 < max(north, east) <= 180
