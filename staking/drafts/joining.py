"""Which closed outlines do the lines of one layer make, and what keeps the others open?

Everything here is in metres.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from staking.drafts.contents import Stroke
from staking.survey.intersections import PARALLEL, crossing
from staking.survey.lines import Line
from staking.survey.paths import Piece, flattened, path_area, pieces_of
from staking.survey.points import Point, distance

SAME = 1e-5  # metres; drawn numbers are rounded: ends and coordinates as near as this are one


@dataclass(frozen=True)
class Loop:
    """A closed outline, counter-clockwise; bulges: of the side from each corner to the next."""

    corners: tuple[Point, ...]
    bulges: tuple[float, ...]
    layer: str
    what: str
    block: str = ""
    bridged: tuple[float, ...] = ()  # gaps that the join tolerance closed [m]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its sides, true arcs and all."""
        return pieces_of(self.corners, self.bulges)

    @property
    def area(self) -> float:
        """What it encloses [m2]."""
        return abs(path_area(self.pieces))

    @property
    def size(self) -> tuple[float, float]:
        """How wide it is to the east and to the north, arcs included [m]."""
        drawn = flattened(self.pieces, SAME)
        easts, norths = [c.east for c in drawn], [c.north for c in drawn]
        return max(easts) - min(easts), max(norths) - min(norths)


@dataclass(frozen=True)
class Joined:
    """The outlines of a layer; ends: places where a line stops, with the distance to the nearest other end [m].

    branches: places where more than two lines meet.
    """

    loops: tuple[Loop, ...]
    ends: tuple[tuple[Point, float], ...]
    branches: tuple[Point, ...]


def joined(strokes: Sequence[Stroke], join: float) -> Joined:
    """The closed outlines of strokes in metres, ends no farther apart than join [m] counted as meeting."""
    loops = [_loop(stroke) for stroke in strokes if stroke.closed or _meets_itself(stroke, join)]
    loose = [stroke for stroke in strokes if not stroke.closed and not _meets_itself(stroke, join)]
    loose = _once([stroke for stroke in loose if distance(stroke.points[0], stroke.points[-1]) > SAME])
    nodes = _nodes(loose, max(join, SAME))
    at = _at_nodes(nodes)
    kept, ends = set(range(len(loose))), []
    while dangling := [node for node, users in at.items() if len([i for i in users if i in kept]) == 1]:
        for node in dangling:
            kept -= set(at[node])
            ends.append(node)
    places = [point for stroke in loose for point in (stroke.points[0], stroke.points[-1])]
    chains, branches = _chains(nodes, at, kept)
    loops += [_walked([loose[i] for i, _ in chain], [back for _, back in chain]) for chain in chains]
    return Joined(
        tuple(loop for loop in loops if loop is not None),
        tuple(_gap(places, nodes, node) for node in ends),
        tuple(next(place for place, own in zip(places, nodes, strict=True) if own == node) for node in branches),
    )


def _meets_itself(stroke: Stroke, join: float) -> bool:
    many = len(stroke.points) > 3 or (any(stroke.bulges) and len(stroke.points) > 2)
    return many and distance(stroke.points[0], stroke.points[-1]) <= max(join, SAME)


def _once(strokes: Sequence[Stroke]) -> list[Stroke]:
    """Lines drawn twice over one another, in either direction, once."""
    known: dict[tuple[float, ...], Stroke] = {}
    for stroke in strokes:
        ways = [
            tuple(round(n, 5) for p in points for n in (p.east, p.north)) + tuple(round(b, 5) for b in bulges)
            for points, bulges in (
                (stroke.points, stroke.bulges),
                (stroke.points[::-1], tuple(-b for b in stroke.bulges[::-1])),
            )
        ]
        known.setdefault(min(ways), stroke)
    return list(known.values())


def _nodes(strokes: Sequence[Stroke], join: float) -> list[int]:
    """For both ends of each stroke, in order, the number of the place it meets others in."""
    spots = [shapely.Point(p.east, p.north) for stroke in strokes for p in (stroke.points[0], stroke.points[-1])]
    parent = list(range(len(spots)))

    def root(index: int) -> int:
        while parent[index] != index:
            index = parent[index]
        return index

    if spots:
        pairs = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=join)
        for first, second in zip(*pairs.tolist(), strict=True):
            parent[root(first)] = root(second)
    return [root(index) for index in range(len(spots))]


