"""The tables of the as-built report: corners, placement against shape, lengths, angles, margins, heights, the rest.

Figures are rounded as the site writes them and judged before they are rounded. A table has room for so many rows; what
is out comes first, and the rest is in as_built.csv.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from staking.field.compared import (
    Allowed,
    Answer,
    CheckedLength,
    Comparison,
    Deviation,
    MarginNow,
    Placement,
)
from staking.field.levels_words import levels_set_sentences, raise_words
from staking.field.words import own_words, step_words, turn_words, up_words, wall_words
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.sheets.as_built_doubt import NEAR, allowed_words, near, near_line
from staking.sheets.page import Block, Bullets, Heading, Paragraph, Table
from staking.survey.points import distance

MOST = 40  # rows of a table: about a page
_ANSWERS: dict[Answer, str] = {"within": "within", "out": "OUT", "not judged": "not judged"}

Row = TypeVar("Row")


def first_out(rows: Sequence[Row], rank: Callable[[Row], tuple[bool, float]]) -> tuple[tuple[Row, ...], int]:
    """As many rows as a table has room for, in their order, and how many are left out.

    rank: whether a row is out, and how far it is off; what is out stays longest, and then what is farthest off.
    """
    if len(rows) <= MOST:
        return tuple(rows), 0
    order = sorted(range(len(rows)), key=lambda at: rank(rows[at]), reverse=True)
    return tuple(rows[at] for at in sorted(order[:MOST])), len(rows) - MOST


def left_out(count: int) -> Iterator[Block]:
    """The sentence below a table that shows only a part."""
    if count:
        yield Paragraph(
            f"{count} more are left out here and stand in as_built.csv; what is out, and then what is "
            "farthest off, is shown."
        )


def _signed(metres: float, write: Notation) -> str:
    text = write.small(metres)
    return text if text.startswith("-") or write.small(abs(metres)) == write.small(0.0) else f"+{text}"


def _sources(allowed: Iterable[tuple[str, Allowed]], write: Notation) -> str:
    """What is allowed of what, each figure once, with where it comes from."""
    by_source: dict[str, dict[str, None]] = {}
    for what, each in dict.fromkeys(allowed):
        if each.source:
            by_source.setdefault(each.source, {})[f"{what} {allowed_words(each, write)}"] = None
    said = "; ".join(f"{', '.join(figures)} ({source})" for source, figures in by_source.items())
    return f" Allowed: {said}." if said else ""


def corner_blocks(comparison: Comparison) -> Iterator[Block]:
    """Every corner: where it lies to its wall lines, by north, east and height, what is allowed, and the answer."""
    yield Heading("Corners, measured less computed")
    if not comparison.corners:
        yield Paragraph("No corner of the slab was measured.")
    else:
        yield from _points(comparison, comparison.corners)
    if comparison.missing:
        names = ", ".join(f"{each.name} ({each.words})" for each in comparison.missing)
        yield Paragraph(f"Not measured, so nothing is said about it: {names}.", strong=True)


def _points(comparison: Comparison, points: Sequence[Deviation]) -> Iterator[Block]:
    shown, rest = first_out(points, lambda each: (_worse(each) == "out", each.plan.length))
    heights = any(each.up is not None for each in shown)
    head = ("point", "to its wall lines", "north", "east", *(("up",) if heights else ()), "off", "allowed", "answer")
    rows = tuple(_point(comparison, each, heights=heights) for each in shown)
    yield Table(head, rows, right=frozenset(range(2, len(head) - 1)))
    yield from left_out(rest)
    write = comparison.layout.notation
    allowed = [("in plan", each.allowed) for each in points]
    allowed += [("in height", each.allowed_up) for each in points if each.up is not None]
    sources = _sources(allowed, write)
    yield Paragraph(f"Off: in plan, whichever way. Figures are rounded; they were judged before.{sources}")
    if any(near(comparison, each) for each in shown):
        yield Paragraph(NEAR)


def _worse(each: Deviation) -> Answer:
    return "out" if "out" in (each.answer, each.answer_up) else each.answer


def _point(comparison: Comparison, each: Deviation, *, heights: bool) -> tuple[str, ...]:
    write = comparison.layout.notation
    up = "-" if each.up is None else _signed(each.up, write)
    return (
        _name(each),
        wall_words(each, write),
        _signed(each.plan.north, write),
        _signed(each.plan.east, write),
        *((up,) if heights else ()),
        write.small(each.plan.length),
        allowed_words(each.allowed, write),
        _answer(comparison, each),
    )


def _name(each: Deviation) -> str:
    if each.by_name and each.measured.name == each.design.name:
        return each.design.name
    return f"{each.design.name} (as {each.measured.name})"


def _answer(comparison: Comparison, each: Deviation) -> str:
    words = _ANSWERS[each.answer] + (", near" if near(comparison, each) else "")
    if each.up is None or each.answer_up == "not judged":
        return words
    return words if each.answer_up == each.answer else f"{words}; height {_ANSWERS[each.answer_up]}"


def placement_blocks(comparison: Comparison) -> Iterator[Block]:
    """What the whole slab is moved and turned, against what is out of shape."""
    placed = comparison.placement
    if placed is None:
        return
    layout = comparison.layout
    yield Heading("Placement against shape")
    yield Paragraph(_moved(layout, placed))
    yield Paragraph(_shape(comparison, placed))
    if len(placed.shape) <= MOST:
        yield _rests(layout, placed)


def _moved(layout: Layout, placed: Placement) -> str:
    write = layout.notation
    shift = "stands in its place"
    if write.small(placed.shift.length) != write.small(0.0):
        own = own_words(placed.shift, layout.slab.form.pose.right, write)
        words = f"{step_words(placed.shift, write)}; seen from its front {own}"
        shift = f"is shifted {write.small(placed.shift.length)}: {words}"
    far = max(distance(placed.middle, at) for at in layout.slab.form.corners)
    over = write.small(far * math.radians(abs(placed.turn)))
    turn = "It is not turned"
    if over != write.small(0.0):
        turn = f"It is turned {turn_words(placed.turn, write)}, which is {over} at the corner farthest from its middle"
    return f"As a whole the slab {shift}. {turn}.{_known(placed, write)}"


def _known(placed: Placement, write: Notation) -> str:
    if placed.shift_error is None or placed.turn_error is None:
        return ""
    return (
        f" By the stated error of measurement the shift is known to {write.fine(placed.shift_error)} each way, the "
        f"turn to {write.azimuth(placed.turn_error)} (standard errors)."
    )


def _shape(comparison: Comparison, placed: Placement) -> str:
    write = comparison.layout.notation
    if len(placed.shape) - len(placed.left_out) < 3:
        return "Two corners tell of the shape no more than the distance between them."
    name, rest = max(placed.shape, key=lambda each: each[1].length)
    larger = "placement" if placed.largest_placed > placed.largest_shape else "shape"
    words = (
        f"Moved and turned back, the slab is out of shape by {write.small(rest.length)} at {name}, where most is left. "
        f"The larger part is {larger}: shift and turn move a corner by up to {write.small(placed.largest_placed)}."
    )
    if placed.left_out:
        belong = "does" if len(placed.left_out) == 1 else "do"
        words += (
            f" {', '.join(placed.left_out)} {belong} not belong with the others and took no part in shift and turn."
        )
    return words


def _rests(layout: Layout, placed: Placement) -> Table:
    write, right = layout.notation, layout.slab.form.pose.right
    rows = tuple((name, write.small(rest.length), own_words(rest, right, write)) for name, rest in placed.shape)
    return Table(("corner", "out of shape", "seen from the front"), rows, (1, 1, 3), right=frozenset({1}))


def length_blocks(comparison: Comparison) -> Iterator[Block]:
    """Sides, diagonals and ties by the measured points."""
    if not comparison.lengths:
        return
    lengths = comparison.lengths
    shown, rest = first_out(lengths, lambda each: (each.answer == "out", abs(each.difference)))
    yield Heading("Sides, diagonals and ties")
    yield Table(
        ("what", "from", "to", "computed", "measured", "difference", "allowed", "answer"),
        tuple(_length(comparison, each) for each in shown),
        right=frozenset({3, 4, 5, 6}),
    )
    if rest:
        yield Paragraph(f"The {len(shown)} that are out or farthest off, of {len(lengths)}.")
    write = comparison.layout.notation
    sources = _sources(((f"{each.kind}s", each.allowed) for each in lengths), write)
    none = any(each.allowed.plus_minus is None for each in lengths)
    unjudged = " No figure: the source gives none for such a length." if none else ""
    yield Paragraph(f"Between measured points, level.{sources}{unjudged}")


def _length(comparison: Comparison, each: CheckedLength) -> tuple[str, ...]:
    write = comparison.layout.notation
    return (
        each.words if each.kind == "side" else each.kind,
        each.start,
        each.end,
        write.length(each.design),
        write.length(each.measured),
        _signed(each.difference, write),
        allowed_words(each.allowed, write),
        _ANSWERS[each.answer] + (", near" if near(comparison, each) else ""),
    )


def taped_blocks(comparison: Comparison) -> Iterator[Block]:
    """The readings of a tape that the corners come from."""
    if not comparison.taped:
        return
    yield Heading("Readings of the tape")
    shown, rest = first_out(comparison.taped, lambda each: (each.residual is None, abs(each.residual or 0.0)))
    write = comparison.layout.notation
    yield Table(
        ("from", "to", "what", "read", "level length", "residual"),
        tuple(
            (
                each.start,
                each.end,
                each.words,
                write.length(each.read),
                write.length(each.level),
                "left out" if each.residual is None else _signed(each.residual, write),
            )
            for each in shown
        ),
        right=frozenset({3, 4, 5}),
    )
    more = f" {rest} more agree at least as well." if rest else ""
    yield Paragraph(f"Level length: corrected for the tape. Residual: what would make all agree.{more}")


def angle_blocks(comparison: Comparison) -> Iterator[Block]:
    """Inside angles, and what they come to at the end of the shorter side."""
    if not comparison.angles:
        return
    write = comparison.layout.notation
    yield Heading("Angles")
    shown, rest = first_out(comparison.angles, lambda each: (False, abs(each.off)))
    yield Table(
        ("corner", "computed", "measured", "off"),
        tuple(
            (each.corner, write.azimuth(each.design), write.azimuth(each.measured), write.small(abs(each.off)))
            for each in shown
        ),
        right=frozenset({1, 2, 3}),
    )
    yield Paragraph("Off: square to the longer side at the end of the shorter one.")
    if rest:
        yield Paragraph(f"The {len(shown)} that are farthest off, of {len(comparison.angles)}.")


def margin_blocks(comparison: Comparison) -> Iterator[Block]:
    """The room to every line by the measured outline."""
    if not comparison.margins:
        return
    yield Heading("Room to every line and area, now")
    yield Table(
        ("to", "rule", "as computed", "now", "required", "to spare now", "answer"),
        tuple(_margin(comparison, each) for each in comparison.margins),
        right=frozenset({2, 3, 4, 5}),
    )
    yield Paragraph("By the outline as measured. A setback has no plus tolerance.")
    if any(each.now is not None and near_line(comparison, each.now.room) for each in comparison.margins):
        yield Paragraph(NEAR)
    if any(each.now is None for each in comparison.margins):
        yield Paragraph("Not known: the outline was not measured whole, or crosses itself.")


def _margin(comparison: Comparison, each: MarginNow) -> tuple[str, ...]:
    write, design, now = comparison.layout.notation.length, each.design, each.now
    free = design.rule == "lot line" and design.what == "outline"
    return (
        design.of if design.what == "outline" else f"{design.of} ({design.what})",
        design.rule,
        write(design.distance),
        "not known" if now is None else write(now.distance),
        "not given" if free else write(design.required),
        "not known" if now is None else write(now.room),
        "not judged" if now is None else _clears(comparison, now.room),
    )


def _clears(comparison: Comparison, room: float) -> str:
    return ("clears" if room >= 0 else "TOO NEAR") + (", near" if near_line(comparison, room) else "")


def level_blocks(comparison: Comparison) -> Iterator[Block]:
    """Heights of the form against design: what to raise and lower, and how the whole lies."""
    levels, layout = comparison.levels, comparison.layout
    if levels is None:
        return
    write = layout.notation
    yield Heading("Heights of the form")
    shown, rest = first_out(levels.marks, lambda each: (each.answer == "out", abs(each.up)))
    rows = tuple(
        (
            each.name,
            each.words,
            up_words(each.up, write),
            raise_words(each.raise_by, write),
            allowed_words(each.allowed, write),
            _ANSWERS[each.answer],
        )
        for each in shown
    )
    yield Table(("mark", "what", "now", "do", "allowed", "answer"), rows, right=frozenset({4}))
    yield from left_out(rest)
    yield Bullets(tuple(levels_set_sentences(layout, levels)))


def other_blocks(comparison: Comparison) -> Iterator[Block]:
    """Points that are no corners, given points measured again, and points that are not of the design."""
    others = [each for each in comparison.deviations if each.design.corner is None]
    yield from _others(comparison, "Other stakes and marks", [e for e in others if e.design.what != "given"])
    yield from _others(comparison, "Given points, measured again", [e for e in others if e.design.what == "given"])
    if comparison.strangers:
        names = [each.name for each in comparison.strangers]
        more = f" and {len(names) - MOST} more" if len(names) > MOST else ""
        yield Heading("Measured, but no point of the design")
        yield Paragraph(f"{', '.join(names[:MOST])}{more}. They are in as_built.csv, and held against nothing.")


def _others(comparison: Comparison, heading: str, points: Sequence[Deviation]) -> Iterator[Block]:
    if not points:
        return
    out = sum(_worse(each) == "out" for each in points)
    yield Heading(heading)
    yield Paragraph(f"{len(points)} measured; {out or 'none'} out of what is allowed.")
    yield from _points(comparison, points)
