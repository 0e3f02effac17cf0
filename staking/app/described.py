"""A description in words, laid out: what `staking lot` prints behind the calls it read."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from staking.checks.record import CHECK as RECORD
from staking.errors import InputError
from staking.findings import Finding, Place
from staking.layout.computed import Layout
from staking.layout.solve import solve
from staking.sitefile.declared import Declared, Site
from staking.sitefile.descriptions.described import Description
from staking.sitefile.descriptions.toml import as_toml
from staking.sitefile.places import mistake, plain
from staking.sitefile.text import decode, read_bytes

_WORDS = "name a text file with the words of the deed or plat"
_SITE_FILE = f"read it with `staking check`; here {_WORDS}"
_START = "POB"
# a site needs a slab; this one stands where the record begins, and nothing is asked about it
_SLAB = {"width": "1 ft", "depth": "1 ft"}
_PLACEMENT = {"kind": "at_point", "corner": 1, "at": _START, "side": "front", "bearing": 90}


def words_of(path: Path) -> str:
    """The text of a description. Raises InputError for what is no text, and for a site file."""
    file = plain(str(path), 200)
    text = decode(read_bytes(path, absent=_WORDS), file)
    tables = [f"[{name}]" for name in ("site", "lot") if isinstance(_toml(text).get(name), dict)]
    if tables:
        message = f"this is a site file, with {' and '.join(tables)}, not a description in words"
        raise InputError(mistake("unreadable-file", message, Place(file), _SITE_FILE))
    return text


def _toml(text: str) -> dict[str, Any]:
    """What a text holds as TOML; nothing where it is none, as words are."""
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return {}


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
