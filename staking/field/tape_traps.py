"""Are the diagonals equal, and is the form square nevertheless not proven, or plainly not square?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from staking.field.tape_book import TapeReading
from staking.field.taped import Span, allowed, slab_spans
from staking.layout.computed import Layout

Pair = tuple[TapeReading, TapeReading]


@dataclass(frozen=True)
class Trap:
    """Two diagonals of one rectangle that are equal. unread: sides of it that nobody measured.

    unequal: two opposite sides that were measured and differ; None with all sides read: opposite sides agree, but not
    with the drawing.
    """

    diagonals: Pair
    unread: tuple[Span, ...]
    unequal: Pair | None


def traps(layout: Layout, readings: Sequence[TapeReading], *, shape_open: bool) -> Iterator[Trap]:
    """Every rectangle of the sheet whose diagonals were read equal, and which that does not prove square.

    shape_open: the readings leave the shape of the slab open. Only then is there anything to say of a rectangle that
    is part of an outline with inside corners: not all of its edges are sides, and other readings may prove it.
    """
    read = {reading.span.key: reading for reading in readings}
    sides = {span.key: span for span in slab_spans(layout) if span.kind == "side"}
    designs = {side.taped: side.chord for side in layout.sides}
    pairs = list(layout.diagonals)
    for one, other in zip(pairs[::2], pairs[1::2], strict=False):
        both = read.get(frozenset((one.start, one.end))), read.get(frozenset((other.start, other.end)))
        ring = (one.start, other.start, one.end, other.end)
        edges = [Span(a, b, "other", "") for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
        around = [sides.get(edge.key, edge) for edge in edges]
        if one.of != other.of or both[0] is None or both[1] is None:
            continue
        found = _trap(layout, (both[0], both[1]), around, read, designs) if shape_open or _all_sides(around) else None
        if found:
            yield found


def _all_sides(around: Sequence[Span]) -> bool:
    return all(edge.kind == "side" for edge in around)


def _trap(
    layout: Layout,
    both: Pair,
    around: Sequence[Span],
    read: dict[frozenset[str], TapeReading],
    designs: dict[str, float],
) -> Trap | None:
    if abs(both[0].value - both[1].value) > (allowed(layout, both[0].span, both[0].value)[0] or 0.0):
        return None
    unread = tuple(side for side in around if side.key not in read)
    measured = [read[side.key] for side in around if side.key in read]
    if unread or not _all_sides(around):
        return Trap(both, unread, None) if unread else None
    apart = max(((measured[0], measured[2]), (measured[1], measured[3])), key=lambda p: abs(p[0].value - p[1].value))
    limits = [allowed(layout, side, designs[side.words])[0] or 0.0 for side in around]
    if abs(apart[0].value - apart[1].value) > min(limits):
        return Trap(both, (), apart)
    off = [
        abs(reading.value - designs[side.words]) > limit
        for side, reading, limit in zip(around, measured, limits, strict=True)
    ]
    return Trap(both, (), None) if any(off) else None
