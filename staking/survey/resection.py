"""Where does an instrument stand that was set up anywhere, by what it reads toward known points?

Distances are level, in metres; directions are readings of the circle in degrees, clockwise, of one set, so that the
order of the marks is in them. Angles without a sense have two answers; `by_angles` takes them clockwise, and
`by_unsigned_angles` gives both. The adjustment is by least squares with weights from the standard deviations.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from staking.survey.angles import difference, fold
from staking.survey.error_budget import SECOND, Covariance
from staking.survey.intersections import two_tapes
from staking.survey.points import Point, Vector, azimuth, distance, vector

NEAR_CIRCLE = 0.10  # of its radius: nearer to the danger circle than this is too near; common practice, no source
_STEPS = 50  # of the adjustment; from a sound beginning it needs four
_STILL = 1e-9  # metres: the place moves no more
_SINGULAR = 1e-9  # of the largest singular value: below it a direction is not fixed at all
_SAME = 1e-3  # metres: two answers nearer than this are one


@dataclass(frozen=True, slots=True)
class Sight:
    """To a known point: a reading of the circle [deg], a level distance [m], or both, with their standard deviations
    [deg, m].
    """

    to: Point
    reading: float | None = None
    length: float | None = None
    reading_sigma: float = 1.0
    length_sigma: float = 1.0


@dataclass(frozen=True, slots=True)
class Residual:
    """Computed less read: of the circle [deg] and of the distance [m]; None where it was not read."""

    reading: float | None
    length: float | None


@dataclass(frozen=True)
class Resection:
    """A free station. orientation: the azimuth of the circle's zero [deg], None where only distances were read.

    residuals: of each sight. redundancy: numbers read beyond those that were needed. misfit: the root of the weighted
    sum of squares by the redundancy; 1 where the sights are as good as stated; None without redundancy.
    covariance: of east, north [m] and orientation [rad], from the stated standard deviations.
    """

    place: Point
    orientation: float | None
    residuals: tuple[Residual, ...]
    redundancy: int
    misfit: float | None
    covariance: tuple[tuple[float, ...], ...]

    @property
    def position(self) -> Covariance:
        """The covariance of the place alone [m2]."""
        return Covariance(self.covariance[0][0], self.covariance[1][1], self.covariance[0][1])

    def carried(self, target: Point) -> Covariance:
        """What place and orientation do to a stake that is set from here [m2].

        A turn t of the circle moves the stake by t times the step to it, turned a quarter to the right.
        """
        if self.orientation is None:
            return self.position
        right = vector(self.place, target).right()
        lever = np.array([[1.0, 0.0, right.east], [0.0, 1.0, right.north]])
        result = lever @ np.array(self.covariance) @ lever.T
        return Covariance(float(result[0, 0]), float(result[1, 1]), float(result[0, 1]))


def by_angles(marks: tuple[Point, Point, Point], first: float, second: float) -> Point:
    """The station from three marks by the angles first to second mark, and second to third, clockwise [deg].

    By the circles over two pairs of marks that the station lies on, which meet in the second mark and in the station.
    Source: Collins and Tienstra solve the same problem; checked against the numeric example of the notes SURE 215 of
    Ferris State University. Raises ValueError on the danger circle, where the two circles are one.
    """
    one, middle, three = marks
    centres = [_centre(one, middle, first), _centre(middle, three, second)]
    line = vector(centres[0], centres[1])
    size = max(distance(one, middle), distance(middle, three))
    if line.length <= 1e-6 * size:
        raise ValueError("the station and the three marks lie on one circle, so the angles fix no place")
    # the second mark, mirrored in the line of the centres
    off = line.unit().cross(vector(centres[0], middle))
    side = line.unit().right()
    return Point(middle.east + 2 * off * side.east, middle.north + 2 * off * side.north)


def by_unsigned_angles(marks: tuple[Point, Point, Point], first: float, second: float) -> tuple[Point, Point]:
    """Both stations at which these angles are seen [deg]: marks clockwise in the order given, and the other way.

    Raises ValueError as `by_angles`.
    """
    return by_angles(marks, first, second), by_angles(marks, 360 - first, 360 - second)


def danger(marks: tuple[Point, Point, Point], place: Point) -> float:
    """How far a place is from the circle through three marks, as a share of its radius; infinite for marks in a line.

    Near 0 angles alone fix no place. Source: the danger circle of resection; any book on surveying, from memory.
    """
    one, two, three = marks
    area = vector(one, two).cross(vector(one, three)) / 2
    if area == 0:
        return math.inf
    radius = distance(one, two) * distance(two, three) * distance(three, one) / (4 * abs(area))
    centre = _circumcentre(one, two, three)
    return abs(distance(centre, place) - radius) / radius


def _circumcentre(one: Point, two: Point, three: Point) -> Point:
    b, c = vector(one, two), vector(one, three)
    d = 2 * b.cross(c)
    east = (c.north * b.dot(b) - b.north * c.dot(c)) / d
    north = (b.east * c.dot(c) - c.east * b.dot(b)) / d
    return Point(one.east + east, one.north + north)


def _centre(one: Point, two: Point, angle: float) -> Point:
    """The middle of the circle of places that see `one`, then `two` clockwise by so many degrees.

    It lies off the middle of the chord by half of it times the cotangent of the angle, to the right of one-to-two for
    an angle below 90 (the station sees its first mark on the left).
    """
    chord = vector(one, two)
    if math.isclose(math.sin(math.radians(angle)), 0.0, abs_tol=1e-9):
        raise ValueError("a station in line with two marks is fixed by no circle through them")
    off = 0.5 / math.tan(math.radians(angle))
    return Point(
        (one.east + two.east) / 2 + chord.right().east * off, (one.north + two.north) / 2 + chord.right().north * off
    )


def stations(sights: Sequence[Sight]) -> tuple[Resection, ...]:
    """Every place that fits the sights, the best first: none where they fix no place, two where they leave a choice.

    Beginnings are all crossings of two distances and all answers by three readings; each is adjusted, and of those
    that come out in one place one is kept. A second answer is one whose weighted sum of squares is as good: at most 9
    more a number read beyond those needed, three sigma.
    """
    known = _needed(sights)
    found: list[tuple[float, Resection]] = []
    for beginning in _beginnings(sights):
        try:
            fixed = adjusted(sights, beginning)
        except ValueError:
            continue
        if all(distance(fixed.place, other.place) > _SAME for _, other in found):
            found.append((_squares(sights, fixed), fixed))
    found.sort(key=lambda pair: pair[0])
    count = sum((sight.reading is not None) + (sight.length is not None) for sight in sights)
    limit = found[0][0] + 9 * max(1, count - known) if found else 0.0
    return tuple(fixed for squares, fixed in found if squares <= limit)


def _needed(sights: Sequence[Sight]) -> int:
    return 3 if any(sight.reading is not None for sight in sights) else 2


def _squares(sights: Sequence[Sight], fixed: Resection) -> float:
    return math.fsum(
        ((residual.reading or 0.0) / sight.reading_sigma) ** 2 + ((residual.length or 0.0) / sight.length_sigma) ** 2
        for sight, residual in zip(sights, fixed.residuals, strict=True)
    )


def _beginnings(sights: Sequence[Sight]) -> Iterator[Point]:
    for one, two in combinations([sight for sight in sights if sight.length is not None], 2):
        yield from _crossings(one, two)
    for one, two, three in combinations([sight for sight in sights if sight.reading is not None], 3):
        try:
            turns = (_turn(one, two), _turn(two, three))
            yield by_angles((one.to, two.to, three.to), *turns)
        except ValueError:
            continue
    yield from _by_angle_and_distance(sights)


def _turn(one: Sight, two: Sight) -> float:
    return fold((two.reading or 0.0) - (one.reading or 0.0))


def _crossings(one: Sight, two: Sight) -> Iterator[Point]:
    """Where two distances meet; where they just miss one another, the place between."""
    first, second, apart = one.length or 0.0, two.length or 0.0, distance(one.to, two.to)
    try:
        yield from two_tapes(one.to, first, two.to, second)
    except ValueError:
        if apart > 0 and first + second >= 0.9 * apart:
            share = first / (first + second) if first + second >= apart else 0.5
            yield Point(
                one.to.east + (two.to.east - one.to.east) * share, one.to.north + (two.to.north - one.to.north) * share
            )


def _by_angle_and_distance(sights: Sequence[Sight]) -> Iterator[Point]:
    """Two marks, the angle between them and the distance to one: the triangle by its law of sines."""
    for one in sights:
        for two in sights:
            if one is two or one.length is None or one.reading is None or two.reading is None:
                continue
            yield from _triangles(one, two)


def _triangles(one: Sight, two: Sight) -> Iterator[Point]:
    turn = difference(one.reading or 0.0, two.reading or 0.0)
    base, length = distance(one.to, two.to), one.length or 0.0
    share = length * math.sin(math.radians(abs(turn))) / base if base else 2.0
    if share > 1:
        return
    at_two = math.degrees(math.asin(share))
    for corner in (at_two, 180 - at_two):
        at_one = 180 - abs(turn) - corner
        if at_one > 0:
            # a second mark clockwise of the first lies to its right, so the station is on the right of one-to-two
            way = math.radians(azimuth(one.to, two.to) + math.copysign(at_one, turn))
            yield Point(one.to.east + length * math.sin(way), one.to.north + length * math.cos(way))


def adjusted(sights: Sequence[Sight], beginning: Point) -> Resection:
    """The station by least squares, from a place near it.

    Source: variation of coordinates (Gauss-Newton) with the derivatives of azimuth and distance; from memory, as in
    every book on adjustment. Checked against the trilateration that the University of Tehran's notebook prints, and
    against scipy. Raises ValueError where the sights do not fix the place, or it does not come to rest.
    """
    turned = any(sight.reading is not None for sight in sights)
    place, zero = beginning, _zero(sights, beginning) if turned else 0.0
    for _ in range(_STEPS):
        matrix, misses = _equations(sights, place, zero, turned)
        step = _solved(matrix, misses)
        place = Point(place.east + step[0], place.north + step[1])
        zero += math.degrees(step[2]) if turned else 0.0
        if math.hypot(step[0], step[1]) < _STILL:
            break
    else:
        raise ValueError("the sights lead to no place")
    return _made(sights, place, zero, turned)


def _made(sights: Sequence[Sight], place: Point, zero: float, turned: bool) -> Resection:
    matrix, misses = _equations(sights, place, zero, turned)
    redundancy = len(misses) - matrix.shape[1]
    squares = float(misses @ misses)
    return Resection(
        place,
        fold(zero) if turned else None,
        tuple(_residual(sight, place, zero) for sight in sights),
        redundancy,
        math.sqrt(squares / redundancy) if redundancy > 0 else None,
        tuple(tuple(map(float, row)) for row in np.linalg.inv(matrix.T @ matrix)),
    )


def _zero(sights: Sequence[Sight], place: Point) -> float:
    """The azimuth of the circle's zero as the first reading has it [deg]."""
    first = next(sight for sight in sights if sight.reading is not None)
    return fold(azimuth(place, first.to) - (first.reading or 0.0))


