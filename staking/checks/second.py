"""Do coordinates in a second system lead to the same place, and if not, which slip explains the difference?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from staking.checks.question import Check
from staking.errors import PositionError
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.sitefile.coordinates_declared import SecondSystem
from staking.survey.disagreements import Found, Told, slip_of
from staking.survey.points import Point, distance

ONE_DATUM = 0.05  # metres; good control agrees to a hundredth of this scale or so; own choice

CODES = MappingProxyType(
    {
        "second-refused": "The second system cannot be compared with that of the site; the sentence says why.",
        "second-differs": "Two systems put one point in two places. Where a slip explains it, it is named: north and "
        "east swapped; the other foot, 2 parts in a million (12 ft at 6,000,000); feet for metres; ground values taken "
        "for grid, or the other way; a constant taken off; one mistyped digit.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    stated = layout.site.declared.coordinates
    for index, second in enumerate(layout.site.declared.second_system):
        try:
            if stated is None or not stated.crs:
                raise PositionError("the site names no system", 'add [coordinates] with crs = "EPSG:..."')
            yield from _compared(layout, index, second)
        except PositionError as error:
            yield Finding(
                "second-refused",
                Severity.WARNING,
                f"{second.point} cannot be compared with {second.crs}: {error.message}",
                layout.site.place("second_system", index),
                error.remedy or "check the code",
            )


def _compared(layout: Layout, index: int, second: SecondSystem) -> Iterator[Finding]:
    # pyproj is slow to import: only sites that give a second system pay for it
    from staking.layout.positions import known_position  # noqa: PLC0415
    from staking.survey.projected_systems import system  # noqa: PLC0415
    from staking.survey.projections import carried  # noqa: PLC0415

    other, position = system(second.crs), known_position(layout)
    size = float(other.unit_metres)
    (east, north), accuracy = carried(other, position.system, (second.east * size, second.north * size))
    given = layout.site.given[second.point]
    written, grid = Point(given.east, given.north), Point(east, north)
    right = position.file(grid)
    told = Told(float(layout.site.unit.metres), max(ONE_DATUM, accuracy), _factor(layout))
    found = slip_of(written, right, told, grid if position.ground else None)
    if found is not None:
        words, remedy = _words(layout, found)
        yield Finding(
            "second-differs",
            Severity.STOP,
            f"{words}: {second.point} is {layout.notation.decimal(distance(written, right))} "
            f"{layout.site.unit.name} from where {second.crs} puts it",
            layout.site.place("second_system", index),
            remedy,
        )


def _factor(layout: Layout) -> float:
    stated = layout.site.declared.coordinates
    return stated.combined_factor if stated is not None and stated.factor_given else layout.frame.factor


def _words(layout: Layout, found: Found) -> tuple[str, str]:
    """The slip by its name, and what to do about it."""
    name, remedy = _WORDS[found.slip]
    lengths = layout.notation
    figures = {
        "ppm": f"{found.figure:+.0f}",
        "axis": found.axis,
        "constant": lengths.decimal(found.figure, 0),
        "meant": lengths.coordinate(found.figure),
    }
    return name.format(**figures), remedy.format(**figures)


_WORDS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "swapped": ("north and east swapped", "write north first, or name the columns of the list"),
        "survey foot": (
            "the wrong foot ({ppm} ppm)",
            "ask which foot the list is in: ft (0.3048 m) or ftUS (1200/3937 m)",
        ),
        "feet": ("feet taken for metres, or the other way", "ask which unit the list is in"),
        "ground for grid": (
            "ground values taken for grid, or the other way ({ppm} ppm)",
            'say values = "ground" with combined_factor and scaled_about, or get grid values',
        ),
        "grid for ground": ("grid values taken for ground", 'say values = "grid"'),
        "constant": ("a constant was taken off ({constant})", 'say it under truncated, with values = "ground"'),
        "digit": ("a mistyped digit in {axis}", "it should be about {meant}"),
        "other": ("the two systems disagree", "ask the surveyor; check codes, datums and digits of both"),
    }
)
CHECK = Check(
    "Do coordinates in a second system lead to the same place, and if not, which slip explains it?", CODES, _findings
)
