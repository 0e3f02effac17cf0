"""Distances across the slab that show whether it is square.

An outline of right angles is cut into rectangles by running the strings of its inside corners across it; both
diagonals of each are given. Any other outline gets the distances between its corners that stay on the slab.
Equal diagonals prove a rectangle square only if opposite sides agree too (US Army course EN0069, Carpentry,
figures 1-36 and 1-39).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import shapely

from staking.kinds.slab import SAME, Form
from staking.layout.computed import Crossing, Diagonal
from staking.layout.names import fresh_names
from staking.survey.lines import Line
from staking.survey.points import Point, distance
from staking.survey.polygons import line_string

MANY = 40  # corners; outlines with more get a chain of distances instead of every rectangle
ALL_PAIRS = 8  # corners; slanted outlines with more get the distances that skip one corner


@dataclass(frozen=True, slots=True)
class _Box:
    left: float
    right: float
    front: float
    back: float


def diagonals_of(
    form: Form, corner_names: Sequence[str], taken: Iterable[str] = ()
) -> tuple[tuple[Crossing, ...], tuple[Diagonal, ...]]:
    """The crossings of strings that check rectangles need, and the diagonals. taken: names of other points."""
    own = form.outline.corners
    if _right_angled(own) and len(own) <= MANY and not any(form.outline.bulges):
        return _of_rectangles(form, corner_names, fresh_names("S", taken))
    pairs = combinations(range(len(own)), 2) if len(own) <= ALL_PAIRS else _skipping_one(len(own))
    shape = form.shape.buffer(1e-6)
    shapely.prepare(shape)
    result = tuple(
        Diagonal(corner_names[a], corner_names[b], distance(form.corners[a], form.corners[b]), "outline", *ends)
        for a, b in pairs
        if abs(a - b) not in (1, len(own) - 1)
        and shape.covers(line_string(Line(*(ends := (form.corners[a], form.corners[b])))))
    )
    return (), result


def _skipping_one(count: int) -> Iterator[tuple[int, int]]:
    return ((i, (i + 2) % count) for i in range(count))


def _right_angled(corners: Sequence[Point]) -> bool:
    return all(
        abs(a.east - b.east) < SAME or abs(a.north - b.north) < SAME for a, b in pairwise([*corners, corners[0]])
    )


def _of_rectangles(
    form: Form, names: Sequence[str], fresh: Iterator[str]
) -> tuple[tuple[Crossing, ...], tuple[Diagonal, ...]]:
    crossings: list[Crossing] = []
    diagonals = []
    for box in _boxes(form.outline.corners):
        ring = ((box.left, box.front), (box.right, box.front), (box.right, box.back), (box.left, box.back))
        called = [_named(Point(x, y), form, names, crossings, fresh) for x, y in ring]
        label = "-".join(name for name, _ in called)
        for a, b in ((0, 2), (1, 3)):
            (start, from_point), (end, to_point) = called[a], called[b]
            diagonals.append(Diagonal(start, end, distance(from_point, to_point), label, from_point, to_point))
    return tuple(crossings), tuple(diagonals)


def _named(
    own: Point, form: Form, names: Sequence[str], crossings: list[Crossing], fresh: Iterator[str]
) -> tuple[str, Point]:
    """The corner of the outline that stands there, or the crossing of strings, noted when it is new."""
    for index, corner in enumerate(form.outline.corners):
        if distance(corner, own) < SAME * 2:
            return names[index], form.corners[index]
    at = form.pose.on_ground(own)
    for crossing in crossings:
        if distance(crossing.at, at) < SAME * 10:
            return crossing.name, crossing.at
    side = min(
        range(len(form.sides)), key=lambda i: line_string(form.sides[i]).distance(shapely.Point(at.east, at.north))
    )
    crossings.append(Crossing(next(fresh), at, side, form.sides[side].along(at)))
    return crossings[-1].name, at


def _boxes(corners: Sequence[Point]) -> list[_Box]:
    """The rectangles between the strings that run right and left through the corners, joined where they go on."""
    levels = _distinct(c.north for c in corners)
    uprights = [
        (a.east, min(a.north, b.north), max(a.north, b.north))
        for a, b in pairwise([*corners, corners[0]])
        if abs(a.east - b.east) < SAME
    ]
    open_boxes: list[_Box] = []
    done: list[_Box] = []
    for front, back in pairwise(levels):
        middle = (front + back) / 2
        edges = sorted(x for x, low, high in uprights if low < middle < high)
        fresh = [_Box(left, right, front, back) for left, right in zip(edges[::2], edges[1::2], strict=True)]
        grown = []
        for box in fresh:
            below = next((o for o in open_boxes if abs(o.left - box.left) + abs(o.right - box.right) < SAME), None)
            grown.append(box if below is None else _Box(below.left, below.right, below.front, back))
            open_boxes = [o for o in open_boxes if o is not below]
        done.extend(open_boxes)
        open_boxes = grown
    return sorted(done + open_boxes, key=lambda box: (box.front, box.left))


def _distinct(values: Iterator[float]) -> list[float]:
    result: list[float] = []
    for value in sorted(values):
        if not result or value - result[-1] > SAME:
            result.append(value)
    return result
