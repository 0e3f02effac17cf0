"""Where a text could stand: the places beside a point or along a line, from the most to the least wanted."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

import shapely

from staking.drawing.paper import (
    ASCENT,
    DESCENT,
    MIDDLE,
    Anchor,
    Box,
    PaperText,
    Segment,
    Spot,
    box,
    segment,
)
from staking.drawing.widths import text_width

_GAPS = ((1.5, 0.0), (4.0, 1.2), (7.0, 2.4))  # points from the symbol, and what that costs
_FAR = tuple(  # the same with a leader
    zip((12.0, 18.0, 26.0, 38.0, 54.0, 76.0, 108.0, 152.0, 215.0), (5.5, 6.5, 8, 10, 12.5, 16, 20, 25, 30), strict=True)
)
_ROUND = tuple(
    (math.cos(math.radians(angle)), math.sin(math.radians(angle))) for angle in (22.5 * n for n in range(16))
)
_ANCHORS: Mapping[int, Anchor] = MappingProxyType({-1: "right", 0: "middle", 1: "left"})  # of a text on that side
# The eight directions, right and up, with their length and what each costs by itself: right above first, straight
# below last.
_EIGHT = tuple(
    (dx, dy, math.hypot(dx, dy), cost)
    for dx, dy, cost in (
        (1, 1, 0.0),
        (-1, 1, 0.2),
        (1, -1, 0.3),
        (-1, -1, 0.4),
        (1, 0, 0.5),
        (-1, 0, 0.6),
        (0, 1, 0.7),
        (0, -1, 0.8),
    )
)
_TURNS = tuple(  # cost, azimuth from the wanted side [deg] and gap [points] of a text that stands free
    sorted(
        (abs(turn) / 45.0 + gap / 4.0, turn, gap)
        for turn in (0, -45, 45, -90, 90, -135, 135, 180)
        for gap in (1.5, 6.0, 12.0, 20.0, 32.0, 48.0)
    )
)
_OFF_LINE = 2.2  # points between a line and a text along it, so that heavy lines do not touch it
_OFF = tuple(  # which side of the line and how far from it, and what that costs
    (2.4 if other else 0.0, far * 0.25, (other, far)) for other in (False, True) for far in (0.0, 3.5, 8.0)
)
_CLEAR_OF = 1.45  # of the radius of a symbol, from its point to where a leader begins
_BESIDE = 6.0  # points of a line that show beside a text written on it, and between two places tried
_STATIONS = 20  # places tried on a line, to either side of its middle
_LEAST_STRAIGHT = 0.8  # chord / length of the piece of line that a text may stand on, at the least
_WINDING = 15.0  # what it costs to stand where the line is not straight
_SHORT_OF = 1.0  # points between a leader and its text
FREE = (math.inf, math.inf)  # a text along no line in particular
_INWARD = 1.2  # what it costs to stand on the inner side of a point rather than on the outer


class Candidate(NamedTuple):
    """A place for a text. cost: the less the better; leader: a thin line from the point to the text."""

    cost: float
    at: Spot
    anchor: Anchor
    rotation: float
    box: Box
    leader: Segment | None = None


@dataclass(frozen=True)
class Label:
    """A text that looks for a place, among many. width: of the text [points]; size [points]."""

    text: str
    size: float
    width: float
    bold: bool = False
    colour: str = "#000000"
    rotation: float = 0.0

    @cached_property
    def half_height(self) -> float:
        """Half the height of its rectangle [points]."""
        return (ASCENT + DESCENT) * self.size / 2

    @cached_property
    def direction(self) -> tuple[float, float]:
        """Which way it is read: right and up, of length 1."""
        return _direction(self.rotation)

    def placed(self, candidate: Candidate) -> PaperText:
        """The text at the place found."""
        return PaperText(
            candidate.at, self.text, self.size, self.bold, candidate.rotation, candidate.anchor, self.colour
        )

    def centred(self, centre: Spot, cost: float, leader: Segment | None = None) -> Candidate:
        """The place whose rectangle has its centre there."""
        right, up = self.direction
        area = box(centre, self.width / 2, self.half_height, right, up)
        lower = MIDDLE * self.size
        at = centre.moved(up * lower, -right * lower)
        return Candidate(cost, at, "middle", self.rotation, area, leader)


def label(
    text: str,
    size: float,
    room: tuple[float, float],
    *,
    bold: bool = False,
    colour: str = "#000000",
    rotation: float = 0.0,
) -> Label:
    """A label on one line, set smaller where it would be longer than the room (width, height) [points] at hand."""
    words = " ".join(text.split())
    width, height = text_width(words, size, bold=bold), (ASCENT + DESCENT) * size
    right, up = _direction(rotation)
    needed = (abs(right) * width + abs(up) * height, abs(up) * width + abs(right) * height)
    shrink = min(1.0, room[0] / needed[0] if needed[0] else 1.0, room[1] / needed[1])
    return Label(words, size * shrink, width * shrink, bold, colour, rotation)


def readable_rotation(azimuth: float) -> float:
    """Rotation [deg, counterclockwise] of a text along an azimuth [deg] that nobody reads upside down.

    Above -90 and at most 90. Within half a degree of -90 the text is turned to 90, so that texts along
    nearly parallel upright lines are all read from the right.

    >>> readable_rotation(90.0), readable_rotation(270.0), readable_rotation(180.0), readable_rotation(45.0)
    (0.0, 0.0, 90.0, 45.0)
    """
    turned = (90.0 - azimuth) % 180.0
    if turned >= 90.5:
        return turned - 180.0
    return min(turned, 90.0)


def beside_point(wanted: Label, at: Spot, radius: float, outward: Spot) -> Iterator[Candidate]:
    """Eight places round a symbol at growing distance. outward: where the outside of the drawing lies, length 1."""
    ways = [(cost, dx, dy, _INWARD * (1 - (dx * outward.x + dy * outward.y) / far) / 2) for dx, dy, far, cost in _EIGHT]
    order = sorted(
        [(cost + gap_cost + inward, dx, dy, gap) for cost, dx, dy, inward in ways for gap, gap_cost in _GAPS]
    )
    half_width, half_height, drop = wanted.width / 2, wanted.half_height, MIDDLE * wanted.size
    for cost, dx, dy, gap in order:
        reach = (radius + gap) * (0.7 if dx and dy else 1.0)
        centre = Spot(at.x + dx * (reach + half_width), at.y + dy * (reach + half_height))
        start = Spot(at.x + dx * reach, centre.y - drop)
        yield Candidate(cost, start, _ANCHORS[dx], 0.0, box(centre, half_width, half_height))


def with_leader(
    wanted: Label, at: Spot, radius: float, outward: Spot, longest: float = math.inf
) -> Iterator[Candidate]:
    """Places farther off in sixteen directions, tied to the point by a thin line no longer than that [points]."""
    ways = sorted((_INWARD * -(x * outward.x + y * outward.y), x, y) for x, y in _ROUND)
    rays = [_ray(wanted, at, way, radius * _CLEAR_OF) for way in ways]
    for distance, distance_cost in _FAR:
        if distance - radius * _CLEAR_OF - _SHORT_OF > longest:
            return
        for cost, dx, dy, start, reach, inside in rays:
            middle = reach + distance
            last = middle - inside - _SHORT_OF
            end = Spot(at.x + dx * last, at.y + dy * last)
            if longest == math.inf or math.dist(start, end) <= longest:
                centre = Spot(at.x + dx * middle, at.y + dy * middle)
                yield wanted.centred(centre, distance_cost + cost, segment(start, end))


class _Ray(NamedTuple):
    """A way from a point: what it costs, right and up, where leaders begin, and how far a text reaches along it
    before its middle: its upright box, and the text itself [points].
    """

    cost: float
    x: float
    y: float
    start: Spot
    reach: float
    inside: float


def _ray(wanted: Label, at: Spot, way: tuple[float, float, float], first: float) -> _Ray:
    half_width, half_height = wanted.width / 2, wanted.half_height
    _, dx, dy = way
    reach = abs(dx) * half_width + abs(dy) * half_height
    inside = min(half_width / max(abs(dx), 1e-9), half_height / max(abs(dy), 1e-9))
    return _Ray(*way, at.moved(dx * first, dy * first), reach, inside)


def on_chain(wanted: Label, chain: Sequence[Spot]) -> Iterator[Candidate]:
    """Places on a chain of lines itself, wherever it is straight enough for the text; nearest to its middle first."""
    line = shapely.LineString(chain)
    half = wanted.width / 2 + _SHORT_OF
    if line.length < 2 * half + _BESIDE:
        return
    steps = max(1, min(_STATIONS, int((line.length / 2 - half) / _BESIDE)))
    ends = ((cost, 0.5 + sign * cost / 2) for cost in (n / steps for n in range(steps + 1)) for sign in (1, -1))
    for cost, share in ends:
        at = half + share * (line.length - 2 * half)
        behind, middle, ahead = (Spot(*line.interpolate(at + by).coords[0]) for by in (-half, 0.0, half))
        straight = math.dist(behind, ahead) / (2 * half)
        if straight < _LEAST_STRAIGHT:
            continue
        rotation = readable_rotation(math.degrees(math.atan2(ahead.x - behind.x, ahead.y - behind.y)))
        centre = Spot((behind.x + 2 * middle.x + ahead.x) / 4, (behind.y + 2 * middle.y + ahead.y) / 4)
        yield replace(wanted, rotation=rotation).centred(centre, cost + _WINDING * (1 - straight))


def along_line(wanted: Label, at: Spot, side: float, span: tuple[float, float] = FREE) -> Iterator[Candidate]:
    """Places along a line through `at`: on the wanted side (an azimuth [deg]), on the other, then shifted.

    span: how far the line goes on behind and ahead of `at` [points], in the direction of reading; a text that
    sticks out there would seem to belong to the next line, so that costs more than to stand farther off.
    """
    right, up = wanted.direction
    across = Spot(-up, right) if _on_left(right, up, side) else Spot(up, -right)
    half = wanted.half_height
    step = max(wanted.width / 4, wanted.size)
    shifts = [(abs(n) * 0.8 + _sticking_out(wanted, n * step, span), n * step) for n in range(-6, 7)]
    order = sorted(
        [(cost + other_cost + far_cost, shift, *off) for cost, shift in shifts for other_cost, far_cost, off in _OFF]
    )
    for cost, shift, other, far in order:
        off = (half + _OFF_LINE + far) * (-1.0 if other else 1.0)
        yield wanted.centred(at.moved(right * shift + across.x * off, up * shift + across.y * off), cost)


def _sticking_out(wanted: Label, shift: float, span: tuple[float, float]) -> float:
    half = wanted.width / 2
    unmoved = max(0.0, half - span[0]) + max(0.0, half - span[1])
    moved = max(0.0, half - shift - span[0]) + max(0.0, half + shift - span[1])
    return (moved - unmoved) * 0.25


def _on_left(right: float, up: float, side: float) -> bool:
    # Above the line where the wanted side is neither left nor right of it.
    angle = math.radians(side)
    return -up * math.sin(angle) + right * math.cos(angle) > -1e-9


def standing_free(wanted: Label, at: Spot, side: float) -> Iterator[Candidate]:
    """Upright places beside `at`: on the wanted side (an azimuth [deg]) first, then round it and farther off."""
    half_width, half_height = wanted.width / 2, wanted.half_height
    for cost, turn, gap in _TURNS:
        angle = math.radians(side + turn)
        dx, dy = math.sin(angle), math.cos(angle)
        reach = gap + abs(dx) * half_width + abs(dy) * half_height
        yield wanted.centred(at.moved(dx * reach, dy * reach), cost)


def _direction(rotation: float) -> tuple[float, float]:
    angle = math.radians(rotation)
    return math.cos(angle), math.sin(angle)
