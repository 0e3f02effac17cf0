"""How a drawing on the ground lies on a piece of paper: at which scale, and where each label stands.

It is done once for all formats, so that the crew's sheet and the page on the telephone show the same picture.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial
from itertools import chain, pairwise

from staking.drawing.labels import (
    Candidate,
    Label,
    along_line,
    beside_point,
    label,
    readable_rotation,
    standing_free,
    with_leader,
)
from staking.drawing.layers import LAYERS
from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.paper import (
    Box,
    Fitted,
    PaperCircle,
    PaperLine,
    PaperPolygon,
    Shape,
    Spot,
    Stroke,
    box,
)
from staking.drawing.placing import Placed, Segment, Wish, place, plates
from staking.drawing.scale import Reach, View, view
from staking.drawing.symbols import symbol, symbol_radius
from staking.drawing.widths import text_width
from staking.survey.points import Point

LABEL_SIZE = 8.0  # points
EMPHASIS_SIZE = 10.0

_RIM = 3.0  # points left free round lines
_LABEL_GAP = 4.0
_TINT = "#ebebeb"
_LEADER = Stroke(0.5, "#444444")
_ARROW = (5.5, 1.5)  # length and half width, points
_ROUND = 16  # sides of the polygon that stands for a circle where texts look for a free place


def fit(drawing: Drawing, width: float, height: float) -> Fitted:
    """Lay a drawing into a box of width by height [points].

    Everything stays inside the box. Texts too long for it are set smaller. Raises ValueError for a box of no size.
    """
    if not (width > 0 and height > 0):
        raise ValueError(f"no drawing fits into a box of {width} by {height} points")
    seen = view([reach for mark in drawing.marks for reach in _reaches(mark, width)], width, height)
    lines = [line for mark in drawing.marks for line in _segments(mark, seen)]
    placed = _texts(drawing, seen, lines, (width, height))
    shapes = chain(
        chain.from_iterable(_line_shapes(mark, seen) for mark in drawing.marks),
        (PaperLine(start, end, _LEADER) for start, end in placed.leaders),
        (PaperPolygon(it.corners(), fill="#ffffff") for it in plates(placed.texts, lines)),
        chain.from_iterable(_symbol_shapes(mark, seen) for mark in drawing.marks),
    )
    return Fitted(width, height, seen.scale, drawing.title, tuple(shapes), placed.texts, overlaps=placed.overlaps)


def _reaches(mark: Mark, width: float) -> Iterator[Reach]:
    # What each mark needs round its points, so that the scale leaves room for it.
    match mark:
        case LineMark(start=start, end=end):
            yield from (Reach(point, _RIM, _RIM, _RIM) for point in (start, end))
        case PathMark(corners=corners):
            yield from (Reach(point, _RIM, _RIM, _RIM) for point in corners)
        case CircleMark(centre=centre, radius=radius):
            yield from (Reach(point, _RIM, _RIM, _RIM) for point in _round(centre, radius, 4))
        case SymbolMark():
            yield _symbol_reach(mark, width)
        case TextMark():
            yield _text_reach(mark, width)


def _symbol_reach(mark: SymbolMark, width: float) -> Reach:
    radius = symbol_radius(mark.shape, emphasis=mark.emphasis) + 1
    if not mark.label:
        return Reach(mark.at, radius, radius, radius)
    long = text_width(mark.label, _label_size(mark), bold=mark.emphasis)
    return Reach(mark.at, radius, radius + _LABEL_GAP + _wanted(long, width), radius + _LABEL_GAP + _label_size(mark))


def _text_reach(mark: TextMark, width: float) -> Reach:
    long = _wanted(text_width(mark.text, mark.size), width)
    angle = math.radians(readable_rotation(mark.along) if mark.along is not None else 0.0)
    right, up = abs(math.cos(angle)), abs(math.sin(angle))
    tall = mark.size + _LABEL_GAP
    return Reach(mark.at, 1.0, right * long / 2 + up * tall, up * long / 2 + right * tall)


def _wanted(long: float, width: float) -> float:
    # A long name may stand half over its point or on its inner side: it must not shrink the whole drawing.
    return min(long, max(long / 2, width / 6))


def _label_size(mark: SymbolMark) -> float:
    return EMPHASIS_SIZE if mark.emphasis else LABEL_SIZE


def _round(centre: Point, radius: float, sides: int) -> Iterator[Point]:
    for step in range(sides):
        angle = 2 * math.pi * step / sides
        yield Point(centre.east + radius * math.sin(angle), centre.north + radius * math.cos(angle))


def _segments(mark: Mark, seen: View) -> Iterable[Segment]:
    # The lines that texts should keep off.
    match mark:
        case LineMark(start=start, end=end):
            return ((seen.spot(start), seen.spot(end)),)
        case PathMark(corners=corners, closed=closed):
            return pairwise(seen.spot(point) for point in (corners + corners[:1] if closed else corners))
        case CircleMark(centre=centre, radius=radius):
            rim = tuple(_round(centre, radius, _ROUND))
            return pairwise(seen.spot(point) for point in rim + rim[:1])
    return ()


def _texts(drawing: Drawing, seen: View, lines: list[Segment], size: tuple[float, float]) -> Placed:
    points = [mark for mark in drawing.marks if isinstance(mark, SymbolMark)]
    spots = [seen.spot(mark.at) for mark in points]
    middle = _middle(spots)
    wishes = [_text_wish(mark, seen, size) for mark in drawing.marks if isinstance(mark, TextMark) and mark.text]
    named = [it for it in zip(points, spots, strict=True) if it[0].label]
    # What the drawing is about chooses first.
    named.sort(key=lambda it: not it[0].emphasis)
    wishes += [_label_wish(mark, spot, middle, size) for mark, spot in named]
    return place(wishes, [_symbol_box(*it) for it in zip(points, spots, strict=True)], lines, size)


def _middle(spots: list[Spot]) -> Spot:
    count = max(len(spots), 1)
    return Spot(sum(spot.x for spot in spots) / count, sum(spot.y for spot in spots) / count)


def _symbol_box(mark: SymbolMark, spot: Spot) -> Box:
    radius = symbol_radius(mark.shape, emphasis=mark.emphasis)
    return box(spot, radius * 0.9, radius * 0.9)


def _text_wish(mark: TextMark, seen: View, size: tuple[float, float]) -> Wish:
    rotation = 0.0 if mark.along is None else readable_rotation(mark.along)
    wanted = label(mark.text, mark.size, size, colour=LAYERS[mark.layer].colour, rotation=rotation)
    places = standing_free if mark.along is None else along_line
    return Wish(wanted, partial(places, wanted, seen.spot(mark.at), mark.side))


def _label_wish(mark: SymbolMark, spot: Spot, middle: Spot, size: tuple[float, float]) -> Wish:
    colour = LAYERS[mark.layer].colour
    wanted = label(mark.label, _label_size(mark), size, bold=mark.emphasis, colour=colour)
    radius = symbol_radius(mark.shape, emphasis=mark.emphasis)
    return Wish(wanted, partial(_round_point, wanted, spot, radius, _outward(middle, spot)))


def _round_point(wanted: Label, spot: Spot, radius: float, outward: Spot) -> Iterable[Candidate]:
    return chain(beside_point(wanted, spot, radius, outward), with_leader(wanted, spot, radius, outward))


def _outward(middle: Spot, spot: Spot) -> Spot:
    far = math.hypot(spot.x - middle.x, spot.y - middle.y)
    return Spot((spot.x - middle.x) / far, (spot.y - middle.y) / far) if far > 1.0 else Spot(0.0, 0.0)


def _line_shapes(mark: Mark, seen: View) -> Iterator[Shape]:
    match mark:
        case LineMark(layer=layer, start=start, end=end):
            yield from _line(seen.spot(start), seen.spot(end), _stroke(layer), arrows=mark.arrows)
        case PathMark(layer=layer, corners=corners, closed=closed, filled=filled):
            fill = _TINT if filled and closed else None
            yield PaperPolygon(tuple(map(seen.spot, corners)), closed, _stroke(layer), fill)
        case CircleMark(layer=layer, centre=centre, radius=radius):
            yield PaperCircle(seen.spot(centre), radius * seen.scale, _stroke(layer))
        case _:
            pass


def _stroke(layer: str) -> Stroke:
    drawn = LAYERS[layer]
    return Stroke(drawn.width, drawn.colour, drawn.dash)


def _line(start: Spot, end: Spot, stroke: Stroke, *, arrows: bool) -> Iterator[Shape]:
    yield PaperLine(start, end, stroke)
    if arrows:
        yield from _heads(start, end, stroke.colour)


def _heads(start: Spot, end: Spot, colour: str) -> Iterator[Shape]:
    far = math.hypot(end.x - start.x, end.y - start.y)
    if far == 0:
        return
    long, half = (size * min(1.0, far / 3 / _ARROW[0]) for size in _ARROW)
    for tip, way in ((start, 1.0), (end, -1.0)):
        x, y = (end.x - start.x) / far * way, (end.y - start.y) / far * way
        foot = tip.moved(x * long, y * long)
        yield PaperPolygon((tip, foot.moved(-y * half, x * half), foot.moved(y * half, -x * half)), fill=colour)


def _symbol_shapes(mark: Mark, seen: View) -> tuple[Shape, ...]:
    if not isinstance(mark, SymbolMark):
        return ()
    spot, colour = seen.spot(mark.at), LAYERS[mark.layer].colour
    return symbol(mark.shape, spot, colour, emphasis=mark.emphasis)
