"""A description in words, laid out: what `staking lot` prints behind the calls it read."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

from staking.checks.record import CHECK as RECORD
from staking.errors import InputError
from staking.findings import Finding, Place
from staking.layout.computed import Layout
from staking.layout.solve import solve
from staking.sitefile.declared import Declared, Site
from staking.sitefile.descriptions.described import Description
from staking.sitefile.descriptions.toml import as_toml

_START = "POB"
# a site needs a slab; this one stands where the record begins, and nothing is asked about it
_SLAB = {"width": "1 ft", "depth": "1 ft"}
_PLACEMENT = {"kind": "at_point", "corner": 1, "at": _START, "side": "front", "bearing": 90}


def laid_out(description: Description, file: str) -> Layout:
    """The lot of a description that is complete, begun at north 0, east 0. Raises SolveError where its sides cross.

    file: its name, which findings give with the line of the call they are about.
    """
    unit = "m" if description.unit == "m" else "ftUS" if description.unit == "ftUS" else "ft"
    lot = tomllib.loads(as_toml(description))["lot"]
    data = {
        "site": {"name": file, "unit": unit},
        "points": {_START: [0, 0]},
        "lot": lot | {"start": _START},
        "slab": _SLAB,
        "placement": _PLACEMENT,
    }
    declared = Declared.model_validate(data, context={"unit": unit})

    def locate(path: tuple[str | int, ...]) -> Place:
        index = path[2] if len(path) > 2 and path[1] == "courses" else None
        words = description.courses[index].words if isinstance(index, int) else None
        return Place(file, words.line if words else 0, words.column if words else 0)

    return solve(Site(declared, given=declared.points, file=file, fingerprint="", sources={}, locate=locate))


def closing(description: Description, file: str) -> tuple[tuple[str, ...], tuple[Finding, ...]]:
    """The lines on how a complete description closes, and what speaks against it, or against laying it out."""
    try:
        layout = laid_out(description, file)
    except InputError as error:
        return (), error.findings
    return tuple(closing_lines(layout)), tuple(RECORD.run(layout))


def closing_lines(layout: Layout) -> Iterator[str]:
    """How the calls close, and the area they enclose."""
    lot = layout.lot
    if lot is None or lot.record is None:
        return
    gap, write = lot.record.closure, layout.notation
    yield f"perimeter: {write.both(gap.perimeter)}"
    yield f"area: {write.areas(lot.area)}"
    if gap.ratio is None or gap.azimuth is None:
        yield "misclosure: none"
    else:
        yield (
            f"misclosure: {write.decimal(gap.north)} north, {write.decimal(gap.east)} east, "
            f"{write.both(gap.distance)} {write.bearing(gap.azimuth)}, 1 part in {gap.ratio:,.0f}"
        )
