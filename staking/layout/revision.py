"""What must be known of one revision of a job, so that another can be held against it?

Coordinates are metres in the frame of the file, as they stand in its lists; lengths are metres on the ground.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from staking.layout.frames import Frame
from staking.notation import Notation
from staking.survey.points import Point
from staking.units import Unit

# labels of corners and sides, as `Outline` writes them
CORNER_LABEL = r"corner (?P<number>\d+)(?: \((?P<name>.+)\))?"
SIDE_LABEL = r"(?:(?P<name>.+) )?side (?P<number>\d+-\d+)"

NO_LETTER = "-"  # what stands for the revision of a site file that says none

_CORNER, _SIDE = re.compile(CORNER_LABEL), re.compile(SIDE_LABEL)


def told_by(label: str) -> tuple[str, str]:
    """Number and name of the corner or side of a label, empty where it has none.

    >>> told_by("corner 3 (back-right)"), told_by("side 3-4")
    (('3', 'back-right'), ('3-4', ''))
    """
    found = _CORNER.fullmatch(label) or _SIDE.fullmatch(label)
    return (found["number"], found["name"] or "") if found else ("", "")


@dataclass(frozen=True, slots=True)
class System:
    """What the coordinates of a revision are.

    crs: empty for local ones. values: "grid" or "ground". factor: grid distance / ground distance, 1 for ground values.
    which: "given" or "measured" where the site has a fit, else empty. vertical: words on its heights.
    """

    unit: Unit
    crs: str
    values: str
    factor: float
    which: str
    vertical: str
    anchor: Point

    @property
    def frame(self) -> Frame:
        """Between these coordinates and the ground."""
        return Frame(self.anchor, self.factor)


@dataclass(frozen=True, slots=True)
class Driven:
    """A stake of a revision. up, in `at`: its design height. corner, side: labels as sheets have them, else empty."""

    name: str
    at: Point
    kind: str
    note: str
    corner: str = ""
    side: str = ""
    part: str = ""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the formed outline, and the side that leaves it. bulge: of that side, 0 where it is straight."""

    name: str
    label: str
    at: Point
    bulge: float = 0.0


@dataclass(frozen=True, slots=True)
class Room:
    """A margin: the least distance to a line or area, what is required there, and what is to spare [m]."""

    rule: str
    of: str
    what: str
    distance: float
    required: float
    room: float
    severity: str


@dataclass(frozen=True)
class Revision:
    """One revision. source: where it was read from. stops: codes of stops that nobody overruled; despite: of those."""

    source: str
    job: str
    lot_words: str
    revision: str
    date: str
    site_file: str
    fingerprint: str
    system: System
    notation: Notation
    given: tuple[tuple[str, Point], ...]
    outline: tuple[Corner, ...]
    parts: tuple[tuple[str, tuple[Point, ...]], ...]
    stakes: tuple[Driven, ...]
    sides: tuple[tuple[str, float], ...]  # label and length [m]
    diagonals: tuple[tuple[str, float], ...]  # its ends in words, and its length [m]
    rooms: tuple[Room, ...]
    area: float  # square metres
    sizes: Mapping[str, float | None]  # thickness, ledge [m]
    floor: float | None
    stops: tuple[str, ...] = ()
    despite: tuple[str, ...] = ()

    @cached_property
    def points(self) -> Mapping[str, Point]:
        """The given points by name."""
        return dict(self.given)

    @property
    def words(self) -> str:
        """Which revision it is, in words: revision B of 2026-06-02."""
        name = f"revision {self.revision}" if self.lettered else "the revision without a letter"
        return f"{name}{f' of {self.date}' if self.date else ''}"

    @property
    def lettered(self) -> bool:
        """Whether its site file says which revision it is."""
        return self.revision != NO_LETTER
