"""A stake before it has a name, and the ends of strings, which offsets and batter boards share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from staking.kinds.slab import Form
from staking.survey.lines import Line
from staking.survey.points import Point
from staking.survey.polygons import beyond_everything

Series = Literal["corners", "offsets", "batter_boards", "marks"]
StakeKind = Literal["corner", "part corner", "offset", "post", "nail", "mark"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where to drive what. side, beyond: of the outline, from 0: the stake stands on the line of that side.

    along [m]: on that line from the side's beginning; below 0 or above its length where the stake is off its ends.
    part: the part it belongs to. entry: of [[stakes]], from 0, which asks for it.
    """

    at: Point
    kind: StakeKind
    series: Series
    side: int | None = None
    corner: int | None = None
    along: float = 0.0
    part: str = ""
    words: str = ""
    lengths: tuple[float, ...] = ()  # metres; they take the places of {0}, {1} ... in words
    entry: int = 0


@dataclass(frozen=True, slots=True)
class Board:
    """A batter board on two posts, with the nail that holds the string of a side."""

    posts: tuple[Point, Point]
    nail: Point
    side: int


@dataclass(frozen=True, slots=True)
class SetOut:
    """What one entry of [[stakes]] asks for."""

    places: tuple[Place, ...] = ()
    boards: tuple[Board, ...] = ()


@dataclass(frozen=True, slots=True)
class StringEnd:
    """One end of the string over a side. line runs along the side toward this end and starts at its other end.

    corner: the corner of the outline it passes last, from 0. past [m along line]: where everything of the slab
    on this line is behind. clear: whether that is the corner itself, as it is everywhere but at inside corners.
    """

    side: int
    corner: int
    line: Line
    past: float
    clear: bool


def string_ends(form: Form) -> tuple[StringEnd, ...]:
    """Both ends of the string over every side, except where a straight side only has a corner in its middle."""
    count = len(form.corners)
    ends = [
        (side, corner, toward)
        for side, line in enumerate(form.pieces)
        if isinstance(line, Line)  # a string does not follow an arc
        for corner, toward in ((side, Line(line.end, line.start)), ((side + 1) % count, line))
        if not form.straight(corner)
    ]
    past = beyond_everything([toward for _, _, toward in ends], form.whole)
    return tuple(
        StringEnd(side, corner, toward, far, clear=far - toward.length < 1e-6)
        for (side, corner, toward), far in zip(ends, past, strict=True)
    )
