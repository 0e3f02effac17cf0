"""What a drawing is once it lies on paper: lines, polygons, circles and texts, in points, x right and y up.

A point is 1/72 in; the origin is the lower left corner of the box the drawing was fitted into.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple, TypeVar

from staking.drawing.widths import text_width

Anchor = Literal["left", "middle", "right"]

# Shares of the text size, chosen by us to hold capitals, figures and the tails of g and y of the embedded font.
ASCENT = 0.76
DESCENT = 0.22
MIDDLE = (ASCENT - DESCENT) / 2

_TAILS = frozenset("gjpqyQ,;()[]_")


class Spot(NamedTuple):
    """A place on the paper [points]."""

    x: float
    y: float

    def moved(self, x: float, y: float) -> Spot:
        """The place so much farther right and up [points]."""
        return Spot(self.x + x, self.y + y)


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: width [points], colour as RGB hex, dash lengths [points]."""

    width: float
    colour: str = "#000000"
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class PaperLine:
    """A straight line."""

    start: Spot
    end: Spot
    stroke: Stroke


@dataclass(frozen=True, slots=True)
class PaperPolygon:
    """A chain of straight lines; closed: back to the first corner. No stroke or no fill where None."""

    corners: tuple[Spot, ...]
    closed: bool = True
    stroke: Stroke | None = None
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class PaperCircle:
    """A circle; radius [points]. No stroke or no fill where None."""

    centre: Spot
    radius: float
    stroke: Stroke | None = None
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class PaperText:
    """A text whose baseline has its left end, middle or right end at `at`.

    size [points]; rotation [deg] counterclockwise, above -90 and at most 90, so that it is never upside down.
    """

    at: Spot
    text: str
    size: float
    bold: bool = False
    rotation: float = 0.0
    anchor: Anchor = "left"
    colour: str = "#000000"

    @property
    def box(self) -> Box:
        """The rectangle that the text covers."""
        angle = math.radians(self.rotation)
        right, up = math.cos(angle), math.sin(angle)
        width = text_width(self.text, self.size, bold=self.bold)
        along = {"left": width / 2, "middle": 0.0, "right": -width / 2}[self.anchor]
        above = MIDDLE * self.size
        centre = self.at.moved(right * along - up * above, up * along + right * above)
        return box(centre, width / 2, (ASCENT + DESCENT) * self.size / 2, right, up)

    @property
    def ink(self) -> Box:
        """The rectangle of its capitals and figures, without the room for tails below the baseline."""
        area = self.box
        if not _TAILS.isdisjoint(self.text):
            return area
        lift = DESCENT * self.size / 2
        centre = Spot(area.x - area.up * lift, area.y + area.right * lift)
        return box(centre, area.half_length, area.half_height - lift, area.right, area.up)


Shape = PaperLine | PaperPolygon | PaperCircle


class Box(NamedTuple):
    """A rectangle: centre, half its length and height, the direction of its length, and the edges of the upright
    box round it.
    """

    x: float
    y: float
    half_length: float
    half_height: float
    right: float
    up: float
    low_x: float
    high_x: float
    low_y: float
    high_y: float

    def corners(self, margin: float = 0.0) -> tuple[Spot, Spot, Spot, Spot]:
        """Its corners, with a margin [points] all round."""
        length, height = self.half_length + margin, self.half_height + margin
        ax, ay, bx, by = self.right * length, self.up * length, -self.up * height, self.right * height
        return (
            Spot(self.x - ax - bx, self.y - ay - by),
            Spot(self.x + ax - bx, self.y + ay - by),
            Spot(self.x + ax + bx, self.y + ay + by),
            Spot(self.x - ax + bx, self.y - ay + by),
        )


def box(centre: Spot, half_length: float, half_height: float, right: float = 1.0, up: float = 0.0) -> Box:
    """A rectangle about its centre; right and up: direction of its length, of length 1."""
    x, y = centre
    reach_x, reach_y = half_length, half_height
    if up:  # most are upright
        reach_x = abs(right) * half_length + abs(up) * half_height
        reach_y = abs(up) * half_length + abs(right) * half_height
    return Box(x, y, half_length, half_height, right, up, x - reach_x, x + reach_x, y - reach_y, y + reach_y)


