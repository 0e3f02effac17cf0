"""A stake before it has a name, and the ends of strings, which offsets and batter boards share."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from operator import itemgetter
from typing import Literal

from staking.kinds.slab import SAME, Form, Outline
from staking.survey.lines import Line
from staking.survey.points import Point, distance
from staking.survey.polygons import beyond_everything

_CLEAR = 1e-6  # metres within which a string's end counts as that of its side
_TRIES = 400  # distances tried for a stake; with the steps of a site in feet some 100 ft

Series = Literal["corners", "offsets", "batter_boards", "marks"]
StakeKind = Literal["corner", "part corner", "offset", "post", "nail", "mark"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where to drive what. side, beyond: of the outline, from 0: the stake stands on the line of that side.

    along [m]: on that line from the side's beginning; below 0 or above its length where the stake is off its ends.
    part: the part it belongs to. entry: of [[stakes]], from 0, which asks for it. moved [m]: how much farther away it
    stands than the entry asks for, to be out of the excavation.
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
    moved: float = 0.0


@dataclass(frozen=True, slots=True)
class KeptOut:
    """Where stakes may stand. wishes: each says whether stakes may stand at places; the strictest first.

    step [m]: a distance that must grow grows to the next whole multiple of it, so that it is easily taped. free: asked
    of such places besides, so that none comes to stand on another stake.
    """

    wishes: tuple[Callable[[Sequence[Point]], bool], ...] = ()
    step: float = 0.05
    free: Callable[[Sequence[Point]], bool] | None = None

    def distance(self, asked: float, places: Callable[[float], Sequence[Point]]) -> float:
        """The least distance from the one asked upward that fulfils a wish, the strictest that can be [m].

        places: where the stakes come to stand at a distance. The distance asked for where no wish can be fulfilled.
        """
        for fits in self.wishes:
            if fits(places(asked)):
                return asked
            found = (each for each in self._farther(asked) if fits(places(each)) and self._is_free(places(each)))
            if (best := next(found, None)) is not None:
                return best
        return asked

    def _farther(self, asked: float) -> Iterator[float]:
        first = math.floor(asked / self.step + _CLEAR) + 1
        return (number * self.step for number in range(first, first + _TRIES))

    def _is_free(self, places: Sequence[Point]) -> bool:
        return self.free is None or self.free(places)


ANYWHERE = KeptOut()


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
    others: sides on the same line, as those of a recess have on both hands of it, over which this end holds the string.
    """

    side: int
    corner: int
    line: Line
    past: float
    clear: bool
    others: tuple[int, ...] = ()

    @property
    def stops(self) -> Point:
        """Where everything of the slab on this line is behind."""
        return self.line.at(self.past)

    def sides_label(self, outline: Outline) -> str:
        """The sides whose string it holds, in words."""
        return " and ".join(outline.side_label(side) for side in (self.side, *self.others))


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
    return _shared(
        [
            StringEnd(side, corner, toward, far, clear=far - toward.length < _CLEAR)
            for (side, corner, toward), far in zip(ends, past, strict=True)
        ]
    )


def _shared(ends: Sequence[StringEnd]) -> tuple[StringEnd, ...]:
    """The ends without those at which the string of another side on the same line ends already.

    The one nearest to its own side stays and holds the string for all of them.
    """
    kept = {}
    for group in _groups(ends):
        first = min(group, key=lambda end: (end.past - end.line.length, end.side))
        kept[first] = replace(first, others=tuple(sorted(end.side for end in group if end is not first)))
    return tuple(kept[end] for end in ends if end in kept)


def _groups(ends: Sequence[StringEnd]) -> list[list[StringEnd]]:
    """The ends that are one; looked for among those of like easting only, so that many sides take no long time."""
    groups: list[list[StringEnd]] = []
    near: list[list[StringEnd]] = []
    last = -math.inf
    for east, end in sorted(((it.stops.east, it) for it in ends), key=itemgetter(0)):
        near = near if east - last < _CLEAR else []
        group = next((it for it in near if _one_end(it[0], end)), None)
        if group is None:
            group = []
            near.append(group)
            groups.append(group)
        group.append(end)
        last = east
    return groups


def _one_end(one: StringEnd, other: StringEnd) -> bool:
    """Whether two strings run along one line and end in one place."""
    same = (
        one.line.direction.dot(other.line.direction) > 0 and abs(one.line.direction.cross(other.line.direction)) < SAME
    )
    return same and distance(one.stops, other.stops) < _CLEAR
