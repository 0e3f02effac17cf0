"""All is off alike: slab or set-up, and what of the set-up?"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

import pytest
from making import sample
from measuring import HOW, as_designed, carried, codes, message, off, turned

from staking import Layout, MeasuredPoint, compare
from staking.field.by_station import station_slip
from staking.field.together import Together
from staking.survey.points import Point, vector

PINS = ("G1", "G2", "G3", "G4")


@pytest.fixture(scope="module")
def hall() -> Layout:
    """A hall of 30 by 18 m with a total station over G1, its backsight G3."""
    return sample("metric_hall")


def _all(layout: Layout, move: Callable[[Point], Point], *pins: str) -> list[MeasuredPoint]:
    return carried(as_designed(layout, *layout.corner_names, *pins), move)


def _noisy(points: list[MeasuredPoint], seed: int = 3) -> list[MeasuredPoint]:
    drawn = random.Random(seed)  # noqa: S311 - the same points each time
    return [off(each, drawn.gauss(0, 0.002), drawn.gauss(0, 0.002)) for each in points]


def test_given_points_that_agree_mean_the_slab(hall: Layout) -> None:
    """The slab stands 50 mm off, the pins do not: how to move it is told."""
    points = _noisy([*_all(hall, turned(Point(0, 0), 0.0, 0.05)), *as_designed(hall, "G2", "G4")])
    found = compare(hall, points, HOW)
    assert codes(found) == ["measured-placed"]
    assert "G2, G4" in message(found, "measured-placed")


def test_given_points_that_go_along_mean_the_set_up(hall: Layout) -> None:
    """Shift and turn of pins and slab are one: the instrument, and nothing is known of the slab."""
    points = _noisy(_all(hall, turned(Point(20, 5), 0.08, 0.04, 0.06), *PINS[1:]))
    assert codes(compare(hall, points, HOW)) == ["measured-set-up"]


def test_without_given_points_nobody_can_tell(hall: Layout) -> None:
    """That is said, and what to measure."""
    found = compare(hall, _noisy(_all(hall, turned(Point(20, 5), 0.08, 0.04, 0.06))), HOW)
    assert codes(found) == ["measured-placed-or-set-up"]
    assert "two given points" in found.findings[0].remedy


def test_given_points_that_contradict(hall: Layout) -> None:
    """Slab off one way, pins another: the pins are named, and it stays open."""
    points = [
        *_all(hall, turned(Point(0, 0), 0.0, 0.05)),
        *carried(as_designed(hall, "G2"), turned(Point(0, 0), 0, 0, 0.1)),
    ]
    assert codes(compare(hall, points, HOW)) == ["measured-given-off", "measured-placed-or-set-up"]


def test_a_wrong_backsight(hall: Layout) -> None:
    """All is turned about the station of the file."""
    points = _noisy(_all(hall, turned(hall.points["G1"].at, 0.15), "G2", "G4"))
    found = compare(hall, points, HOW)
    assert codes(found) == ["measured-backsight"]
    assert "about G1" in message(found, "measured-backsight")


def test_a_wrong_backsight_shows_behind_a_corner_set_wrong(hall: Layout) -> None:
    """A corner that stands 0.15 m off besides is named, and the others tell of the backsight."""
    first, *others = _noisy(_all(hall, turned(hall.points["G1"].at, 0.15), "G2", "G4"))
    found = compare(hall, [off(first, 0.15, 0.0), *others], HOW)
    assert codes(found) == ["measured-odd-point", "measured-backsight"]


def test_a_wrong_backsight_without_given_points_is_only_a_guess(hall: Layout) -> None:
    """The slab could stand so; what would make it so at the instrument is told."""
    found = compare(hall, _noisy(_all(hall, turned(hall.points["G1"].at, 0.15))), HOW)
    assert codes(found) == ["measured-placed-or-set-up"]
    assert "a wrong backsight at G1 would have it so" in message(found, "measured-placed-or-set-up")


def test_a_turn_that_is_written_as_nothing_is_no_slip(hall: Layout) -> None:
    """Pins alone, for which no figure of the slab is there, all turned by a tenth of a second: nothing to tell."""
    deviations = compare(hall, carried(as_designed(hall, *PINS[1:]), turned(hall.points["G1"].at, 0.1 / 3600)), HOW)
    pins = tuple(replace(each, design=replace(each.design, what="corner")) for each in deviations.deviations)
    known = Together(hall, (), pins, 1e-6)
    assert station_slip(known) is None


@pytest.mark.parametrize("constant", [0.034, -0.03])
def test_a_wrong_prism_constant(hall: Layout, constant: float) -> None:
    """All is off along the line of sight by one length, which is told with its sign."""
    station = hall.points["G1"].at

    def along(at: Point) -> Point:
        sight = vector(station, at).unit()
        return Point(at.east + sight.east * constant, at.north + sight.north * constant)

    found = compare(hall, _noisy(_all(hall, along, "G2", "G4")), HOW)
    assert codes(found) == ["measured-along-sight"]
    way = "too far from" if constant > 0 else "too near to"
    assert f" mm {way} G1" in message(found, "measured-along-sight")


def test_a_scale(hall: Layout) -> None:
    """Grid distances for ground: the combined factor of the site is recognised."""
    middle, factor = hall.points["W1"].at, hall.frame.factor

    def stretched(at: Point) -> Point:
        step = vector(middle, at)
        return Point(middle.east + step.east * factor, middle.north + step.north * factor)

    points = _all(hall, stretched, *PINS, "W1", "W2", "F1")
    found = compare(hall, points, HOW)
    assert codes(found) == ["measured-scale"]
    assert "650 parts in a million shorter" in message(found, "measured-scale")
    assert "combined factor" in message(found, "measured-scale")


def test_good_points_say_nothing(hall: Layout) -> None:
    """Noise of 2 mm is no set-up error."""
    assert codes(compare(hall, _noisy(as_designed(hall, *hall.corner_names, *PINS)), HOW)) == []


@pytest.mark.parametrize(
    ("pins", "code"),
    [(0.012, "measured-set-up"), (0.006, "measured-placed-or-set-up"), (0.0, "measured-placed")],
)
def test_given_points_within_their_own_figure(hall: Layout, pins: float, code: str) -> None:
    """A slab 12 mm east: pins 12 mm east are the set-up, pins on their places the slab, pins half-way neither."""
    slab = carried(as_designed(hall, *hall.corner_names), turned(Point(0, 0), 0.0, 0.012))
    given = carried(as_designed(hall, "G2", "G3", "G4"), turned(Point(0, 0), 0.0, pins))
    assert codes(compare(hall, [*slab, *given], HOW)) == [code]


def test_no_station_slip_where_corners_and_given_points_are_exact(hall: Layout) -> None:
    """Two corners set 18 mm to the right, all else on its place: the form is out of square, not the prism wrong."""
    right = hall.slab.form.pose.right
    points = [
        off(each, 0.018 * right.east, 0.018 * right.north) if each.name in ("101", "102") else each
        for each in as_designed(hall, *hall.corner_names, "G2")
    ]
    found = compare(hall, points, HOW)
    assert "measured-along-sight" not in codes(found)
    assert "measured-backsight" not in codes(found)
