"""Which names does a picture show when it has more points than names can be read on it?

Every second name is shown, or every fifth, tenth, 20th and so on: as many as there is room for, counted along each
side on which stakes stand, with the first and the last of the side. Where the sides are themselves too many, all
points of a layer are counted in one row. A layer of few names keeps them all. The picture says the rule in words.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from types import MappingProxyType

from staking.drawing.marks import SymbolMark
from staking.drawing.paper import Box

MANY = 24  # names; a layer that has no more keeps them all. Own choice, as are all figures here

_FEW = 8  # names of a layer, after which nothing more is left out
_FULL = 0.3  # of the room round their points: where names would cover more than that, they are not read
_ROUND = 45.0  # points round the outermost points within which their names are looked for
_WHITE = 2.0  # points of white on either side of a name
_STEPS = (2, 5, 10, 20, 50, 100, 200, 500, 1000)
_WORDS: Mapping[int, str] = MappingProxyType({2: "second", 5: "fifth", 10: "tenth"})
_NOUNS: Mapping[str, str] = MappingProxyType({"CORNER": "corner", "OFFSET": "stake", "BOARD": "stake", "MARK": "stake"})

_Kind = tuple[str, str]  # layer and symbol: marks of the frame are not counted with the corners


@dataclass(frozen=True, slots=True)
class Chosen:
    """Points in their order, some of them without their labels. note: the rule, in words; empty where all are named."""

    points: tuple[SymbolMark, ...]
    note: str = ""

    @property
    def names(self) -> int:
        """How many points are named."""
        return sum(bool(point.label) for point in self.points)


def choices(
    points: Sequence[SymbolMark], areas: Sequence[Box], size: tuple[float, float], *, many: int = MANY
) -> Iterator[Chosen]:
    """All names, then fewer and fewer; left out is what cannot be read at sight, but never the last.

    areas: what the name of each point would cover if it stood on it; size (width, height) of the paper [points];
    many: names that a layer keeps in any case.
    """
    last = Chosen(tuple(points))
    for fewer in _fewer(last, many):
        if not _too_many(last, areas, size, many):
            yield last
        last = fewer
    yield last


def _too_many(chosen: Chosen, areas: Sequence[Box], size: tuple[float, float], many: int) -> bool:
    """Whether so many names can be read nowhere near their points; not that each of fewer has a place."""
    named = [area for point, area in zip(chosen.points, areas, strict=True) if point.label]
    if len(named) <= many:
        return False
    wide = min(size[0], max(it.x for it in named) - min(it.x for it in named) + 2 * _ROUND)
    high = min(size[1], max(it.y for it in named) - min(it.y for it in named) + 2 * _ROUND)
    covered = sum(4 * (area.half_length + _WHITE) * area.half_height for area in named)
    return covered > _FULL * wide * high


def _fewer(everything: Chosen, many: int) -> Iterator[Chosen]:
    crowded = frozenset(kind for kind, names in _by_kind(everything).items() if names > many)
    last = everything
    for by_side, step in product((True, False), _STEPS):
        if all(names <= _FEW for kind, names in _by_kind(last).items() if kind in crowded):
            return
        fewer = _every(everything.points, crowded, step, by_side=by_side)
        if fewer.names < last.names:
            last = fewer
            yield last


def _kind(point: SymbolMark) -> _Kind:
    return point.layer, point.shape


def _by_kind(chosen: Chosen) -> Counter[_Kind]:
    return Counter(_kind(point) for point in chosen.points if point.label)


def _every(points: Sequence[SymbolMark], crowded: frozenset[_Kind], step: int, *, by_side: bool) -> Chosen:
    rows: dict[tuple[_Kind, str], list[int]] = {}
    for index, point in enumerate(points):
        if point.label and _kind(point) in crowded:
            rows.setdefault((_kind(point), point.side if by_side else ""), []).append(index)
    named = {index for row in rows.values() for index in (*row[::step], row[-1])}
    dropped = {index for row in rows.values() for index in row if index not in named}
    shown = tuple(replace(point, label="") if index in dropped else point for index, point in enumerate(points))
    return Chosen(shown, _note(crowded, step, sides=any(side for _, side in rows)))


def _note(crowded: frozenset[_Kind], step: int, *, sides: bool) -> str:
    nouns = {_NOUNS.get(layer, "point") for layer, _ in crowded}
    noun = nouns.pop() if len(nouns) == 1 else "point"
    ends = "the first and the last of each side" if sides else "the first and the last"
    return f"Every {_WORDS.get(step, f'{step}th')} {noun} is named, and {ends}; all are in the tables and files."
