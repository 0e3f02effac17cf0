"""What does each list of stakes hold, in which form, and does it read back as what was meant?

A list is read back by another way than it was written: its bytes by the csv module, its numbers as exact decimals,
which are held against the coordinates themselves. Where anything differs by more than half of the last digit, nothing
of the whole job is written.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from staking.errors import OutputError
from staking.exports import Made
from staking.exports.points_csv import DELIMITERS, NUMBERS, TableForm, harmless, table
from staking.exports.rows import PointRow, given_rows, stake_rows
from staking.layout.computed import Layout
from staking.layout.other_system import file_name
from staking.layout.stake_lists import Scaling, names_of, obstacles, scaling_of
from staking.sitefile.stakeout_declared import StakeList
from staking.survey.points import Point
from staking.units import UNITS, Unit

DEFAULT = "stakeout.csv"
_MARKS: Mapping[str, str] = MappingProxyType({"point": ".", "comma": ","})
_NOISE = 10**6  # parts of a last digit: a tie of the rounding counts as one within one of them, as in notation


@dataclass(frozen=True)
class Listing:
    """A list as it is meant. rows: in the list's own frame [m], under the names in the list."""

    file: str
    rows: tuple[PointRow, ...]
    columns: tuple[str, ...]
    delimiter: str
    decimals: int
    header: bool
    unit: Unit
    scaling: Scaling
    decimal_mark: str = "."
    points: str = "stakes"
    changed: Mapping[str, str] = field(default_factory=dict)


def listings(made: Made) -> tuple[Listing, ...]:
    """Every list of a job: stakeout.csv as the options have it, and those of [[stakeout]] that can be written."""
    layout, options = made.layout, made.options
    stated = layout.site.declared.coordinates
    plain = Listing(
        file_name(DEFAULT, layout),
        stake_rows(layout),
        tuple(options.columns),
        options.delimiter,
        options.decimals,
        options.header,
        layout.site.unit,
        Scaling(stated.values if stated else "ground", 1.0, Point(0.0, 0.0)),
    )
    asked = (each for each in layout.site.declared.stakeout if not any(obstacles(layout, each)))
    return (plain, *(_listing(layout, each) for each in asked))


def _listing(layout: Layout, asked: StakeList) -> Listing:
    scaling, changed = scaling_of(layout, asked), names_of(layout, asked).changed
    if scaling is None:
        raise OutputError(f"stakeout_{asked.name}.csv cannot be written: the combined factor is not known")
    given = given_rows(layout) if asked.points == "all" else ()
    name = f"stakeout_{asked.name}.csv"
    as_the_rest = layout.site.written in ("", scaling.values)  # a list that asks for its own values keeps its name
    return Listing(
        file_name(name, layout) if as_the_rest else name,
        tuple(_row(row, scaling, changed) for row in (*given, *stake_rows(layout))),
        asked.columns,
        DELIMITERS[asked.delimiter],
        asked.decimals,
        asked.header,
        UNITS[asked.unit or layout.site.unit.name],
        scaling,
        _MARKS[asked.decimal_mark],
        asked.points,
        changed,
    )


def _row(row: PointRow, scaling: Scaling, changed: Mapping[str, str]) -> PointRow:
    north, east = scaling.apply(row.north, row.east)
    return replace(row, name=changed.get(row.name, row.name), north=north, east=east)


def list_bytes(layout: Layout, listing: Listing) -> bytes:
    """A list as it is written."""
    return table(
        replace(layout.notation, unit=listing.unit),
        listing.rows,
        listing.columns,
        TableForm(listing.delimiter, listing.decimals, listing.decimal_mark, listing.header),
    )


