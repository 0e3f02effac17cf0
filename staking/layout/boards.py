"""Where do boards or panels run along the sides, how far past the corners, and where do they stay open?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from staking.kinds.slab import Form
from staking.layout.cutting import SAME
from staking.survey.lines import Line
from staking.survey.paths import arriving, leaving

SQUARE = 1e-3  # rad; how far a corner may be off square


@dataclass(frozen=True, slots=True)
class Run:
    """Boards in one line. label: the side or part. concrete, past [m]: of its face, and what corners add or take.

    bent: along an arc.
    """

    label: str
    concrete: float
    past: float = 0.0
    bent: bool = False

    @property
    def length(self) -> float:
        """To be boarded [m]."""
        return self.concrete + self.past


@dataclass(frozen=True, slots=True)
class Opening:
    """Where a part meets the slab the main form stays open. width [m]: of the part; whole: with the allowance."""

    part: str
    side: str
    width: float
    whole: float


def spaces(length: float, spacing: float) -> int:
    """Into how many equal spaces a length is divided, none wider than the spacing."""
    return max(math.ceil((length - SAME) / spacing), 1)


@dataclass(frozen=True, slots=True)
class Corners:
    """How many corners of the outline are square and outside, square and inside, or neither."""

    outside: int
    inside: int
    other: int


def corners_of(form: Form) -> Corners:
    """The corners that forms meet at; a corner in the middle of a straight side, or smooth, is none."""
    turns = [_turn(form, corner) for corner in range(len(form.pieces))]
    square = [abs(abs(turn) - math.pi / 2) < SQUARE for turn in turns]
    outside = sum(right and turn > 0 for right, turn in zip(square, turns, strict=True))
    other = sum(not right and abs(turn) > SQUARE for right, turn in zip(square, turns, strict=True))
    return Corners(outside, sum(square) - outside, other)


@dataclass(frozen=True, slots=True)
class Ends:
    """What happens at corners. thickness [m]: of board or panel. panels: joined at outside corners by angles.

    inside [m]: leg of a corner piece that panels meet at inside corners.
    """

    thickness: float
    panels: bool = False
    inside: float = 0.0


def runs_of(form: Form, ends: Ends, allowance: float = 0.0) -> tuple[tuple[Run, ...], tuple[Opening, ...]]:
    """Every run of boards or panels outside the concrete, and the openings in it. allowance [m]: at both ends."""
    runs: list[Run] = []
    openings: list[Opening] = []
    for side in range(len(form.pieces)):
        gaps = list(_gaps(form, side, allowance))
        openings += [opening for _, _, opening in gaps]
        runs += _left(form, side, [gap[:2] for gap in gaps], ends)
    for name, corners in form.parts:
        depth, width = (Line(corners[1], corners[2]).length, Line(corners[0], corners[1]).length)
        runs += [Run(f"{name}, edge 1", depth), Run(f"{name}, outer edge", width), Run(f"{name}, edge 2", depth)]
    return tuple(runs), tuple(openings)


def _gaps(form: Form, side: int, allowance: float) -> Iterator[tuple[float, float, Opening]]:
    line = form.pieces[side]
    for name, corners in form.parts:
        ends = [line.offset(corner) for corner in corners[:2]] if isinstance(line, Line) else [9.0, 9.0]
        if isinstance(line, Line) and max(map(abs, ends)) < 1e-4:  # the part's first two corners lie on this side
            low, high = sorted(line.along(corner) for corner in corners[:2])
            if high > SAME and low < line.length - SAME:
                wide = Opening(name, form.outline.side_label(side), high - low, high - low + 2 * allowance)
                yield low - allowance, high + allowance, wide


def _left(form: Form, side: int, gaps: Sequence[tuple[float, float]], ends: Ends) -> Iterator[Run]:
    """What openings leave of a side."""
    line, label = form.pieces[side], form.outline.side_label(side)
    before, after = _past(form, side, ends)
    bent = not isinstance(line, Line)
    start = 0.0
    for low, high in [*sorted(gaps), (line.length, line.length)]:
        if low - start > SAME:
            past = (before if start == 0.0 else 0.0) + (after if low == line.length else 0.0)
            yield Run(label, low - start, past, bent)
        start = max(start, high)


def _past(form: Form, side: int, ends: Ends) -> tuple[float, float]:
    """What corners add to the boards of a side at its beginning and end [m]; below 0 where they take.

    At an outside corner a board runs on past the end of the next one, which butts against it; at an inside corner the
    next one begins beyond its thickness. At a corner that is not square both are mitred: thickness x tan(turn / 2).
    Panels end with the concrete at an outside corner, and leave room for a corner piece at an inside one.
    """
    ways = [_turn(form, corner % len(form.pieces)) for corner in (side, side + 1)]
    more = [ends.thickness * math.tan(abs(way) / 2) for way in ways]
    square = [abs(abs(way) - math.pi / 2) < SQUARE for way in ways]
    if ends.panels:
        before, after = (
            -(ends.inside or thick) if way < -SQUARE else 0.0 for way, thick in zip(ways, more, strict=True)
        )
        return before, after if ends.inside else 0.0
    before = -more[0] if ways[0] < 0 else 0.0 if square[0] else more[0]
    return before, (more[1] if ways[1] > 0 else 0.0)


def _turn(form: Form, corner: int) -> float:
    """How far the outline turns at a corner [rad]; positive at an outside corner."""
    one, two = arriving(form.pieces[corner - 1]), leaving(form.pieces[corner])
    turn = math.atan2(one.cross(two), one.east * two.east + one.north * two.north)
    return turn if form.outline.counter_clockwise else -turn
