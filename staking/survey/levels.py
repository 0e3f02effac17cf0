"""How high are the points of a level book, how well does it close, and what is wrong with the level itself?

Heights, readings and distances in metres, up positive. A run is its sights in the order read: each set-up has one
backsight, any number of intermediate sights, and one foresight, on whose point the next set-up begins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from staking.survey.least_squares import Solution, linear
from staking.survey.surface import height_of_instrument, height_read

Kind = Literal["backsight", "intermediate", "foresight"]
Adjust = Literal["none", "set-ups", "distance"]

EARTH = 6_371_000.0  # metres, mean radius; from memory
REFRACTION = 1 / 7  # bends the sight by this share of the earth's curvature; J. Mahun, Elevations, chapter D
PER_SETUP = 0.02 * 0.3048  # metres a root of set-ups, where nothing else is asked for; own choice

# allowed misclosure [m] for a run of 1 km; it grows with the root of the length.
# US Federal Geodetic Control Committee, Standards and Specifications for Geodetic Control Networks (1984), loop
# misclosure, from memory; "ordinary" is common practice, no source
CLASSES: Mapping[str, float] = MappingProxyType(
    {
        "second order class 1": 0.006,
        "second order class 2": 0.008,
        "third order": 0.012,
        "ordinary": 0.024,
    }
)


@dataclass(frozen=True, slots=True)
class Sight:
    """One reading. second: read again, as a check. line: of the book. written: the reading as it stands there.

    corrected [m]: what was taken off reading and second, since the line of sight is not level.
    """

    point: str
    kind: Kind
    reading: float
    distance: float | None = None
    second: float | None = None
    line: int = 0
    written: str = ""
    corrected: float = 0.0


@dataclass(frozen=True, slots=True)
class Reduced:
    """A sight with its height, the line of sight over it, its rise from the sight before, its set-up from 1."""

    sight: Sight
    height: float
    line_of_sight: float
    rise: float | None
    setup: int


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """The sums of a page: the three differences agree unless the reduction is wrong. They say nothing of readings."""

    backsights: float
    foresights: float
    rises: float
    falls: float
    first: float
    last: float

    @property
    def agrees(self) -> bool:
        """Whether backsights less foresights, rises less falls, and last less first height are one figure."""
        step = self.last - self.first
        return all(abs(one - step) < 1e-6 for one in (self.backsights - self.foresights, self.rises - self.falls))


def out_of_order(sights: Sequence[Sight]) -> Iterator[tuple[int, str]]:
    """The number, from 0, of each sight that cannot stand where it does, and why."""
    open_, last = False, ""
    for number, sight in enumerate(sights):
        if sight.kind == "backsight":
            if open_:
                yield number, "a second backsight; the foresight that ends the set-up before it is missing"
            elif last and sight.point != last:
                yield number, f'the foresight before was on "{last}", this backsight is on "{sight.point}"'
            open_ = True
        elif not open_:
            yield number, f"the {sight.kind} on {sight.point} has no backsight before it"
        if sight.kind == "foresight":
            open_, last = False, sight.point


def reduced(start: float, sights: Sequence[Sight]) -> tuple[Reduced, ...]:
    """Every sight with its height. start: of the first point [m]. Raises ValueError where the order cannot be.

    Both ways at once: the height is line of sight less reading, the rise is the reading before less this one.
    Source: N. N. Basak, Surveying and Levelling, chapter 5; R. Rode's worked sheet of the height of instrument.
    """
    if wrong := next(out_of_order(sights), None):
        raise ValueError(wrong[1])
    found: list[Reduced] = []
    height, line, before, setup = start, start, 0.0, 0
    for sight in sights:
        rise = None
        if sight.kind == "backsight":
            line, setup = height_of_instrument(height, sight.reading), setup + 1
            own = height
        else:
            own, rise = height_read(line, sight.reading), before - sight.reading
        found.append(Reduced(sight, own, line, rise, setup))
        before = sight.reading
        height = own if sight.kind == "foresight" else height
    return tuple(found)


def by_rise_and_fall(rows: Sequence[Reduced]) -> tuple[float, ...]:
    """Every height again, from the first one by rises and falls alone [m]. Source: as `reduced`."""
    heights: list[float] = []
    for row in rows:
        before = heights[-1] if heights else row.height
        heights.append(before + (row.rise or 0.0))
    return tuple(heights)


def arithmetic(rows: Sequence[Reduced]) -> Arithmetic:
    """The sums up to the last foresight. Raises ValueError where there is none. Source: as `reduced`."""
    end = last_foresight(rows)
    page = rows[: end + 1]
    rises = [row.rise for row in page if row.rise is not None]
    return Arithmetic(
        sum(row.sight.reading for row in page if row.sight.kind == "backsight"),
        sum(row.sight.reading for row in page if row.sight.kind == "foresight"),
        sum(rise for rise in rises if rise > 0),
        -sum(rise for rise in rises if rise < 0),
        page[0].height,
        page[-1].height,
    )


def last_foresight(rows: Sequence[Reduced]) -> int:
    """The number of the last foresight, from 0. Raises ValueError where there is none."""
    numbers = [number for number, row in enumerate(rows) if row.sight.kind == "foresight"]
    if not numbers:
        raise ValueError("the book has no foresight, so no run to check")
    return numbers[-1]


def length_of(rows: Sequence[Reduced]) -> float | None:
    """Length of the run [m]: backsight and foresight distances together; None where one is missing."""
    parts = [row.sight.distance for row in rows[: last_foresight(rows) + 1] if row.sight.kind != "intermediate"]
    return None if None in parts else math.fsum(part for part in parts if part is not None)


def allowed(rows: Sequence[Reduced], name: str | None = None) -> float:
    """Allowed misclosure [m] by class: its figure times the root of kilometres; without one by the root of set-ups.

    Raises ValueError for a class where distances are missing. Source: `CLASSES`, `PER_SETUP`.
    """
    if name is None:
        return PER_SETUP * math.sqrt(rows[last_foresight(rows)].setup)
    length = length_of(rows)
    if not length:
        raise ValueError(f'class "{name}" goes by the length of the run, and the book lacks distances')
    return CLASSES[name] * math.sqrt(length / 1000)


def adjusted(rows: Sequence[Reduced], misclosure: float, by: Adjust) -> tuple[float, ...]:
    """Heights with the misclosure [m], known less computed, spread over the run. by: set-ups, or their lengths.

    An intermediate sight has the share of the foresight of its set-up. Raises ValueError for lengths that are missing.
    Source: R. Rode's worked sheet (set-ups); in proportion to distance, common practice, no source.
    """
    if by == "none":
        return tuple(row.height for row in rows)
    ends = _ends(rows, by)
    count = len(ends) - 1
    through = [min(count, row.setup - (row.sight.kind == "backsight")) for row in rows]
    return tuple(row.height + misclosure * ends[number] / ends[-1] for row, number in zip(rows, through, strict=True))


def _ends(rows: Sequence[Reduced], by: Adjust) -> list[float]:
    """How far the run has come after each set-up, 0 first."""
    count = rows[last_foresight(rows)].setup
    if by == "set-ups":
        return [float(number) for number in range(count + 1)]
    if not length_of(rows):
        raise ValueError("to adjust by distance every backsight and foresight needs its distance")
    ends = [0.0]
    for number in range(1, count + 1):
        own = [row.sight for row in rows if row.setup == number and row.sight.kind != "intermediate"]
        ends.append(ends[-1] + sum(sight.distance or 0.0 for sight in own))
    return ends


def unbalance(rows: Sequence[Reduced]) -> float | None:
    """Backsight distances less foresight distances [m]; times the slope of the line of sight it is an error."""
    if length_of(rows) is None:
        return None
    signs = {"backsight": 1.0, "foresight": -1.0, "intermediate": 0.0}
    page = rows[: last_foresight(rows) + 1]
    return math.fsum(signs[row.sight.kind] * (row.sight.distance or 0.0) for row in page)


def two_peg(first: tuple[float, float], second: tuple[float, float], sights: Sequence[float]) -> float:
    """Rise of the line of sight a metre, from rods on two pegs read from two places of the level.

    first, second: readings on A and B [m]. sights: distances [m] to A and B from the first place, then the second.
    A reading over d metres is too large by d times this. Raises ValueError where both places have the same unbalance.
    Source: N. N. Basak, Surveying and Levelling, p. 187 problem 3; the general form is two linear equations.

    >>> round(two_peg((1.875, 1.790), (1.630, 1.560), (50, 50, 10, 110)), 8)
    0.00015
    """
    spread = (sights[2] - sights[3]) - (sights[0] - sights[1])
    if abs(spread) < 1e-9:
        raise ValueError("from both places the sights differ by as much, so nothing is learned; go near to one peg")
    return ((second[0] - second[1]) - (first[0] - first[1])) / spread


def corrected(sights: Sequence[Sight], slope: float) -> tuple[Sight, ...]:
    """The sights as a level line of sight would have read them. slope: its rise a metre, as of `two_peg`.

    Raises ValueError with the first sight whose distance is missing. Source: as `two_peg`; a reading over d metres is
    too large by d times the slope.

    >>> round(corrected([Sight("A", "backsight", 1.630, 10.0)], 0.00015)[0].reading, 4)
    1.6285
    """
    without = next((sight for sight in sights if sight.distance is None), None)
    if without is not None:
        raise ValueError(f"the {without.kind} on {without.point} has no distance, so it cannot be corrected")
    return tuple(_corrected(sight, slope * (sight.distance or 0.0)) for sight in sights)


def _corrected(sight: Sight, by: float) -> Sight:
    second = None if sight.second is None else sight.second - by
    return replace(sight, reading=sight.reading - by, second=second, corrected=by)


def curvature_and_refraction(distance: float) -> float:
    """By how much a reading over a distance [m] is too large [m]: (1 - 1/7) d2 / 2R.

    Source: J. Mahun, open-access surveying library, Elevations, chapter D, equation D-1 (0.0673 to 0.0675 a km2).

    >>> round(curvature_and_refraction(1000), 4)
    0.0673
    """
    return (1 - REFRACTION) * distance**2 / (2 * EARTH)


def level_net(fixed: Mapping[str, float], lines: Sequence[tuple[str, str, float, float]]) -> tuple[list[str], Solution]:
    """Names and heights of a net's points, of least squares. lines: from, to, rise [m], length weighted by 1 / it.

    Raises ValueError where a point hangs on nothing. Source: E. M. Mikhail and F. Ackermann, Observations and Least
    Squares (1976), table 7-1.
    """
    names = list(dict.fromkeys(name for line in lines for name in line[:2] if name not in fixed))
    design = np.array([[(to == n) - (at == n) for n in names] for at, to, _, _ in lines], float)
    observed = [rise + fixed.get(at, 0.0) - fixed.get(to, 0.0) for at, to, rise, _ in lines]
    return names, linear(design, observed, weights=[1 / length for *_, length in lines])
