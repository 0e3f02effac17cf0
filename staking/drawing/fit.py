"""How a drawing on the ground lies on a piece of paper: at which scale, and where each label stands.

It is done once for all formats, so that the crew's sheet and the page on the telephone show the same picture.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache, partial
from itertools import chain

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
from staking.drawing.marks import ArcMark, CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.nearby import Nearby
from staking.drawing.on_paper import line_shapes, points_round, segments, span_under, symbol_shapes, tips
from staking.drawing.paper import (
    ASCENT,
    DESCENT,
    Box,
    Fitted,
    PaperLine,
    PaperPolygon,
    PaperText,
    Segment,
    Spot,
    Stroke,
    box,
)
from staking.drawing.placing import Placed, Wish, place, plates, spaced, written_on_lines
from staking.drawing.scale import Reach, View, view
from staking.drawing.symbols import symbol_radius
from staking.drawing.thinning import Chosen, choices
from staking.drawing.widths import text_width

LABEL_SIZE = 8.0  # points
LINE_SIZE = 7.0  # of texts on lines
EMPHASIS_SIZE = 10.0

_BACKGROUND = "LEVEL"  # lines that texts interrupt rather than avoid, as those they stand on
_RIM = 3.0  # points left free round lines
_LABEL_GAP = 4.0
_TEXT_GAP = 7.0  # beside a line, so that a text can step aside from the symbols at its ends
_LEADER = Stroke(0.5, "#444444")
_LED = 0.6  # of many names, that may stand at the end of a leader
_EXTENT = 0.02  # metres that an arc may reach beyond what the scale was chosen for


@lru_cache(maxsize=16)  # several sheets show the same drawing
def fit(drawing: Drawing, width: float, height: float, *, trim: bool = False) -> Fitted:
    """Lay a drawing into a box of width by height [points]; of more names than can be read there it shows a part.

    Everything stays inside the box; a text too long for it is set smaller. trim: the box becomes lower where
    the drawing leaves it empty above and below. Raises ValueError for a box of no size.
    """
    if not (width > 0 and height > 0):
        raise ValueError(f"no drawing fits into a box of {width} by {height} points")
    seen = view([reach for mark in drawing.marks for reach in _reaches(mark, width)], width, height, trim=trim)
    written = [mark for mark in drawing.marks if isinstance(mark, PathMark) and mark.label]
    thin = [mark for mark in drawing.marks if mark in written or mark.layer == _BACKGROUND]
    heavy = [mark for mark in drawing.marks if mark not in thin] if thin else drawing.marks
    lines = [line for mark in heavy for line in chain(segments(mark, seen), tips(mark, seen))]
    placed, note = _texts(drawing, seen, lines)
    texts = (*placed.texts, *_on_lines(drawing, written, seen, placed, lines))
    lines += [line for mark in thin for line in segments(mark, seen)]
    shapes = chain(
        chain.from_iterable(line_shapes(mark, seen) for mark in drawing.marks),
        (PaperLine(line.start, line.end, _LEADER) for line in placed.leaders),
        (PaperPolygon(it.corners(), fill="#ffffff") for it in plates(texts, lines)),
        chain.from_iterable(symbol_shapes(mark, seen) for mark in drawing.marks),
    )
    counts = placed.overlaps, len(placed.leaders)
    return Fitted(*seen.size, seen.scale, drawing.title, tuple(shapes), texts, *counts, note)


def _on_lines(
    drawing: Drawing, written: Sequence[PathMark], seen: View, placed: Placed, lines: Sequence[Segment]
) -> Iterator[PaperText]:
    """The texts that stand on lines of their own, wherever the others leave room."""
    if not written:
        return
    symbols = [_symbol_box(it, seen.spot(it.at)) for it in drawing.marks if isinstance(it, SymbolMark)]
    taken = Nearby([*symbols, *(spaced(text.box) for text in placed.texts)])
    wishes = [
        (label(it.label, LINE_SIZE, seen.size, colour=LAYERS[it.layer].colour), list(map(seen.spot, it.corners)))
        for it in written
    ]
    yield from written_on_lines(wishes, taken, Nearby([*lines, *placed.leaders]), seen.size)


def _reaches(mark: Mark, width: float) -> Iterator[Reach]:
    # What each mark needs round its points, so that the scale leaves room for it.
    match mark:
        case LineMark(start=start, end=end):
            yield from (Reach(point, _RIM, _RIM, _RIM) for point in (start, end))
        case ArcMark() | PathMark():
            yield from (Reach(point, _RIM, _RIM, _RIM) for point in mark.points(_EXTENT))
        case CircleMark(centre=centre, radius=radius):
            yield from (Reach(point, _RIM, _RIM, _RIM) for point in points_round(centre, radius, 4))
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


def _texts(drawing: Drawing, seen: View, lines: list[Segment]) -> tuple[Placed, str]:
    """The texts in their places, with as many names as can be read, and the rule for those that are left out."""
    points = [mark for mark in drawing.marks if isinstance(mark, SymbolMark)]
    spots = [seen.spot(mark.at) for mark in points]
    others = [_text_wish(mark, seen, lines) for mark in drawing.marks if isinstance(mark, TextMark) and mark.text]
    kept = [_symbol_box(*it) for it in zip(points, spots, strict=True)]
    tries = tuple(
        choices(points, [_name_area(mark, spot) for mark, spot in zip(points, spots, strict=True)], seen.size)
    )
    for chosen in tries[:-1]:
        names = _name_wishes(chosen, spots, seen.size)
        most = len(names) * _LED
        placed = place(others + names, kept, lines, seen.size, patience=(0, most))
        if not placed.overlaps and len(placed.leaders) <= most:
            return placed, chosen.note
    names = _name_wishes(tries[-1], spots, seen.size)
    return place(others + names, kept, lines, seen.size), tries[-1].note


def _name_area(mark: SymbolMark, spot: Spot) -> Box:
    size = _label_size(mark)
    return box(spot, text_width(mark.label, size, bold=mark.emphasis) / 2, size * (ASCENT + DESCENT) / 2)


def _name_wishes(chosen: Chosen, spots: list[Spot], size: tuple[float, float]) -> list[Wish]:
    middle = _middle(spots)
    named = [it for it in zip(chosen.points, spots, strict=True) if it[0].label]
    # What the drawing is about chooses first.
    named.sort(key=lambda it: not it[0].emphasis)
    return [_label_wish(mark, spot, middle, size) for mark, spot in named]


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
    return Wish(wanted, partial(along_line, wanted, spot, mark.side, span_under(spot, rotation, lines)))


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
