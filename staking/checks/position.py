"""Is it known where on earth the site is, and do unit and system agree?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.errors import PositionError
from staking.findings import Finding, Severity
from staking.layout.computed import Layout

CODES = MappingProxyType(
    {
        "position-unknown": "No coordinate system is given, so no GeoJSON is written. Everything else is.",
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
    if stated.values == "grid" and "combined_factor" not in stated.model_fields_set:
        yield Finding(
            "factor-unknown",
            Severity.WARNING,
            "grid values without a combined factor: ground distances are taken for grid distances",
            layout.site.place("coordinates"),
            "ask the surveyor for the combined factor; write combined_factor = 1.0 to say that it does not matter",
        )


def _system(layout: Layout, crs: str) -> Iterator[Finding]:
    # pyproj is slow to import: only sites that name a system pay for it
    from staking.layout.positions import position  # noqa: PLC0415
    from staking.survey.projections import system, to_lonlat  # noqa: PLC0415

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
        there = [layout.frame.to_file(point.at) for point in layout.points.values()]
        to_lonlat(position(layout), [(point.east, point.north) for point in there])
    except PositionError as error:
        yield Finding(
            "position-refused",
            Severity.WARNING,
            f"layout.geojson is not written: {error.message}",
            place,
            error.remedy,
        )


CHECK = Check("Is it known where on earth the site is, and do unit and system agree?", CODES, _findings)
