"""Is it known where on earth the site is, and do unit and system agree?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from staking.checks.question import Check
from staking.errors import PositionError
from staking.findings import Finding, Severity
from staking.layout.computed import Layout

if TYPE_CHECKING:
    from staking.survey.projections import Misplaced

CODES = MappingProxyType(
    {
        "position-unknown": "No coordinate system is given, so no GeoJSON is written. Everything else is. For a look "
        "on a map, [[on_earth]] with latitude and longitude of two points is enough.",
        "outside-area": "Points lie outside the area that the system is made for: a wrong code, a mistyped digit, or "
        "ground values with a constant taken off.",
        "north-east-swapped": "North and east were written the wrong way round: swapped, the numbers fit.",
        "unit-mistaken": "The numbers fit the system in another unit: feet were read as metres, or the other way.",
        "position-refused": "The coordinates cannot be put on the earth: the system is not one that can be "
        "used, or the "
        "points lie outside the area it is made for. No GeoJSON is written.",
        "unit-not-system": "site.unit is not the unit of the coordinate system. Numbers copied from the "
        "surveyor's list "
        "would be read with the wrong unit; a US survey foot read as a foot moves a point 12 ft at 6,000,000.",
        "factor-unknown": "Grid values without a combined factor: distances on the ground are then taken for grid "
        "distances.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    stated = layout.site.declared.coordinates
    if (stated is None or not stated.crs) and layout.site.declared.on_earth:
        return  # the check of [[on_earth]] speaks of it
    if stated is None or not stated.crs:
        yield Finding(
            "position-unknown",
            Severity.NOTE,
            "layout.geojson is not written: it is not known where on earth the site is",
            layout.site.place("coordinates"),
            'add [coordinates] with crs = "EPSG:...", values = "grid" and the combined factor, as the surveyor '
            "gives them",
        )
        return
    yield from _system(layout, stated.crs)
    if stated.values == "grid" and not (stated.factor_given or stated.height_given):
        yield Finding(
            "factor-unknown",
            Severity.WARNING,
            "grid values without a combined factor: ground distances are taken for grid distances",
            layout.site.place("coordinates"),
            "ask the surveyor for the combined factor, or give ellipsoid_height; write combined_factor = 1.0 to say "
            "that it does not matter",
        )


def _system(layout: Layout, crs: str) -> Iterator[Finding]:
    # pyproj is slow to import: only sites that name a system pay for it
    from staking.layout.positions import known_position  # noqa: PLC0415
    from staking.survey.projected_systems import system  # noqa: PLC0415
    from staking.survey.projections import misplaced, to_lonlat  # noqa: PLC0415

    place = layout.site.place("coordinates", "crs")
    unit = layout.site.unit.name
    try:
        known = system(crs)
        if known.unit != unit:
            yield Finding(
                "unit-not-system",
                Severity.STOP,
                f"site.unit is {unit}, but {known.name} is in {known.unit}",
                place,
                f'write unit = "{known.unit}" and give other lengths their own unit, or the code of the twin system in '
                f"{unit}",
            )
            return
        position = known_position(layout)
        grid = {name: position.grid(layout.frame.to_file(point.at)) for name, point in layout.points.items()}
        places = [(point.east, point.north) for point in grid.values()]
        outside = {name: found for name, found in zip(grid, misplaced(known, places), strict=True) if found}
        if outside:
            yield _outside(layout, outside)
            return
        to_lonlat(known, places)
    except PositionError as error:
        yield Finding(
            "position-refused",
            Severity.WARNING,
            f"layout.geojson is not written: {error.message}",
            place,
            error.remedy,
        )


def _outside(layout: Layout, outside: Mapping[str, Misplaced]) -> Finding:
    """The first of the points that lie where the system is not used, with the slip that explains it."""
    name, first = next(iter(outside.items()))
    code = _SLIPS[first.slip]
    some = len(outside) < len(layout.points)
    count = f"{len(outside)} of the {len(layout.points)} points" if some else "every point"
    hint = f"the others lie inside, so look at the digits of {name} first\n" if some else ""
    return Finding(
        code,
        Severity.STOP,
        f"{_SLIP_WORDS[first.slip]}: {first.message}; {count} outside, first {name}",
        layout.site.place("points", name) if name in layout.site.declared.points else layout.site.place("coordinates"),
        f"{hint}{first.remedy}",
    )


_SLIPS = MappingProxyType(
    {"swapped": "north-east-swapped", "metres": "unit-mistaken", "feet": "unit-mistaken", "": "outside-area"}
)
_SLIP_WORDS = MappingProxyType(
    {
        "swapped": "north and east swapped",
        "metres": "metres taken for feet",
        "feet": "feet taken for metres",
        "": "not in the area of the system",
    }
)
CHECK = Check("Is it known where on earth the site is, and do unit and system agree?", CODES, _findings)
