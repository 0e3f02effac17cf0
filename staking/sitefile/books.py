"""How is a book of readings written: rows under a header whose words tell what each column holds, and its unit?

Level books, tape books and lists of rod readings are read by this; lines that are blank or begin with # count for
nothing.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

from staking.errors import TextError
from staking.findings import Place
from staking.kinds.fields import REACH
from staking.sitefile.figures import is_figure
from staking.sitefile.places import marked_line, plain
from staking.units import UNITS, Unit, parse_length

MOST_FINDINGS = 20  # rows of one book that are complained of
_UNIT = re.compile(r"(.*?)\s*[\(\[]\s*(m|ft|ftus|us ft|feet|metres|meters)\s*[\)\]]")
_UNITS: Mapping[str, str] = MappingProxyType(
    {"m": "m", "metres": "m", "meters": "m", "ft": "ft", "feet": "ft", "ftus": "ftUS", "us ft": "ftUS"}
)


def filled_rows(lines: Sequence[str]) -> list[tuple[int, str]]:
    """Numbers, from 1, and text of the lines that are neither blank nor begin with #."""
    return [(n, line) for n, line in enumerate(lines, 1) if line.strip() and not line.lstrip().startswith("#")]


def delimiter_of(header: str) -> str:
    """What parts the columns of a header: a tab, a semicolon, or else a comma."""
    return next((sign for sign in "\t;" if sign in header), ",")


def row_cells(line: str, delimiter: str) -> list[str]:
    """The cells of a row. Raises TextError for a quote that is not closed.

    Feet and inches hold a quote at their end, so one counts only where a cell begins with it. Where columns are not
    parted by commas, a comma within a figure stands before its decimals: no tape or rod reads thousands.

    >>> row_cells("101;102;12,345 m;front, at noon", ";")
    ['101', '102', '12.345 m', 'front, at noon']
    """
    try:
        cells = next(csv.reader([line.rstrip("\r")], delimiter=delimiter, strict=True, skipinitialspace=True))
    except csv.Error:
        remedy = "close it, or leave the quotes out"
        raise TextError("a quote is opened and not closed where the cell ends", remedy) from None
    if delimiter == ",":
        return cells
    return [cell.replace(",", ".") if is_figure(cell, comma=True) else cell for cell in cells]


def column_words(cell: str) -> tuple[str, str]:
    """What a header calls a column, and the unit that stands behind it, "" where none does.

    >>> column_words("Back_sight (ft)")
    ('back sight', 'ft')
    """
    word = " ".join(cell.lower().replace(".", "").replace("_", " ").split())
    found = _UNIT.fullmatch(word)
    return (found[1], _UNITS[found[2]]) if found else (word, "")


def settled_unit(said: Iterable[str], default: str) -> Unit:
    """The unit of bare numbers: what is said of it in one voice, else the default; "" says nothing.

    Raises TextError where two units are said, or none.
    """
    units = {*said} - {""} or {default} - {""}
    if len(units) == 1:
        return UNITS[units.pop()]
    words = f"units differ: {', '.join(sorted(units))}" if units else "nothing says which unit the readings are in"
    raise TextError(words, "write it once, behind a word of the header, as (ft) or (m); a site file has unit = too")


def metres_of(text: str, unit: Unit) -> float:
    """A length or height [m]. unit: of bare numbers. Raises ValueError where it is none, or out of this world."""
    metres = float(parse_length(text, unit))
    if abs(metres) > REACH:
        raise TextError(f"{plain(text)} is too far away to compute with")
    return metres


def place_of(file: str, lines: Sequence[str], line: int) -> Place:
    """Where a line of a book stands, with its text."""
    return Place(file, line, source=marked_line(lines[line - 1]))
