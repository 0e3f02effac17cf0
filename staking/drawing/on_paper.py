"""What does each mark look like on paper, and which lines of it should texts keep off?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise, starmap

from staking.drawing.labels import FREE
from staking.drawing.layers import LAYERS
from staking.drawing.marks import ArcMark, CircleMark, LineMark, Mark, PathMark, SymbolMark
from staking.drawing.paper import PaperCircle, PaperLine, PaperPolygon, Segment, Shape, Spot, Stroke, segment
from staking.drawing.scale import View
from staking.drawing.symbols import symbol
from staking.survey.points import Point

SMOOTH = 0.02  # points of paper that the chords of an arc may leave it: finer than any printer

_ON_LINE = 1.0  # points within which a text's place counts as on a line
_TINT = "#ebebeb"
_ARROW = (5.5, 1.5)  # length and half width, points
_ROUND = 16  # sides of the polygon that stands for a circle where texts look for a free place
_ROUGH = 0.5  # points; the same for an arc


def points_round(centre: Point, radius: float, sides: int) -> Iterator[Point]:
    """Points of a circle, evenly spaced, clockwise from north."""
    for step in range(sides):
        angle = 2 * math.pi * step / sides
        yield Point(centre.east + radius * math.sin(angle), centre.north + radius * math.cos(angle))


def segments(mark: Mark, seen: View) -> Iterator[Segment]:
    """The lines of a mark that texts should keep off."""
    corner_chain: tuple[Point, ...] = ()
    match mark:
        case LineMark(start=start, end=end):
            corner_chain = (start, end)
        case ArcMark():
            corner_chain = mark.points(_ROUGH / seen.scale)
        case PathMark(closed=closed):
            corners = mark.points(_ROUGH / seen.scale)
            corner_chain = corners + corners[:1] if closed else corners
        case CircleMark(centre=centre, radius=radius):
            rim = tuple(points_round(centre, radius, _ROUND))
            corner_chain = rim + rim[:1]
        case _:
            pass
    return starmap(segment, pairwise(map(seen.spot, corner_chain)))


def tips(mark: Mark, seen: View) -> Iterator[Segment]:
    """A stroke across each arrowhead: a dimension that has lost one under a text seems to go on."""
    if isinstance(mark, LineMark):
        for end in map(seen.spot, headed(mark)):
            yield segment(end.moved(-_ARROW[1], -_ARROW[1]), end.moved(_ARROW[1], _ARROW[1]))


def headed(mark: LineMark) -> tuple[Point, ...]:
    """The ends of a line that bear an arrowhead."""
    if mark.arrows:
        return mark.start, mark.end
    return (mark.end,) if mark.head else ()


def span_under(spot: Spot, rotation: float, lines: list[Segment]) -> tuple[float, float]:
    """How far the line under a text goes on to both sides [points]; of several the shortest."""
    right, up = math.cos(math.radians(rotation)), math.sin(math.radians(rotation))
    found = FREE
    for line in lines:
        start, off = _seen_along(spot, line.start, right, up)
        if abs(off) >= _ON_LINE:
            continue
        end, end_off = _seen_along(spot, line.end, right, up)
        behind, ahead = sorted((start, end))
        if abs(end_off) < _ON_LINE and behind <= 0 <= ahead and ahead - behind < sum(found):
            found = (-behind, ahead)
    return found


def _seen_along(spot: Spot, end: Spot, right: float, up: float) -> tuple[float, float]:
    x, y = end.x - spot.x, end.y - spot.y
    return x * right + y * up, y * right - x * up


def line_shapes(mark: Mark, seen: View) -> Iterator[Shape]:
    """The lines and areas of a mark, lowest first."""
    match mark:
        case LineMark(layer=layer, start=start, end=end):
            yield PaperLine(seen.spot(start), seen.spot(end), stroke_of(layer))
            for tip in headed(mark):
                yield from _head(seen.spot(tip), seen.spot(start if tip is end else end), stroke_of(layer).colour)
        case ArcMark(layer=layer):
            yield PaperPolygon(tuple(map(seen.spot, mark.points(SMOOTH / seen.scale))), False, stroke_of(layer))
        case PathMark(layer=layer, closed=closed, filled=filled):
            fill = _TINT if filled and closed else None
            corners = mark.points(SMOOTH / seen.scale)
            yield PaperPolygon(tuple(map(seen.spot, corners)), closed, stroke_of(layer), fill)
        case CircleMark(layer=layer, centre=centre, radius=radius):
            yield PaperCircle(seen.spot(centre), radius * seen.scale, stroke_of(layer))
        case _:
            pass


def stroke_of(layer: str) -> Stroke:
    """How lines of a layer are drawn."""
    drawn = LAYERS[layer]
    return Stroke(drawn.width, drawn.colour, drawn.dash)


def _head(tip: Spot, back: Spot, colour: str) -> Iterator[Shape]:
    far = math.hypot(back.x - tip.x, back.y - tip.y)
    if far == 0:
        return
    long, half = (size * min(1.0, far / 3 / _ARROW[0]) for size in _ARROW)
    x, y = (back.x - tip.x) / far, (back.y - tip.y) / far
    foot = tip.moved(x * long, y * long)
    yield PaperPolygon((tip, foot.moved(-y * half, x * half), foot.moved(y * half, -x * half)), fill=colour)


def symbol_shapes(mark: Mark, seen: View) -> tuple[Shape, ...]:
    """The symbol of a point, lowest first."""
    if not isinstance(mark, SymbolMark):
        return ()
    spot, colour = seen.spot(mark.at), LAYERS[mark.layer].colour
    return symbol(mark.shape, spot, colour, emphasis=mark.emphasis)
