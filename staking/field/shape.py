"""What a tape would read between the points as measured: sides, diagonals, ties to lines, and the angles at corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from staking.field.allowed import Tolerances
from staking.field.compared import Allowed, Answer, CheckedAngle, CheckedLength, Deviation
from staking.field.words import about, figure_words
from staking.layout.computed import Crossing, Layout
from staking.notation import Notation
from staking.survey.intersections import crossing
from staking.survey.lines import Line
from staking.survey.points import Point, distance, vector

ALIKE = 1e-6  # metres; diagonals that differ by less are those of a rectangle
LEAST_CROSSING = 0.1  # sine; strings that cross at less are those of corners with wrong names; own choice
NOISE = 1e-9  # metres; what arithmetic alone makes


def judged(off: float, allowed: Allowed, share: float = 1.0) -> Answer:
    """Whether a difference [m] is within what is allowed, or a share of it."""
    if allowed.plus_minus is None:
        return "not judged"
    return "within" if abs(off) <= share * allowed.plus_minus + NOISE else "out"


def lengths_of(layout: Layout, corners: Sequence[Deviation], tolerances: Tolerances) -> tuple[CheckedLength, ...]:
    """Sides (chords where they are arcs), diagonals and ties, as far as their ends were measured."""
    at = {each.design.name: each.measured.at for each in corners}
    at |= _crossings(layout, at)
    return (*_sides(layout, at, tolerances), *_diagonals(layout, at, tolerances), *_ties(layout, at, tolerances))


def _crossings(layout: Layout, at: Mapping[str, Point]) -> dict[str, Point]:
    """Where strings through the measured corners cross, for the check rectangles of an outline with inside corners."""
    found = {}
    for each in layout.crossings:
        over = next((side for side, line in enumerate(layout.slab.form.sides) if _runs(line, side, each)), each.side)
        one, other = _string(layout, each.side, at), _string(layout, over, at)
        if one is not None and other is not None and abs(one.direction.cross(other.direction)) > LEAST_CROSSING:
            found[each.name] = crossing(one, other)
    return found


def _runs(line: Line, side: int, each: Crossing) -> bool:
    """Whether the string of another side, carried on, runs through a crossing."""
    return side != each.side and abs(line.offset(each.at)) < ALIKE


def _string(layout: Layout, side: int, at: Mapping[str, Point]) -> Line | None:
    start, end = layout.sides[side].start, layout.sides[side].end
    return Line(at[start], at[end]) if start in at and end in at and at[start] != at[end] else None


def _sides(layout: Layout, at: Mapping[str, Point], tolerances: Tolerances) -> Iterator[CheckedLength]:
    for side in layout.sides:
        if side.start in at and side.end in at:
            measured, allowed = distance(at[side.start], at[side.end]), tolerances.length(side.chord)
            answer = judged(measured - side.chord, allowed)
            yield CheckedLength("side", side.start, side.end, side.taped, side.chord, measured, allowed, answer)


def _diagonals(layout: Layout, at: Mapping[str, Point], tolerances: Tolerances) -> Iterator[CheckedLength]:
    for each in layout.diagonals:
        if each.start in at and each.end in at:
            measured, allowed = distance(at[each.start], at[each.end]), tolerances.diagonal(each.length)
            answer = judged(measured - each.length, allowed)
            yield CheckedLength(
                "diagonal", each.start, each.end, f"across {each.of}", each.length, measured, allowed, answer
            )


def _ties(layout: Layout, at: Mapping[str, Point], tolerances: Tolerances) -> Iterator[CheckedLength]:
    for tie in layout.ties:
        if tie.corner in at:
            line = layout.lines[tie.line].line
            side = math.copysign(1.0, line.offset(tie.at))
            measured, allowed = side * line.offset(at[tie.corner]), tolerances.length(tie.distance)
            answer = judged(measured - tie.distance, allowed)
            yield CheckedLength(
                "tie", tie.corner, tie.line, f"square from {tie.line}", tie.distance, measured, allowed, answer
            )


def square_pairs(lengths: Sequence[CheckedLength]) -> Iterator[tuple[CheckedLength, CheckedLength]]:
    """The two diagonals of each rectangle, which are alike in the drawing."""
    by_rectangle: dict[str, list[CheckedLength]] = {}
    for each in lengths:
        if each.kind == "diagonal":
            by_rectangle.setdefault(each.words, []).append(each)
    for pair in by_rectangle.values():
        if len(pair) == 2 and abs(pair[0].design - pair[1].design) < ALIKE:
            yield pair[0], pair[1]


def lengths_in(lengths: Sequence[CheckedLength], share: float = 1.0) -> bool:
    """Whether no side, diagonal or pair of diagonals is out of a share of what is allowed."""
    within = (judged(each.difference, each.allowed, share) != "out" for each in lengths if each.kind != "tie")
    return all(within) and not any(pair_out(pair, share) for pair in square_pairs(lengths))


def pair_out(pair: tuple[CheckedLength, CheckedLength], share: float = 1.0) -> bool:
    """Whether two diagonals that are alike in the drawing differ by more than one so long may be off.

    A form out of square makes one longer by as much as the other shorter, so that each by itself shows half of it. The
    figure is that of a diagonal; it is read as that of the pair too, own choice. False where there is no figure.
    share: of the figure that is asked for.
    """
    return judged(pair[0].measured - pair[1].measured, pair[0].allowed, share) == "out"


def differ_words(pair: tuple[CheckedLength, CheckedLength], write: Notation) -> str:
    """By how much the two differ, and how much is allowed where that is less."""
    ends = " and ".join(f"{each.start}-{each.end}" for each in pair)
    words = f"diagonals {ends} differ by {about(abs(pair[0].measured - pair[1].measured), write)}"
    allowed = pair[0].allowed.plus_minus
    return f"{words} where {figure_words(allowed, write)} is allowed" if allowed and pair_out(pair) else words


def angles_of(layout: Layout, corners: Sequence[Deviation]) -> tuple[CheckedAngle, ...]:
    """The inside angle at each corner whose neighbours were measured too, between straight lines to them."""
    design, names, count = layout.slab.form.corners, layout.corner_names, len(layout.corner_names)
    at = {each.design.corner: each.measured.at for each in corners}
    left_hand = layout.slab.form.outline.counter_clockwise
    found = []
    for index in range(count):
        around = ((index - 1) % count, index, (index + 1) % count)
        if not all(each in at for each in around):
            continue
        wanted = _inside([design[each] for each in around], left_hand=left_hand)
        measured = _inside([at[each] for each in around], left_hand=left_hand)
        short = min(distance(design[index], design[each]) for each in (around[0], around[2]))
        off = short * math.sin(math.radians(measured - wanted))
        found.append(CheckedAngle(names[index], wanted, measured, off))
    return tuple(found)


def _inside(around: Sequence[Point], *, left_hand: bool) -> float:
    """The angle on the slab's side [deg], 0 to 360."""
    before, at, after = around
    to, back = vector(at, after), vector(at, before)
    turn = math.degrees(math.atan2(to.cross(back), to.dot(back)))
    return (turn if left_hand else -turn) % 360.0
