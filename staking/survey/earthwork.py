"""How much earth lies between sections? Volumes from end areas and middle areas, and the area of a section.

Areas in square metres, lengths in metres, volumes in cubic metres; any one unit of length will do.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence


def end_area_volume(stations: Sequence[float], areas: Sequence[float], *, pyramids: bool = False) -> float:
    """The volume between sections, each stretch its length times the mean of its two end areas.

    pyramids: a stretch with nothing at one end is a pyramid, a third of length times area, instead of a half.
    Raises ValueError where stations and areas are not as many, or stations run back.
    Source: Fundamentals of Transportation (open textbook), Earthwork; the case is in tests/published/earthwork.toml.

    >>> end_area_volume([0, 50], [60, 50])
    2750.0
    """
    volume = []
    ends = list(zip(stations, areas, strict=True))
    for (start, first), (end, last) in itertools.pairwise(ends):
        if end < start:
            raise ValueError("stations run back")
        parts = 3 if pyramids and (first == 0) != (last == 0) else 2
        volume.append((end - start) * (first + last) / parts)
    return math.fsum(volume)


def prismoidal_volume(lengths: Sequence[float], areas: Sequence[float], middles: Sequence[float]) -> float:
    """The volume of prismoids in a row: length times (one end + 4 times the middle + other end) / 6.

    lengths, middles: of each prismoid; areas: of its ends, one more. Raises ValueError where they do not fit.
    Source: G. L. Vose, Handbook of Railroad Construction, art. 108; the case is in tests/published/earthwork.toml.
    """
    if len(areas) != len(middles) + 1:
        raise ValueError("prismoids in a row have one end area more than middle areas")
    rows = zip(lengths, areas, areas[1:], middles, strict=False)
    return math.fsum(length * (first + last + 4 * middle) / 6 for length, first, last, middle in rows)


def section_area(outline: Sequence[tuple[float, float]]) -> float:
    """Area of a section from the corners of its outline, each a distance and a height; the area by coordinates.

    Source: the shoelace formula (A. L. F. Meister, 1769; from memory); the case is in tests/published/earthwork.toml.
    """
    pairs = zip(outline, [*outline[1:], *outline[:1]], strict=True)
    return abs(math.fsum(one[0] * other[1] - other[0] * one[1] for one, other in pairs)) / 2


def apart_at_zero(length: float, first: float, last: float) -> tuple[float, float]:
    """Areas above and below zero [m2] of a strip between two heights, parted where they cross; both at least 0."""
    if first >= 0 and last >= 0:
        return length * (first + last) / 2, 0.0
    if first <= 0 and last <= 0:
        return 0.0, -length * (first + last) / 2
    over, under = max(first, last), -min(first, last)
    return length * over * over / (over + under) / 2, length * under * under / (over + under) / 2
