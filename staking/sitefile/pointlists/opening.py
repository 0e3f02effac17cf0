"""How does a list of points begin, and what does that say about its columns and units?"""

from __future__ import annotations

import codecs
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from staking.errors import InputError
from staking.findings import Place
from staking.sitefile.columns import ColumnError, Columns, from_header, from_text, guess, guessed
from staking.sitefile.places import marked_line, mistake, plain
from staking.sitefile.pointlists.dialect import Dialect, split_line, tell_dialect
from staking.sitefile.pointlists.lines import Fingerprint, Piece, pieces, source_of
from staking.units import UNITS, Unit

SAMPLE = 2000  # rows that are looked at before the list is read; own choice


@dataclass(frozen=True, slots=True)
class Asked:
    """What somebody says of a list beside the list itself; an empty text says nothing.

    columns: as "name,north,east".  unit: m, ft or ftUS.  decimal: point or comma.  site_unit: None without a site.
    where: the place in which columns and unit are said, for messages.
    """

    columns: str = ""
    unit: str = ""
    decimal: str = ""
    site_unit: Unit | None = None
    where: str = "[[point_files]] in the site file"


@dataclass(frozen=True, slots=True)
class Beginning:
    """The first lines of a list as they stand there. mark: a byte order mark before them. ends: of its lines."""

    piece: Piece
    mark: bool
    ends: str
    dialect: Dialect

    @property
    def rows(self) -> list[list[str]]:
        """The cells of the first lines; of those that can be divided."""
        return [cells for line in self.piece.lines[:SAMPLE] if (cells := cells_of(line, self.dialect))]


@dataclass(frozen=True, slots=True)
class Opening:
    """How a list is to be read. header: the line that is one; empty where there is none.

    units: of north, east and elevation; None where no unit is known. unit_said: who says the unit, in words.
    width: how many cells the first line has.
    """

    dialect: Dialect
    columns: Columns
    header: str
    units: Mapping[str, Unit | None]
    unit_said: str
    header_line: int = 0
    width: int = 0


class ListError(InputError):
    """A list whose columns cannot be told; the place is its first line."""


def cells_of(line: str, dialect: Dialect) -> list[str]:
    """The cells of a line, or none where a quote is not closed."""
    try:
        return split_line(line, dialect.sign)
    except ValueError:
        return []


def begin(source: str | Path | bytes, *, shown: str, decimal: str = "") -> Beginning:
    """The first lines of a list, and what stands between its columns.

    Raises InputError for a file that cannot be read or is no text, and ListError for a list that holds no points or
    whose commas could mean two things.
    """
    with source_of(source) as file:
        head = file.read(len(codecs.BOM_UTF8))
        file.seek(0)
        piece = next((found for found in pieces(file, shown, Fingerprint()) if found.lines), None)
    if piece is None:
        raise ListError(mistake("bad-columns", "the file holds no points", Place(shown)))
    returns = sum(line.endswith("\r") for line in piece.lines)
    ends = "CRLF" if returns == len(piece.lines) else "LF" if not returns else "LF and CRLF mixed"
    try:
        return Beginning(piece, head == codecs.BOM_UTF8, ends, tell_dialect(piece.lines, decimal))
    except ColumnError as error:
        raise refused(error, piece, shown) from None


def open_list(beginning: Beginning, asked: Asked, *, shown: str) -> Opening:
    """How a list is to be read, by its header and by what somebody says.

    Raises ListError where neither tells, or one contradicts the other.
    """
    try:
        return _opening(beginning, asked)
    except ColumnError as error:
        raise refused(error, beginning.piece, shown) from None


def refused(error: ColumnError, piece: Piece, shown: str) -> ListError:
    """What is wrong with the columns, at the first line of a list."""
    place = Place(shown, piece.numbers[0], source=marked_line(piece.lines[0]))
    return ListError(mistake("bad-columns", error.message, place, error.remedy))


