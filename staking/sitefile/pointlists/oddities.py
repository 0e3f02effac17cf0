"""What is odd in a list of points by itself: names twice, numbers that are missing, points far off, elevations of 0?"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from staking.findings import Finding, Place, Severity
from staking.notation import Notation
from staking.sitefile.pointlists.blocks import Block
from staking.units import UNITS, Unit

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Numbers = npt.NDArray[np.float64]

SAME_PLACE = 0.001  # metres, as for the points of a site; own choice
LEAST = 6  # points from which on one can be called far off; own choice
FAR = 5.0  # so many times the size of the middle half of a list away from it; own choice
MOST = 20  # findings of one sort that are printed
_FOOT = 0.3048  # Fed. Reg. 85 FR 62698 (5 Oct 2020)
_NUMBERED = re.compile(r"(.*?)([0-9]{1,9})")
_WIDEST = 100  # numbers missing in a row; more are another series; own choice


@dataclass(frozen=True)
class Figures:
    """How a list writes lengths given in metres: three decimals of its unit; None where nobody says which it is."""

    unit: Unit | None = None

    def __call__(self, metres: float) -> str:
        """A coordinate."""
        return Notation(self.unit or UNITS["m"]).decimal(metres, 3)

    def length(self, metres: float) -> str:
        """A distance, with its unit."""
        return f"{self(metres)} {self.unit.name}" if self.unit else self(metres)


@dataclass(frozen=True)
class Points:
    """A whole list in columns, in metres (as `Block`), with the line of each point."""

    shown: str
    names: Sequence[str]
    north: Numbers
    east: Numbers
    elevation: Numbers
    lines: Sequence[int]

    def at(self, index: int) -> Place:
        """Where a point stands."""
        return Place(self.shown, self.lines[index])


def gathered(blocks: Iterable[Block], shown: str, see: Callable[[Block], None]) -> Points:
    """All points of a list. see: is shown every block as it comes."""
    import numpy as np  # noqa: PLC0415 - opened for lists only

    names, lines = list[str](), list[int]()
    columns: tuple[list[Numbers], ...] = ([np.empty(0)], [np.empty(0)], [np.empty(0)])
    for block in blocks:
        see(block)
        names.extend(block.names)
        lines.extend(block.numbers)
        for column, part in zip(columns, (block.north, block.east, block.elevation), strict=True):
            column.append(part)
    north, east, high = map(np.concatenate, columns)
    return Points(shown, names, north, east, high, lines)


def oddities(points: Points, write: Figures) -> Iterator[Finding]:
    """Everything odd. write: as the list writes lengths."""
    yield from _first(list(twice(points, write)), points)
    yield from _first(list(far_off(points, write)), points)
    yield from zeros(points)
    yield from gaps(points)


def _first(findings: list[Finding], points: Points) -> list[Finding]:
    if len(findings) <= MOST:
        return findings
    message = f"{len(findings) - MOST:,} more of this sort are not shown"
    more = Finding(findings[0].code, findings[0].severity, message, Place(points.shown))
    return [*findings[:MOST], more]


def twice(points: Points, write: Figures) -> Iterator[Finding]:
    """Names that stand twice: a note where they stand at one place."""
    seen: dict[str, int] = {}
    for index, name in enumerate(points.names):
        first = seen.setdefault(name, index)
        if first == index:
            continue
        apart = math.hypot(points.north[index] - points.north[first], points.east[index] - points.east[first])
        up = points.elevation[index] - points.elevation[first]
        where = f"the first is on line {points.lines[first]}"
        if apart > SAME_PLACE or abs(up) > SAME_PLACE:
            off = f"{write.length(apart)} apart" if apart > SAME_PLACE else f"{write.length(abs(up))} apart in height"
            message = f'the point "{name}" stands twice, {off}; {where}'
            yield Finding(
                "duplicate-point", Severity.STRONG, message, points.at(index), "keep the right one, or rename one"
            )
        else:
            message = f'the point "{name}" stands twice at one place; {where}'
            yield Finding("repeated-point", Severity.NOTE, message, points.at(index))


@dataclass(frozen=True)
class _Box:
    """Where the middle half of a list lies."""

    north: tuple[float, float]
    east: tuple[float, float]

    @property
    def size(self) -> float:
        return max(math.hypot(self.north[1] - self.north[0], self.east[1] - self.east[0]), 1.0)

    def away(self, north: Numbers | float, east: Numbers | float) -> Numbers:
        """How far places lie from the box [m]."""
        import numpy as np  # noqa: PLC0415 - as above

        beside = [
            np.maximum(np.maximum(low - value, value - high), 0.0)
            for value, (low, high) in ((north, self.north), (east, self.east))
        ]
        away: Numbers = np.hypot(*beside)
        return away

    def holds(self, north: float, east: float) -> bool:
        """Whether a place belongs to the list."""
        return bool(self.away(north, east) <= FAR * self.size)


def far_off(points: Points, write: Figures) -> Iterator[Finding]:
    """Points that lie far from all others, with the slip that would explain it."""
    import numpy as np  # noqa: PLC0415 - as above

    if len(points.names) < LEAST:
        return
    quarters = [np.quantile(column, (0.25, 0.75)) for column in (points.north, points.east)]
    box = _Box(*((float(low), float(high)) for low, high in quarters))
    away = box.away(points.north, points.east)
    for index in np.flatnonzero(away > FAR * box.size).tolist():
        north, east = float(points.north[index]), float(points.east[index])
        remedy = next(_explained(north, east, box, write), "check its digits")
        off = write.length(float(away[index]))
        message = f'the point "{points.names[index]}" lies {off} from the middle half of the list'
        yield Finding("list-far-off", Severity.STRONG, message, points.at(index), remedy)


def _explained(north: float, east: float, box: _Box, write: Figures) -> Iterator[str]:
    """What would bring a point to the others, the likeliest first."""
    if box.holds(east, north):
        yield "north and east may be exchanged in this row"
    for times, words in (
        (_FOOT, "it may be in feet and the others in metres"),
        (1 / _FOOT, "it may be in metres and the others in feet"),
    ):
        if box.holds(north * times, east * times):
            yield words
    unit = float((write.unit or UNITS["m"]).metres)
    for word, value, other in (("north", north, east), ("east", east, north)):
        for right in _one_digit_off(write(value)):
            metres = float(right) * unit
            if bool(box.away(*((metres, other) if word == "north" else (other, metres))) <= box.size):
                yield f"a digit may be wrong: {word} {write(value)} would belong here as {right}"


def _one_digit_off(text: str) -> Iterator[str]:
    """The numbers that differ from a written one in one digit, the nearest digits first."""
    for at, sign in enumerate(text):
        if sign.isdigit():
            for digit in sorted("0123456789", key=lambda each: abs(int(each) - int(sign))):
                if digit != sign:
                    yield f"{text[:at]}{digit}{text[at + 1 :]}"


def zeros(points: Points) -> Iterator[Finding]:
    """Elevations of exactly 0, which mostly mean none."""
    at = [index for index, high in enumerate(points.elevation.tolist()) if high == 0]
    if at:
        message = f"the elevation is 0 in {rows_on([points.lines[each] for each in at])}"
        remedy = "leave the cell blank where the elevation is not known; 0 is the level of the datum"
        yield Finding("list-zero-elevation", Severity.WARNING, message, points.at(at[0]), remedy)


def rows_on(lines: Sequence[int]) -> str:
    """How many rows, and the lines of the first.

    >>> rows_on([4])
    '1 row, on line 4'
    """
    shown = ", ".join(map(str, lines[:5])) + (", ..." if len(lines) > 5 else "")
    return f"{len(lines):,} rows, on lines {shown}" if len(lines) > 1 else f"1 row, on line {shown}"


def gaps(points: Points) -> Iterator[Finding]:
    """Numbers that are missing in a series, as 101, 102, 104."""
    series: dict[str, list[tuple[int, int]]] = {}
    for index, name in enumerate(points.names):
        if found := _NUMBERED.fullmatch(name):
            series.setdefault(found[1], []).append((int(found[2]), index))
    found_gaps = []
    for prefix, numbered in series.items():
        numbered.sort()
        for (low, _), (high, index) in pairwise(numbered):
            if 1 < high - low <= _WIDEST:
                found_gaps.append((f"{prefix}{low + 1}" + (f" to {prefix}{high - 1}" if high - low > 2 else ""), index))
    if found_gaps:
        words = "; ".join(name for name, _ in found_gaps[:5]) + ("; ..." if len(found_gaps) > 5 else "")
        message = f"numbers are missing, {len(found_gaps):,} time{'s' * (len(found_gaps) > 1)}: {words}"
        yield Finding("list-gap", Severity.NOTE, message, points.at(found_gaps[0][1]), "see that no point was lost")
