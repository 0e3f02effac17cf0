"""What does a list of points hold, block by block, in columns: names, north, east, elevation, notes?

A block whose every row is plain is read column by column; one with anything odd in it, row by row. Both ways give the
same numbers. Only one block is in memory at a time.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import repeat, zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

from staking.errors import TextError
from staking.findings import Finding, Place
from staking.kinds.fields import REACH, checked_point_name
from staking.sitefile.places import marked_line, mistake, plain
from staking.sitefile.pointlists.dialect import split_line, with_point
from staking.sitefile.pointlists.lines import Fingerprint, Piece, pieces, source_of
from staking.sitefile.pointlists.opening import Opening
from staking.units import UNITS, Unit, parse_length, plain_lengths

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Numbers = npt.NDArray[np.float64]

ROWS = 500  # rows that are looked at together where something in a piece is odd; own choice
_SEA_OF_NINES = ("-9999", "-99999", "-999999")  # written for "none"; common practice, no source
_PLAIN_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 _.+-]{0,38}[A-Za-z0-9_.+-])?")
_MARKS = re.compile(r"[a-z'\"′″]", re.IGNORECASE)
_LONGEST_NOTE = 200  # as notes of the site file
_LENGTHS = ("north", "east", "elevation")
_Row = tuple[str, float, float, float, str]  # name, north, east, elevation, note

_MISSING = ("write it, or take the row out", "give the point a name or a number of its own, or take the row out")


@dataclass(frozen=True, slots=True)
class Block:
    """Points in columns, in metres; in figures as written where no unit is known. elevation: nan where there is none.

    numbers, lines: of each point in its file. findings: rows that cannot be used; they are not among the points.
    passed: lines that hold nothing or the header again. marked: lines with a length that has a unit of its own.
    longer: lines with more cells than the first line of the file; those cells are passed over.
    """

    names: Sequence[str]
    north: Numbers
    east: Numbers
    elevation: Numbers
    notes: Sequence[str]
    numbers: Sequence[int]
    lines: Sequence[str]
    findings: tuple[Finding, ...] = ()
    passed: int = 0
    marked: tuple[int, ...] = ()
    longer: tuple[int, ...] = ()

    def __len__(self) -> int:
        """How many points it holds."""
        return len(self.names)


def read_blocks(
    source: str | Path | bytes, opening: Opening, *, shown: str, fingerprint: Fingerprint | None = None
) -> Iterator[Block]:
    """The points of a list, about 20,000 at a time.

    opening: as `open_list` tells it.  shown: the file's name in findings.  fingerprint: counts the bytes in.
    Raises InputError for a file that cannot be read to its end; rows that cannot be used are findings of their block.
    """
    reader = _Reader(opening, shown)
    with source_of(source) as file:
        for piece in pieces(file, shown, fingerprint or Fingerprint()):
            yield from reader.blocks(piece)


class _Reader:
    """Turns lines into blocks, by one opening."""

    def __init__(self, opening: Opening, shown: str) -> None:
        self._opening, self._shown = opening, shown
        self._sign = opening.dialect.sign
        self._index = opening.columns.index
        ends = max(self._index.values()) + 1
        # between blanks a note may hold blanks itself where it is the last column
        self._most = ends if self._index.get("note") == ends - 1 else 0
        self._points = with_point(opening.dialect.comma)
        self._units = [opening.units[word] for word in _LENGTHS]

    def blocks(self, piece: Piece) -> Iterator[Block]:
        """The blocks of a piece: one where all is plain."""
        kept = _without_header(piece, self._opening.header)
        whole = self._columnar(kept.lines, kept.numbers, kept.passed)
        if whole is not None:
            yield whole
            return
        for start in range(0, len(kept.lines), ROWS):
            lines, numbers = kept.lines[start : start + ROWS], kept.numbers[start : start + ROWS]
            passed = 0 if start else kept.passed
            yield self._columnar(lines, numbers, passed) or self._by_rows(lines, numbers, passed)

    def _columnar(self, lines: Sequence[str], numbers: Sequence[int], passed: int) -> Block | None:
        """A block column by column; None where something in it is not plain."""
        rows = self._rows(lines)
        if rows is None:
            return None
        columns = self._columns(rows)
        names, notes = columns["name"], columns.get("note") or [""] * len(lines)
        if not all(map(_PLAIN_NAME.fullmatch, names)) or not _plain_notes(notes):
            return None
        north, east = (self._lengths(columns[word], at) for at, word in enumerate(_LENGTHS[:2]))
        high = self._heights(columns.get("elevation") or [""] * len(lines))
        if north is None or east is None or high is None:
            return None
        longer = self._longer(rows, numbers)
        return Block(names, north, east, high, notes, numbers, lines, passed=passed, longer=longer)

    def _columns(self, rows: Sequence[Sequence[str]]) -> dict[str, list[str]]:
        """The cells of each column, without blanks around them."""
        turned = list(zip_longest(*rows, fillvalue="")) if rows else []
        empty = ("",) * len(rows)
        return {
            word: list(map(str.strip, turned[at] if at < len(turned) else empty)) for word, at in self._index.items()
        }

    def _longer(self, rows: Sequence[Sequence[str]], numbers: Sequence[int]) -> tuple[int, ...]:
        """The lines with more cells than the first one."""
        if max(map(len, rows), default=0) <= self._opening.width:
            return ()
        return tuple(number for row, number in zip(rows, numbers, strict=True) if len(row) > self._opening.width)

    def _rows(self, lines: Sequence[str]) -> list[list[str]] | None:
        """The cells of every line; None where a quote is not closed on its line."""
        if self._sign == " ":
            quoted = any('"' in line for line in lines)
            return None if quoted else [split_line(line, " ", self._most) for line in lines]
        try:
            rows = list(csv.reader(lines, delimiter=self._sign, strict=True, skipinitialspace=True))
        except csv.Error:
            return None
        return rows if len(rows) == len(lines) else None

    def _lengths(self, cells: Sequence[str], at: int) -> Numbers | None:
        """A column of plain figures; None where one is not plain or too far away."""
        if self._opening.dialect.comma:
            if any("." in cell for cell in cells):
                return None
            cells = [cell.replace(",", ".") for cell in cells]
        found = plain_lengths(cells, self._units[at] or UNITS["m"])
        return found if found is not None and abs(found).max(initial=0.0) <= REACH else None

    def _heights(self, cells: Sequence[str]) -> Numbers | None:
        """A column of elevations: nan for blank cells; None where one is not plain."""
        if any(map(str.startswith, cells, repeat("-9999"))):
            return None
        filled = [cell for cell in cells if cell]
        found = self._lengths(filled, 2)
        if found is None or len(filled) == len(cells):
            return found
        import numpy as np  # noqa: PLC0415 - opened for long columns only

        heights = np.full(len(cells), math.nan)
        heights[[at for at, cell in enumerate(cells) if cell]] = found
        return heights

    def _by_rows(self, lines: Sequence[str], numbers: Sequence[int], passed: int) -> Block:
        """The same row by row; rows that cannot be used become findings."""
        rows, at, findings, marked = list[_Row](), list[int](), list[Finding](), list[int]()
        for position, line in enumerate(lines):
            try:
                row, own_unit = self._row(line)
                rows.append(row)
                at.append(position)
                marked.extend([numbers[position]] * own_unit)
            except (TextError, ValueError) as error:
                remedy = error.remedy if isinstance(error, TextError) else ""
                place = place_of(self._shown, numbers[position], line)
                findings.append(mistake("bad-row", plain(str(error), 200), place, remedy))
        kept = [lines[each] for each in at]
        block = _block(rows, [numbers[each] for each in at], kept)
        longer = self._longer([split_line(line, self._sign, self._most) for line in kept], block.numbers)
        return replace(block, findings=tuple(findings), passed=passed, marked=tuple(marked), longer=longer)

    def _row(self, line: str) -> tuple[_Row, bool]:
        """One point, and whether a length of it has a unit of its own. Raises ValueError or TextError."""
        cells = split_line(line, self._sign, self._most)
        values = {word: cells[at].strip() if at < len(cells) else "" for word, at in self._index.items()}
        for word in ("name", "north", "east"):
            if not values[word]:
                raise TextError(f"the row has no {word}", _MISSING[word == "name"])
        name, note, height = checked_point_name(values["name"]), values.get("note", ""), values.get("elevation", "")
        if height.split(".")[0].split(",")[0] in _SEA_OF_NINES:
            raise ValueError(f"the elevation {height} looks like a mark for none; leave it blank")
        north, east = (self._length(values[word], at) for at, word in enumerate(_LENGTHS[:2]))
        up = self._length(height, 2) if height else math.nan
        _check_note(note)
        own_unit = any(_MARKS.search(values.get(word, "")) for word in _LENGTHS)
        return (name, north, east, up, note), own_unit

    def _length(self, text: str, at: int) -> float:
        metres = parse_length(self._points(text), self._unit_of(text, at))
        if abs(metres) > REACH:
            raise ValueError(f"{plain(text)} is too far away to compute with")
        return float(metres)

    def _unit_of(self, text: str, at: int) -> Unit:
        """The unit of bare figures. Raises TextError for a marked one where bare ones have none."""
        unit = self._units[at]
        if unit is not None:
            return unit
        try:
            parse_length(self._points(text), None)
        except TextError:
            return UNITS["m"]  # figures stay as they are written
        raise TextError(f"`{plain(text)}` has a unit, and nothing says that of the others", "say it with --unit")


def _without_header(piece: Piece, header: str) -> Piece:
    """The lines but the header, which some programs write again on every page."""
    if not header or header not in piece.lines:
        return piece
    kept = [at for at, line in enumerate(piece.lines) if line != header]
    lines, numbers = [piece.lines[at] for at in kept], [piece.numbers[at] for at in kept]
    return Piece(lines, numbers, piece.passed + len(piece.lines) - len(lines))


def _plain_notes(notes: Sequence[str]) -> bool:
    return "".join(notes).isprintable() and max(map(len, notes), default=0) <= _LONGEST_NOTE


def _check_note(note: str) -> None:
    hidden = next((c for c in note if not c.isprintable()), None)
    if hidden is not None:
        raise ValueError(f"note: the text holds the invisible character U+{ord(hidden):04X}")
    if len(note) > _LONGEST_NOTE:
        raise ValueError(f"note: over {_LONGEST_NOTE} characters")


def _block(rows: Iterable[_Row], numbers: Sequence[int], lines: Sequence[str]) -> Block:
    import numpy as np  # noqa: PLC0415 - as above

    names, north, east, high, notes = tuple(zip(*rows, strict=True)) or ((), (), (), (), ())
    norths, easts, heights = (np.array(each, dtype=np.float64) for each in (north, east, high))
    return Block(list(names), norths, easts, heights, list(notes), numbers, lines)


def place_of(shown: str, number: int, line: str) -> Place:
    """Where a row stands, with the row as it is written."""
    return Place(shown, number, source=marked_line(line))
