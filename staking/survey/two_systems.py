"""How do two systems of coordinates lie to one another, how well is that known, and which pair does not belong?

Pairs are (place as given, place as measured), metres. Residuals run from where the fit puts a place to where it was
measured. Turns in degrees, positive clockwise. `expected` is the standard error of one measured coordinate in good
order; a pair with another one of its own weighs (expected / own)^2.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from statistics import median

import numpy as np

from staking.survey.chances import chi_square, ratio_of_pair
from staking.survey.least_squares import Solution, linear
from staking.survey.points import Point, Vector, distance, vector
from staking.survey.similarity import Pair, Similarity, best_fit, residuals

FALSE_ALARMS = 0.01  # of all sets in good order, so many may have a pair named; own choice
GOOD = 0.01  # residuals less likely than this are not those of pairs in good order; own choice
NARROW = 0.1  # width / length of the pairs: below it they stand on a line; own choice
FAR = 2.5  # times their own spread from the middle of the pairs: what lies farther hangs on one end; own choice
SAME_RATIO = 0.002  # by which a ratio of distances may differ from that of two units and still name them; own choice
MOST_PAIRS = 200  # more than any site has; swaps of names grow with their square
_STRAIGHT = 5.0  # degrees: systems turned less than this against one another are meant to be the same; own choice


@dataclass(frozen=True)
class TwoSystems:
    """A fit of measured places to given ones.

    similarity: carries a given place to its measured one; its scale is 1 unless the scale is applied. scale: what
    would fit best. solution: the linear problem at the fit: unknowns are corrections east, north [m], turn [radians]
    and, where applied, scale; two measurements a pair, east before north. standard_error: of one coordinate from the
    residuals, None without redundancy. sigma: the one that standard errors are computed with, which is the larger of
    that and the expected one where fewer than 3 numbers are redundant. chance: of residuals so large by noise alone.
    """

    similarity: Similarity
    scale: float
    residuals: tuple[Vector, ...]
    solution: Solution
    expected: float
    chance: float
    scale_error: float

    @property
    def redundancy(self) -> int:
        """Numbers measured beyond those fitted."""
        return self.solution.redundancy

    @property
    def standard_error(self) -> float | None:
        """Of one measured coordinate, from the residuals [m]."""
        return self.solution.standard_error

    @property
    def sigma(self) -> float:
        """Of one measured coordinate, as standard errors are computed with it [m]."""
        found = self.standard_error
        return found if found is not None and self.redundancy >= 3 else max(found or 0.0, self.expected)

    @property
    def shift_error(self) -> float:
        """Standard error of the shift at the middle of the pairs, east or north [m]."""
        return self.solution.standard_errors(self.sigma)[0]

    @property
    def turn_error(self) -> float:
        """Standard error of the turn [deg]."""
        return math.degrees(self.solution.standard_errors(self.sigma)[2])

    def error_at(self, place: Point) -> float:
        """Standard error, east or north, of a given place carried over [m]: shift and turn together."""
        away = distance(self.similarity.pivot, place)
        return math.hypot(self.shift_error, away * math.radians(self.turn_error))


def fit_systems(
    pairs: Sequence[Pair], *, scale: bool = False, expected: float, own: Sequence[float] | None = None
) -> TwoSystems:
    """The best turn and shift, and with `scale` the stretch; standard errors, redundancy, residuals, global test.

    own: the standard error of each pair [m]; left out, all have the expected one. Raises ValueError for fewer than two
    pairs, pairs in one place, and where no turn fits better than another.
    Source: as `similarity.least_squares`; standard errors from the linear problem at the solution, with scipy as the
    oracle in the tests.
    """
    weights = [(expected / each) ** 2 for each in own or [expected] * len(pairs)]
    similarity, best = best_fit(pairs, scale=scale, weights=weights)
    left = residuals(similarity, pairs)
    solution = _linear_problem(similarity, pairs, weights, scale=scale)
    stretched = Similarity(similarity.pivot, similarity.image, similarity.turn, best)
    loose = _linear_problem(stretched, pairs, weights, scale=True)
    free = loose.standard_error if loose.redundancy >= 3 and loose.standard_error else expected
    return TwoSystems(
        similarity, best, left, solution, expected, solution.chance(expected), loose.standard_errors(free)[3]
    )


def _linear_problem(
    similarity: Similarity, pairs: Sequence[Pair], weights: Sequence[float], *, scale: bool
) -> Solution:
    """Corrections of shift, turn and scale at the fit, and what is left."""
    rows: list[list[float]] = []
    for given, _ in pairs:
        step = similarity.turned(vector(similarity.pivot, given))
        stretch = (step.east / similarity.scale, step.north / similarity.scale)
        rows.append([1.0, 0.0, step.north, stretch[0]])
        rows.append([0.0, 1.0, -step.east, stretch[1]])
    observed = [number for left in residuals(similarity, pairs) for number in (left.east, left.north)]
    design = np.array(rows)
    return linear(design if scale else design[:, :3], observed, weights=np.repeat(weights, 2))


def odd_pairs(
    pairs: Sequence[Pair], *, scale: bool = False, expected: float, own: Sequence[float] | None = None
) -> tuple[tuple[int, ...], ...]:
    """The pairs that do not belong, each in a group with those the others cannot tell it from, likeliest first.

    Empty where all belong, or where nothing tells. Leave-one-out: a pair's pull is how much the weighted sum falls
    without it. Named is a pair whose pull noise alone makes with less than the chance FALSE_ALARMS / number of pairs:
    held against the expected noise where the others then fit in good order (all such pairs make the group), else
    against the noise of the others. Where neither names one, the strongest is put aside and the search goes on among
    the others; what was put aside is named only if the rest, with 3 numbers redundant at least, then fits.
    Source: testing for gross errors with the number of candidates shared out among them (Bonferroni), from memory.
    """
    sizes = list(own or [expected] * len(pairs))
    kept = list(range(len(pairs)))
    aside: list[tuple[int, ...]] = []
    firm = True  # nothing was put aside on mere suspicion
    while True:
        trial = _Trial([pairs[i] for i in kept], [sizes[i] for i in kept], scale, expected)
        if trial.good:
            return tuple(aside)
        group = trial.named()
        firm = firm and bool(group)
        aside.append(tuple(kept[i] for i in group or trial.strongest()))
        if not aside[-1] or trial.fit.redundancy - 2 < 3:
            return tuple(aside) if firm else ()
        kept.remove(aside[-1][0])


class _Trial:
    """One fit, and those without one pair each."""

    def __init__(self, pairs: Sequence[Pair], own: Sequence[float], scale: bool, expected: float) -> None:
        self.count, self.expected = len(pairs), expected
        self.fit = fit_systems(pairs, scale=scale, expected=expected, own=own)
        self.rest: dict[int, float] = {}
        for index in range(len(pairs)):
            others = [i for i in range(len(pairs)) if i != index]
            try:
                without = fit_systems(
                    [pairs[i] for i in others], scale=scale, expected=expected, own=[own[i] for i in others]
                )
            except ValueError:
                continue  # the others stand in one place: nothing can be told of this pair
            self.rest[index] = without.solution.weighted_sum

    @property
    def good(self) -> bool:
        """Whether no pair pulls more than noise does."""
        return self.fit.redundancy < 3 or (not any(self._pulls(i) for i in self.rest) and self.fit.chance > GOOD / 10)

    def _pull(self, index: int) -> float:
        return max(0.0, self.fit.solution.weighted_sum - self.rest[index])

    def _pulls(self, index: int) -> bool:
        return chi_square(self._pull(index) / self.expected**2, 2) < FALSE_ALARMS / self.count

    def _rest_good(self, index: int) -> bool:
        return chi_square(self.rest[index] / self.expected**2, self.fit.redundancy - 2) > GOOD

    def _stands_out(self, index: int) -> bool:
        freedom = self.fit.redundancy - 2
        if freedom < 3 or self.rest[index] == 0:
            return False
        ratio = self._pull(index) / 2 / (self.rest[index] / freedom)
        return ratio_of_pair(ratio, freedom) < FALSE_ALARMS / self.count

    def strongest(self) -> tuple[int, ...]:
        """The pair without which the others fit best."""
        return tuple(sorted(self.rest, key=lambda i: self.rest[i])[:1])

    def named(self) -> tuple[int, ...]:
        """The pair that does not belong, with those the others cannot tell it from; empty where none is named."""
        order = sorted(self.rest, key=lambda i: self.rest[i])
        group = tuple(i for i in order if self._pulls(i) and self._rest_good(i))
        return group or tuple(i for i in order[:1] if self._stands_out(i) and self._pulls(i))


def interchanged(pairs: Sequence[Pair], *, expected: float, scale: bool = False) -> tuple[int, int] | None:
    """The two pairs whose measured places, exchanged, bring all into good order; None where there are no such two."""
    if not 3 <= len(pairs) <= MOST_PAIRS // 4:
        return None
    for one, other in combinations(range(len(pairs)), 2):
        tried = list(pairs)
        tried[one], tried[other] = (pairs[one][0], pairs[other][1]), (pairs[other][0], pairs[one][1])
        if _chance(tried, expected, scale=scale) > GOOD:
            return one, other
    return None


def _chance(pairs: Sequence[Pair], expected: float, *, scale: bool) -> float:
    try:
        return fit_systems(pairs, scale=scale, expected=expected).chance
    except ValueError:
        return 0.0


def mirror(pairs: Sequence[Pair], *, expected: float) -> str | None:
    """What a mirrored set is like: "swapped", "east" or "north" counted backwards, "mirrored", "hidden", or None.

    "hidden": the pairs fit as well mirrored as not, since there are two of them or they stand on a line. Any mirroring
    is any other one and a turn; it is named by the one that leaves the two systems turned least.
    """
    plain, turned = _left(pairs), _left([(a, Point(b.north, b.east)) for a, b in pairs])
    noise = expected * math.sqrt(2 * len(pairs))
    if max(plain, turned) < 3 * noise:
        return "hidden"
    if turned > plain / 4 or plain < 3 * noise:
        return None
    ways = {
        "swapped": [(a, Point(b.north, b.east)) for a, b in pairs],
        "east": [(a, Point(-b.east, b.north)) for a, b in pairs],
        "north": [(a, Point(b.east, -b.north)) for a, b in pairs],
    }
    turns = {name: abs(best_fit(tried)[0].turn) for name, tried in ways.items()}
    nearest = min(turns, key=lambda name: turns[name])
    return nearest if turns[nearest] < _STRAIGHT else "mirrored"


def _left(pairs: Sequence[Pair]) -> float:
    """The root of the sum of squared residuals of the best fit with scale, in the size of the given system [m]."""
    try:
        similarity, scale = best_fit(pairs, scale=True)
    except ValueError:
        return math.inf
    return math.sqrt(math.fsum(left.dot(left) for left in residuals(similarity, pairs))) / scale


def ratio_of_distances(pairs: Sequence[Pair]) -> float | None:
    """Measured over given distance, the median over all twos, which one gross error does not move; None without any."""
    ratios = [
        distance(b, d) / distance(a, c) for (a, b), (c, d) in combinations(pairs[:MOST_PAIRS], 2) if distance(a, c) > 0
    ]
    return median(ratios) if ratios else None


def other_unit(ratio: float, sizes: dict[str, float], read_as: str) -> tuple[str, ...]:
    """The units, by name, that a list read in another unit may really be in, by its ratio of distances.

    sizes [m]. A number n of the list was read as n times the size of `read_as`, so the true size is that over the
    ratio. Empty where the ratio is that of the unit itself, and where it is 0, as of places that all lie on one.
    """
    if ratio <= 0 or abs(ratio - 1) < SAME_RATIO:
        return ()
    true = sizes[read_as] / ratio
    return tuple(name for name, size in sizes.items() if abs(true / size - 1) < SAME_RATIO)


def other_foot(pairs: Sequence[Pair], feet: float, *, expected: float) -> bool:
    """Whether measured places are the given ones, all times a ratio of two feet, as far as noise can tell.

    Distances on a site cannot tell 2 parts in a million; coordinates of a million can.
    """
    similarity, _ = best_fit(pairs)
    shift, wanted = vector(similarity.pivot, similarity.image), (feet - 1.0)
    off = math.hypot(shift.east - wanted * similarity.pivot.east, shift.north - wanted * similarity.pivot.north)
    size = abs(wanted) * math.hypot(similarity.pivot.east, similarity.pivot.north)
    return size > 10 * expected and off < max(3 * expected, 0.02 * size) and abs(similarity.turn) < _STRAIGHT


@dataclass(frozen=True)
class Geometry:
    """How the pairs stand. width: of their spread over its length, 0 on a line. reach: how many times their own spread
    the farthest of the places wanted lies from their middle. farthest: which of those places that is.
    """

    width: float
    reach: float
    farthest: int | None


def geometry(places: Sequence[Point], wanted: Sequence[Point]) -> Geometry:
    """How places, two at least, lie to one another and to those wanted. Spread is the root mean square."""
    steps = np.array([[p.east, p.north] for p in places])
    centre = steps.mean(axis=0)
    long, wide = np.linalg.svd(steps - centre, compute_uv=False)
    spread = math.hypot(long, wide) / math.sqrt(len(places))
    middle = Point(float(centre[0]), float(centre[1]))
    far = [distance(middle, place) for place in wanted]
    farthest = max(range(len(far)), key=lambda i: far[i], default=None)
    reach = far[farthest] / spread if farthest is not None else 0.0
    return Geometry(float(wide / long), reach, farthest)


@dataclass(frozen=True)
class Heights:
    """Measured less given heights: the shift at their middle, a tilt up to east and to north (metre per metre) where
    three places off one line allow it. residuals [m] are what is left of the shift alone. odd: the one that does not
    belong.
    """

    shift: float
    residuals: tuple[float, ...]
    standard_error: float | None
    tilt: Vector | None
    tilt_error: Vector | None
    odd: int | None


def fit_heights(places: Sequence[Point], differences: Sequence[float], *, expected: float) -> Heights:
    """The shift, and apart from it the tilt, of heights measured at places (one at least). expected [m]: of a height.

    The tilt is shown and not part of the shift: it is what a wrong instrument height at one place, or refraction, looks
    like, and few pairs tell it from noise.
    """
    level = linear(np.ones((len(places), 1)), differences)
    odd = _odd_height(differences, expected)
    east, north = (np.array([getattr(p, way) for p in places]) for way in ("east", "north"))
    design = np.column_stack([np.ones(len(places)), east - east.mean(), north - north.mean()])
    tilt = error = None
    if len(places) >= 3 and geometry(places, ()).width > NARROW:
        plane = linear(design, differences)
        tilt = Vector(float(plane.unknowns[1]), float(plane.unknowns[2]))
        sizes = plane.standard_errors(max(plane.standard_error or 0.0, expected))
        error = Vector(sizes[1], sizes[2])
    left = tuple(float(-each) for each in level.residuals)
    return Heights(float(level.unknowns[0]), left, level.standard_error, tilt, error, odd)


def _odd_height(differences: Sequence[float], expected: float) -> int | None:
    """The height without which the others, two at least, agree, where they do not with it."""
    count = len(differences)
    if count < 3:
        return None
    middle = math.fsum(differences) / count
    gains = [(d - middle) ** 2 * count / (count - 1) for d in differences]  # what the sum of squares loses without it
    whole = math.fsum((d - middle) ** 2 for d in differences)
    best = max(range(count), key=lambda i: gains[i])
    left = chi_square(max(0.0, whole - gains[best]) / expected**2, count - 2)
    pull = chi_square(gains[best] / expected**2, 1)
    return best if pull < FALSE_ALARMS / count and left > GOOD else None
