"""Where do the corners stand by all readings of a tape together, and are there enough of them?

Least squares of distances, each weighted by its standard error. What is given does not move. Where no reading ties the
slab to the ground, its shape is found and laid on the drawing: on the corners that are held, else on the front side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from staking.field.tape_book import TapeReading
from staking.field.taped import (
    OnString,
    Places,
    Span,
    design_places,
    known_places,
    rows_of,
    slab_spans,
    tie_spans,
)
from staking.layout.accuracy import tape_sigma
from staking.layout.computed import Layout
from staking.sitefile.instrument_declared import TapeDeclared
from staking.survey.least_squares import Solution, nonlinear
from staking.survey.points import Point, distance, mean
from staking.survey.similarity import best_fit

GRADE, READING = "II", 0.002  # of a tape that nobody described: class II, and 2 mm for reading, pull and mark
ON_STRING = 0.001  # metres; how well a mark is set under a string; common practice, no source
_FREE = 1e-3  # of a unit step: a move that changes no reading by more than this is left open; own choice
_BENDS = 1e-2  # of a unit step of all places: less than that is a move of the whole slab; own choice
_USUAL = 1.25  # how much better another distance must be than a side, diagonal or tie of the sheet; own choice
_ALL_PAIRS = 12  # corners; between more only the distances of the sheet are offered

Matrix = NDArray[np.float64]


@dataclass(frozen=True)
class Net:
    """The places that are looked for, and what was measured between them and what is known."""

    layout: Layout
    readings: tuple[TapeReading, ...]
    fallback: float | None = None  # standard error of a reading that states none [m]

    @cached_property
    def known(self) -> Mapping[str, Point]:
        """Given points that a reading goes to."""
        given = known_places(self.layout)
        return {name: given[name] for reading in self.readings for name in reading.span.ends if name in given}

    @cached_property
    def design(self) -> Mapping[str, Point]:
        """The places looked for, where the drawing has them: every corner, and whatever else was measured to."""
        places = design_places(self.layout)
        wanted = dict.fromkeys(self.layout.corner_names)
        wanted.update(dict.fromkeys(n for reading in self.readings for n in reading.span.ends if n in places))
        return {name: places[name] for name in wanted}

    @cached_property
    def unknown(self) -> Mapping[str, int]:
        """The number of each place looked for."""
        return {name: number for number, name in enumerate(self.design)}

    @cached_property
    def strings(self) -> tuple[OnString, ...]:
        """What holds crossings of strings in their places."""
        crossings = [each for each in self.layout.crossings if each.name in self.unknown]
        return tuple(string for each in crossings for string in strings_through(self.layout, each.name, each.at))

    @property
    def spans(self) -> tuple[Span | OnString, ...]:
        """What was measured, then what the strings hold."""
        return (*(reading.span for reading in self.readings), *self.strings)

    def error(self, reading: TapeReading) -> float:
        """The standard error of a reading [m]: its own, the one asked for, that of the tape declared, or the usual."""
        if reading.error is not None:
            return reading.error
        if self.fallback is not None:
            return self.fallback
        told = self.layout.site.declared.instrument
        grade, each = (told.grade, told.reading) if isinstance(told, TapeDeclared) else (GRADE, READING)
        return math.hypot(tape_sigma(grade, reading.value), each)

    @cached_property
    def errors(self) -> tuple[float, ...]:
        """Standard errors of readings and strings [m]."""
        return (*map(self.error, self.readings), *(ON_STRING for _ in self.strings))

    def places(self, numbers: Matrix) -> dict[str, Point]:
        """Known places and those looked for, from east and north of each in turn."""
        found = {name: Point(float(numbers[2 * i]), float(numbers[2 * i + 1])) for name, i in self.unknown.items()}
        return {**self.known, **found}

    @cached_property
    def start(self) -> Matrix:
        """The drawing, as numbers."""
        return np.array([number for point in self.design.values() for number in (point.east, point.north)])

    def rows(self, spans: Iterable[Span | OnString], numbers: Matrix | None = None) -> tuple[Matrix, Matrix]:
        """Lengths, and how they change, where the drawing or these numbers put the places."""
        return rows_of(spans, self.places(self.start if numbers is None else numbers), self.unknown)

    @cached_property
    def open(self) -> Matrix:
        """The moves of all places that no reading would notice, one a column."""
        return _null(self.rows(self.spans)[1], len(self.start))

    @cached_property
    def rigid(self) -> Matrix:
        """Shift east, shift north and turn of all places together, each a column of length 1, square to the others."""
        return _rigid(list(self.design.values()))

    @property
    def shape_open(self) -> int:
        """How many readings the shape still lacks."""
        return int(_less(self.open, self.rigid).shape[1])

    @property
    def datum_open(self) -> int:
        """How many of shift east, shift north and turn no reading fixes: 3 where nothing ties the slab down."""
        return int(self.open.shape[1]) - self.shape_open

    @property
    def redundancy(self) -> int:
        """Readings beyond those needed."""
        return len(self.spans) - len(self.start) + int(self.open.shape[1])

    def without(self, *left_out: int) -> Net:
        """The same without some readings, the places looked for staying the same."""
        kept = tuple(reading for number, reading in enumerate(self.readings) if number not in left_out)
        other = Net(self.layout, kept, self.fallback)
        other.__dict__.update({name: getattr(self, name) for name in ("known", "design", "unknown")})
        return other

    def with_value(self, number: int, read: float) -> Net:
        """The same with another figure read [m]."""
        changed = list(self.readings)
        changed[number] = _reread(changed[number], read)
        return Net(self.layout, tuple(changed), self.fallback)


def _reread(reading: TapeReading, read: float) -> TapeReading:
    fields = {name: getattr(reading, name) for name in reading.__dataclass_fields__}
    return TapeReading(**{**fields, "read": read})


def _null(rows: Matrix, count: int) -> Matrix:
    if not len(rows):
        return np.eye(count)
    _, singular, right = np.linalg.svd(rows)
    rank = int(np.sum(singular > _FREE))
    return np.asarray(right[rank:].T)


def _rigid(places: Sequence[Point]) -> Matrix:
    centre, count = mean(places), len(places)
    turn = np.array([number for p in places for number in (p.north - centre.north, centre.east - p.east)])
    ways = np.stack([np.tile([1.0, 0.0], count), np.tile([0.0, 1.0], count), turn])
    return np.asarray((ways / np.linalg.norm(ways, axis=1)[:, None]).T)


def strings_through(layout: Layout, name: str, at: Point) -> Iterator[OnString]:
    """The two strings that cross there, by the corners of the sides they run over."""
    sides, names = layout.slab.form.sides, layout.corner_names
    through = [number for number, side in enumerate(sides) if abs(side.offset(at)) < 1e-6]
    across = [n for n in through[1:] if abs(sides[n].direction.cross(sides[through[0]].direction)) > 0.1]
    for number in (through[0], across[0]):
        yield OnString(name, names[number], names[(number + 1) % len(names)])


@dataclass(frozen=True, eq=False)
class Adjusted:
    """The places found, of the least weighted sum of squared residuals. tied: to the ground, else laid on the drawing.

    laid_on: the corners that were put on the drawing, where nothing ties the slab to the ground.
    """

    net: Net
    solution: Solution
    at: Places
    tied: bool
    laid_on: tuple[str, ...]

    @property
    def chance(self) -> float:
        """Of residuals so large from the noise of taping alone."""
        return self.solution.chance(1.0) if self.net.redundancy else 1.0

    @property
    def residuals(self) -> tuple[float, ...]:
        """What is added to each reading to make all agree [m]."""
        return tuple(float(left) for left in self.solution.residuals[: len(self.net.readings)])

    @property
    def corners(self) -> tuple[Point, ...]:
        """The corners of the slab, in order."""
        return tuple(self.at[name] for name in self.net.layout.corner_names)


def adjust(net: Net, held: Sequence[str] = ()) -> Adjusted:
    """The places by all readings. held: names of corners that stay on the drawing where nothing ties the slab down.

    Raises ValueError where the shape is open (`next_readings` says what is missing), and where no places come near the
    readings.
    """
    if net.shape_open > 0:
        raise ValueError("the readings leave the shape open")
    observed = [reading.value for reading in net.readings] + [0.0] * len(net.strings)
    weights = [1 / error**2 for error in net.errors]
    loose = net.open.T
    constraints = (lambda numbers: (loose @ (numbers - net.start), loose)) if len(loose) else None
    solution = nonlinear(
        lambda numbers: net.rows(net.spans, numbers), net.start, observed, weights=weights, constraints=constraints
    )
    at = net.places(solution.unknowns)
    if net.datum_open < 3:
        return Adjusted(net, solution, at, net.datum_open == 0, ())
    front = (net.layout.sides[0].start, net.layout.sides[0].end)
    laid = tuple(name for name in held if name in net.design) or front
    return Adjusted(net, solution, _laid(net, at, laid), False, laid)


def _laid(net: Net, at: Places, on: Sequence[str]) -> Places:
    """The shape put on the drawing: two held corners or more by the best fit, one by shift alone."""
    pairs = [(at[name], net.design[name]) for name in on]
    if len(pairs) == 1:
        ((here, there),) = pairs
        east, north = there.east - here.east, there.north - here.north
        return {name: Point(p.east + east, p.north + north) for name, p in at.items()}
    fit, _ = best_fit(pairs)
    return {name: fit.apply(point) for name, point in at.items()}


def candidates(net: Net) -> tuple[Span, ...]:
    """What could be measured besides: sides, diagonals and ties of the sheet, then other distances on the slab."""
    have = {reading.span.key for reading in net.readings}
    usual = [span for span in (*slab_spans(net.layout), *tie_spans(net.layout)) if set(span.ends) <= net.unknown.keys()]
    names, given = net.layout.corner_names, known_places(net.layout)
    other: list[Span] = []
    if len(names) <= _ALL_PAIRS:
        other = [Span(a, b, "other", "distance") for a, b in combinations(names, 2)]
    for tie in net.layout.double_ties:
        other += [Span(tie.corner, point, "tie", "tie") for point in (tie.first, tie.second) if point in given]
    seen = {span.key for span in usual}
    return tuple(span for span in (*usual, *(o for o in other if o.key not in seen)) if span.key not in have)


def next_readings(net: Net, *, placed: bool = False) -> tuple[Span, ...]:
    """Which readings to take so that the shape is no longer open, the one that helps most first.

    placed: so that the place on the lot is no longer open either.
    """
    loose = net.open if placed else _less(net.open, net.rigid)
    tries = list(candidates(net))
    found: list[Span] = []
    places = {**known_places(net.layout), **net.design}
    _, rows = rows_of(tries, places, net.unknown)
    while loose.shape[1] and tries:
        gains = [float(np.linalg.norm(row @ loose)) / (1.0 if s.kind in ("side", "diagonal") or s.base else _USUAL)
                 for row, s in zip(rows, tries, strict=True)]  # fmt: skip
        best = max(range(len(tries)), key=lambda i: round(gains[i], 6))
        if gains[best] < _FREE:
            break
        found.append(tries[best])
        loose = loose @ _null((rows[best] @ loose)[None, :], loose.shape[1])
        rows = np.delete(rows, best, axis=0)
        del tries[best]
    return tuple(found)


def _less(ways: Matrix, others: Matrix) -> Matrix:
    """The part of some directions that is square to others."""
    left = ways - others @ (others.T @ ways)
    base, singular, _ = np.linalg.svd(left, full_matrices=False)
    return np.asarray(base[:, singular > _BENDS])


def shape_gaps(net: Net, at: Places) -> Mapping[str, float]:
    """How far each corner is from the drawing [m]: on the ground, or where nothing ties it down laid on it best."""
    names = list(net.layout.corner_names)
    if net.datum_open:
        fit, _ = best_fit([(at[name], net.design[name]) for name in names])
        at = {name: fit.apply(at[name]) for name in names}
    return {name: distance(at[name], net.design[name]) for name in names}
