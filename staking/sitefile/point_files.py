"""Which points do the lists beside a site file hold?

What may stand between columns, and how columns are told, `pointlists` says. Blank lines and lines that begin with # are
passed over. A blank elevation is none, and never 0.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import isnan
from pathlib import Path, PurePosixPath, PureWindowsPath

from staking.errors import InputError
from staking.findings import Finding, Place, Severity
from staking.sitefile.columns import by_blanks, is_list
from staking.sitefile.declared import GivenPoint, PointFile
from staking.sitefile.places import mistake, plain
from staking.sitefile.pointlists.blocks import Block, place_of, read_blocks
from staking.sitefile.pointlists.lines import Fingerprint
from staking.sitefile.pointlists.opening import Asked, ListError, begin, open_list
from staking.sitefile.text import read_bytes
from staking.units import Unit

LARGEST = 50_000_000  # bytes
MOST_POINTS = 100_000  # far more than a site needs; the whole county is a slip
MOST_FINDINGS = 20  # rows of one file that are complained of
SAME_PLACE = 0.001  # metres: two of a name nearer than this are one point; own choice


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
    data, shown = read_beside(entry.path, folder, place, largest=LARGEST, absent=_ABSENT)
    reading, fingerprint = _Reading(shown), Fingerprint()
    reading.read(data, entry, unit, fingerprint)
    return PointList(
        reading.points,
        reading.places,
        fingerprint.hex,
        tuple(reading.notes),
        tuple(reading.findings),
    )


def apart(one: GivenPoint, other: GivenPoint) -> bool:
    """Whether two points of one name are in different places."""
    heights = (one.elevation, other.elevation)
    differ = None not in heights and abs((heights[0] or 0.0) - (heights[1] or 0.0)) > SAME_PLACE
    return differ or abs(one.north - other.north) > SAME_PLACE or abs(one.east - other.east) > SAME_PLACE


def read_beside(name: str, folder: Path, place: Place, *, largest: int, absent: str) -> tuple[bytes, str]:
    """The bytes of a list or book that the site file names at a place, and its path as shown.

    largest: bytes it may have. absent: what to do where it is not there.

    Raises InputError, at that place, for a file that is not there, may not be read, or lies outside the folder.
    """
    path = inside_folder(name, folder, place)
    shown = plain(str(path), 200)
    try:
        return read_bytes(path, largest=largest, absent=absent), shown
    except InputError as error:
        raise InputError(
            *(replace(each, place=place, message=f"{shown}: {each.message}") for each in error.findings)
        ) from None


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


class _Reading:
    """The points of one file as they are taken in, block by block."""

    def __init__(self, shown: str) -> None:
        self.shown = shown
        self.points: dict[str, GivenPoint] = {}
        self.places: dict[str, Place] = {}
        self.findings: list[Finding] = []
        self.notes: list[Finding] = []
        self._rows = 0

    def read(self, data: bytes, entry: PointFile, unit: Unit, fingerprint: Fingerprint) -> None:
        """Take in every block; mistakes go to the findings."""
        asked = Asked(columns=entry.columns, unit=entry.unit, decimal=entry.decimal, site_unit=unit)
        try:
            opening = open_list(begin(data, shown=self.shown, decimal=entry.decimal), asked, shown=self.shown)
        except ListError as error:
            fingerprint.add(data)
            self.findings.extend(error.findings)
            return
        for block in read_blocks(data, opening, shown=self.shown, fingerprint=fingerprint):
            self._take_in(block)
            if self._given_up():
                return

    def _take_in(self, block: Block) -> None:
        """The points of a block, and what is wrong with its rows, in their order."""
        self._rows += len(block) + len(block.findings)
        findings = list(block.findings)
        columns = (block.north.tolist(), block.east.tolist(), block.elevation.tolist(), block.notes)
        rows = zip(block.names, *columns, block.numbers, block.lines, strict=True)
        for name, north, east, high, note, number, line in rows:
            point = _given(north, east, high, note)
            if name in self.points:
                findings.extend(self._again(name, point, place_of(self.shown, number, line)))
                continue
            self.points[name], self.places[name] = point, place_of(self.shown, number, line)
        self.findings.extend(sorted(findings, key=_line))

    def _again(self, name: str, point: GivenPoint, place: Place) -> Iterator[Finding]:
        """A name for the second time: a mistake, or a note where it is one place."""
        first = self.places[name].line
        if apart(point, self.points[name]):
            message = f'the point "{name}" stands twice at different places; first on line {first}'
            yield mistake("bad-row", message, place)
        elif len(self.notes) < MOST_FINDINGS:
            message = f'the point "{name}" stands twice at one place; the first, on line {first}, is used'
            self.notes.append(Finding("repeated-point", Severity.NOTE, message, place))

    def _given_up(self) -> bool:
        """Whether it is no use to read on; the last finding then says so."""
        if self._rows > MOST_POINTS:
            message = f"the file holds more than {MOST_POINTS} points"
            self.findings.append(mistake("too-many", message, Place(self.shown), "keep those that the job needs"))
            return True
        if len(self.findings) <= MOST_FINDINGS:
            return False
        message = f"from line {_line(self.findings[MOST_FINDINGS])} on the file was not read; correct these rows first"
        del self.findings[MOST_FINDINGS:]
        self.findings.append(mistake("too-many", message, Place(self.shown)))
        return True


def _given(north: float, east: float, high: float, note: str) -> GivenPoint:
    # what blocks hold was checked when it was read, which is ten times as quick as the checks of a site file
    return GivenPoint.model_construct(
        north=north, east=east, elevation=None if isnan(high) else high, note=note, given_by=""
    )


def _line(finding: Finding) -> int:
    return finding.place.line if finding.place else 0


def looks_like_points(text: str) -> bool:
    """Whether a text begins as a list of points does, whatever stands between its columns."""
    line = next((bare for line in text.split("\n") if (bare := line.strip()) and not bare.startswith("#")), "")
    cells = line.split(next((sign for sign in "\t;" if sign in line), ","))
    return is_list(cells) or by_blanks(cells)
