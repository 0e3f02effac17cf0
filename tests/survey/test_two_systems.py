"""Fits of two systems against scikit-image and scipy; blunders, false alarms, mirrored and wrong units."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares as scipy_least_squares
from skimage.transform import EuclideanTransform, SimilarityTransform

from staking.survey.angles import difference
from staking.survey.points import Point, Vector, distance
from staking.survey.similarity import Pair, Similarity
from staking.survey.two_systems import (
    fit_heights,
    fit_systems,
    geometry,
    interchanged,
    mirror,
    odd_pairs,
    other_foot,
    other_unit,
    ratio_of_distances,
)

FOOT = 0.3048
NOISE = 0.006
PLACES = (Point(0, 0), Point(30, 2), Point(34, 41), Point(14, 55), Point(-3, 38))
SIZES = {"ft": FOOT, "m": 1.0, "in": 0.0254}
turns = st.floats(-179.9, 179.9)
slips = st.lists(st.tuples(st.floats(-0.02, 0.02), st.floats(-0.02, 0.02)), min_size=5, max_size=5)


def _pairs(turn: float, off: list[tuple[float, float]] | None = None, scale: float = 1.0) -> list[Pair]:
    move = Similarity(Point(0, 0), Point(6e5, 2e5), turn, scale)
    steps = off or [(0.0, 0.0)] * len(PLACES)
    images = [(place, move.apply(place)) for place in PLACES]
    return [(a, Point(b.east + e, b.north + n)) for (a, b), (e, n) in zip(images, steps, strict=True)]


@given(turns, st.floats(0.5, 2), st.floats(-1e7 * FOOT, 1e7 * FOOT), st.floats(-1e7 * FOOT, 1e7 * FOOT))
def test_any_move_is_recovered_at_state_plane_size(turn: float, scale: float, east: float, north: float) -> None:
    """Turn, shift and scale come back at coordinates of 10 million feet, to a millionth of a foot at every point."""
    start = [Point(p.east + 1e7 * FOOT, p.north - 1e7 * FOOT) for p in PLACES]
    move = Similarity(start[0], Point(east, north), turn, scale)
    fit = fit_systems([(p, move.apply(p)) for p in start], scale=True, expected=NOISE)
    assert max(distance(fit.similarity.apply(p), move.apply(p)) for p in start) < 1e-6 * FOOT
    assert abs(difference(fit.similarity.turn, turn)) < 1e-6


@given(turns, slips, st.booleans())
def test_fits_agree_with_scikit_image(turn: float, off: list[tuple[float, float]], scale: bool) -> None:
    """Fitted places are those of scikit-image's similarity, or of its turn and shift."""
    pairs = _pairs(turn, off)
    given, measured = (np.array([[p.east, p.north] for p in side]) for side in zip(*pairs, strict=True))
    kind = SimilarityTransform if scale else EuclideanTransform
    best = kind.from_estimate(given, measured - measured.mean(axis=0))(given) + measured.mean(axis=0)
    fit = fit_systems(pairs, scale=scale, expected=NOISE)
    ours = np.array([[p.east, p.north] for p in map(fit.similarity.apply, (a for a, _ in pairs))])
    assert np.abs(ours - best).max() < 1e-8


@given(turns, slips)
def test_standard_errors_agree_with_scipy(turn: float, off: list[tuple[float, float]]) -> None:
    """Standard errors of turn and shift follow from scipy's Jacobian at its own minimum."""
    pairs = _pairs(turn, [(e + 0.01, n * (i + 1)) for i, (e, n) in enumerate(off)])
    fit = fit_systems(pairs, expected=NOISE)
    pivot, image = fit.similarity.pivot, fit.similarity.image

    def left(x: np.ndarray) -> list[float]:
        move = Similarity(pivot, Point(image.east + x[0], image.north + x[1]), turn + math.degrees(x[2]))
        found = [(b, move.apply(a)) for a, b in pairs]
        return [number for b, c in found for number in (b.east - c.east, b.north - c.north)]

    best = scipy_least_squares(left, [0.0, 0.0, 0.0], jac="3-point", x_scale=[1, 1, 0.01])
    errors = np.sqrt(np.diag(np.linalg.inv(best.jac.T @ best.jac)))
    assert fit.solution.standard_errors(1.0) == pytest.approx(errors, rel=1e-4)
    assert sum(fit.solution.redundancies) == pytest.approx(fit.redundancy) == 7


@given(turns)
def test_the_sense_of_the_turn(turn: float) -> None:
    """A site turned clockwise by so much is reported so, and its north comes to lie there."""
    fit = fit_systems(_pairs(turn), expected=NOISE)
    assert abs(difference(fit.similarity.turn, turn)) < 1e-7
    assert fit.similarity.turned(Vector(0, 1)).east == pytest.approx(math.sin(math.radians(turn)), abs=1e-9)


def _random_set(rng: random.Random, count: int, blunder: float) -> tuple[list[Pair], int]:
    """Places on a site of 60 m, measured with noise; one of them off by so many times that noise of a place."""
    move = Similarity(Point(0, 0), Point(6e5, 2e5), rng.uniform(-180, 180))
    odd, way = rng.randrange(count), rng.uniform(0, 2 * math.pi)
    pairs = []
    for index in range(count):
        place = Point(rng.uniform(0, 60), rng.uniform(0, 60))
        size = blunder * NOISE * math.sqrt(2) if index == odd else 0.0
        at = move.apply(place)
        east, north = size * math.sin(way) + rng.gauss(0, NOISE), size * math.cos(way) + rng.gauss(0, NOISE)
        pairs.append((place, Point(at.east + east, at.north + north)))
    return pairs, odd


