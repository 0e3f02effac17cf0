"""Which column of a point file holds what, and in which unit?"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from staking.errors import TextError
from staking.units import SITE_UNITS, UNITS, parse_length

ORDER = ("name", "north", "east", "elevation", "note")  # the usual order, and the guess where nothing tells

# words of headers, common practice, no source; the point's own number goes before a column called name
_WORDS: Mapping[str, str] = MappingProxyType(
    dict.fromkeys(("name", "point", "pt", "no", "p", "id", "number", "point name", "point no", "pt no"), "name")
    | dict.fromkeys(("north", "northing", "n", "y"), "north")
    | dict.fromkeys(("east", "easting", "e", "x"), "east")
    | dict.fromkeys(("elevation", "elev", "z", "height", "el"), "elevation")
    | dict.fromkeys(("note", "description", "desc", "d", "code", "notes"), "note")
)
_IN_BRACKETS = re.compile(r"(.*?)\s*[\(\[]\s*([^)\]]*?)\s*[\)\]]")
_FIGURE = re.compile(r"[+-]?[0-9]+(\.[0-9]*)?")
_BEHIND = re.compile(r"(.*)[_ ](m|ft|ftus|usft|feet|metres|meters)")


class ColumnError(ValueError):
    """Columns that cannot be told, or contradict one another; `remedy` says what to write."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


@dataclass(frozen=True)
class Columns:
    """Where in a row each thing stands, and the units that the header gives."""

    index: Mapping[str, int]
    units: Mapping[str, str]

    @property
    def unit(self) -> str:
        """The unit that the header gives for coordinates; empty where it gives none."""
        return self.units.get("north", "")


def from_header(cells: Sequence[str]) -> Columns | None:
    """The columns by the words of a header; None where the row is no header.

    Raises ColumnError for two columns of one meaning, units that differ between north and east, unknown units.
    """
    index: dict[str, int] = {}
    units: dict[str, str] = {}
    for number, cell in enumerate(cells):
        word, unit = _split(cell)
        meaning = _WORDS.get(word)
        if meaning is None:
            continue
        if meaning in index:
            raise ColumnError(
                f"two columns mean the {meaning}: {cells[index[meaning]].strip()} and {cell.strip()}", _line(cells)
            )
        index[meaning] = number
        if unit:
            units[meaning] = _unit(unit, cell)
    if not {"north", "east"} <= set(index):
        return None
    if "name" not in index:
        raise ColumnError("no column of the header is the name of the point", _line(cells))
    if units.get("north") != units.get("east"):
        raise ColumnError("the header gives one unit for north and another for east", "correct the header")
    return Columns(index, units)


def from_text(text: str) -> Columns:
    """The columns that the site file gives, such as "name,north,east"; an empty one or - is passed over.

    Raises ColumnError for unknown words, words that stand twice, and where name, north or east is missing.
    """
    words = [word.strip().lower() for word in text.split(",")]
    for number, word in enumerate(words):
        if word not in (*ORDER, "", "-"):
            raise ColumnError(f'"{word}" is no column known here', f"use {', '.join(ORDER)}, and - for any other")
        if word in ORDER and word in words[:number]:
            raise ColumnError(f'the column "{word}" stands twice', "name each column once")
    for word in ORDER[:3]:
        if word not in words:
            raise ColumnError(f'there is no column "{word}"', f"at least {', '.join(ORDER[:3])} are needed")
    return Columns({word: number for number, word in enumerate(words) if word in ORDER}, {})


def is_list(cells: Sequence[str]) -> bool:
    """Whether a first row is that of a list of points: words for north and east, or a name and two figures."""
    meanings = {_WORDS.get(_split(cell)[0]) for cell in cells}
    figures = sum(_FIGURE.fullmatch(cell.strip()) is not None for cell in cells)
    return {"north", "east"} <= meanings or (len(cells) >= 3 and figures >= 2)


def by_blanks(cells: Sequence[str]) -> bool:
    """Whether nothing but blanks stands between the columns: too few cells, and the first holds a whole row."""
    return len(cells) < 3 and is_list(cells[0].split())


def guess(cells: Sequence[str]) -> str:
    """The TOML line for the usual order, for as many columns as a row has."""
    return f'columns = "{",".join(guessed(cells))}"'


def guessed(cells: Sequence[str]) -> list[str]:
    """The usual order for a row, its name first; behind the coordinates words are a note."""
    rest = list(ORDER[3:])
    if len(cells) > 3 and _FIGURE.match(cells[3].strip()) is None and cells[3].strip():
        rest = rest[1:]
    words = [*ORDER[:3], *rest, *["-"] * len(cells)]
    return words[: max(3, len(cells))]


def _line(cells: Sequence[str]) -> str:
    """The TOML line for a header that does not tell enough: what it tells, and the rest to be filled in."""
    words: list[str] = []
    for cell in cells:
        meaning = _WORDS.get(_split(cell)[0], "-")
        words.append("-" if meaning in words else meaning)
    return f'say which is which in [[point_files]], in the way of\ncolumns = "{",".join(words)}"'


def _split(cell: str) -> tuple[str, str]:
    """The word and the unit of a header's cell."""
    text = " ".join(cell.strip().lower().replace(".", "").split())
    found = _IN_BRACKETS.fullmatch(text) or _BEHIND.fullmatch(text)
    word, unit = (found[1], found[2]) if found else (text, "")
    return word.replace("_", " "), unit


def _unit(words: str, cell: str) -> str:
    """The site unit that the words of a header mean."""
    plain = re.sub(r"^(us|u s) ?(survey )?(ft|feet|foot)$|^(us|s)ft$", "ftus", words)
    try:
        size = parse_length(f"1 {plain}", None)
    except TextError:
        size = None
    name = next((name for name in SITE_UNITS if UNITS[name].metres == size), None)
    if name is None:
        raise ColumnError(f'"{cell.strip()}" names no unit known here', "write m, ft or ftUS")
    return name
