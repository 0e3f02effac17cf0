"""What `staking points` reads and says: how a list was understood, why, and what is odd in it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from math import isnan
from pathlib import Path

from staking.errors import InputError, OutputError
from staking.exports.points_stream import write_points
from staking.findings import Finding, Place, Severity
from staking.notation import Notation
from staking.sitefile.declared import Site
from staking.sitefile.places import mistake, plain
from staking.sitefile.pointlists.against import Compared, compared
from staking.sitefile.pointlists.blocks import Block, read_blocks
from staking.sitefile.pointlists.oddities import Figures, Points, gathered, oddities, rows_on
from staking.sitefile.pointlists.opening import Asked, Beginning, Opening, begin
from staking.sitefile.pointlists.order import Evidence, Taken, tell
from staking.units import Unit

ENDS = 2  # points from either end that are shown
_FEW_ROWS = 20  # rows that cannot be used and are printed
_WHERE = "the command"


@dataclass(frozen=True)
class Understood:
    """A list read to its end. unit: of its figures; None where nobody says."""

    beginning: Beginning
    opening: Opening
    taken: tuple[Taken, ...]
    points: Points
    notes: Mapping[int, str]
    passed: int
    unit: Unit | None
    compared: Compared | None
    findings: tuple[Finding, ...]

    @property
    def write(self) -> Figures:
        """As the list writes lengths."""
        return Figures(self.unit)


class _Seen:
    """What is kept of the blocks as they go by."""

    def __init__(self) -> None:
        self.refused: list[Finding] = []
        self.marked: list[int] = []
        self.longer: list[int] = []
        self.passed = 0
        self.count = 0
        self.notes: dict[int, str] = {}

    def take(self, block: Block) -> None:
        """Count one block in."""
        self.refused.extend(islice(block.findings, max(0, _FEW_ROWS + 1 - len(self.refused))))
        self.marked.extend(block.marked)
        self.longer.extend(block.longer)
        self.passed += block.passed
        kept = {at: note for at, note in self.notes.items() if at < ENDS or at >= self.count - ENDS}
        ends = (*range(min(ENDS, len(block))), *range(max(0, len(block) - ENDS), len(block)))
        self.notes = kept | {self.count + at: block.notes[at] for at in ends}
        self.count += len(block)


def understood(path: Path, site: Site | None, *, columns: str, unit: str, decimal: str) -> Understood:
    """A list, read to its end and looked through. Raises InputError where that cannot be."""
    shown = plain(str(path), 200)
    asked = Asked(columns, unit, decimal, site.unit if site else None, _WHERE)
    crs = site.declared.coordinates.crs if site and site.declared.coordinates else ""
    evidence = Evidence(site.given if site else {}, crs)
    try:
        beginning = begin(path, shown=shown, decimal=decimal)
        _check_sort(beginning, shown)
        opening, taken = tell(beginning, asked, evidence, shown=shown)
    except InputError as error:
        raise InputError(*map(for_command_line, error.findings)) from None
    seen = _Seen()
    points = gathered(read_blocks(path, opening, shown=shown), shown, seen.take)
    if not points.names and not seen.refused:
        raise InputError(mistake("bad-columns", "the file holds no points, only a header", Place(shown)))
    own = opening.units["north"]
    write = Figures(own)
    against = compared(points, site.given, write) if site else None
    findings = [*(against.findings if against else ()), *_rows(seen, shown), *oddities(points, write)]
    findings += [*_mixed(seen, opening, shown), *_longer(seen, shown)]
    return Understood(
        beginning,
        opening,
        taken,
        points,
        notes=seen.notes,
        passed=seen.passed,
        unit=own,
        compared=against,
        findings=tuple(sorted(findings, key=lambda finding: -finding.severity)),
    )


def _check_sort(beginning: Beginning, shown: str) -> None:
    """Raise InputError, once, for a site file where a list of points is meant."""
    if any(line.strip() == "[site]" for line in beginning.piece.lines):
        message, remedy = "this is a site file, not a list of points", "name the list, and the site with --site"
        raise InputError(mistake("bad-columns", message, Place(shown), remedy))


def for_command_line(finding: Finding) -> Finding:
    """The same finding where there is no site file to change."""
    message, remedy = finding.message.replace("by the site file", "by the command line"), finding.remedy
    for in_a_file, typed in _TYPED:
        remedy = re.sub(in_a_file, typed, remedy)
    return replace(finding, message=message, remedy=remedy)


# what stands in a site file, and what is typed instead
_TYPED = (
    (r'decimal = "comma" in \[\[point_files\]\], or --decimal', "say --decimal"),
    (r"in \[\[point_files\]\], in the way of", "in the way of"),
    (r'add unit = "(\w+)" to \[\[point_files\]\]', r"say --unit \1"),
    (r"(?m)^columns = ", "--columns "),
    (r" in the site file", ""),
)


def _rows(seen: _Seen, shown: str) -> Iterator[Finding]:
    """The rows that cannot be used, as many as somebody reads."""
    yield from seen.refused[:_FEW_ROWS]
    if len(seen.refused) > _FEW_ROWS:
        message = "there are more rows that cannot be used; correct these first"
        yield Finding("too-many", Severity.STOP, message, Place(shown, 0))


def _longer(seen: _Seen, shown: str) -> Iterator[Finding]:
    """Rows whose last cells were passed over, mostly for a comma in a note."""
    if seen.longer:
        message = f"more cells than the first line has in {rows_on(seen.longer)}; those were passed over"
        remedy = "put quotes around a note that holds the sign between columns"
        yield Finding("list-more-cells", Severity.NOTE, message, Place(shown, seen.longer[0]), remedy)


def _mixed(seen: _Seen, opening: Opening, shown: str) -> Iterator[Finding]:
    """Lengths with units of their own among bare figures; elevations in another unit than coordinates."""
    if seen.marked:
        message = f"lengths with a unit of their own among bare figures in {rows_on(seen.marked)}"
        yield Finding(
            "list-mixed-units", Severity.WARNING, message, Place(shown, seen.marked[0]), "see that each is meant"
        )
    plan, high = opening.units["north"], opening.units["elevation"]
    if "elevation" in opening.columns.index and plan and high and plan != high:
        message = f"coordinates are in {plan.name}, elevations in {high.name}, as the header says"
        yield Finding("list-mixed-units", Severity.NOTE, message, Place(shown, opening.header_line))


def points_lines(found: Understood) -> Iterator[str]:
    """How the list was understood, in plain lines."""
    begun = found.beginning
    mark = " with a byte order mark" if begun.mark else ""
    yield f"written   UTF-8{mark}, lines end with {begun.ends}, {begun.dialect.words}"
    header = f"line {found.opening.header_line}" if found.opening.header else "none"
    yield f"header    {header}"
    if found.unit is None:
        yield "unit      not stated: figures are shown as they are written; say --unit m, ft or ftUS"
    else:
        yield f"unit      {found.unit.name}, {found.unit.words}: {found.opening.unit_said}"
    yield from _columns(found.taken)
    count = len(found.points.names)
    high = sum(not isnan(each) for each in found.points.elevation.tolist())
    passed = found.passed - bool(found.opening.header)
    yield f"points    {count:,}, {high:,} with elevation; blank lines, comments, headers again: {passed:,}"
    if found.compared is not None:
        shared, agree = found.compared.shared, found.compared.agree
        yield f"site      {shared:,} of them bear names of the site; {agree:,} lie where it has them"
    yield from _ends(found)


def _columns(taken: Sequence[Taken]) -> Iterator[str]:
    widest = max((len(each.head) for each in taken), default=0)
    for each in taken:
        yield f"column {each.number:<2} {each.head:{widest}}  {each.meaning:9} {each.sure}: {each.why}"


def _ends(found: Understood) -> Iterator[str]:
    """The first and the last points as they were understood."""
    points = found.points
    count = len(points.names)
    up = Figures(found.opening.units["elevation"])
    for index in dict.fromkeys((*range(min(ENDS, count)), *range(max(0, count - ENDS), count))):
        high = float(points.elevation[index])
        figures = f"north {found.write(float(points.north[index]))}, east {found.write(float(points.east[index]))}"
        height = "none" if isnan(high) else up(high)
        note = found.notes.get(index, "")
        yield (
            f"line {points.lines[index]:<4} {points.names[index]}: {figures}, elevation {height}"
            + f", {note}" * bool(note)
        )


def write_list(found: Understood, path: Path, new: Path, site: Site | None) -> str:
    """The list into a new file of our own; what was written, in words. Raises OutputError where it must not be."""
    if found.unit is None:
        raise OutputError("the list has no unit, so it is not written", "say --unit m, ft or ftUS")
    unit = site.unit if site else found.unit
    count = write_points(new, read_blocks(path, found.opening, shown=str(path)), Notation(unit))
    return f"wrote {new}: {count:,} points in {unit.name}"
