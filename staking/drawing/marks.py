"""The few things a drawing is made of. Every format draws these and nothing else.

Places are on the ground, in metres (east right, north up). Sizes of text and symbols are in points of paper
(1/72 in), so that a drawing can be shown at any scale; whoever draws it decides the scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece, flattened
from staking.survey.points import Point

SymbolShape = Literal["stake", "given", "nail", "foot", "pin", "thing"]


@dataclass(frozen=True, slots=True)
class LineMark:
    """A straight line."""

    layer: str
    start: Point
    end: Point
    arrows: bool = False  # a head at both ends, for dimensions
    head: bool = False  # a head at the end only, for something that went from start to end


@dataclass(frozen=True, slots=True)
class ArcMark:
    """A piece of a circle that stands by itself; sides of an outline are bulges of its path."""

    layer: str
    arc: Arc

    def points(self, chord_error: float) -> tuple[Point, ...]:
        """The arc as chords that leave it by at most so much [m]."""
        return flattened((self.arc,), chord_error)


@dataclass(frozen=True, slots=True)
class PathMark:
    """A chain of sides; closed: back to the first corner.

    bulges: tan(sweep/4) of each side, positive where it turns left, 0 where it is straight; left out where all are.
    up: height of all of it [m], of a contour. label: written on the line itself, which is broken there.
    """

    layer: str
    corners: tuple[Point, ...]
    closed: bool = False
    filled: bool = False  # tinted lightly inside (only where closed)
    bulges: tuple[float, ...] = ()
    up: float | None = None
    label: str = ""

    def points(self, chord_error: float) -> tuple[Point, ...]:
        """The corners, with arcs as chords that leave them by at most so much [m]; the first is not repeated."""
        if not any(self.bulges):
            return self.corners
        ends = self.corners[1:] + (self.corners[:1] if self.closed else ())
        pieces: list[Piece] = [
            Arc.through_bulge(start, end, bulge) if bulge else Line(start, end)
            for start, end, bulge in zip(self.corners, ends, self.bulges, strict=False)
        ]
        return flattened(pieces, chord_error)


@dataclass(frozen=True, slots=True)
class CircleMark:
    """A circle with a radius on the ground [m]."""

    layer: str
    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class SymbolMark:
    """A point with a name, shown by a small symbol and a label that the drawer may move round it."""

    layer: str
    at: Point
    label: str = ""
    shape: SymbolShape = "stake"
    emphasis: bool = False  # what this drawing is about: larger label
    side: str = ""  # which side it stands on: of the names along one side the outermost stay longest


@dataclass(frozen=True, slots=True)
class TextMark:
    """A text along a line or standing free.

    along: azimuth [deg] of the line it is written along, or None for upright text. It is turned so that nobody
    reads it upside down. side: the azimuth [deg] of the side of `at` on which it should stand.
    """

    layer: str
    at: Point
    text: str
    along: float | None = None
    side: float = 0.0
    size: float = 8.0  # points of paper


Mark = LineMark | ArcMark | PathMark | CircleMark | SymbolMark | TextMark


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks in the order they are drawn, later ones on top. title: for a screen reader."""

    marks: tuple[Mark, ...]
    title: str
