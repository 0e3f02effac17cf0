"""Which stake of one revision is which of another? By what it is for, never by its name alone.

A stake is for the same thing where kind, part, corner and side are the same. Several for one thing, as the marks along
a side, are taken in order from the beginning of the side where there are as many as before; else those that stand
where one stood are the same, and the rest are gone or new. Where the outline has another number of corners, corners
and sides are told by their names (back-right), since their numbers mean something else.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from staking.layout.revision import Corner, Driven, told_by
from staking.survey.points import Point, distance

ON_SLAB = frozenset({"corner", "part corner", "mark"})  # kinds that mark the slab itself

_NUMBERS = re.compile(r"\d+(?:-\d+)?")

Pair = tuple[Driven, Driven]
Meaning = tuple[str, ...]


@dataclass(frozen=True)
class Stood:
    """Stakes of a revision with the outline they belong to, on one ground."""

    stakes: tuple[Driven, ...]
    outline: tuple[Corner, ...]


@dataclass(frozen=True)
class Matched:
    """pairs: old and new stake for one thing. gone: old ones that are for nothing now. fresh: new ones."""

    pairs: tuple[Pair, ...]
    gone: tuple[Driven, ...]
    fresh: tuple[Driven, ...]


def matched(old: Stood, new: Stood, near: float) -> Matched:
    """Every stake in one of the three, in the order of its revision. near [m]: what counts as the same place."""
    told = meaning_of(same_shape=len(old.outline) == len(new.outline))
    before, after = _grouped(old, told), _grouped(new, told)
    pairs: list[Pair] = []
    for meaning in before.keys() & after.keys():
        pairs += _paired(before[meaning], after[meaning], near)
    taken = {id(stake) for pair in pairs for stake in pair}
    pairs += in_place(_left(old.stakes, taken), _left(new.stakes, taken), near, _alike)
    taken = {id(stake) for pair in pairs for stake in pair}
    order = {id(stake): at for at, stake in enumerate(new.stakes)}
    pairs.sort(key=lambda pair: order[id(pair[1])])
    return Matched(tuple(pairs), tuple(_left(old.stakes, taken)), tuple(_left(new.stakes, taken)))


def _left(stakes: Iterable[Driven], taken: set[int]) -> list[Driven]:
    return [stake for stake in stakes if id(stake) not in taken]


def meaning_of(*, same_shape: bool) -> Callable[[Driven], Meaning]:
    """How to tell what a stake is for. same_shape: whether corners of one number mean the same.

    An empty meaning is none: the place of the stake alone can tell.
    """

    def told(stake: Driven) -> Meaning:
        named = [_told(label, same_shape=same_shape) for label in (stake.corner, stake.side)]
        if None in named:
            return ()
        # posts and corners of parts are told by their words, in which no length stands
        words = stake.note if stake.kind in ("post", "part corner") else ""
        words = words if same_shape or stake.part else _NUMBERS.sub("", words)
        return (stake.kind, stake.part, *(name or "" for name in named), words)

    return told


def _told(label: str, *, same_shape: bool) -> str | None:
    """What tells a corner or side: its number, or its name where numbers do not mean the same; None where nothing."""
    number, name = told_by(label)
    return number if same_shape else name or (None if number else "")


def _grouped(stood: Stood, told: Callable[[Driven], Meaning]) -> dict[Meaning, list[Driven]]:
    starts = {told_by(corner.label)[0]: corner.at for corner in stood.outline}
    groups: dict[Meaning, list[Driven]] = defaultdict(list)
    for stake in stood.stakes:
        if meaning := told(stake):
            groups[meaning].append(stake)
    for group in groups.values():
        group.sort(key=lambda stake: _from_start(stake, starts))
    return groups


def _from_start(stake: Driven, starts: dict[str, Point]) -> float:
    """How far a stake is from the beginning of its side [m]; 0 where it stands on none."""
    start = starts.get(told_by(stake.side)[0].partition("-")[0])
    return 0.0 if start is None else distance(start, stake.at)


def _paired(before: Sequence[Driven], after: Sequence[Driven], near: float) -> Iterator[Pair]:
    if len(before) == len(after):
        yield from zip(before, after, strict=True)
    else:
        yield from in_place(before, after, near)


def _alike(old: Driven, new: Driven) -> bool:
    """Whether a stake that stands in the place of another can be that one: both on the slab, or of one kind."""
    return old.kind == new.kind or {old.kind, new.kind} <= ON_SLAB


def in_place(
    before: Iterable[Driven],
    after: Iterable[Driven],
    near: float,
    fits: Callable[[Driven, Driven], bool] = lambda _old, _new: True,
) -> Iterator[Pair]:
    """Old and new stakes that stand in one place, each in one pair at the most. near [m]: apart at the most."""
    cells: dict[tuple[int, int], list[Driven]] = defaultdict(list)
    for stake in before:
        cells[_cell(stake.at, near)].append(stake)
    for stake in after:
        here = [it for it in _round(cells, stake.at, near) if fits(it, stake)]
        if here:
            nearest = min(here, key=lambda it: (distance(it.at, stake.at), it.name != stake.name))
            cells[_cell(nearest.at, near)].remove(nearest)
            yield nearest, stake


def neighbours(before: Iterable[Driven], after: Iterable[Driven], near: float) -> Iterator[Pair]:
    """Every pair of an old and a new stake that stand nearer to one another than `near` [m]."""
    cells: dict[tuple[int, int], list[Driven]] = defaultdict(list)
    for stake in before:
        cells[_cell(stake.at, near)].append(stake)
    for stake in after:
        yield from ((it, stake) for it in _round(cells, stake.at, near))


def _cell(at: Point, size: float) -> tuple[int, int]:
    return math.floor(at.east / size), math.floor(at.north / size)


def _round(cells: dict[tuple[int, int], list[Driven]], at: Point, near: float) -> Iterator[Driven]:
    column, row = _cell(at, near)
    around = ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
    for stake in (it for cell in around for it in cells.get(cell, ())):
        if distance(stake.at, at) <= near:
            yield stake
