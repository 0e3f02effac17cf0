"""What lies between named places for a tape to measure: from mark to mark, or square from a line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from staking.kinds.ground import BaseLine
from staking.layout.computed import Diagonal, Layout
from staking.layout.tolerances import SOURCE, of_diagonal, of_length
from staking.survey.points import Point, Vector, distance, vector

Kind = Literal["side", "diagonal", "tie", "other"]
Places = Mapping[str, Point]

_ALIKE = 1e-6  # metres; diagonals of a rectangle differ by less in the drawing


@dataclass(frozen=True)
class Span:
    """From one named place to another, or square from a named line to it.

    base: the line. sign: 1 where the place lies left of it, -1 right; the drawing says which. words: what it is.
    """

    start: str
    end: str
    kind: Kind
    words: str
    base: BaseLine | None = None
    sign: int = 1

    @property
    def ends(self) -> tuple[str, ...]:
        """The places it depends on."""
        return (self.start,) if self.base else (self.start, self.end)

    @property
    def key(self) -> frozenset[str]:
        """The same whichever end is named first."""
        return frozenset((self.start, self.end))

    def length(self, at: Places) -> float:
        """With the places where they are [m]."""
        if self.base:
            return self.sign * self.base.line.offset(at[self.start])
        return distance(at[self.start], at[self.end])

    def change(self, at: Places) -> Mapping[str, Vector]:
        """How it grows when each of its places moves east, and north. Raises ValueError for places that coincide."""
        if self.base:
            left = self.base.line.direction.left()
            return {self.start: left if self.sign > 0 else left.reversed()}
        way = vector(at[self.start], at[self.end]).unit()
        return {self.start: way.reversed(), self.end: way}


@dataclass(frozen=True)
class Apart:
    """How much longer one diagonal of a rectangle is than the other one."""

    first: Span
    second: Span
    kind: Kind = "diagonal"
    words: str = "one diagonal less the other"
    base: None = None

    @property
    def start(self) -> str:
        """The first diagonal."""
        return f"{self.first.start}-{self.first.end}"

    @property
    def end(self) -> str:
        """The second one."""
        return f"{self.second.start}-{self.second.end}"

    @property
    def ends(self) -> tuple[str, ...]:
        """The places it depends on."""
        return (*self.first.ends, *self.second.ends)

    @property
    def key(self) -> frozenset[str]:
        """As of `Span`."""
        return frozenset((self.start, self.end))

    def length(self, at: Places) -> float:
        """With the places where they are [m]; below 0 where the second one is longer."""
        return self.first.length(at) - self.second.length(at)


@dataclass(frozen=True)
class OnString:
    """A crossing of strings lies on the string from one corner to another: its distance off it is 0."""

    place: str
    first: str
    second: str

    def length(self, at: Places) -> float:
        """Off the string [m], positive on the left."""
        along = vector(at[self.first], at[self.second]).unit()
        return along.cross(vector(at[self.first], at[self.place]))

    def change(self, at: Places) -> Mapping[str, Vector]:
        """As of `Span`: the nearer an end of the string, the more the string follows it."""
        string = vector(at[self.first], at[self.second])
        square = string.unit().left()
        share = vector(at[self.first], at[self.place]).dot(string) / string.length**2
        scaled = {self.place: 1.0, self.first: share - 1, self.second: -share}
        return {name: Vector(square.east * times, square.north * times) for name, times in scaled.items()}


def rows_of(
    spans: Iterable[Span | OnString], at: Places, unknown: Mapping[str, int]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """What would be measured, and how it changes with the unknown places: east, north of each in turn."""
    lengths, rows = [], []
    for span in spans:
        row = np.zeros(2 * len(unknown))
        for name, way in span.change(at).items():
            if name in unknown:
                row[2 * unknown[name] : 2 * unknown[name] + 2] += (way.east, way.north)
        lengths.append(span.length(at))
        rows.append(row)
    return np.array(lengths), np.array(rows).reshape(len(rows), 2 * len(unknown))


def slab_spans(layout: Layout) -> tuple[Span, ...]:
    """The sides and diagonals of the formed outline, as the tape sheet has them."""
    sides = [Span(side.start, side.end, "side", side.taped) for side in layout.sides]
    diagonals = [_across(each) for each in layout.diagonals]
    return (*sides, *diagonals)


def pairs_alike(layout: Layout) -> tuple[Apart, ...]:
    """The two diagonals of each rectangle, which are alike in the drawing."""
    found: dict[str, list[Diagonal]] = {}
    for each in layout.diagonals:
        found.setdefault(each.of, []).append(each)
    pairs = [pair for pair in found.values() if len(pair) == 2 and abs(pair[0].length - pair[1].length) < _ALIKE]
    return tuple(Apart(_across(one), _across(other)) for one, other in pairs)


def _across(each: Diagonal) -> Span:
    return Span(each.start, each.end, "diagonal", f"diagonal of {each.of}")


def tie_spans(layout: Layout) -> tuple[Span, ...]:
    """The corners square from lines, as the tape sheet has them."""
    return tuple(
        square_span(tie.corner, layout.lines[tie.line], tie.at) for tie in layout.ties if tie.line in layout.lines
    )


def square_span(place: str, base: BaseLine, design: Point) -> Span:
    """A place square from a line, on the side of it where the drawing has it."""
    sign = 1 if base.line.offset(design) >= 0 else -1
    return Span(place, base.name, "tie", f"square from {base.name}", base, sign)


def allowed(layout: Layout, span: Span, design: float) -> tuple[float | None, str]:
    """How far a length may be from the drawing [m], and who says so; None without a figure."""
    told = layout.site.declared.instrument
    if told is not None and told.tolerance is not None and span.kind != "diagonal":
        return told.tolerance, "instrument.tolerance"
    if span.kind == "other":
        return None, ""
    return (of_diagonal(design) if span.kind == "diagonal" else of_length(design)).plus_minus, SOURCE


def known_places(layout: Layout) -> dict[str, Point]:
    """Given points by name: what the crew cannot move."""
    return {name: point.at for name, point in layout.points.items()}


def design_places(layout: Layout) -> dict[str, Point]:
    """Everything that is set out, by name: corners, stakes, and where strings cross. None of these is given."""
    corners = dict(zip(layout.corner_names, layout.slab.form.corners, strict=True))
    return {
        **{crossing.name: crossing.at for crossing in layout.crossings},
        **{stake.name: stake.at for stake in layout.stakes},
        **corners,
    }
