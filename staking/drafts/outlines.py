"""Which closed outlines does a drawing hold, layer by layer, and which of them faces which way?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from staking.drafts.contents import Draft, Stroke
from staking.drafts.joining import SAME, Joined, Loop, joined
from staking.survey.paths import contains
from staking.survey.points import Point, Vector, vector
from staking.survey.polygons import sides_of
from staking.units import UNITS

WINDS: Mapping[str, float] = MappingProxyType(
    {
        name: 45.0 * index
        for index, name in enumerate(
            ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
        )
    }
)
DECIDED = 1.0  # degrees; two sides whose facings differ less from the direction asked for leave it open


class FacingError(Exception):
    """No side, or more than one, faces the way that is asked for."""


@dataclass(frozen=True)
class Turned:
    """An outline in its own axes: corner 1 at x = y = 0, the front side along x, the slab behind it."""

    corners: tuple[Point, ...]
    bulges: tuple[float, ...]


def outlines_of(draft: Draft, unit: str, join: float = 0.0) -> dict[str, Joined]:
    """The outlines on each layer in metres, north and east as drawn, counted from near the drawing's first line.

    unit: of the drawing. join: how far apart ends may be that meet [m].
    """
    by_layer: dict[str, list[Stroke]] = {}
    for stroke in in_metres(draft.strokes, unit):
        by_layer.setdefault(stroke.layer, []).append(stroke)
    return {layer: joined(strokes, join) for layer, strokes in by_layer.items()}


def in_metres(strokes: Sequence[Stroke], unit: str) -> Iterable[Stroke]:
    """Strokes in metres. Their common origin is moved near to them first: large coordinates would cost digits."""
    scale = float(UNITS[unit].metres)
    origin = strokes[0].points[0] if strokes else Point(0.0, 0.0)
    for stroke in strokes:
        moved = (Point((p.east - origin.east) * scale, (p.north - origin.north) * scale) for p in stroke.points)
        yield replace(stroke, points=tuple(moved))


def inside_of(loop: Loop, others: Iterable[Loop]) -> tuple[Loop, ...]:
    """Those of the others that begin inside a loop."""
    return tuple(other for other in others if other != loop and contains(loop.pieces, other.corners[0]))


def turned(loop: Loop, front: str) -> Turned:
    """An outline in its own axes, the front being the straight side that faces the wind named.

    Of parallel sides the outermost is taken, then the one farthest to the left. Raises FacingError.
    """
    first = _front(loop, WINDS[front])
    corners = (*loop.corners[first:], *loop.corners[:first])
    right = vector(corners[0], corners[1]).unit()
    steps = [vector(corners[0], corner) for corner in corners]
    xs = _snapped([right.dot(step) for step in steps])
    ys = _snapped([right.cross(step) for step in steps])
    return Turned(tuple(map(Point, xs, ys)), (*loop.bulges[first:], *loop.bulges[:first]))


def _front(loop: Loop, wind: float) -> int:
    """Which side faces the wind, from 0; the slab lies on the left of its sides."""
    sides = sides_of(loop.corners)
    straight = [i for i, bulge in enumerate(loop.bulges) if not bulge]
    off = {i: _between(sides[i].direction.right(), wind) for i in straight}
    if not off or min(off.values()) > 45.0:
        raise FacingError("no straight side faces that way")
    least = min(off, key=lambda i: off[i])
    normal = sides[least].direction.right()
    alike = [i for i in straight if sides[i].direction.dot(sides[least].direction) > math.cos(math.radians(0.01))]
    if any(i not in alike and off[i] - off[least] < DECIDED for i in straight):
        raise FacingError("two sides face that way alike")
    origin = loop.corners[0]
    out = {i: vector(origin, sides[i].start).dot(normal) for i in alike}
    outermost = [i for i in alike if out[i] > max(out.values()) - 10 * SAME]
    along = sides[least].direction
    return min(outermost, key=lambda i: vector(origin, sides[i].start).dot(along))


def _between(direction: Vector, azimuth: float) -> float:
    """The angle [deg] between a direction and an azimuth, 0 to 180."""
    here = math.degrees(math.atan2(direction.east, direction.north))
    return abs((here - azimuth + 180.0) % 360.0 - 180.0)


def _snapped(numbers: Sequence[float]) -> list[float]:
    """Numbers nearer to one another than SAME as one, so that sides in line are so exactly; the one near 0 is 0."""
    seen: list[float] = [0.0]
    for number in numbers:
        if all(abs(number - known) > SAME for known in seen):
            seen.append(number)
    return [min(seen, key=lambda known: abs(known - number)) for number in numbers]