def boxes_meet(one: Box, other: Box, gap: float = 0.0) -> bool:
    """Whether two rectangles overlap or come nearer than `gap` [points] to one another."""
    dx, dy = other.x - one.x, other.y - one.y
    if not one.up and not other.up:  # both upright, as most are
        wide, high = one.half_length + other.half_length + gap, one.half_height + other.half_height + gap
        return abs(dx) < wide and abs(dy) < high
    return not (_apart(one, other, dx, dy, gap) or _apart(other, one, dx, dy, gap))


def _apart(one: Box, other: Box, dx: float, dy: float, gap: float) -> bool:
    # Two convex figures are apart when an axis square to one of their sides separates them.
    cosine = abs(one.right * other.right + one.up * other.up)
    sine = abs(one.right * other.up - one.up * other.right)
    along, across = abs(dx * one.right + dy * one.up), abs(dy * one.right - dx * one.up)
    length = one.half_length + other.half_length * cosine + other.half_height * sine + gap
    height = one.half_height + other.half_length * sine + other.half_height * cosine + gap
    return along >= length or across >= height


class Segment(NamedTuple):
    """A straight line that texts keep off, with the edges of the upright box round it."""

    start: Spot
    end: Spot
    low_x: float
    high_x: float
    low_y: float
    high_y: float


def segment(start: Spot, end: Spot) -> Segment:
    """The straight line from start to end."""
    (ax, ay), (bx, by) = start, end
    low_x, high_x = (ax, bx) if ax <= bx else (bx, ax)
    low_y, high_y = (ay, by) if ay <= by else (by, ay)
    return Segment(start, end, low_x, high_x, low_y, high_y)


Area = TypeVar("Area", Box, Segment)


def near(one: Box | Segment, others: Iterable[Area], gap: float = 0.0) -> list[Area]:
    """Those whose upright boxes come nearer than `gap` [points]: all that can meet it, and perhaps a few more."""
    low_x, high_x, low_y, high_y = one.low_x - gap, one.high_x + gap, one.low_y - gap, one.high_y + gap
    return [
        other
        for other in others
        if other.low_x < high_x and other.high_x > low_x and other.low_y < high_y and other.high_y > low_y
    ]


def line_meets(line: Segment, one: Box) -> bool:
    """Whether a straight line runs through a rectangle."""
    ax, ay = _seen_from(one, line.start)
    bx, by = _seen_from(one, line.end)
    length, height = one.half_length, one.half_height
    if ay >= height <= by or ay <= -height >= by or ax >= length <= bx or ax <= -length >= bx:
        return False  # all of it on one side
    window = _clip(ay, by - ay, height, (0.0, 1.0))
    window = _clip(ax, bx - ax, length, window)
    return window[0] < window[1]


def _seen_from(one: Box, spot: Spot) -> tuple[float, float]:
    dx, dy = spot.x - one.x, spot.y - one.y
    return dx * one.right + dy * one.up, dy * one.right - dx * one.up


def _clip(start: float, step: float, half: float, window: tuple[float, float]) -> tuple[float, float]:
    # The part of the line, as shares of its length, that lies between -half and half.
    if step == 0:
        return window if abs(start) < half else (1.0, 0.0)
    reach = half if step > 0 else -half
    return max(window[0], (-reach - start) / step), min(window[1], (reach - start) / step)


@dataclass(frozen=True, slots=True)
class Fitted:
    """A drawing on paper: shapes from the lowest to the topmost, then texts above all of them.

    width, height: of the box [points]; scale: points of paper a metre on the ground; overlaps: how many texts
    still lie on another text or on a symbol, 0 where everything found its place; leaders: how many stand so far
    from their point that a thin line ties them to it; note: what stands below the picture, where names were left out.
    """

    width: float
    height: float
    scale: float
    title: str
    shapes: tuple[Shape, ...]
    texts: tuple[PaperText, ...]
    overlaps: int = 0
    leaders: int = 0
    note: str = ""