def read_back(listing: Listing, data: bytes) -> None:
    """Read the bytes of a list and compare. Raises OutputError at the first thing that is not what was meant."""
    text = io.StringIO(data.decode("utf-8"), newline="")
    rows = list(csv.reader(text, delimiter=listing.delimiter, strict=True))
    if listing.header and (not rows or rows.pop(0) != list(listing.columns)):
        raise _differs(listing, "the header is not the one that was meant")
    if len(rows) != len(listing.rows):
        raise _differs(listing, f"it holds {len(rows)} points, and {len(listing.rows)} were meant")
    if len({row.name for row in listing.rows}) != len(rows):
        raise _differs(listing, "two points have one name")
    for meant, cells in zip(listing.rows, rows, strict=True):
        if len(cells) != len(listing.columns):
            raise _differs(listing, f"the row of {meant.name} has {len(cells)} cells")
        for column, cell in zip(listing.columns, cells, strict=True):
            if not _same(listing, meant, column, cell):
                raise _differs(listing, f"the {column} of {meant.name} reads back as {cell!r}")


def _differs(listing: Listing, message: str) -> OutputError:
    return OutputError(f"{listing.file} was read back before it was put in place, and {message}", "report this")


def _same(listing: Listing, meant: PointRow, column: str, cell: str) -> bool:
    if column not in NUMBERS:
        return cell == _text(listing, {"name": meant.name, "kind": meant.kind, "note": meant.note}[column])
    value = {"north": meant.north, "east": meant.east, "elevation": meant.elevation}[column]
    if value is None or not cell:
        return value is None and not cell
    whole, mark, decimals = cell.partition(listing.decimal_mark)
    if not mark or len(decimals) != listing.decimals or not (whole.removeprefix("-") + decimals).isdecimal():
        return False
    # printed / 10^decimals against value / unit, both times their denominators: whole numbers, exact
    (above, below), unit = value.as_integer_ratio(), listing.unit.metres
    steps: int = 10**listing.decimals
    printed = int(whole + decimals) * below * unit.numerator
    apart = abs(printed - above * unit.denominator * steps)
    return 2 * _NOISE * apart <= (_NOISE + 2) * below * unit.numerator


def _text(listing: Listing, text: str) -> str:
    """A text as it has to stand in a cell: never a formula; between blanks one word."""
    safe = harmless(text)
    return "_".join(safe.replace('"', "''").split()) or "-" if listing.delimiter == " " else safe


def stake_list_files(made: Made) -> Iterator[tuple[str, bytes]]:
    """The files of [[stakeout]] by name; none after a stop."""
    if not made.withheld:
        yield from ((each.file, list_bytes(made.layout, each)) for each in made.listings[1:])


def check_files(made: Made, files: Mapping[str, bytes]) -> None:
    """Read back every list among the files of a job. Raises OutputError where one is not what was meant."""
    for each in made.listings:
        if each.file in files:
            read_back(each, files[each.file])


def stake_list_facts(made: Made) -> list[dict[str, Any]]:
    """What each list holds, for the record; none after a stop."""
    return [] if made.withheld else [_facts(made.layout, each) for each in made.listings]


def _facts(layout: Layout, listing: Listing) -> dict[str, Any]:
    scaling, unit = listing.scaling, listing.unit
    stated = layout.site.declared.coordinates
    known = stated is not None and "combined_factor" in stated.model_fields_set
    write = replace(layout.notation, unit=unit).coordinate
    return {
        "file": listing.file,
        "points": listing.points,
        "count": len(listing.rows),
        "columns": list(listing.columns),
        "delimiter": _word(DELIMITERS, listing.delimiter),
        "decimals": listing.decimals,
        "decimal_mark": _word(_MARKS, listing.decimal_mark),
        "header": listing.header,
        "unit": unit.name,
        "unit_words": unit.words,
        "unit_metres": str(unit.metres),
        "values": scaling.values,
        "combined_factor": stated.combined_factor if stated is not None and known else None,
        "scaled_by": scaling.factor,
        "scaled_about": {"north": write(scaling.about.north), "east": write(scaling.about.east)}
        if scaling.factor != 1
        else None,
        "names_changed": dict(listing.changed),
        "revision": layout.site.revision,
        "site_file_sha256": layout.site.fingerprint,
        "read_back": True,
    }


def _word(signs: Mapping[str, str], sign: str) -> str:
    return next(word for word, each in signs.items() if each == sign)
