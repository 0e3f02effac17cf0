"""Which points do the lists beside a site file hold?

A list has one point a line, with commas, semicolons or tabs between; quotes as in RFC 4180, but none goes on into the
next line. Blank lines and lines that begin with # are passed over. A blank elevation is none, and never 0.
"""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path, PurePosixPath, PureWindowsPath

from pydantic import ValidationError

from staking.errors import InputError, TextError
from staking.findings import Finding, Place, Severity
from staking.kinds.fields import REACH, checked_point_name
from staking.sitefile.columns import ColumnError, Columns, by_blanks, from_header, from_text, guess, is_list
from staking.sitefile.declared import GivenPoint, PointFile
from staking.sitefile.places import marked_line, mistake, plain
from staking.sitefile.text import decode, read_bytes
from staking.units import UNITS, Unit, parse_length

LARGEST = 50_000_000  # bytes
MOST_POINTS = 100_000  # far more than a site needs; the whole county is a slip
MOST_FINDINGS = 20  # rows of one file that are complained of
SAME_PLACE = 0.001  # metres: two of a name nearer than this are one point; own choice
_SEA_OF_NINES = ("-9999", "-99999", "-999999")  # written for "none"; common practice, no source


@dataclass(frozen=True)
class PointList:
    """The points of one file by name, where each stands, the file's SHA-256, and what is worth knowing.

    findings: rows that cannot be used, and whatever else is wrong; such a list holds the other points only.
    """

    points: Mapping[str, GivenPoint]
    places: Mapping[str, Place]
    fingerprint: str
    notes: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()


def read_points(entry: PointFile, *, folder: Path, unit: Unit, place: Place) -> PointList:
    """The points of a list beside the site file, in metres.

    folder: of the site file.  unit: of the site.  place: of the entry's path in the site file.
    Raises InputError for a file that is not there, may not be read, lies outside the folder, or is no text.
    """
    path = inside_folder(entry.path, folder, place)
    shown = plain(str(path), 200)
    try:
        data = read_bytes(path, largest=LARGEST, absent=_ABSENT)
    except InputError as error:
        raise InputError(
            *(replace(each, place=place, message=f"{shown}: {each.message}") for each in error.findings)
        ) from None
    reading = _Reading(shown, entry, unit, place)
    reading.read(decode(data, shown))
    return PointList(
        reading.points,
        reading.places,
        hashlib.sha256(data).hexdigest(),
        tuple(reading.notes),
        tuple(reading.findings),
    )


def apart(one: GivenPoint, other: GivenPoint) -> bool:
    """Whether two points of one name are in different places."""
    heights = (one.elevation, other.elevation)
    differ = None not in heights and abs((heights[0] or 0.0) - (heights[1] or 0.0)) > SAME_PLACE
    return differ or abs(one.north - other.north) > SAME_PLACE or abs(one.east - other.east) > SAME_PLACE


def inside_folder(name: str, folder: Path, place: Place) -> Path:
    """The path of a file that lies in the folder or below it. Raises InputError for every way out."""
    if "\\" in name:
        better = name.replace("\\", "/")
        raise InputError(
            mistake("bad-value", "between folders stands /, not \\", place, f'write path = "{plain(better)}"')
        )
    posix, windows = PurePosixPath(name), PureWindowsPath(name)
    if not name.strip() or posix.is_absolute() or windows.drive or windows.root or ".." in windows.parts:
        raise InputError(
            mistake("outside-folder", _OUTSIDE, place, 'write it as "control.csv" or "points/control.csv"')
        )
    path = folder / name
    try:
        inside = path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # a ring of links
        inside = False
    if not inside:
        raise InputError(
            mistake("outside-folder", f"{_OUTSIDE}; this is a link out of it", place, "copy the file here")
        )
    return path


_ABSENT = "copy the list into the folder of the site file, or correct the path"
_OUTSIDE = "point files lie in the folder of the site file or below it"


