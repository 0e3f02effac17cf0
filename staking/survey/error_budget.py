"""How well is a staked place known, from what instrument, centring and control can do?

Standard deviations (one sigma) go in: metres, and seconds of arc for directions. Out comes a covariance of east and
north [m2], its ellipse, and the circle that holds the place 95 times in 100. Blunders are in none of this.

The propagation is the general law of covariances, C = J S J', with the derivatives of the polar computation; from
memory, as found in every book on adjustment, and tested against simulated stakes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from staking.survey.angles import direction
from staking.survey.points import Point, Vector, azimuth, distance, vector

CIRCLE_95 = 2.4477  # of the sigma of one axis, where both are alike: NSSDA (FGDC-STD-007.3-1998), App. 3-A
RADIAL_95 = 1.7308  # of sqrt(sigma_east^2 + sigma_north^2), where both are alike: the same
LINE_95 = 1.9600  # of the sigma of one number, a height or a length: the same
SECOND = math.pi / 648000  # radians


@dataclass(frozen=True, slots=True)
class Covariance:
    """Of a place: variances of east and north and what they share [m2]."""

    east: float
    north: float
    shared: float = 0.0

    def __add__(self, other: Covariance) -> Covariance:
        """Of two causes that know nothing of one another."""
        return Covariance(self.east + other.east, self.north + other.north, self.shared + other.shared)

    def along(self, way: Vector) -> float:
        """The standard deviation along a direction of length 1 [m]."""
        square = way.east**2 * self.east + way.north**2 * self.north + 2 * way.east * way.north * self.shared
        return math.sqrt(max(0.0, square))


@dataclass(frozen=True, slots=True)
class Ellipse:
    """The standard ellipse (one sigma): half axes [m], and the azimuth of the longer one [deg], below 180."""

    major: float
    minor: float
    azimuth: float


@dataclass(frozen=True, slots=True)
class TotalStation:
    """direction: of one pointing [seconds of arc]. fixed [m], ppm: of a distance. centring, pole [m]: of tripods over
    marks, and of the prism over a stake.
    """

    direction: float
    fixed: float
    ppm: float
    centring: float
    pole: float

    def length(self, metres: float) -> float:
        """The standard deviation of a distance [m]: fixed and proportional part as squares."""
        return math.hypot(self.fixed, self.ppm * 1e-6 * metres)


def round_error(sigma: float) -> Covariance:
    """An error that is alike in every direction; sigma of one axis [m]."""
    return Covariance(sigma**2, sigma**2)


def along_and_across(way: Vector, along: float, across: float) -> Covariance:
    """From standard deviations along a direction of length 1 and square to it [m]."""
    return Covariance(
        (way.east * along) ** 2 + (way.north * across) ** 2,
        (way.north * along) ** 2 + (way.east * across) ** 2,
        way.east * way.north * (along**2 - across**2),
    )


def ellipse(place: Covariance) -> Ellipse:
    """The standard ellipse of a covariance; the azimuth is 0 where it is a circle.

    Source: eigenvalues of a symmetric 2 x 2 matrix; tested against the local and network accuracies published by the
    National Geodetic Survey.
    """
    middle = (place.east + place.north) / 2
    half = math.hypot((place.north - place.east) / 2, place.shared)
    turned = math.degrees(math.atan2(2 * place.shared, place.north - place.east)) / 2
    return Ellipse(math.sqrt(max(0.0, middle + half)), math.sqrt(max(0.0, middle - half)), turned % 180.0)


def circle_95(place: Covariance) -> float:
    """The radius [m] of the circle about a place that holds it with a probability of 95 percent.

    Source: the polynomial of A. Leenhouts in the ratio C of the half axes, a (1.960790 + 0.004071 C + 0.114276 C^2 +
    0.371625 C^3), coefficients from memory and confirmed by 26 circles that the National Geodetic Survey publishes
    (tests/published/accuracy.toml); within 0.2 percent of the exact integral.

    >>> round(circle_95(round_error(0.010)), 4)
    0.0245
    """
    axes = ellipse(place)
    if axes.major == 0:
        return 0.0
    ratio = axes.minor / axes.major
    return axes.major * (1.960790 + 0.004071 * ratio + 0.114276 * ratio**2 + 0.371625 * ratio**3)


def shot(instrument: TotalStation, station: Point, target: Point) -> Covariance:
    """What one shot adds by itself: distance, one pointing, and the prism over the stake.

    Stakes set from one station share everything else, so this is what stands between two of them.
    """
    away = distance(station, target)
    across = instrument.direction * SECOND * away
    return along_and_across(vector(station, target).unit(), instrument.length(away), across) + round_error(
        instrument.pole
    )


def set_up(
    instrument: TotalStation, station: Point, backsight: Point, target: Point, *, control: float = 0.0
) -> Covariance:
    """What all stakes of a station share, at one of them: control, centring over both marks, pointing the backsight.

    control [m]: standard deviation of a control point along one axis. An error of the station carries the stake along,
    and turns the sight to the backsight; one of the backsight only turns it. A turn of t moves the stake t D sideways::

        d stake = e_station + s D [ b . (e_backsight - e_station) / D_b + pointing ]

    s, b: unit steps to the right of the sights to stake and backsight; D, D_b: their lengths.
    """
    lever = distance(station, target) / distance(station, backsight)
    side = direction(azimuth(station, target) + 90)
    turn = direction(azimuth(station, backsight) + 90)
    mark = math.hypot(control, instrument.centring)
    pointing = instrument.direction * SECOND * distance(station, target)
    # e_station goes through the matrix I - lever s b', row by row
    rows = (
        Vector(1 - lever * side.east * turn.east, -lever * side.east * turn.north),
        Vector(-lever * side.north * turn.east, 1 - lever * side.north * turn.north),
    )
    east, north, shared = (mark**2 * one.dot(two) for one, two in ((rows[0], rows[0]), (rows[1], rows[1]), rows))
    moved = Covariance(east, north, shared)
    return moved + along_and_across(side, math.hypot(lever * mark, pointing), 0.0)


def satellite(*, fixed: float, ppm: float, base: float, pole: float, control: float) -> Covariance:
    """A place set with a satellite rover: fixed part [m], ppm of the distance to its base [m], pole and control [m]."""
    return round_error(math.sqrt(math.hypot(fixed, ppm * 1e-6 * base) ** 2 + pole**2 + control**2))
