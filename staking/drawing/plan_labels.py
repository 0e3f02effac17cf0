"""Where does each text of the plan stand, and which texts go into a table of notes because nothing is free?

A text first looks beside its own line or point, then farther off at the end of a thin leader, both times where it
cannot be taken for another thing's; then, unless a note is better than that, where it can. Where nothing is free, a
number in brackets takes its place and the text goes into the notes. So no text ever lies on another one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain

from staking.drawing.labels import (
    Candidate,
    Label,
    along_line,
    beside_point,
    readable_rotation,
    standing_free,
    with_leader,
)
from staking.drawing.layers import LAYERS
from staking.drawing.marks import Mark, PathMark, SymbolMark, TextMark
from staking.drawing.nearby import Nearby
from staking.drawing.on_paper import segments, span_under, tips
from staking.drawing.paper import ASCENT, DESCENT, Box, PaperText, Segment, Spot, box, segment
from staking.drawing.placing import free_place, spaced, written_on_lines
from staking.drawing.plan_heavy import Area, Bars, Heavy
from staking.drawing.scale import View
from staking.drawing.symbols import symbol_radius
from staking.drawing.thinning import choices
from staking.drawing.widths import text_width

POINT_SIZE = 7.5  # points: names of corners and pins
CONTOUR_SIZE = 6.5  # points: heights on contours
MANY_NAMES = 40  # of one layer; fewer are all written, or stand in the notes

_OVERHANG = 1.25  # a text so many times as long as its line is read with the neighbouring one; it becomes a note
_ABOUT = {"DIMENSION": ("DIMENSION", "SLAB"), "KEEP-CLEAR": ("KEEP-CLEAR", "LOT")}
_ON_SLAB = ("SLAB", "DIMENSION", "TIE", "PART")
_NEAR = 13.0  # points; a text farther from its place needs a leader
_PAST = 4.0  # points that a text may stick out past the end of its line
_PATIENT = "SETBACK"  # has a whole line to stand along, and waits for the others where nothing is free there
_AFTER_NAMES = "HEIGHT"  # belong to a corner, whose name stands nearest; a table has them too
_FIRM = ("PART", _PATIENT)  # rather at the end of a long leader than where they can be misread
_OPTIONAL = ("TIE", "FALL")  # beside their lines or nowhere: a table or a note says it too
_NOTED = "PART"  # rather a note than a leader across the drawing
_FAR = 62.0  # points; longest leader of these before anything worse is tried
_LESS_FAR = 26.0  # points; the same of all others
_SHORT = ("DIMENSION", "TIE", "FALL")  # layers whose texts stand beside a line that is too short for them
_GRID = 10.0  # points between the places looked at for a number
_STEPS = range(-13, 14)
_RINGS = tuple(
    sorted((math.hypot(i, j), i * _GRID, j * _GRID) for i in _STEPS for j in _STEPS if abs(i) + abs(j) > 1)
)  # how far, right and up, the nearest first
_LOST = 4  # names of many that may become numbers or be left out before every second is tried, and so on
_LED = 0.6  # of them, that may stand at the end of a leader
_FULL = 4  # texts without a place, after which nothing is looked for all over the paper


@dataclass(frozen=True, slots=True)
class Labels:
    """Texts and leaders on paper; notes: what the numbers in brackets stand for; unplaced: what found no place.

    rule: which names of points are written, where they are too many for all; left_out: heights that found no place.
    """

    texts: tuple[PaperText, ...]
    leaders: tuple[Segment, ...]
    notes: tuple[str, ...]
    unplaced: tuple[str, ...]
    lines: tuple[Segment, ...]
    rule: str = ""
    left_out: frozenset[str] = frozenset()


Places = Callable[[Label], Iterable[Candidate]]


@dataclass(frozen=True, slots=True)
class _Wish:
    label: Label
    spot: Spot
    places: Places
    barred: Bars
    radius: float = 1.0
    too_long: bool = False
    layer: str = ""
    optional: bool = False  # a table or a note says it too
    keeps_off: Area | None = None  # where it may not stand at the end of a leader


def labelled(marks: Sequence[Mark], seen: View) -> Labels:
    """Give every text of the marks its place in the view, in their order, points last."""
    contours = [mark for mark in marks if isinstance(mark, PathMark) and mark.label]
    marks = [mark for mark in marks if mark not in contours] if contours else marks
    drawn = [(mark.layer, list(segments(mark, seen))) for mark in marks]
    lines = [
        line
        for mark, (layer, own) in zip(marks, drawn, strict=True)
        for line in chain(own, tips(mark, seen))
        if layer != "EXCAVATION"  # it runs close around the slab, where the heights have to stand, and gives way
    ]
    points = [mark for mark in marks if isinstance(mark, SymbolMark)]
    heavy = Heavy(marks, seen)
    wishes = [
        _text_wish(mark, seen, _under(mark, drawn), heavy) for mark in marks if isinstance(mark, TextMark) and mark.text
    ]
    middle = _middle([seen.spot(mark.at) for mark in points])
    tries = tuple(choices(points, [_name_area(mark, seen) for mark in points], seen.size, many=MANY_NAMES))
    for chosen in tries:
        table = _Table([_symbol_box(mark, seen) for mark in points], lines, seen.size)
        waiting = [wish for wish in wishes if not table.at_once(wish)]
        names = [_point_wish(mark, seen, middle, heavy) for mark in chosen.points if mark.label]
        if table.readable(names, last=chosen is tries[-1]):
            break
    for wish in waiting:
        table.add(wish)
    table.lines_broken(contours, seen, heavy)
    return table.labels((*lines, *(it for mark in contours for it in segments(mark, seen))), chosen.note)


class _Table:
    """What is taken so far on the paper."""

    def __init__(self, taken: list[Box], lines: list[Segment], size: tuple[float, float]) -> None:
        self.taken, self.lines, self.size = Nearby(taken), Nearby(lines), size
        self.texts: list[PaperText] = []
        self.leaders: list[Segment] = []
        self.notes: list[str] = []
        self.unplaced: list[str] = []
        self.left_out: set[str] = set()

    def at_once(self, wish: _Wish) -> bool:
        """Place a text, unless it is one that had better wait until all others are placed."""
        if wish.layer == _PATIENT and not wish.too_long:
            return self._near(wish)
        if wish.layer == _AFTER_NAMES:
            return False
        self.add(wish)
        return True

    def add(self, wish: _Wish) -> None:
        """Place a text, or its number, or neither."""
        if not wish.too_long and self._written(wish):
            return
        if wish.optional:
            self.left_out.add(wish.label.text)
            return
        if self._numbered(wish):
            self.notes.append(wish.label.text)
        else:
            self.unplaced.append(wish.label.text)

    def _written(self, wish: _Wish) -> bool:
        """Place a text: where it cannot be misread, or else where it covers nothing."""
        if self._near(wish):
            return True
        if wish.layer in _OPTIONAL:
            return False
        firm = wish.layer in _FIRM
        if self._tried(*_far(wish, _FAR if firm else _LESS_FAR), wish.barred):
            return True
        if wish.optional:
            return self._tried(*_far(wish, _FAR), wish.barred)
        if not firm and self._tried(wish.label, wish.places):
            return True
        return wish.layer != _NOTED and self._tried(*_far(wish), over=True)

    def _near(self, wish: _Wish) -> bool:
        return self._tried(wish.label, wish.places, wish.barred)

    def _numbered(self, wish: _Wish) -> bool:
        """Place a number instead of a text."""
        number = _label(f"[{len(self.notes) + 1}]", wish.label.size, rotation=0.0, colour=wish.label.colour)
        if self._tried(number, wish.places, wish.barred) or self._tried(number, wish.places):
            return True
        return len(self.unplaced) < _FULL and self._tried(number, partial(_anywhere, spot=wish.spot))

    def readable(self, names: Sequence[_Wish], *, last: bool) -> bool:
        """Place names as long as nearly all find a place and not too many of them at the end of a leader.

        last: place all of them in any case.
        """
        lost = len(self.notes) + len(self.unplaced) + _LOST
        leaders = len(self.leaders) + _LED * len(names)
        for name in names:
            self.add(name)
            if not last and (len(self.notes) + len(self.unplaced) > lost or len(self.leaders) > leaders):
                return False
        return True

    def lines_broken(self, marks: Sequence[PathMark], seen: View, heavy: Heavy) -> None:
        """Write heights on contours wherever there is room, outside the slab and its parts."""
        wishes = [
            (
                _label(it.label, CONTOUR_SIZE, rotation=0.0, colour=LAYERS[it.layer].colour),
                list(map(seen.spot, it.corners)),
            )
            for it in marks
        ]
        barred = heavy.bars("CONTOUR", Spot(-math.inf, -math.inf))
        self.texts += written_on_lines(wishes, self.taken, self.lines, self.size, barred)

    def labels(self, lines: tuple[Segment, ...], rule: str) -> Labels:
        """Everything placed so far; lines: of the drawing."""
        found = tuple(self.texts), tuple(self.leaders)
        return Labels(
            *found,
            tuple(self.notes),
            tuple(self.unplaced),
            lines,
            rule,
            frozenset(self.left_out - {text.text for text in self.texts}),
        )

    def _tried(self, label: Label, places: Places, barred: Bars | None = None, *, over: bool = False) -> bool:
        """Place a text if there is room. over: where it must be, even so that its leader runs over another text."""
        found = free_place(partial(places, label), self.taken, self.lines, self.size, barred, over=over)
        if found is None:
            return False
        self.texts.append(label.placed(found))
        self.taken.add(spaced(found.box))
        if found.leader:
            self.leaders.append(found.leader)
            self.lines.add(found.leader)
        return True


def _far(wish: _Wish, longest: float = math.inf) -> tuple[Label, Places]:
    """The text upright, at the end of a leader no longer than that [points]."""
    upright = _label(wish.label.text, wish.label.size, rotation=0.0, colour=wish.label.colour, bold=wish.label.bold)
    return upright, partial(_led, wish=wish, longest=longest)


def _led(label: Label, wish: _Wish, longest: float) -> Iterator[Candidate]:
    for place in with_leader(label, wish.spot, wish.radius, Spot(0.0, 0.0), longest):
        if wish.keeps_off is None or not wish.keeps_off.holds(place.box):
            yield place


def _anywhere(label: Label, spot: Spot) -> Iterator[Candidate]:
    """Places on a grid, the nearest first, each with a leader to the spot."""
    for far, x, y in _RINGS:
        centre = spot.moved(x, y)
        near = centre.moved(-math.copysign(label.width / 2, x) if x else 0.0, 0.0)
        yield label.centred(centre, far, segment(spot, near))


def _label(text: str, size: float, *, rotation: float, colour: str, bold: bool = False) -> Label:
    words = " ".join(text.split())
    return Label(words, size, text_width(words, size, bold=bold), bold, colour, rotation)


def _under(mark: TextMark, drawn: Sequence[tuple[str, list[Segment]]]) -> list[Segment]:
    """The lines that a text can be about: a drive that ends on a lot line does not shorten that line."""
    layers = _ABOUT.get(mark.layer, (mark.layer,))
    return [line for layer, lines in drawn if layer in layers for line in lines]


def _text_wish(mark: TextMark, seen: View, lines: list[Segment], heavy: Heavy) -> _Wish:
    spot, colour = seen.spot(mark.at), LAYERS[mark.layer].colour
    upright = _label(mark.text, mark.size, rotation=0.0, colour=colour)
    wish = _Wish(
        upright,
        spot,
        partial(_free, spot=spot, side=mark.side),
        heavy.bars(mark.layer, spot),
        layer=mark.layer,
        optional=mark.layer in (*_OPTIONAL, _AFTER_NAMES),
        keeps_off=None if mark.layer in _ON_SLAB else heavy.slab,
        radius=symbol_radius("stake", emphasis=True) if mark.layer == _AFTER_NAMES else 1.0,
    )
    if mark.along is None:
        return wish
    label = _label(mark.text, mark.size, rotation=readable_rotation(mark.along), colour=colour)
    span = span_under(spot, label.rotation, lines)
    too_long = label.width > _OVERHANG * sum(span)
    if too_long and mark.layer in _SHORT:
        return wish
    places = partial(_along, spot=spot, side=mark.side, span=span)
    return replace(wish, label=label, places=places, too_long=too_long)


def _free(label: Label, spot: Spot, side: float) -> Iterator[Candidate]:
    """On the place itself, then round it, as near as no leader is needed."""
    yield label.centred(spot, 0.0)
    for place in standing_free(label, spot, side):
        area = place.box
        if max(abs(area.x - spot.x) - area.half_length, abs(area.y - spot.y) - area.half_height) < _NEAR:
            yield place


def _along(label: Label, spot: Spot, side: float, span: tuple[float, float]) -> Iterator[Candidate]:
    """Places along the line under a text from which it does not stick out: there it would belong to the next line."""
    angle = math.radians(label.rotation)
    right, up, half = math.cos(angle), math.sin(angle), label.width / 2
    out = max(_PAST, half - sum(span) / 2)
    for place in along_line(label, spot, side, span):
        shift = (place.box.x - spot.x) * right + (place.box.y - spot.y) * up
        if shift - half >= -span[0] - out and shift + half <= span[1] + out:
            yield place


def _point_wish(mark: SymbolMark, seen: View, middle: Spot, heavy: Heavy) -> _Wish:
    spot, radius = seen.spot(mark.at), symbol_radius(mark.shape, emphasis=mark.emphasis)
    label = _label(mark.label, POINT_SIZE, rotation=0.0, colour=LAYERS[mark.layer].colour, bold=mark.emphasis)
    far = math.hypot(spot.x - middle.x, spot.y - middle.y)
    outward = Spot((spot.x - middle.x) / far, (spot.y - middle.y) / far) if far > 1.0 else Spot(0.0, 0.0)
    places = partial(beside_point, at=spot, radius=radius, outward=outward)
    return _Wish(label, spot, places, heavy.bars(mark.layer, spot), radius)


def _name_area(mark: SymbolMark, seen: View) -> Box:
    wide = text_width(mark.label, POINT_SIZE, bold=mark.emphasis)
    return box(seen.spot(mark.at), wide / 2, POINT_SIZE * (ASCENT + DESCENT) / 2)


def _middle(spots: Sequence[Spot]) -> Spot:
    count = max(len(spots), 1)
    return Spot(sum(spot.x for spot in spots) / count, sum(spot.y for spot in spots) / count)


def _symbol_box(mark: SymbolMark, seen: View) -> Box:
    radius = symbol_radius(mark.shape, emphasis=mark.emphasis) * 0.9
    return box(seen.spot(mark.at), radius, radius)