def _opening(beginning: Beginning, asked: Asked) -> Opening:
    first = beginning.piece.lines[0]
    cells = split_or_refuse(first, beginning.dialect)
    header = from_header(cells) if not asked.columns else _lenient_header(cells)
    columns = from_text(asked.columns) if asked.columns else header
    if columns is None:
        raise _nothing_tells(cells, asked)
    _check(columns, header, asked)
    units, said = _units(header, asked)
    is_header = header is not None or _holds_words(cells, columns)
    line = first if is_header else ""
    number = beginning.piece.numbers[0] if is_header else 0
    return Opening(beginning.dialect, columns, line, units, said, number, len(cells))


def split_or_refuse(line: str, dialect: Dialect) -> list[str]:
    """The cells of the first line. Raises ColumnError for a quote that is not closed on it."""
    try:
        return split_line(line, dialect.sign)
    except ValueError as error:
        raise ColumnError(str(error)) from None


def _nothing_tells(cells: Sequence[str], asked: Asked) -> ColumnError:
    pairs = zip(guessed(cells), cells, strict=False)
    shown = plain(", ".join(f"{word} {cell.strip()}" for word, cell in pairs if word != "-"), 120)
    what = "there is no header" if any(c.isdigit() for cell in cells[1:] for c in cell) else "its header is not known"
    return ColumnError(
        f"{what}, so nothing says which column is which",
        f"if this reads {shown}, add to {asked.where}\n{guess(cells)}\n"
        "if not, put the words in the order of the file; north and east are often the other way round",
    )


def _holds_words(cells: Sequence[str], columns: Columns) -> bool:
    """Whether a first row has words, and no figure, where the coordinates of points stand: an unknown header."""
    figures = [cells[columns.index[word]] if columns.index[word] < len(cells) else "" for word in ("north", "east")]
    return all(len(cell.strip()) > 1 and cell.strip()[0].isalpha() for cell in figures) and not any(
        sign.isdigit() for cell in figures for sign in cell
    )


def _lenient_header(cells: Sequence[str]) -> Columns | None:
    """The header where somebody names the columns: one that tells too little does no harm."""
    try:
        return from_header(cells)
    except ColumnError as error:
        if "unit" in error.message:
            raise
        return None


def _check(columns: Columns, header: Columns | None, asked: Asked) -> None:
    """Raise ColumnError where the header says one thing and somebody else another."""
    if header is None:
        return
    for word in ("north", "east"):
        if header.index[word] != columns.index[word]:
            raise ColumnError(
                f"by its header column {header.index[word] + 1} is {word}; by the site file it is column "
                f"{columns.index[word] + 1}",
                "correct columns in the site file, or take it out",
            )
    _check_unit(header.unit, asked)


def _check_unit(said: str, asked: Asked) -> None:
    """Raise ColumnError where header and site differ in the unit in a way that could be a slip."""
    if said and asked.unit and said != asked.unit:
        raise ColumnError(
            f"by its header the file is in {said}; by the site file in {asked.unit}", "correct one of them"
        )
    site = asked.site_unit.name if asked.site_unit else ""
    if said and not asked.unit and said != site and {said, site} == {"ft", "ftUS"}:
        raise ColumnError(
            f"the header says {said} and the site is in {site}; the two feet must not be mixed up",
            f'if the header is right, add unit = "{said}" to [[point_files]]; if it means the '
            f"site's foot, write {site} in the header",
        )


def _units(header: Columns | None, asked: Asked) -> tuple[dict[str, Unit | None], str]:
    """The unit of each length, and who says so."""
    in_header = header.units if header else {}
    rest = UNITS[asked.unit] if asked.unit else asked.site_unit
    units = {word: UNITS[in_header[word]] if word in in_header else rest for word in ("north", "east", "elevation")}
    if in_header.get("north"):
        return units, "the header says so"
    return units, "as you say" if asked.unit else "the site's" if rest else ""
