"""Which place each text takes, so that no text lies on another text or on a symbol or leaves the box.

Texts are placed one after the other, each at the cheapest free place that it has left: a text once placed
never moves again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import NamedTuple

from staking.drawing.labels import Candidate, Label
from staking.drawing.paper import Box, PaperText, Segment, Spot, box, boxes_meet, line_meets, near

_CLEAR = 0.8  # points of white round a text
_WORD_GAP = 2.0  # and so many more before and behind it
_CROSSING = 2.5  # what it costs to stand on one line
_LAST_RESORT = 64  # places looked at once no free one is left


class Wish(NamedTuple):
    """A label and the places it could take, from the cheapest to the dearest."""

    label: Label
    places: Callable[[], Iterable[Candidate]]


@dataclass(frozen=True, slots=True)
class Placed:
    """Texts in the order of their wishes, the leaders drawn to them, and how many texts found no free place."""

    texts: tuple[PaperText, ...]
    leaders: tuple[Segment, ...]
    overlaps: int


def place(
    wishes: Sequence[Wish], symbols: Sequence[Box], lines: Sequence[Segment], size: tuple[float, float]
) -> Placed:
    """Give every wish its place in a box of that size (width, height) [points].

    symbols: never written over; lines: avoided where something else is free.
    """
    taken, crossed = list(symbols), list(lines)
    texts, leaders, overlaps = [], [], 0
    for wish in wishes:
        found = free_place(wish.places, taken, crossed, size)
        if found is None:
            found = _least_bad(wish, taken, size)
            overlaps += 1
        texts.append(wish.label.placed(found))
        taken.append(spaced(found.box))
        if found.leader:
            leaders.append(found.leader)
            crossed.append(found.leader)
    return Placed(tuple(texts), tuple(leaders), overlaps)


def free_place(
    places: Callable[[], Iterable[Candidate]], taken: Sequence[Box], lines: Sequence[Segment], size: tuple[float, float]
) -> Candidate | None:
    """The cheapest place in the box that covers nothing taken; leaders may cross what is taken only where they must."""
    return _best(places(), taken, lines, size) or _best(places(), taken, lines, size, strict=False)


def spaced(area: Box) -> Box:
    """A rectangle with room before and behind: two numbers in a line that are hardly apart are read as one."""
    return box(Spot(area.x, area.y), area.half_length + _WORD_GAP, area.half_height, area.right, area.up)


def _best(
    places: Iterable[Candidate],
    taken: Sequence[Box],
    lines: Sequence[Segment],
    size: tuple[float, float],
    *,
    strict: bool = True,
) -> Candidate | None:
    # strict: leaders keep off texts and symbols too.
    best, least = None, float("inf")
    for candidate in places:
        # Places come roughly by cost; nothing much farther down the list can still win.
        if candidate.cost >= least:
            break
        if not inside(candidate.box, size) or _hits(candidate, taken, strict=strict):
            continue
        cost = candidate.cost + _CROSSING * _crossings(candidate.box, lines)
        if cost < least:
            best, least = candidate, cost
    return best


def inside(one: Box, size: tuple[float, float], slack: float = 1e-6) -> bool:
    """Whether a rectangle lies inside the box."""
    width, height = size
    across = one.low_x >= -slack and one.high_x <= width + slack
    return across and one.low_y >= -slack and one.high_y <= height + slack


def _hits(candidate: Candidate, taken: Sequence[Box], *, strict: bool) -> bool:
    area, leader = candidate.box, candidate.leader
    if any(boxes_meet(area, other, _CLEAR) for other in near(area, taken, _CLEAR)):
        return True
    return strict and leader is not None and any(line_meets(leader, other) for other in near(leader, taken))


def _crossings(area: Box, lines: Sequence[Segment]) -> int:
    return sum(line_meets(line, area) for line in near(area, lines))


def _least_bad(wish: Wish, taken: Sequence[Box], size: tuple[float, float]) -> Candidate:
    # Pushed back into the box where it stuck out; the place that covers least wins, the earlier of two alike.
    pushed = (_pushed_inside(wish.label, place, size) for place in islice(wish.places(), _LAST_RESORT))
    return min(pushed, key=lambda candidate: _covered(candidate.box, taken))


def _covered(area: Box, taken: Sequence[Box]) -> int:
    return sum(boxes_meet(area, other) for other in near(area, taken))


def _pushed_inside(label: Label, candidate: Candidate, size: tuple[float, float]) -> Candidate:
    area = candidate.box
    reach_x, reach_y = (area.high_x - area.low_x) / 2, (area.high_y - area.low_y) / 2
    centre = Spot(_between(area.x, reach_x, size[0]), _between(area.y, reach_y, size[1]))
    return label.centred(centre, candidate.cost)


def _between(middle: float, reach: float, room: float) -> float:
    return max(reach, min(room - reach, middle))


def plates(texts: Sequence[PaperText], lines: Sequence[Segment]) -> Iterator[Box]:
    """The texts' rectangles that a line runs through: what is to be kept white so that they can be read."""
    for text in texts:
        area = text.ink
        if _crossings(area, lines):
            yield area