def _equations(sights: Sequence[Sight], place: Point, zero: float, turned: bool) -> tuple[np.ndarray, np.ndarray]:
    """Derivatives by east, north and orientation [rad], and read less computed, all divided by their sigma."""
    rows, misses = [], []
    for sight in sights:
        residual, away = _residual(sight, place, zero), distance(place, sight.to)
        if away == 0:
            raise ValueError("the station would stand on a mark")
        step = vector(place, sight.to).unit()
        if residual.length is not None:
            rows.append(np.array([-step.east, -step.north, 0.0]) / sight.length_sigma)
            misses.append(-residual.length / sight.length_sigma)
        if residual.reading is not None:
            sigma = math.radians(sight.reading_sigma)
            side = Vector(-step.north, step.east)  # how an azimuth grows where the station moves, times the distance
            rows.append(np.array([side.east / away, side.north / away, -1.0]) / sigma)
            misses.append(-math.radians(residual.reading) / sigma)
    return np.array(rows)[:, : 3 if turned else 2], np.array(misses)


def _solved(matrix: np.ndarray, misses: np.ndarray) -> list[float]:
    # columns brought to one size, so that radians beside metres do not look like a direction that is not fixed
    sizes = np.linalg.norm(matrix, axis=0)
    if matrix.shape[0] < matrix.shape[1] or not np.all(sizes > 0):
        raise ValueError("too few sights to fix a place")
    step, _, rank, _ = np.linalg.lstsq(matrix / sizes, misses, rcond=_SINGULAR)
    if rank < matrix.shape[1]:
        raise ValueError("the sights do not fix the place")
    return [float(value) for value in step / sizes]


def _residual(sight: Sight, place: Point, zero: float) -> Residual:
    read, length = sight.reading, sight.length
    return Residual(
        None if read is None else difference(read, azimuth(place, sight.to) - zero),
        None if length is None else distance(place, sight.to) - length,
    )


def seconds(degrees: float) -> float:
    """An angle [deg] in seconds of arc."""
    return math.radians(degrees) / SECOND
