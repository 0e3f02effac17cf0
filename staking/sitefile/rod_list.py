"""Which readings of the rod, or which elevations, does a list hold, name by name, and which of them cannot be?

A header tells the columns: name and reading, or name and elevation; a note may follow. The unit stands behind a word of
the header.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from staking.errors import InputError, TextError
from staking.findings import Finding, Place
from staking.kinds.fields import checked_point_name
from staking.sitefile.books import (
    MOST_FINDINGS,
    column_words,
    delimiter_of,
    filled_rows,
    metres_of,
    place_of,
    row_cells,
    settled_unit,
)
from staking.sitefile.level_book import MOST_ROWS, on_rod
from staking.sitefile.places import mistake, plain
from staking.units import Unit

What = Literal["reading", "elevation"]
_WORDS: Mapping[str, str] = MappingProxyType(
    dict.fromkeys(("name", "point", "pt", "stake", "mark"), "name")
    | dict.fromkeys(("reading", "rod", "rod reading"), "reading")
    | dict.fromkeys(("elevation", "elev", "height"), "elevation")
)
FORM = "begin with name,reading (ft) or name,elevation (ft)"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: a name and what is read or known there [m], and as it is written."""

    name: str
    metres: float
    line: int
    written: str


@dataclass(frozen=True)
class RodList:
    """The rows of a list in order. unit: of its bare numbers. lines: its text, for messages."""

    file: str
    what: What
    rows: tuple[Row, ...]
    unit: Unit
    lines: tuple[str, ...]

    def place(self, line: int) -> Place:
        """Where a line of the list stands."""
        return place_of(self.file, self.lines, line)


def is_rod_list(text: str) -> bool:
    """Whether a text begins as a list of readings or elevations does, and not as a level book."""
    rows = filled_rows(text.split("\n"))
    words = {_WORDS.get(column_words(cell)[0], "") for cell in _header(rows[0][1])} if rows else set()
    books = {column_words(cell)[0] for cell in _header(rows[0][1])} if rows else set()
    return {"name"} < words and not books & {"backsight", "bs", "back sight"}


def _header(line: str) -> list[str]:
    try:
        return row_cells(line, delimiter_of(line))
    except ValueError:
        return []


def read_rod_list(text: str, file: str, *, rod: float, unit: str = "", default: str = "") -> RodList:
    """The list that a text holds. rod: its length [m]. unit: of bare numbers, as asked; default: where nothing says.

    Raises InputError with every row that cannot be used.
    """
    lines = tuple(text.split("\n"))
    rows = filled_rows(lines)
    if not 1 < len(rows) <= MOST_ROWS:
        many = f"the list holds {len(rows)} rows, which are too many; {MOST_ROWS} at the most"
        words, remedy = (many, "is it the right file?") if rows[1:] else ("the list holds no rows", FORM)
        raise InputError(mistake("bad-columns", words, Place(file), remedy))
    columns, what, read_in = _columns(rows[0][1], place_of(file, lines, rows[0][0]), unit, default)
    found, wrong = [], []
    for line, row in rows[1:]:
        try:
            found.append(
                _row(row_cells(row, delimiter_of(rows[0][1])), line, columns, what=what, unit=read_in, rod=rod)
            )
        except ValueError as error:
            place = place_of(file, lines, line)
            said = error.remedy if isinstance(error, TextError) else ""
            remedy = said or f"write a name and one {what} in {read_in.name}, as in CP1,1.52"
            wrong.append(mistake("bad-row", plain(str(error), 200), place, remedy))
    if wrong:
        raise InputError(*wrong[:MOST_FINDINGS])
    return RodList(file, what, tuple(found), read_in, lines)


def _columns(header: str, place: Place, unit: str, default: str) -> tuple[Mapping[str, int], What, Unit]:
    """Which column is which, what the list holds, and its unit. Raises InputError where the header does not tell."""
    columns: dict[str, int] = {}
    units = {unit}
    for at, cell in enumerate(_header(header)):
        word, own = column_words(cell)
        units.add(own)
        columns.setdefault(_WORDS.get(word, ""), at)
    what: What | None = "reading" if "reading" in columns else "elevation" if "elevation" in columns else None
    wrong: list[Finding] = []
    if "name" not in columns or what is None or {"reading", "elevation"} <= set(columns):
        words = "the header does not tell a column name and one column reading or elevation"
        wrong.append(mistake("bad-columns", words, place, FORM))
    read_in = None
    try:
        read_in = settled_unit(units, default)
    except TextError as error:
        wrong.append(mistake("bad-columns", error.message, place, error.remedy))
    if wrong or what is None or read_in is None:
        raise InputError(*wrong)
    return columns, what, read_in


def _row(cells: list[str], line: int, columns: Mapping[str, int], *, what: What, unit: Unit, rod: float) -> Row:
    """One row. Raises ValueError for what cannot be used."""
    values = {word: cells[at].strip() if at < len(cells) else "" for word, at in columns.items()}
    if not values["name"]:
        raise ValueError("the row has no name")
    name, text = checked_point_name(values["name"]), values[what]
    if not text:
        raise ValueError(f"{name} has no {what}")
    metres = on_rod(text, unit, what="reading", rod=rod) if what == "reading" else metres_of(text, unit)
    return Row(name, metres, line, text)
