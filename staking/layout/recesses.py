"""Where does a recess lie, and how do its floors fall: with the slab, along one way, or from all round to a drain?"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from staking.errors import RuleError
from staking.kinds.outlines.levels import Recess
from staking.kinds.slab import Form
from staking.survey.lines import Line
from staking.survey.overlays import shared, without
from staking.survey.points import Point, Vector, distance, moved
from staking.survey.polygons import first_fault, polygon, ring_corners
from staking.survey.surface import Plane, plane_through, rise_of

INSIDE = 1e-4  # square metres; a recess that reaches farther out of the slab, or over another, is refused
SHORTEST = 0.01  # metres; a shorter side is a slip of the pen

Toward = Callable[[int | str, str], Vector]  # the direction to a side or point that a key names


@dataclass(frozen=True)
class Sunk:
    """A recess on the ground. tops: its floors, each a plane over a shape. drain: where they fall to, if to a drain."""

    name: str
    shape: BaseGeometry
    tops: tuple[tuple[BaseGeometry, Plane], ...]
    drain: Point | None = None


def sunk(form: Form, floor: Plane, recess: Recess, toward: Toward) -> Sunk:
    """A recess with its floors. Raises RuleError where it leaves the slab, or cannot fall as it should."""
    corners = _corners(form, recess)
    shape = polygon(corners)
    if without(shape, form.shape).area > INSIDE:
        key = "points" if recess.points else "width"
        raise RuleError("the recess reaches out of the slab", key=key, remedy="smaller sizes, or another start")
    within = shared(shape, form.shape)
    if recess.drain is not None and recess.fall is not None:
        drain, tops = _round_drain(form, floor, recess, ring_corners(shape.exterior))
        return Sunk(recess.name, within, tuple((shared(top, within), plane) for top, plane in tops), drain)
    return Sunk(recess.name, within, ((within, _top(floor, recess, corners, toward)),))


def _corners(form: Form, recess: Recess) -> tuple[Point, ...]:
    if recess.points:
        corners = tuple(own_place(form, x, y) for x, y in recess.points)
        if first_fault(corners, SHORTEST):
            remedy = "name the corners in order around it, each once"
            raise RuleError("the sides of the recess cross, touch or have no length", key="points", remedy=remedy)
        return corners
    width, depth = recess.width or 0.0, recess.depth or 0.0
    if recess.x is not None and recess.y is not None:
        x, y = recess.x, recess.y
        return tuple(own_place(form, *at) for at in ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth)))
    return _from_side(form, recess, width, depth)


def own_place(form: Form, x: float, y: float) -> Point:
    """A place so far to the right of corner 1 and so far away from the front [m], as one stands before the slab."""
    return moved(moved(form.corners[0], form.pose.right, x), form.pose.right.left(), y)


def _from_side(form: Form, recess: Recess, width: float, depth: float) -> tuple[Point, ...]:
    side, corner = form.outline.side(recess.side or 0), form.outline.corner(recess.from_ or 0, "from")
    line, ends = form.pieces[side], (side, (side + 1) % len(form.corners))
    if not isinstance(line, Line) or corner not in ends:
        raise RuleError(
            f"{form.outline.corner_label(corner)} is no end of a straight {form.outline.side_label(side)}",
            key="from",
            remedy=f"corner {ends[0] + 1} or {ends[1] + 1}",
        )
    along = Line(line.end, line.start) if corner == ends[1] else line
    inward = form.outward(side).reversed()
    start, end = (moved(along.at(a), inward, recess.in_) for a in (recess.start, recess.start + width))
    return start, end, moved(end, inward, depth), moved(start, inward, depth)


def _top(floor: Plane, recess: Recess, corners: tuple[Point, ...], toward: Toward) -> Plane:
    """Parallel to the floor, or with a fall of its own: then its highest corner lies so much lower than the floor."""
    if (recess.fall is None) != (recess.toward is None):
        key, remedy = ("fall" if recess.fall else "toward"), 'write fall = "2 %", toward = "front"'
        raise RuleError("a fall and where it leads to go together", key=key, remedy=remedy)
    if recess.fall is None or recess.toward is None:
        return floor.lowered(recess.lower)
    rise = rise_of([(toward(recess.toward, "toward"), recess.fall)])
    at = max(corners, key=lambda c: round(c.east * rise.east + c.north * rise.north, 9))
    return Plane(at, floor.height(at) - recess.lower, rise)


def _round_drain(
    form: Form, floor: Plane, recess: Recess, corners: tuple[Point, ...]
) -> tuple[Point, tuple[tuple[shapely.Polygon, Plane], ...]]:
    """A flat triangle from every side of the rim to the drain.

    The rim lies parallel to the floor. The drain lies so low that the way from every corner to it falls as asked: the
    farthest corner falls by just that, everything nearer falls more. Own construction; a plane through three places.
    """
    x, y = recess.drain or (0.0, 0.0)
    spot = own_place(form, x, y)
    rim = floor.lowered(recess.lower)
    low = min(rim.height(corner) - (recess.fall or 0.0) * distance(corner, spot) for corner in corners)
    drain = Point(spot.east, spot.north, low)
    return drain, tuple(_facets(rim, drain, corners))


def _facets(rim: Plane, drain: Point, corners: tuple[Point, ...]) -> Iterator[tuple[shapely.Polygon, Plane]]:
    for start, end in pairwise([*corners, corners[0]]):  # counter-clockwise, so the drain lies on the left of each side
        if Line(start, end).offset(drain) < SHORTEST:
            remedy = "put it inside, where no corner hides a side from it, or make two recesses of one"
            raise RuleError("water does not run straight from every side to the drain", key="drain", remedy=remedy)
        one, other = (Point(p.east, p.north, rim.height(p)) for p in (start, end))
        yield polygon((start, end, drain)), plane_through(one, other, drain)