def _at_nodes(nodes: Sequence[int]) -> dict[int, list[int]]:
    at: dict[int, list[int]] = defaultdict(list)
    for index, node in enumerate(nodes):
        at[node].append(index // 2)
    return at


def _chains(
    nodes: Sequence[int], at: dict[int, list[int]], kept: set[int]
) -> tuple[list[list[tuple[int, bool]]], list[int]]:
    """Rings of strokes, each with whether it is run backward, and the places where lines branch."""
    branches = [node for node, users in at.items() if len([i for i in users if i in kept]) > 2]
    chains, left = [], set(kept)
    while left:
        first = min(left)
        chain, node, sound = [], nodes[2 * first], True
        following: int | None = first
        while following is not None:
            left.discard(following)
            back = nodes[2 * following] != node
            chain.append((following, back))
            node = nodes[2 * following + (0 if back else 1)]
            sound = sound and node not in branches
            following = next((i for i in at[node] if i in left), None)
        if sound and node == nodes[2 * first]:
            chains.append(chain)
    return chains, branches


def _gap(places: Sequence[Point], nodes: Sequence[int], node: int) -> tuple[Point, float]:
    here = next(place for place, own in zip(places, nodes, strict=True) if own == node)
    others = [distance(here, place) for place, own in zip(places, nodes, strict=True) if own != node]
    return here, min(others, default=0.0)


def _walked(strokes: Sequence[Stroke], backward: Sequence[bool]) -> Loop | None:
    """A ring of strokes as one outline, the ends of neighbours brought together."""
    runs = [
        (stroke.points[::-1], tuple(-b for b in stroke.bulges[::-1])) if back else (stroke.points, stroke.bulges)
        for stroke, back in zip(strokes, backward, strict=True)
    ]
    gaps = tuple(distance(runs[i - 1][0][-1], run[0][0]) for i, run in enumerate(runs))
    points = [point for i, run in enumerate(runs) for point in (_joint(runs[i - 1], run), *run[0][1:-1])]
    bulges = [bulge for run in runs for bulge in run[1]]
    names = " and ".join(sorted({stroke.what for stroke in strokes}))
    bridged = tuple(gap for gap in gaps if gap > SAME)
    return _clean(points, bulges, Loop((), (), strokes[0].layer, names, strokes[0].block, bridged))


_Run = tuple[tuple[Point, ...], tuple[float, ...]]


def _joint(before: _Run, after: _Run) -> Point:
    """Where two runs meet: the crossing of two straight sides that stop short of it, else half way between them."""
    end, start = before[0][-1], after[0][0]
    gap = distance(end, start)
    half = Point((end.east + start.east) / 2, (end.north + start.north) / 2)
    if gap <= SAME or before[1][-1] or after[1][0]:
        return half
    a, b = Line(before[0][-2], end), Line(start, after[0][1])
    if abs(a.direction.cross(b.direction)) < PARALLEL:
        return half
    met = crossing(a, b)
    return met if max(distance(met, end), distance(met, start)) <= 2 * gap else half


def _loop(stroke: Stroke) -> Loop | None:
    whole = stroke.closed
    points = list(stroke.points if whole else stroke.points[:-1])
    gap = 0.0 if whole else distance(stroke.points[0], stroke.points[-1])
    bridged = (gap,) if gap > SAME else ()
    return _clean(points, list(stroke.bulges), Loop((), (), stroke.layer, stroke.what, stroke.block, bridged))


def _clean(points: list[Point], bulges: list[float], loop: Loop) -> Loop | None:
    """Without corners drawn twice or in the middle of a straight side; counter-clockwise. None where none is left."""
    pairs = [
        (point, bulge)
        for i, (point, bulge) in enumerate(zip(points, bulges, strict=True))
        if distance(point, points[(i + 1) % len(points)]) > SAME
    ]
    index = 0
    while len(pairs) > 2 and index < len(pairs):
        (before, first), (here, second), (after, _) = pairs[index - 1], pairs[index], pairs[(index + 1) % len(pairs)]
        between = not first and not second and _on(before, here, after)
        pairs = [*pairs[:index], *pairs[index + 1 :]] if between else pairs
        index += 0 if between else 1
    if (len(pairs) < 3 and not any(bulge for _, bulge in pairs)) or len(pairs) < 2:
        return None
    corners, sides = [p for p, _ in pairs], [b for _, b in pairs]
    if path_area(pieces_of(corners, sides)) < 0:
        corners = corners[::-1]
        sides = [-b for b in (*sides[-2::-1], sides[-1])]
    return Loop(tuple(corners), tuple(sides), loop.layer, loop.what, loop.block, loop.bridged)


def _on(before: Point, here: Point, after: Point) -> bool:
    if distance(before, after) <= SAME:
        return False
    line = Line(before, after)
    return abs(line.offset(here)) <= SAME and 0 < line.along(here) < line.length
