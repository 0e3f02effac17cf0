"""Which place each text takes, so that no text lies on another text or on a symbol or leaves the box.

Texts are placed one after the other, each at the cheapest free place that it has left: a text once placed
never moves again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import islice, pairwise
from operator import attrgetter
from typing import NamedTuple

from staking.drawing.labels import Candidate, Label, on_chain
from staking.drawing.nearby import Nearby
from staking.drawing.paper import Box, PaperText, Segment, Spot, box, boxes_meet, line_meets, segment

_CLEAR = 0.8  # points of white round a text
_WORD_GAP = 2.0  # and so many more before and behind it
_HIDES = 0.15  # what it costs a text on its own line to cover a piece of a neighbour
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
    wishes: Sequence[Wish],
    symbols: Sequence[Box],
    lines: Sequence[Segment],
    size: tuple[float, float],
    *,
    patience: tuple[float, float] = (math.inf, math.inf),
) -> Placed:
    """Give every wish its place in a box of that size (width, height) [points].

    symbols: never written over; lines: avoided where something else is free. patience: how many texts may find no
    free place, and how many one at the end of a leader; after one more the rest is not looked at.
    """
    taken, crossed = Nearby(symbols), Nearby(lines)
    texts: list[PaperText] = []
    leaders: list[Segment] = []
    overlaps = 0
    for wish in wishes:
        if overlaps > patience[0] or len(leaders) > patience[1]:
            break
        found = free_place(wish.places, taken, crossed, size)
        if found is None:
            overlaps += 1
            found = _least_bad(wish, taken, size)
        texts.append(wish.label.placed(found))
        taken.add(spaced(found.box))
        if found.leader:
            leaders.append(found.leader)
            crossed.add(found.leader)
    return Placed(tuple(texts), tuple(leaders), overlaps)


def free_place(
    places: Callable[[], Iterable[Candidate]],
    taken: Nearby[Box],
    lines: Nearby[Segment],
    size: tuple[float, float],
    barred: Callable[[Candidate], bool] | None = None,
    *,
    over: bool = True,
) -> Candidate | None:
    """The cheapest place in the box that covers nothing taken; leaders may cross what is taken only where they must.

    barred: whether a place is none for this text although it is free; over: False where leaders never may.
    """
    clean = crossing = None
    least = least_crossing = math.inf
    for place in places():
        if place.cost >= least:
            break  # places come roughly by cost: nothing that follows can win
        if place.cost >= least_crossing:
            over = False
        if not inside(place.box, size) or _covers(place.box, taken) or (barred and barred(place)):
            continue
        bars = place.leader is not None and _leads_over(place.leader, taken)
        if bars and not over:
            continue
        cost = place.cost + _CROSSING * crossings(place.box, lines)
        if bars and cost < least_crossing:
            crossing, least_crossing = place, cost
        if not bars and cost < least:
            clean, least = place, cost
    return clean or crossing


def written_on_lines(
    wishes: Sequence[tuple[Label, Sequence[Spot]]],
    taken: Nearby[Box],
    others: Nearby[Segment],
    size: tuple[float, float],
    barred: Callable[[Candidate], bool] | None = None,
) -> Iterator[PaperText]:
    """Texts on lines of their own, which are broken there; where nothing is free a line stays bare.

    Placed last, and on no other line: they move no other text. wishes: each text with the chain it stands on; taken:
    what is written or drawn already, to which they are added; barred: as of `free_place`.
    """
    own = Nearby([segment(*ends) for _, spots in wishes for ends in pairwise(spots)])
    for label, spots in wishes:
        found = free_place(
            partial(_on_its_line, label, spots, own),
            taken,
            others,
            size,
            lambda place: crossings(place.box, others) > 0 or bool(barred and barred(place)),
        )
        if found is not None:
            taken.add(spaced(found.box))
            yield label.placed(found)


def _on_its_line(label: Label, spots: Sequence[Spot], lines: Nearby[Segment]) -> list[Candidate]:
    """Places on a line, those first that hide little of its neighbours."""
    dear = (it._replace(cost=it.cost + _HIDES * crossings(it.box, lines)) for it in on_chain(label, spots))
    return sorted(dear, key=attrgetter("cost"))


def spaced(area: Box) -> Box:
    """A rectangle with room before and behind: two numbers in a line that are hardly apart are read as one."""
    return box(Spot(area.x, area.y), area.half_length + _WORD_GAP, area.half_height, area.right, area.up)


def inside(one: Box, size: tuple[float, float], slack: float = 1e-6) -> bool:
    """Whether a rectangle lies inside the box."""
    width, height = size
    across = one.low_x >= -slack and one.high_x <= width + slack
    return across and one.low_y >= -slack and one.high_y <= height + slack


def _covers(area: Box, taken: Nearby[Box]) -> bool:
    return any(boxes_meet(area, other, _CLEAR) for other in taken.near(area, _CLEAR))


def _leads_over(leader: Segment, taken: Nearby[Box]) -> bool:
    return any(line_meets(leader, other) for other in taken.near(leader))


def crossings(area: Box, lines: Nearby[Segment]) -> int:
    """How many lines run through a rectangle."""
    return sum(line_meets(line, area) for line in set(lines.near(area)))


def _least_bad(wish: Wish, taken: Nearby[Box], size: tuple[float, float]) -> Candidate:
    # Pushed back into the box where it stuck out; the place that covers least wins, the earlier of two alike.
    pushed = (_pushed_inside(wish.label, place, size) for place in islice(wish.places(), _LAST_RESORT))
    return min(pushed, key=lambda candidate: _covered(candidate.box, taken))


def _covered(area: Box, taken: Nearby[Box]) -> int:
    return sum(boxes_meet(area, other) for other in set(taken.near(area)))


def _pushed_inside(label: Label, candidate: Candidate, size: tuple[float, float]) -> Candidate:
    area = candidate.box
    reach_x, reach_y = (area.high_x - area.low_x) / 2, (area.high_y - area.low_y) / 2
    centre = Spot(_between(area.x, reach_x, size[0]), _between(area.y, reach_y, size[1]))
    return label.centred(centre, candidate.cost)


def _between(middle: float, reach: float, room: float) -> float:
    return max(reach, min(room - reach, middle))


def plates(texts: Sequence[PaperText], lines: Sequence[Segment]) -> Iterator[Box]:
    """The texts' rectangles that a line runs through: what is to be kept white so that they can be read."""
    all_lines = Nearby(lines)
    for text in texts:
        area = text.ink
        if crossings(area, all_lines):
            yield area
