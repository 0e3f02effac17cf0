"""At what scale a drawing fills its box and still leaves room for the labels at its rim."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from staking.drawing.paper import Spot
from staking.survey.points import Point

LARGEST = 72 / 0.0254  # points a metre: full size; only a drawing of a single point comes near it
_SHARES = (1.0, 0.75, 0.5, 0.25)  # of the room that labels would like
_SLACK = 8.0  # points left above and below in a trimmed box
_WORTH = 0.55  # labels may cost the drawing this much of its size, not more


class Reach(NamedTuple):
    """A point of the drawing and how far symbols and labels reach from it on paper, right or left and up or down."""

    at: Point
    bare: float
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class View:
    """How ground becomes paper: points a metre, and the point of the ground that lies at a spot of the paper."""

    scale: float
    ground: Point
    paper: Spot
    size: tuple[float, float]  # of the box: width, height [points]

    def spot(self, point: Point) -> Spot:
        """Where a point of the ground lies on the paper."""
        return Spot(
            self.paper.x + (point.east - self.ground.east) * self.scale,
            self.paper.y + (point.north - self.ground.north) * self.scale,
        )


def view(reaches: Sequence[Reach], width: float, height: float, *, trim: bool = False) -> View:
    """The largest uniform scale at which everything fits into width by height [points], and is centred there.

    trim: the box is made as low as the drawing allows, with a little room for labels that must step aside.
    """
    if not reaches:
        return View(1.0, Point(0.0, 0.0), Spot(width / 2, height / 2), (width, height))
    ground = reaches[0].at
    bare = _largest(reaches, ground, (width, height), 0.0)
    tried = ((share, _largest(reaches, ground, (width, height), share)) for share in _SHARES)
    share, scale = next((it for it in tried if it[1] >= _WORTH * bare), (0.0, bare))
    x, y = _axes(reaches, ground, share)
    low, high = _ends(y, scale)
    height = min(height, high - low + 2 * _SLACK) if trim else height
    return View(scale, ground, Spot(_centred(x, scale, width), _centred(y, scale, height)), (width, height))


Axis = list[tuple[float, float]]  # places along an axis [m] and how far each reaches both ways [points]


def _axes(reaches: Sequence[Reach], ground: Point, share: float) -> tuple[Axis, Axis]:
    return (
        [(it.at.east - ground.east, it.bare + share * (it.x - it.bare)) for it in reaches],
        [(it.at.north - ground.north, it.bare + share * (it.y - it.bare)) for it in reaches],
    )


def _largest(reaches: Sequence[Reach], ground: Point, room: tuple[float, float], share: float) -> float:
    x, y = _axes(reaches, ground, share)
    return min(_fill(x, room[0]), _fill(y, room[1]))


def _fill(axis: Axis, room: float) -> float:
    # Each pass takes the pair that sticks out farthest and brings it in; the scale only ever falls.
    scale = LARGEST
    while True:
        lows, highs = [at * scale - out for at, out in axis], [at * scale + out for at, out in axis]
        low, high = axis[lows.index(min(lows))], axis[highs.index(max(highs))]
        span, reach = high[0] - low[0], high[1] + low[1]
        if span <= 0 or span * scale + reach <= room * (1 + 1e-9):
            return scale
        if reach >= room * 0.9:  # no room beside the labels: a tenth of the box for the drawing itself
            return min(scale, room * 0.1 / span)
        scale = (room - reach) / span


def _centred(axis: Axis, scale: float, room: float) -> float:
    low, high = _ends(axis, scale)
    return (room - low - high) / 2


def _ends(axis: Axis, scale: float) -> tuple[float, float]:
    return (
        min(place * scale - reach for place, reach in axis),
        max(place * scale + reach for place, reach in axis),
    )
