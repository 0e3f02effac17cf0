"""Two sets of coordinates of one point do not agree: which slip would explain that?

Given are the numbers as written and those that a second system leads to. Each slip says what somebody would have
written instead of the right numbers; the first that hits the numbers as written is named. Nothing is corrected.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from staking.survey.points import Point, distance

FOOT = Fraction(3048, 10000)  # Fed. Reg. 85 FR 62698 (5 Oct 2020)
SURVEY_FOOT = Fraction(1200, 3937)  # the same notice
FEET = float(SURVEY_FOOT / FOOT)  # 1.000002000004
LEAST_SCALING, MOST_SCALING = 10e-6, 1000e-6  # combined factors of sites lie in between; own choice
ONE_SCALING = 30e-6  # a county's factor is right to about so much at one site: 1.00014 for 1.000163 in TxDOT practice
CONSTANT = 1000  # units; constants taken off north and east are whole thousands; common practice, no source

Slip = Literal["swapped", "survey foot", "feet", "ground for grid", "grid for ground", "constant", "digit", "other"]


@dataclass(frozen=True, slots=True)
class Told:
    """What is known beside the numbers. All lengths in metres.

    unit: size of the unit the numbers are written in.  within: how well the two should agree.
    factor: grid / ground distance as the file says, 1 where it says nothing.
    """

    unit: float
    within: float
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Found:
    """A slip that explains the difference. figure: ppm of a stretch, or what the wrong number should read [m].

    axis: "north" or "east" for a digit.
    """

    slip: Slip
    figure: float = 0.0
    axis: str = ""


def slip_of(written: Point, right: Point, told: Told, scaled: Point | None = None) -> Found | None:
    """The slip that turns the right coordinates into those written; None where the two agree.

    written: as in the file. right: where a second system puts the point, in the same kind of values. scaled: the same
    place in the other kind, grid where the file says ground; None where there is no other kind.
    """
    if distance(written, right) <= told.within:
        return None
    return next(_slips(written, right, told, scaled), Found("other"))


def _slips(written: Point, right: Point, told: Told, scaled: Point | None) -> Iterator[Found]:
    if distance(written, Point(right.north, right.east)) <= told.within:
        yield Found("swapped")
    for times in (FEET, 1 / FEET):
        if _hits(written, right, times, told.within):
            yield Found("survey foot", (times - 1) * 1e6)
    for times in (float(FOOT), 1 / float(FOOT), float(SURVEY_FOOT), 1 / float(SURVEY_FOOT)):
        if _hits(written, right, times, told.within):
            yield Found("feet", times)
    if scaled is not None and distance(written, scaled) <= told.within:
        yield Found("grid for ground", (distance(right, scaled) or 0.0))
    yield from _digits(written, right, told)
    yield from _scaling(written, right, told)
    yield from _constant(written, right, told)


def _hits(written: Point, right: Point, times: float, within: float) -> bool:
    """Whether the right coordinates, so many times as large, are those written, and would not be so by chance."""
    return distance(written, Point(right.east * times, right.north * times)) <= within


def _scaling(written: Point, right: Point, told: Told) -> Iterator[Found]:
    """Both coordinates stretched alike about the origin, as ground values are."""
    size = math.hypot(right.east, right.north)
    if size == 0:
        return
    stretch = (written.east * right.east + written.north * right.north) / size**2 - 1
    rest = abs(written.east * right.north - written.north * right.east) / size
    wanted = 1 / told.factor - 1
    near = told.factor == 1 or abs(stretch - wanted) < ONE_SCALING + told.within / size
    if LEAST_SCALING < abs(stretch) < MOST_SCALING and rest <= told.within and near:
        yield Found("ground for grid", stretch * 1e6)


def _constant(written: Point, right: Point, told: Told) -> Iterator[Found]:
    """Whole thousands taken off, after a stretch about the origin or without one."""
    for factor in dict.fromkeys((1.0, told.factor)):
        off = [(a / factor - b) / told.unit for a, b in ((right.east, written.east), (right.north, written.north))]
        odd = max(abs(each - CONSTANT * round(each / CONSTANT)) for each in off)
        if odd * told.unit <= told.within:
            yield Found("constant", max(off, key=abs) * told.unit)


def _digits(written: Point, right: Point, told: Told) -> Iterator[Found]:
    """One digit of one coordinate, or two neighbours changed places: the other coordinate agrees."""
    for axis, wrong, well in (
        ("north", written.north - right.north, written.east - right.east),
        ("east", written.east - right.east, written.north - right.north),
    ):
        if abs(well) <= told.within and _of_a_digit(abs(wrong) / told.unit, told.within / told.unit):
            yield Found("digit", right.north if axis == "north" else right.east, axis)


def _of_a_digit(off: float, within: float) -> bool:
    """Whether a difference is 1 to 9 of one place (a digit), or 9 times so many (two digits changed places)."""
    for power in range(-1, 9):
        place = 10.0**power
        for each in (place, 9 * place):
            times = round(off / each)
            if 1 <= times <= 9 and abs(off - times * each) <= within < place / 4:
                return True
    return False
