"""How much shorter is a distance on the ellipsoid than on the ground above it?

The factor wants the height above the ellipsoid. An elevation counts from the geoid, which lies 8 to 53 m below the
ellipsoid in the lower 48 states, so an elevation used in its place makes the factor wrong by 3 to 5 parts in a million
there as a rule.
"""

from __future__ import annotations

import math


def mean_radius(latitude: float, semi_major: float, semi_minor: float) -> float:
    """Radius of the earth for the elevation factor [m]: 2MN/(M+N).

    latitude: [deg].  semi_major, semi_minor: axes of the ellipsoid [m].  M, N: its radii of curvature along the
    meridian and across it. Raises ValueError for a latitude beyond 90.
    Source: NGS NCAT sample result (NOAA NGS ncat-lib repository, commit 77bcff1), which this radius reproduces.

    >>> round(mean_radius(40.0, 6378137.0, 6356752.314140356), 3)
    6374371.168
    """
    if not abs(latitude) <= 90:
        raise ValueError(f"no latitude of {latitude} degrees")
    squared = 1 - (semi_minor / semi_major) ** 2
    bend = 1 - squared * math.sin(math.radians(latitude)) ** 2
    across = semi_major / math.sqrt(bend)
    along = semi_major * (1 - squared) / (bend * math.sqrt(bend))
    return 2 * along * across / (along + across)


def elevation_factor(radius: float, height: float) -> float:
    """Distance on the ellipsoid / distance on the ground: R/(R+h).

    radius: [m].  height: above the ellipsoid [m], negative below it. Raises ValueError where there is no ground.
    Source: as `mean_radius`; the relation h = H + N is on NGS datasheets (RD2119, NH0936).

    >>> round(elevation_factor(6374371.168, 100.0), 8)
    0.99998431
    """
    if radius + height <= 0:
        raise ValueError(f"no ground {height} m above the ellipsoid")
    return radius / (radius + height)


def height_of_factor(radius: float, factor: float) -> float:
    """The height above the ellipsoid [m] that an elevation factor belongs to. Raises ValueError unless above 0."""
    if factor <= 0:
        raise ValueError(f"no elevation factor of {factor}")
    return radius * (1 / factor - 1)
