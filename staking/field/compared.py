"""What a comparison of measured things with a layout yields; frozen; metres on the ground, in the layout's frame.

Differences are measured less design. Nothing here approves anything.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from staking.findings import Finding
from staking.layout.computed import Layout, Margin
from staking.layout.wall_lines import FromSide
from staking.survey.points import Point, Vector, vector

Answer = Literal["within", "out", "not judged"]  # not judged: no tolerance is given, or nothing was measured


@dataclass(frozen=True, slots=True)
class Allowed:
    """A tolerance: plus or minus [m], and where the figure comes from. None where there is no figure."""

    plus_minus: float | None
    source: str


@dataclass(frozen=True, slots=True)
class DesignPoint:
    """A point as computed. what: "corner", "part", "stake", "mark", "given". corner: of the formed outline, from 0."""

    name: str
    at: Point
    up: float | None
    what: str
    words: str
    corner: int | None = None


@dataclass(frozen=True, slots=True)
class MeasuredPoint:
    """A point as measured. line: of the file it was read from. error: its standard error in plan, where stated [m]."""

    name: str
    at: Point
    up: float | None = None
    note: str = ""
    line: int = 0
    error: float | None = None


@dataclass(frozen=True, slots=True)
class Deviation:
    """One point, measured less design. plan [m]: east and north. up [m]: None where either height is not known."""

    design: DesignPoint
    measured: MeasuredPoint
    by_name: bool  # else it was taken as the nearest
    sides: tuple[FromSide, ...]
    allowed: Allowed
    answer: Answer
    allowed_up: Allowed = Allowed(None, "")
    answer_up: Answer = "not judged"

    @property
    def plan(self) -> Vector:
        """East and north [m]."""
        return vector(self.design.at, self.measured.at)

    @property
    def up(self) -> float | None:
        """Measured less design height [m]."""
        if self.measured.up is None or self.design.up is None:
            return None
        return self.measured.up - self.design.up


@dataclass(frozen=True, slots=True)
class CheckedLength:
    """A side, diagonal or tie by the measured points [m]. start, end: names of its ends."""

    kind: Literal["side", "diagonal", "tie"]
    start: str
    end: str
    words: str
    design: float
    measured: float
    allowed: Allowed
    answer: Answer

    @property
    def difference(self) -> float:
        """Measured less design [m]."""
        return self.measured - self.design


@dataclass(frozen=True, slots=True)
class CheckedAngle:
    """The inside angle at a corner [deg]; off [m]: square to the longer side at the end of the shorter one."""

    corner: str
    design: float
    measured: float
    off: float


@dataclass(frozen=True)
class Placement:
    """The error of the corners parted: what the whole slab is shifted and turned, and what is out of shape.

    middle: of the design corners that were measured. shift [m]: of that middle. turn [deg], clockwise. scale: that
    would fit best; it is not applied. shape: what remains at each corner by name, in the directions of the design
    [m]. shift_error, turn_error: standard errors by the stated error of measurement, None where none is stated.
    largest_placed [m]: the largest move of a measured corner by shift and turn alone; largest_shape [m]: the largest
    rest. redundancy: numbers measured beyond the three of shift and turn. left_out: corners that do not belong with
    the others; they take no part in the fit, and what remains of them is shown.
    """

    middle: Point
    shift: Vector
    turn: float
    scale: float
    shape: tuple[tuple[str, Vector], ...]
    redundancy: int
    largest_placed: float
    largest_shape: float
    shift_error: float | None = None
    turn_error: float | None = None
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MarginNow:
    """A margin as drawn and by the measured outline; now is None where the outline was not measured whole."""

    design: Margin
    now: Margin | None


@dataclass(frozen=True, slots=True)
class RaiseOrLower:
    """What to do with the form at one mark: raise [m], below 0 lower. up: measured less design height [m]."""

    name: str
    words: str
    at: Point
    up: float
    rest: float  # from the best-fitting plane parallel or not to the design [m]
    raise_by: float
    allowed: Allowed
    answer: Answer


@dataclass(frozen=True, slots=True)
class Raising:
    """Two ways to set a form right: marks one by one, or all of them by one amount.

    singly: how many marks have a `raise_by`. whole [m]: what all marks would be raised by, below 0 lowered; but:
    those that would need a figure [m] of their own then, by name. less: which of the two moves fewer marks; of equal
    numbers the one with fewer figures.
    """

    singly: int = 0
    whole: float = 0.0
    but: tuple[tuple[str, float], ...] = ()
    less: Literal["nothing", "singly", "whole"] = "nothing"


@dataclass(frozen=True)
class LevelsSet:
    """Heights of the form against design.

    mean [m]: of measured less design. tilt: of the plane through the differences, rise per metre east and north; None
    where the marks lie on a line; the mark that is odd takes no part in it. high, low: names of the marks. range [m]:
    highest less lowest difference. flatness: (over so far [m], so much [m], between these two marks), the worst of
    each distance asked for. allowed: of each mark. flat: beside each flatness, how much is allowed and the answer.
    missing: marks without a height. odd: the mark that does not belong with the others, "" where none.
    """

    marks: tuple[RaiseOrLower, ...]
    mean: float
    tilt: Vector | None
    high: str
    low: str
    range: float
    flatness: tuple[tuple[float, float, str, str], ...] = ()
    findings: tuple[Finding, ...] = ()
    allowed: Allowed = Allowed(None, "")
    flat: tuple[tuple[Allowed, Answer], ...] = ()
    raising: Raising = Raising()
    missing: tuple[str, ...] = ()
    odd: str = ""

    @property
    def answer(self) -> Answer:
        """Out where a mark is, or where the form is not level within what is allowed."""
        answers = {*(mark.answer for mark in self.marks), *(answer for _, answer in self.flat)}
        return "out" if "out" in answers else "within" if "within" in answers else "not judged"


@dataclass(frozen=True, slots=True)
class HowMeasured:
    """How the things were measured, as whoever did it says. Errors are standard errors [m]; fingerprint: SHA-256.

    tied: to what the slab was measured directly, as by tape from lines and given points, with no set-up between.
    error_length: of a length between two points, where it is known better than by their coordinates [m].
    """

    file: str
    fingerprint: str
    method: str = ""
    instrument: str = ""
    by: str = ""
    date: str = ""
    error: float | None = None
    error_up: float | None = None
    tied: str = ""
    error_length: float | None = None


@dataclass(frozen=True, slots=True)
class TapedLength:
    """A reading of a tape [m], the level length it stands for, and what would make it agree with the others.

    start, end: places, or a place and the line it was measured square from. residual: None where it was left out.
    """

    start: str
    end: str
    words: str
    read: float
    level: float
    residual: float | None


@dataclass(frozen=True, slots=True)
class Sentence:
    """One line of the verdict, and whether it says that something is out."""

    text: str
    answer: Answer


@dataclass(frozen=True)
class Comparison:
    """Measured things held against a layout, judged."""

    layout: Layout
    how: HowMeasured
    deviations: tuple[Deviation, ...]
    missing: tuple[DesignPoint, ...]  # of the corners of the slab: not measured
    strangers: tuple[MeasuredPoint, ...]  # measured, but no point of the design
    placement: Placement | None = None  # None below two corners
    lengths: tuple[CheckedLength, ...] = ()
    angles: tuple[CheckedAngle, ...] = ()
    margins: tuple[MarginNow, ...] = ()
    levels: LevelsSet | None = None
    verdict: tuple[Sentence, ...] = ()
    findings: tuple[Finding, ...] = field(default=())
    placed: bool = False  # judged as placed concrete, else as forms and stakes
    taped: tuple[TapedLength, ...] = ()  # the readings, where corners were found by tape

    @cached_property
    def corners(self) -> tuple[Deviation, ...]:
        """The deviations of corners of the formed outline, in the order of the outline."""
        found = [each for each in self.deviations if each.design.corner is not None]
        return tuple(sorted(found, key=lambda each: each.design.corner or 0))
