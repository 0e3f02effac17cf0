"""How do points go into a table that a spreadsheet or an instrument reads (RFC 4180)?

Lines end with CR LF, text is UTF-8 without a byte order mark, cells are quoted only where they must be. Figures
are plain decimals in the site's unit, without an exponent and without a minus before zero.

Text that a spreadsheet would run as a formula (it begins with = + - @, a tab or a line end, plain or full-width,
blanks before it not counted) is written with an apostrophe in front. Names cannot begin so; notes can.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from staking.errors import OutputError, suggestion
from staking.exports.rows import PointRow, point_rows, stake_rows
from staking.layout.computed import Layout
from staking.notation import COORDINATE_DECIMALS, Notation

COLUMNS = ("name", "north", "east", "elevation", "kind", "note")
STAKEOUT_COLUMNS = ("name", "north", "east", "elevation", "note")
NUMBERS = ("north", "east", "elevation")  # columns that hold lengths
DELIMITERS: Mapping[str, str] = MappingProxyType({"comma": ",", "semicolon": ";", "tab": "\t", "space": " "})
DECIMALS = range(2, 7)  # fewer lose the stake, more are noise; own choice

_RUNS_AS_FORMULA = "=+-@"


@dataclass(frozen=True, slots=True)
class TableForm:
    """How a table is written. decimal_mark: a point or a comma, in numbers only."""

    delimiter: str = ","
    decimals: int = COORDINATE_DECIMALS
    decimal_mark: str = "."
    header: bool = False


_Cell = Callable[[PointRow, Notation, int], str]


def points_csv(layout: Layout) -> bytes:
    """Every given and computed point, with a header, four decimals. An unknown elevation is an empty cell."""
    return table(layout.notation, point_rows(layout), COLUMNS, TableForm(header=True))


def stakeout_csv(
    layout: Layout,
    *,
    columns: Sequence[str] = STAKEOUT_COLUMNS,
    delimiter: str = ",",
    decimals: int = COORDINATE_DECIMALS,
    header: bool = False,
) -> bytes:
    """Only what is staked, as an instrument wants it.

    columns: any of name, north, east, elevation, kind, note, in any order. delimiter: comma, semicolon, tab or one
    blank. Where a blank delimits, cells cannot be quoted: blanks in kinds and notes become _, and a name with a
    blank or an elevation that is not known is refused. Raises OutputError for those and for unknown columns,
    delimiters and decimals.
    """
    _check(columns, delimiter, decimals)
    form = TableForm(delimiter, decimals, header=header)
    return table(layout.notation, stake_rows(layout), columns, form)


def _check(columns: Sequence[str], delimiter: str, decimals: int) -> None:
    unknown = next((column for column in columns if column not in COLUMNS), None)
    if unknown is not None:
        raise OutputError(f'there is no column "{unknown}"', suggestion(unknown, COLUMNS))
    if not columns or len(set(columns)) != len(columns):
        raise OutputError("a point list needs each of its columns once", f"choose from {', '.join(COLUMNS)}")
    if delimiter not in DELIMITERS.values():
        raise OutputError(f"{delimiter!r} cannot stand between columns", f"choose {', '.join(DELIMITERS)}")
    if decimals not in DECIMALS:
        raise OutputError(
            f"a point list is not written with {decimals} decimals", f"choose {DECIMALS[0]} to {DECIMALS[-1]}"
        )


def table(
    notation: Notation,
    rows: Iterable[PointRow],
    columns: Sequence[str],
    form: TableForm,
) -> bytes:
    """Rows in columns, in the unit of a notation."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, delimiter=form.delimiter, lineterminator="\r\n")
    if form.header:
        writer.writerow(columns)
    for row in rows:
        cells = {column: _CELLS[column](row, notation, form.decimals) for column in columns}
        cells |= {column: cells[column].replace(".", form.decimal_mark) for column in columns if column in NUMBERS}
        writer.writerow((_unquoted(row, cells) if form.delimiter == " " else cells).values())
    return text.getvalue().encode("utf-8")


def _unquoted(row: PointRow, cells: Mapping[str, str]) -> dict[str, str]:
    """Cells without blanks and none of them empty, so that blanks alone can part them."""
    if " " in cells.get("name", ""):
        raise OutputError(
            f'the name "{row.name}" holds a blank, so blanks cannot stand between columns', "choose another delimiter"
        )
    if cells.get("elevation") == "":
        raise OutputError(
            f"the elevation of {row.name} is not known, and between blanks an empty column would be lost",
            "leave out the column elevation, or choose another delimiter",
        )
    return {column: "_".join(cell.replace('"', "''").split()) or "-" for column, cell in cells.items()}


def harmless(text: str) -> str:
    """Text that no spreadsheet runs: with an apostrophe in front where it would.

    Source: the first characters = + - @ tab CR are those of OWASP's page on CSV injection, from memory.

    >>> print(harmless("=1+1"), harmless("corner 1"))
    '=1+1 corner 1
    """
    first = unicodedata.normalize("NFKC", text.lstrip(" ")[:1])
    return f"'{text}" if first and (first in _RUNS_AS_FORMULA or not first.isprintable()) else text


def _elevation(row: PointRow, notation: Notation, decimals: int) -> str:
    return "" if row.elevation is None else notation.decimal(row.elevation, decimals)


_CELLS: Mapping[str, _Cell] = MappingProxyType(
    {
        "name": lambda row, _notation, _decimals: harmless(row.name),
        "north": lambda row, notation, decimals: notation.decimal(row.north, decimals),
        "east": lambda row, notation, decimals: notation.decimal(row.east, decimals),
        "elevation": _elevation,
        "kind": lambda row, _notation, _decimals: harmless(row.kind),
        "note": lambda row, _notation, _decimals: harmless(row.note),
    }
)