@pytest.mark.parametrize("count", [4, 5, 6, 8, 12])
def test_blunders_are_named(count: int) -> None:
    """A place five times its noise off is named in 95 of 100 sets or more, from four pairs on."""
    rng, named = random.Random(7), 0  # noqa: S311
    for _ in range(100):
        pairs, odd = _random_set(rng, count, 5.0)
        named += any(odd in group for group in odd_pairs(pairs, expected=NOISE))
    print(f"{count} pairs: {named} of 100 blunders named")  # noqa: T201
    assert named >= 95


@pytest.mark.parametrize("count", [3, 4, 5, 6, 8, 12])
def test_false_alarms_are_few(count: int) -> None:
    """Of 100 sets in good order five at the most have a pair named."""
    rng = random.Random(11)  # noqa: S311
    alarms = sum(bool(odd_pairs(_random_set(rng, count, 0.0)[0], expected=NOISE)) for _ in range(100))
    print(f"{count} pairs: {alarms} of 100 good sets accused")  # noqa: T201
    assert alarms <= 5


def test_three_pairs_cannot_always_tell() -> None:
    """With three pairs a blunder square to one side looks like one at the other end of the next: both are named."""
    pairs = _pairs(20.0)[:3]
    shoved = (pairs[0][0], Similarity(Point(0, 0), Point(6e5, 2e5), 20.0).apply(Point(0.041, -0.034)))
    (group,) = odd_pairs([shoved, *pairs[1:]], expected=NOISE)
    assert 0 in group
    assert len(group) > 1


def test_two_blunders() -> None:
    """Of eight pairs two that are wrong in ways of their own are both named."""
    pairs = _pairs(30.0)
    move = Similarity(Point(0, 0), Point(6e5, 2e5), 30.0)
    pairs += [(place, move.apply(place)) for place in (Point(20, 20), Point(5, 50), Point(33, 10))]
    for index, off in ((2, 3.0), (6, -1.0)):
        at = pairs[index][1]
        pairs[index] = (pairs[index][0], Point(at.east + off, at.north))
    assert {group[0] for group in odd_pairs(pairs, expected=NOISE)} == {2, 6}


@pytest.mark.parametrize(
    ("turn", "way", "words"),
    [
        (0.0, lambda p: Point(p.north, p.east), "swapped"),
        (0.0, lambda p: Point(-p.east, p.north), "east"),
        (0.0, lambda p: Point(p.east, -p.north), "north"),
        (40.0, lambda p: Point(p.north, p.east), "mirrored"),
        (40.0, lambda p: p, None),
    ],
)
def test_mirrored_sets_are_told(turn: float, way: object, words: str | None) -> None:
    """A mirrored set is refused by name, where the systems are not turned; a turned one is not mirrored."""
    assert callable(way)
    assert mirror([(a, way(b)) for a, b in _pairs(turn)], expected=NOISE) == words


def test_two_pairs_or_a_line_hide_a_mirror() -> None:
    """Two pairs, or three on a line, fit mirrored as well."""
    line = [(Point(x, 2 * x), Point(2 * x + 7, x - 3)) for x in (0.0, 5.0, 11.0)]
    assert mirror(_pairs(10.0)[:2], expected=NOISE) == mirror(line, expected=NOISE) == "hidden"


def test_units_and_feet() -> None:
    """A ratio of distances names the other unit; 2 parts in a million show in large coordinates alone."""
    assert ratio_of_distances(_pairs(5.0, scale=1 / FOOT)) == pytest.approx(1 / FOOT)
    assert (other_unit(FOOT, SIZES, "ft"), other_unit(1.0004, SIZES, "ft")) == (("m",), ())
    ratio = (1200 / 3937) / FOOT
    far = [Point(p.east + 5e5, p.north + 6e5) for p in PLACES]
    listed = [(p, Point(p.east * ratio, p.north * ratio)) for p in far]
    assert other_foot(listed, ratio, expected=NOISE)
    assert not other_foot([(p, p) for p in far], ratio, expected=NOISE)


def test_exchanged_names() -> None:
    """Two pairs with each other's places are found; a set in order has none."""
    pairs = _pairs(25.0)
    wrong = [(pairs[0][0], pairs[3][1]), pairs[1], pairs[2], (pairs[3][0], pairs[0][1]), pairs[4]]
    assert interchanged(wrong, expected=NOISE) == (0, 3)


def test_geometry_of_pairs() -> None:
    """Pairs on a line have no width; a far corner is told by how many spreads it lies off."""
    found = geometry([Point(0, 0), Point(10, 0), Point(20, 0)], [Point(5, 0), Point(100, 0)])
    assert found.width == pytest.approx(0)
    assert found.farthest == 1
    assert found.reach == pytest.approx(90 / math.sqrt(200 / 3))


def test_heights() -> None:
    """Shift and tilt come back apart from one another; a height that is off is named, and none of a tilt alone."""
    differences = [5.0 + 1e-3 * p.east - 2e-3 * p.north for p in PLACES]
    tilted = fit_heights(PLACES, differences, expected=NOISE)
    assert tilted.tilt is not None
    assert [tilted.tilt.east, tilted.tilt.north] == pytest.approx([1e-3, -2e-3])
    assert tilted.shift == pytest.approx(math.fsum(differences) / 5)
    assert fit_heights(PLACES, [5.0, 5.0, 5.3, 5.0, 5.001], expected=NOISE).odd == 2
    assert fit_heights(PLACES[:1], [5.0], expected=NOISE).tilt is None
