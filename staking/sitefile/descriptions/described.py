"""What did the reader make of a description, and from which words?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from staking.findings import Finding, Severity, worst


@dataclass(frozen=True, slots=True)
class Words:
    """A piece of the source: from which character to which, the text itself, and where it begins, counted from 1."""

    start: int
    end: int
    text: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class ReadCourse:
    """One course as far as it was read.

    fields: the keys of a [[lot.courses]] record with their texts, digits as printed; `turn`, `bearing`, `length` and
    so on. to_start: the call runs to the beginning, and gives no distance. missing: what the record still needs.
    open: what the text leaves open, one sentence each. tangent: whether a curve is said to be, None where it is not.
    """

    kind: Literal["line", "curve"]
    fields: Mapping[str, str]
    words: Words
    to_start: bool = False
    missing: tuple[str, ...] = ()
    open: tuple[str, ...] = ()
    tangent: bool | None = None

    @property
    def line(self) -> int:
        """The line of the source on which the course begins, counted from 1."""
        return self.words.line


@dataclass(frozen=True, slots=True)
class Unread:
    """Words that were not understood, and why."""

    words: Words
    why: str
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class StatedArea:
    """An area that the description states: its digits as printed, and its unit, such as `acres`."""

    value: str
    unit: str


@dataclass(frozen=True, slots=True)
class Description:
    """Everything that was read, and everything that was not.

    ties: courses from a point of commencement to the point of beginning; they are no sides of the lot.
    unit: the one unit of all lengths; empty where there are several, or none.
    """

    courses: tuple[ReadCourse, ...]
    tie: tuple[ReadCourse, ...]
    unread: tuple[Unread, ...]
    areas: tuple[StatedArea, ...]
    unit: str
    findings: tuple[Finding, ...]

    @property
    def stated_area(self) -> StatedArea | None:
        """The area that is stated first; None where there is none."""
        return self.areas[0] if self.areas else None

    @property
    def refused(self) -> bool:
        """Whether the description as a whole is none that can be read, such as one of two parcels."""
        return worst(self.findings) == Severity.STOP

    @property
    def complete(self) -> bool:
        """Whether every course has all that its record needs."""
        return bool(self.courses) and not any(course.missing for course in (*self.tie, *self.courses))
