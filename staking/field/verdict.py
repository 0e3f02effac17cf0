"""What does a comparison come to, a sentence a question? It never approves: whoever is licensed or inspects decides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from staking.field.compared import (
    Answer,
    CheckedLength,
    Comparison,
    Deviation,
    LevelsSet,
    MarginNow,
    Placement,
    Sentence,
)
from staking.field.out_of_shape import FEWEST as CORNERS
from staking.field.shape import differ_words, lengths_in, square_pairs
from staking.field.words import about, figure_words, placed_words
from staking.findings import Severity
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.survey.check_points import FEWEST, horizontal_95, spread

DECIDES = "the inspector decides"
MOST = 4  # lengths that are named in one line


def verdict_of(found: Comparison) -> tuple[Sentence, ...]:
    """A sentence for the corners, other points, heights, placement, shape and margins; the overall one comes last."""
    write = found.layout.notation
    corners, missing = found.corners, len(found.missing)
    others = [each for each in found.deviations if each.design.corner is None and each.design.what != "given"]
    given = [each for each in found.deviations if each.design.what == "given"]
    lines = [
        *_points("corner", corners, missing, write),
        *_points("other stake", others, 0, write),
        *_given(given, write),
        *_heights(found.deviations, write),
        *_level(found.levels, write),
        *_together(found.deviations, write),
        *as_a_whole(found),
    ]
    doubts = any(each.severity >= Severity.STRONG for each in found.findings)
    return (*lines, _overall(lines, corners, missing, write, doubts=doubts))


def as_a_whole(found: Comparison) -> tuple[Sentence, ...]:
    """How the whole slab stands, what is out of its shape, and what room it leaves: some of the sentences."""
    layout = found.layout
    return (
        *_placement(layout, found.placement, found.corners),
        *_shape(found.lengths, found.placement, found.corners, layout.notation),
        *_margins(found.margins, layout.notation),
    )


def _answer(each: Sequence[Answer]) -> Answer:
    if "out" in each:
        return "out"
    return "within" if "within" in each else "not judged"


def _points(what: str, found: Sequence[Deviation], missing: int, write: Notation) -> Iterator[Sentence]:
    """How many are within what is allowed."""
    if not found:
        return
    out = [each for each in found if each.answer == "out"]
    few = "".join(f"; {missing} not measured" for _ in range(missing > 0))
    if out:
        worst = max(out, key=lambda each: each.plan.length)
        text = (
            f"{len(out)} of {len(found)} measured {what}s out of tolerance; the worst, {worst.design.name}, by "
            f"{write.small(worst.plan.length)} where {_allowed(worst, write)} is allowed"
        )
        yield Sentence(text + few, "out")
    else:
        yield Sentence(
            f"{_all(len(found), what)} within {_bound(found, write)}{few}", _answer([e.answer for e in found])
        )


def _given(found: Sequence[Deviation], write: Notation) -> Iterator[Sentence]:
    """Whether the given points that were measured agree with their coordinates."""
    out = [each.design.name for each in found if each.answer == "out"]
    if out:
        yield Sentence(f"given points measured again do not agree with their coordinates: {', '.join(out)}", "out")
    elif found:
        names, worst = ", ".join(each.design.name for each in found), max(each.plan.length for each in found)
        yield Sentence(f"given points measured again ({names}) agree to {about(worst, write)}", "within")


def _all(count: int, what: str) -> str:
    if count == 1:
        return f"the measured {what} is"
    return f"{'both' if count == 2 else f'all {count}'} measured {what}s are"


def _allowed(each: Deviation, write: Notation) -> str:
    return "no figure" if each.allowed.plus_minus is None else figure_words(each.allowed.plus_minus, write)


def _bound(found: Sequence[Deviation], write: Notation) -> str:
    """What all of them are within: the figure allowed, or where there is none what was measured."""
    allowed = [each.allowed.plus_minus for each in found]
    if None in allowed:
        return f"{write.small(max(each.plan.length for each in found))} of the drawing; no figure says what is allowed"
    return f"{figure_words(max(figure for figure in allowed if figure is not None), write)} of the drawing"


def _heights(found: Sequence[Deviation], write: Notation) -> Iterator[Sentence]:
    high = [each for each in found if each.up is not None and each.design.what != "given"]
    out = [each for each in high if each.answer_up == "out"]
    if out:
        worst = max(out, key=lambda each: abs(each.up or 0.0))
        text = f"{len(out)} of {len(high)} heights out of tolerance; the worst, {worst.design.name}, by "
        yield Sentence(text + write.small(abs(worst.up or 0.0)), "out")
    elif high:
        figure = high[0].allowed_up.plus_minus
        within = f" within {figure_words(figure, write)} of their design" if figure is not None else " not judged"
        yield Sentence(f"{len(high)} height{'s' * (len(high) > 1)}{within}", _answer([e.answer_up for e in high]))


def _level(levels: LevelsSet | None, write: Notation) -> Iterator[Sentence]:
    """How level the form is over each distance that is asked for."""
    pairs = zip(levels.flatness, levels.flat, strict=True) if levels else ()
    for (over, much, one, other), (allowed, answer) in pairs:
        if one != other and allowed.plus_minus is not None:
            words = f"level over {write.length(over)}: at the most {write.small(much)} between {one} and {other}"
            yield Sentence(f"{words}, {figure_words(allowed.plus_minus, write)} is allowed", answer)


def _together(found: Sequence[Deviation], write: Notation) -> Iterator[Sentence]:
    """The root mean square of many points, and the statement of accuracy that 20 of them allow."""
    steps = [each.plan for each in found if each.design.what != "given"]
    if len(steps) < FEWEST:
        return
    east, north = (spread([getattr(step, way) for step in steps]).root_mean_square for way in ("east", "north"))
    text = f"{len(steps)} points together: root mean square {write.small(math.hypot(east, north))} in plan"
    circle = horizontal_95(east, north)
    if circle is not None:
        text += f"; tested {write.small(circle)} horizontal accuracy at 95 % confidence level (NSSDA)"
    yield Sentence(text, "not judged")


def _placement(layout: Layout, placement: Placement | None, corners: Sequence[Deviation]) -> Iterator[Sentence]:
    if placement is None:
        return
    write, moved = layout.notation, _within(placement.largest_placed, corners)
    if moved == "within":
        most = about(placement.largest_placed, write)
        yield Sentence(f"the slab as a whole is in place: shift and turn move a corner by {most} at the most", moved)
        return
    text = f"the slab as a whole is {placed_words(placement.shift, placement.turn, layout.slab.form.pose.right, write)}"
    yield Sentence(f"{text}, which moves a corner up to {write.small(placement.largest_placed)}", moved)


def _within(off: float, corners: Sequence[Deviation]) -> Answer:
    figures = [each.allowed.plus_minus for each in corners if each.allowed.plus_minus is not None]
    return "not judged" if not figures else "within" if off <= max(figures) + 1e-9 else "out"


def _shape(
    lengths: Sequence[CheckedLength], placement: Placement | None, corners: Sequence[Deviation], write: Notation
) -> Iterator[Sentence]:
    if placement is None or placement.redundancy < 1:
        return
    checked = [each for each in lengths if each.kind != "tie"]
    out = [each for each in checked if each.answer == "out"]
    answer, rest = _answer([each.answer for each in checked]), about(placement.largest_shape, write)
    whole = len(placement.shape) - len(placement.left_out) >= CORNERS
    square = "".join(f"; {differ_words(pair, write)}" for pair in square_pairs(checked))
    if not out and not lengths_in(checked):
        yield Sentence(f"out of square{f', a corner by {rest}' * whole}: {square.removeprefix('; ')}", "out")
    elif not out and whole and _within(placement.largest_shape, corners) == "out":
        right = "; each side and diagonal is within tolerance" * (answer == "within")
        yield Sentence(f"out of shape, a corner by {rest}{right}{square}", "out")
    elif out:
        named = ", ".join(f"{each.kind} {each.start}-{each.end} {_longer(each, write)}" for each in out[:MOST])
        named += f" and {len(out) - MOST} more" * (len(out) > MOST)
        yield Sentence(f"out of shape{f', a corner by {rest}' * whole}: {named}{square}", "out")
    elif not whole:
        judged = ", and that is within tolerance" * (answer == "within")
        yield Sentence(f"two corners tell of the shape no more than the distance between them{judged}", answer)
    elif answer == "within":
        yield Sentence(f"the shape is right to {rest}; sides and diagonals are within tolerance{square}", answer)
    else:
        yield Sentence(f"a corner is out of shape by {rest}; no figure says what is allowed{square}", answer)


def _longer(each: CheckedLength, write: Notation) -> str:
    return f"{write.small(abs(each.difference))} {'long' if each.difference > 0 else 'short'}"


def _margins(margins: Sequence[MarginNow], write: Notation) -> Iterator[Sentence]:
    """A setback has no plus tolerance: below 0 is over the line."""
    known = [each.now for each in margins if each.now is not None]
    if not margins:
        return
    if not known:
        yield Sentence("room to lines is not known: not every corner was measured in its place", "not judged")
        return
    for now in known:
        if now.room < 0:
            yield Sentence(
                f"OVER the {now.rule} to {now.of} by {write.small(-now.room)}; a setback has no tolerance", "out"
            )
    least = min(known, key=lambda each: each.room)
    if least.room >= 0:
        yield Sentence(
            f"the slab clears every line; the least room, {least.rule} {least.of}, {write.length(least.room)}", "within"
        )


def _overall(
    lines: Sequence[Sentence], corners: Sequence[Deviation], missing: int, write: Notation, *, doubts: bool
) -> Sentence:
    """The last sentence."""
    if not corners:
        return Sentence(f"no corner of the slab was measured, so nothing is said of the slab; {DECIDES}", "not judged")
    if any(line.answer == "out" for line in lines):
        return Sentence(f"something is out: settle it before concrete; {DECIDES}", "out")
    if doubts:
        return Sentence(f"something in the measuring is in doubt: settle it and measure again; {DECIDES}", "out")
    some = "every measured corner" if not missing else f"{missing} not measured; every measured corner"
    return Sentence(f"{some} is within {_bound(corners, write)}; {DECIDES}", _answer([each.answer for each in corners]))
