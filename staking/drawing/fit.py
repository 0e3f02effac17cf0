"""How a drawing on the ground lies on a piece of paper: at which scale, and where each label stands.

It is done once for all formats, so that the crew's sheet and the page on the telephone show the same picture.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial
from itertools import chain, pairwise, starmap

from staking.drawing.labels import (
    FREE,
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
    Segment,
    Shape,
    Spot,
    Stroke,
    box,
    segment,
)
from staking.drawing.placing import Placed, Wish, place, plates
from staking.drawing.scale import Reach, View, view
from staking.drawing.symbols import symbol, symbol_radius
from staking.drawing.widths import text_width
from staking.survey.points import Point

LABEL_SIZE = 8.0  # points
EMPHASIS_SIZE = 10.0

_RIM = 3.0  # points left free round lines
_LABEL_GAP = 4.0
_TEXT_GAP = 7.0  # beside a line, so that a text can step aside from the symbols at its ends
_ON_LINE = 1.0  # points within which a text's place counts as on a line
_TINT = "#ebebeb"
_LEADER = Stroke(0.5, "#444444")
_ARROW = (5.5, 1.5)  # length and half width, points
_ROUND = 16  # sides of the polygon that stands for a circle where texts look for a free place


def fit(drawing: Drawing, width: float, height: float, *, trim: bool = False) -> Fitted:
    """Lay a drawing into a box of width by height [points].

    Everything stays inside the box; a text too long for it is set smaller. trim: the box becomes lower where
    the drawing leaves it empty above and below. Raises ValueError for a box of no size.
    """
    if not (width > 0 and height > 0):
        raise ValueError(f"no drawing fits into a box of {width} by {height} points")
    seen = view([reach for mark in drawing.marks for reach in _reaches(mark, width)], width, height, trim=trim)
    lines = [line for mark in drawing.marks for line in chain(_segments(mark, seen), _tips(mark, seen))]
    placed = _texts(drawing, seen, lines)
    shapes = chain(
        chain.from_iterable(_line_shapes(mark, seen) for mark in drawing.marks),
        (PaperLine(line.start, line.end, _LEADER) for line in placed.leaders),
        (PaperPolygon(it.corners(), fill="#ffffff") for it in plates(placed.texts, lines)),
        chain.from_iterable(_symbol_shapes(mark, seen) for mark in drawing.marks),
    )
    return Fitted(
        *seen.size, seen.scale, drawing.title, tuple(shapes), placed.texts, placed.overlaps, len(placed.leaders)
    )


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
    half, tall = _wanted(text_width(mark.text, mark.size), width) / 2, mark.size + _TEXT_GAP
    if mark.along is None:
        side = math.radians(mark.side)
        right, up = abs(math.sin(side)), abs(math.cos(side))
        off = _LABEL_GAP + right * half + up * mark.size / 2
        return Reach(mark.at, 1.0, right * off + half, up * off + mark.size / 2)
    angle = math.radians(readable_rotation(mark.along))
    right, up = abs(math.cos(angle)), abs(math.sin(angle))
    return Reach(mark.at, 1.0, right * half + up * tall, up * half + right * tall)


def _wanted(long: float, width: float) -> float:
    # A long name may stand half over its point or on its inner side: it must not shrink the whole drawing.
    return min(long, max(long / 2, width / 6))


def _label_size(mark: SymbolMark) -> float:
    return EMPHASIS_SIZE if mark.emphasis else LABEL_SIZE


def _round(centre: Point, radius: float, sides: int) -> Iterator[Point]:
    for step in range(sides):
        angle = 2 * math.pi * step / sides
        yield Point(centre.east + radius * math.sin(angle), centre.north + radius * math.cos(angle))


def _segments(mark: Mark, seen: View) -> Iterator[Segment]:
    # The lines that texts should keep off.
    corner_chain: tuple[Point, ...] = ()
    match mark:
        case LineMark(start=start, end=end):
            corner_chain = (start, end)
        case PathMark(corners=corners, closed=closed):
            corner_chain = corners + corners[:1] if closed else corners
        case CircleMark(centre=centre, radius=radius):
            rim = tuple(_round(centre, radius, _ROUND))
            corner_chain = rim + rim[:1]
        case _:
            pass
    return starmap(segment, pairwise(map(seen.spot, corner_chain)))


def _tips(mark: Mark, seen: View) -> Iterator[Segment]:
    # A dimension that has lost an arrowhead under a text seems to go on: a stroke across each tip makes that dearer.
    if isinstance(mark, LineMark) and mark.arrows:
        for end in map(seen.spot, (mark.start, mark.end)):
            yield segment(end.moved(-_ARROW[1], -_ARROW[1]), end.moved(_ARROW[1], _ARROW[1]))


def _texts(drawing: Drawing, seen: View, lines: list[Segment]) -> Placed:
    points = [mark for mark in drawing.marks if isinstance(mark, SymbolMark)]
    spots = [seen.spot(mark.at) for mark in points]
    middle = _middle(spots)
    wishes = [_text_wish(mark, seen, lines) for mark in drawing.marks if isinstance(mark, TextMark) and mark.text]
    named = [it for it in zip(points, spots, strict=True) if it[0].label]
    # What the drawing is about chooses first.
    named.sort(key=lambda it: not it[0].emphasis)
    wishes += [_label_wish(mark, spot, middle, seen.size) for mark, spot in named]
    kept = [_symbol_box(*it) for it in zip(points, spots, strict=True)]
    return place(wishes, kept, lines, seen.size)


def _middle(spots: list[Spot]) -> Spot:
    count = max(len(spots), 1)
    return Spot(sum(spot.x for spot in spots) / count, sum(spot.y for spot in spots) / count)


def _symbol_box(mark: SymbolMark, spot: Spot) -> Box:
    radius = symbol_radius(mark.shape, emphasis=mark.emphasis)
    return box(spot, radius * 0.9, radius * 0.9)


def _text_wish(mark: TextMark, seen: View, lines: list[Segment]) -> Wish:
    rotation = 0.0 if mark.along is None else readable_rotation(mark.along)
    wanted = label(mark.text, mark.size, seen.size, colour=LAYERS[mark.layer].colour, rotation=rotation)
    spot = seen.spot(mark.at)
    if mark.along is None:
        return Wish(wanted, partial(standing_free, wanted, spot, mark.side))
    return Wish(wanted, partial(along_line, wanted, spot, mark.side, _span(spot, rotation, lines)))


def _span(spot: Spot, rotation: float, lines: list[Segment]) -> tuple[float, float]:
    # How far the line under a text goes on to both sides; of several the shortest.
    right, up = math.cos(math.radians(rotation)), math.sin(math.radians(rotation))
    found = FREE
    for line in lines:
        (start, off), (end, end_off) = (_seen_along(spot, end, right, up) for end in (line.start, line.end))
        if abs(off) < _ON_LINE and abs(end_off) < _ON_LINE:
            behind, ahead = sorted((start, end))
            if behind <= 0 <= ahead and ahead - behind < sum(found):
                found = (-behind, ahead)
    return found


def _seen_along(spot: Spot, end: Spot, right: float, up: float) -> tuple[float, float]:
    x, y = end.x - spot.x, end.y - spot.y
    return x * right + y * up, y * right - x * up


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
