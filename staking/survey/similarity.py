"""Where the places of a record lie by the pins that were found, how well they fit, and which pin does not belong.

Coordinates are turned, shifted and, only when asked, stretched; never mirrored. East and north in metres, turns in
degrees, positive clockwise. Residuals run from where the fit puts a pin to where it was found.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from staking.survey.angles import cosd, difference, sind
from staking.survey.points import Point, Vector, azimuth, distance, mean, moved, vector

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Column = npt.NDArray[np.float64]

NOISE = 0.006  # metres, 0.02 ft: pins in good order are found to about this; common practice, no source
_FAR_OFF = 3.0  # so many times what the others miss by, a pin does not belong; own choice, as for three sigma
_BETTER = 2.0  # and the others must fit so many times worse whichever other pin is left out; own choice
_NO_SIZE = 1e-6  # metres: pins nearer to their middle than this stand in one place
_NO_TURN = 1e-6  # of the size of the figures: below it no turn fits better than another

Pair = tuple[Point, Point]  # the place by the record, the pin found


@dataclass(frozen=True)
class Similarity:
    """Carries `pivot` to `image` and everything else with it: turned clockwise [deg] and stretched by `scale` about it.

    A pivot amid the places keeps the digits that large coordinates would cost.
    """

    pivot: Point
    image: Point
    turn: float
    scale: float = 1.0

    @property
    def shift(self) -> Vector:
        """Where the origin of the record comes to lie [m]."""
        return vector(Point(0.0, 0.0), self.apply(Point(0.0, 0.0)))

    def apply(self, point: Point) -> Point:
        """Where a place of the record lies."""
        return moved(self.image, self.turned(vector(self.pivot, point)), 1.0)

    def carry(self, east: Column, north: Column) -> tuple[Column, Column]:
        """Where many places lie, in columns of east and north, as `apply` has each."""
        sine, cosine = self.scale * sind(self.turn), self.scale * cosd(self.turn)
        right, up = east - self.pivot.east, north - self.pivot.north
        return self.image.east + (right * cosine + up * sine), self.image.north + (up * cosine - right * sine)

    def turned(self, step: Vector) -> Vector:
        """A step of the record as it lies."""
        sine, cosine = self.scale * sind(self.turn), self.scale * cosd(self.turn)
        return Vector(step.east * cosine + step.north * sine, step.north * cosine - step.east * sine)

    def inverse(self) -> Similarity:
        """The way back."""
        return Similarity(self.image, self.pivot, -self.turn, 1 / self.scale)


@dataclass(frozen=True)
class LeftOut:
    """A fit without one pin: what the others then miss by, and how far this pin is from its place by them [m]."""

    index: int
    standard_error: float
    gap: float


@dataclass(frozen=True)
class Fit:
    """The fit of a record to pins.

    scale: the stretch that would fit best, whether or not it was applied. residuals: found less fitted [m].
    redundancy: numbers measured beyond those fitted. standard_error: of one coordinate [m], None without redundancy.
    left_out: what each pin does, from the one that matters most. odd: the pin that does not belong, or None.
    """

    similarity: Similarity
    scale: float
    residuals: tuple[Vector, ...]
    redundancy: int
    standard_error: float | None
    left_out: tuple[LeftOut, ...] = ()
    odd: int | None = None


def hold_and_turn(record: Sequence[Point], found: Sequence[Point], hold: int, toward: int) -> Similarity:
    """One pin held, the record turned about it toward another; what is left shows in the residuals of the others.

    Raises ValueError where the two pins coincide, in the record or on the ground.
    """
    if hold == toward or 0 in (distance(record[hold], record[toward]), distance(found[hold], found[toward])):
        raise ValueError("two pins in one place give no direction")
    turn = difference(azimuth(record[hold], record[toward]), azimuth(found[hold], found[toward]))
    return Similarity(record[hold], found[hold], turn)


def residuals(similarity: Similarity, pairs: Sequence[Pair]) -> tuple[Vector, ...]:
    """From where each pin should be to where it was found [m]."""
    return tuple(vector(similarity.apply(record), pin) for record, pin in pairs)


def least_squares(pairs: Sequence[Pair], *, scale: bool = False, noise: float = NOISE) -> Fit:
    """The turn and shift, and with `scale` the stretch, of the least sum of squared residuals at the pins.

    noise: what pins in good order are found to [m]. Rule for the pin that does not belong, which needs the others to
    be redundant: by the fit of the others it is more than 3 times the larger of their standard error and noise from
    its place, and the standard error without any other pin is more than twice as large as without it, noise again
    being the least that counts. Raises ValueError for fewer than two pins, for pins in one place, and where no turn
    fits better than another.
    Source: two-dimensional similarity reduced to the centroids, tan turn = sum of cross over sum of dot products, from
    memory; S. Umeyama, IEEE TPAMI 13(4), 1991, example, and scipy are the oracles in the tests.
    """
    similarity, fitted_scale = best_fit(pairs, scale=scale)
    left = residuals(similarity, pairs)
    redundancy = 2 * len(pairs) - (4 if scale else 3)
    out = _left_out(pairs, scale) if redundancy > 2 else ()
    return Fit(similarity, fitted_scale, left, redundancy, _standard_error(left, redundancy), out, _odd_one(out, noise))


def best_fit(
    pairs: Sequence[Pair], *, scale: bool = False, weights: Sequence[float] | None = None
) -> tuple[Similarity, float]:
    """The best turn and shift alone, and the stretch that would fit best whether or not it is applied.

    weights: of the pairs, any common measure; left out, all are alike. Everything is counted from the weighted
    centroids, so that large coordinates lose no digits. Raises ValueError as `least_squares`.
    """
    if len(pairs) < 2:
        raise ValueError("a fit needs two pins")
    shares = weights or [1.0] * len(pairs)
    pivot, image = (_weighted_mean(places, shares) for places in zip(*pairs, strict=True))
    steps = [(vector(pivot, record), vector(image, pin)) for record, pin in pairs]
    size, found_size = (
        math.fsum(w * s.dot(s) for w, s in zip(shares, side, strict=True)) for side in zip(*steps, strict=True)
    )
    if min(size, found_size) < _NO_SIZE**2:
        raise ValueError("pins in one place give no direction")
    along = math.fsum(w * a.dot(b) for w, (a, b) in zip(shares, steps, strict=True))
    aside = math.fsum(w * a.cross(b) for w, (a, b) in zip(shares, steps, strict=True))
    if math.hypot(along, aside) < _NO_TURN * math.sqrt(size * found_size):
        raise ValueError("no turn fits the pins better than another; perhaps one side is mirrored")
    best = math.hypot(along, aside) / size
    return Similarity(pivot, image, math.degrees(math.atan2(-aside, along)), best if scale else 1.0), best


def _weighted_mean(points: Sequence[Point], weights: Sequence[float]) -> Point:
    """About the plain mean, so that large coordinates keep their digits."""
    middle, whole = mean(points), math.fsum(weights)
    east = math.fsum(w * (p.east - middle.east) for w, p in zip(weights, points, strict=True))
    north = math.fsum(w * (p.north - middle.north) for w, p in zip(weights, points, strict=True))
    return Point(middle.east + east / whole, middle.north + north / whole)


def _standard_error(left: Sequence[Vector], redundancy: int) -> float | None:
    return math.sqrt(math.fsum(v.dot(v) for v in left) / redundancy) if redundancy > 0 else None


def _left_out(pairs: Sequence[Pair], scale: bool) -> tuple[LeftOut, ...]:
    """Each pin left out in turn, where the others can be fitted; the one whose leaving helps most comes first."""
    found = []
    for index, (record, pin) in enumerate(pairs):
        others = [*pairs[:index], *pairs[index + 1 :]]
        try:
            similarity, _ = best_fit(others, scale=scale)
        except ValueError:
            continue  # the others stand in one place: nothing can be told of this pin
        error = _standard_error(residuals(similarity, others), 2 * len(others) - (4 if scale else 3))
        if error is not None:
            found.append(LeftOut(index, error, distance(similarity.apply(record), pin)))
    return tuple(sorted(found, key=lambda out: (out.standard_error, out.index)))


def _odd_one(left_out: Sequence[LeftOut], noise: float) -> int | None:
    if len(left_out) < 2:
        return None
    first, second = left_out[:2]
    least = max(first.standard_error, noise)
    stands_out = first.gap > _FAR_OFF * least and second.standard_error > _BETTER * least
    return first.index if stands_out else None