@dataclass
class _Reading:
    """The state of reading one file, row by row."""

    file: str
    entry: PointFile
    site_unit: Unit
    place: Place
    points: dict[str, GivenPoint] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    notes: list[Finding] = field(default_factory=list)

    def read(self, text: str) -> None:
        """Read the rows; mistakes go to the findings."""
        rows = _rows(text)
        delimiter = _delimiter(next(rows, (0, ""))[1])
        columns: Columns | None = None
        for count, (number, line) in enumerate(_rows(text)):
            if len(self.findings) >= MOST_FINDINGS or count > MOST_POINTS:
                self._give_up(number, count)
                return
            try:
                cells = _cells(line, delimiter)
                if columns is None:
                    columns, header = self._columns(cells)
                    if header:
                        continue
                self._row(cells, columns, number, line)
            except ColumnError as error:
                self.findings.append(mistake("bad-columns", error.message, self._at(number, line), error.remedy))
                return
            except (TextError, ValueError, csv.Error) as error:
                remedy = error.remedy if isinstance(error, TextError) else ""
                self.findings.append(mistake("bad-row", plain(str(error), 200), self._at(number, line), remedy))
        if columns is None and not self.findings:
            self.findings.append(mistake("bad-columns", "the file holds no points", Place(self.file)))

    def _give_up(self, number: int, count: int) -> None:
        if count > MOST_POINTS:
            message = f"the file holds more than {MOST_POINTS} points"
            self.findings.append(mistake("too-many", message, Place(self.file), "keep those that the job needs"))
        else:
            message = f"from line {number} on the file was not read; correct these rows first"
            self.findings.append(mistake("too-many", message, Place(self.file)))

    def _at(self, number: int, line: str) -> Place:
        return Place(self.file, number, source=marked_line(line))

    def _columns(self, cells: list[str]) -> tuple[Columns, bool]:
        """The columns, and whether this first row is a header. Raises ColumnError where neither tells."""
        if by_blanks(cells):
            raise ColumnError("between the columns stand blanks, which are not read as separators", _COMMAS)
        header = from_header(cells) if not self.entry.columns else _lenient_header(cells)
        columns = from_text(self.entry.columns) if self.entry.columns else header
        if columns is None:
            shown = plain(", ".join(f"{word} {cell.strip()}" for word, cell in zip(_GUESSED, cells, strict=False)), 120)
            raise ColumnError(
                "there is no header, so nothing says which column is which",
                f"if this reads {shown}, add to [[point_files]] in the site file\n{guess(cells)}\n"
                "if not, put the words in the order of the file; north and east are often the other way round",
            )
        self._check(columns, header)
        units = header.units if header else {}
        return Columns(columns.index, units), header is not None

    def _check(self, columns: Columns, header: Columns | None) -> None:
        """Raise ColumnError where the header says one thing and the site file another."""
        if header is None:
            return
        for word in ("north", "east"):
            if header.index[word] != columns.index[word]:
                raise ColumnError(
                    f"by its header column {header.index[word] + 1} is {word}; by the site file it is column "
                    f"{columns.index[word] + 1}",
                    "correct columns in the site file, or take it out",
                )
        said, asked = header.unit, self.entry.unit
        if said and asked and said != asked:
            raise ColumnError(
                f"by its header the file is in {said}; by the site file in {asked}", "correct one of them"
            )
        feet = {"ft", "ftUS"}
        if said and not asked and said != self.site_unit.name and {said, self.site_unit.name} == feet:
            raise ColumnError(
                f"the header says {said} and the site is in {self.site_unit.name}; the two feet must not be mixed up",
                f'if the header is right, add unit = "{said}" to [[point_files]]; if it means the '
                f"site's foot, write {self.site_unit.name} in the header",
            )

    def _row(self, cells: list[str], columns: Columns, number: int, line: str) -> None:
        """One point. Raises ValueError, TextError or csv.Error for what cannot be used."""
        values = {word: cells[at].strip() if at < len(cells) else "" for word, at in columns.index.items()}
        for word in ("name", "north", "east"):
            if not values[word]:
                raise ValueError(f"the row has no {word}")
        name = checked_point_name(values["name"])
        point = self._point(values, columns.units)
        if name not in self.points:
            self.points[name], self.places[name] = point, self._at(number, line)
            return
        first = self.places[name].line
        if apart(point, self.points[name]):
            raise ValueError(f'the point "{name}" stands twice at different places; first on line {first}')
        message = f'the point "{name}" stands twice at one place; the first, on line {first}, is used'
        if len(self.notes) < MOST_FINDINGS:
            self.notes.append(Finding("repeated-point", Severity.NOTE, message, self._at(number, line)))

    def _point(self, values: Mapping[str, str], units: Mapping[str, str]) -> GivenPoint:
        note = values.get("note", "")
        height = values.get("elevation", "")
        if height.split(".")[0] in _SEA_OF_NINES:
            raise ValueError(f"the elevation {height} looks like a mark for none; leave it blank")
        try:
            return GivenPoint(
                north=self._metres(values["north"], units.get("north")),
                east=self._metres(values["east"], units.get("east")),
                elevation=self._metres(height, units.get("elevation")) if height else None,
                note=note,
            )
        except ValidationError as error:
            raise ValueError(f"note: {error.errors()[0]['msg']}") from None

    def _metres(self, text: str, header_unit: str | None) -> float:
        unit = UNITS[header_unit or self.entry.unit or self.site_unit.name]
        metres = parse_length(text, unit)
        if abs(metres) > REACH:
            raise ValueError(f"{plain(text)} is too far away to compute with")
        return float(metres)


_COMMAS = "export the list again with commas between the columns, or with semicolons or tabs"
_GUESSED = ("name", "north", "east", "elevation", "note")


def _lenient_header(cells: list[str]) -> Columns | None:
    """The header where the site file names the columns: one that tells too little does no harm."""
    try:
        return from_header(cells)
    except ColumnError as error:
        if "unit" in error.message:
            raise
        return None


def _rows(text: str) -> Iterator[tuple[int, str]]:
    """The lines that hold something, with their numbers."""
    for number, line in enumerate(text.split("\n"), start=1):
        bare = line.strip()
        if bare and not bare.startswith("#"):
            yield number, line.rstrip("\r")


def looks_like_points(text: str) -> bool:
    """Whether a text begins as a list of points does, whatever stands between its columns."""
    line = next(_rows(text), (0, ""))[1]
    cells = line.split(_delimiter(line))
    return is_list(cells) or by_blanks(cells)


def _delimiter(line: str) -> str:
    """The sign between columns, by the first line that holds something."""
    return next((sign for sign in "\t;" if sign in line), ",")


def _cells(line: str, delimiter: str) -> list[str]:
    """The cells of one line. Raises csv.Error for a quote that is not closed on it, or text behind one."""
    try:
        return next(csv.reader([line], delimiter=delimiter, strict=True, skipinitialspace=True))
    except csv.Error:
        raise ValueError(
            "a quote is opened and not closed where the cell ends; within quotes write two for one"
        ) from None
