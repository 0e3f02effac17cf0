"""Is the lot as large as lots are, and does the factor belong to the height of the site?"""

from __future__ import annotations

from collections.abc import Iterator
from statistics import fmean
from types import MappingProxyType
from typing import TYPE_CHECKING

from staking.checks.question import Check
from staking.errors import PositionError
from staking.findings import Finding, Severity
from staking.layout.computed import Layout

if TYPE_CHECKING:
    from staking.layout.factors import Factors

_FOOT = 0.3048
SMALLEST_LOT = 500 * _FOOT**2  # square metres; a house and its setbacks need more; own choice
LARGEST_LOT = 100 * 43560 * _FOOT**2  # 100 acres; a lot in the wrong unit is 10.8 times as large; own choice
LOWEST, HIGHEST = -1500 * _FOOT, 15000 * _FOOT  # above the ellipsoid; no US building ground is outside; own choice
WORST_HEIGHT = 500 * _FOOT  # 24 ppm; above the geoid heights of the lower 48 states, 8 to 53 m; own choice
LEAST_STRETCH = 100e-6  # of pins; pins of a small lot are no surer; own choice
_NEAR = 0.25  # of the factor's stretch; own choice

CODES = MappingProxyType(
    {
        "lot-size": "The lot is smaller than 500 square feet or larger than 100 acres (own choice), as when feet are "
        "read as metres or a digit is wrong.",
        "factor-upside-down": "The combined factor belongs to a height that no site has, and its reciprocal to a fair "
        "one: it is ground / grid. Here it is grid / ground.",
        "factor-height": "The combined factor belongs to a height above the ellipsoid below -1,500 ft or above 15,000 "
        "ft, or to one more than 500 ft from the elevations of the points (own choices). It is of another place, "
        "mistyped, or the numbers are not what the file says.",
        "ground-for-grid": "The record of the lot is shorter than its pins by as much as the combined factor stretches "
        "the file's grid values: the pins are ground values already.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.lot is not None and not SMALLEST_LOT <= layout.lot.area <= LARGEST_LOT:
        yield Finding(
            "lot-size",
            Severity.WARNING,
            f"the lot has {layout.lot.area / _FOOT**2:,.0f} square feet ({layout.lot.area:,.0f} square metres), which "
            "is no usual lot",
            layout.site.place("lot"),
            "check site.unit and the digits of its corners",
        )
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        return
    yield from _pins(layout)
    # pyproj is slow to import: only sites that name a system pay for it
    from staking.layout.factors import factors_of  # noqa: PLC0415

    try:
        found = factors_of(layout)
    except PositionError:
        return  # the check of the position says it
    if found is not None and not (stated.factor_given and stated.combined_factor == 1):
        yield from _height(layout, found)


def _height(layout: Layout, found: Factors) -> Iterator[Finding]:
    expected = _expected(layout)
    if _fair(found.height, expected):
        return
    height = _length(layout, found.height)
    message = f"combined factor {found.combined:.8g} belongs to a height of {height} above the ellipsoid"
    known = "" if expected is None else f"; the points lie at about {_length(layout, expected)}"
    if found.combined != 1 and _fair(_turned_height(found), expected):
        yield Finding(
            "factor-upside-down",
            Severity.STRONG,
            f"the factor is upside down: {message}{known}",
            layout.site.place("coordinates", "combined_factor"),
            f"here it is grid / ground: write {1 / found.combined:.8f}",
        )
        return
    yield Finding(
        "factor-height",
        Severity.WARNING,
        f"{message}{known}",
        layout.site.place("coordinates"),
        "ask the surveyor for the factor of this site, or give ellipsoid_height; and ask whether the numbers are grid "
        "or ground",
    )


def _turned_height(found: Factors) -> float:
    """The height that the reciprocal of the factor belongs to [m]: by R of the earth, 6,374 km, near enough here."""
    return 6374145.0 * (found.grid_scale * found.combined - 1)


def _expected(layout: Layout) -> float | None:
    """The height of the site [m] as its points and geoid height have it; None where no point has an elevation."""
    ups = [point.elevation for point in layout.site.given.values() if point.elevation]
    stated = layout.site.declared.coordinates
    return fmean(ups) + ((stated and stated.geoid_height) or 0.0) if ups else None


def _fair(height: float, expected: float | None) -> bool:
    return LOWEST <= height <= HIGHEST and (expected is None or abs(height - expected) <= WORST_HEIGHT)


def _length(layout: Layout, height: float) -> str:
    return f"{layout.notation.decimal(height, 0)} {layout.site.unit.name}"


def _pins(layout: Layout) -> Iterator[Finding]:
    fit = layout.lot.record.fit if layout.lot and layout.lot.record else None
    stretch = layout.frame.factor - 1
    if fit is None or abs(stretch) < LEAST_STRETCH:
        return
    asked = 1 / layout.frame.factor - 1  # what grid values grow by on their way to the ground
    if abs((fit.scale - 1) - asked) <= _NEAR * abs(asked):
        yield Finding(
            "ground-for-grid",
            Severity.WARNING,
            f"ground values taken for grid: the pins are {(fit.scale - 1) * 1e6:+,.0f} parts in a million off the "
            f"record, and the factor alone makes {asked * 1e6:+,.0f}",
            layout.site.place("coordinates", "values"),
            'ask the surveyor; for ground values write values = "ground" with scaled_about',
        )


CHECK = Check(
    "Is the lot as large as lots are, and does the factor belong to the height of the site?", CODES, _findings
)
