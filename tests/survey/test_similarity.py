"""Fits of a record to pins against published ones, numpy and scipy; pins that do not belong; input that is refused."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published
from scipy.optimize import least_squares as scipy_least_squares
from scipy.spatial.transform import Rotation

from staking.survey.angles import difference
from staking.survey.points import Point, distance
from staking.survey.similarity import Pair, Similarity, best_fit, hold_and_turn, least_squares, residuals

CASES = {str(case["id"]): case for case in published("similarity")}
LOT = (Point(0, 0), Point(30, 0), Point(32, 41), Point(14, 55), Point(-3, 38))

turns = st.floats(-179, 179)
shifts = st.tuples(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
errors = st.lists(st.tuples(st.floats(-0.05, 0.05), st.floats(-0.05, 0.05)), min_size=5, max_size=5)


def _pairs(move: Similarity, slips: list[tuple[float, float]] | None = None) -> list[Pair]:
    """The lot as recorded and as found, off by so much at each pin."""
    found = [move.apply(corner) for corner in LOT]
    off = slips or [(0.0, 0.0)] * len(LOT)
    return [(c, Point(f.east + e, f.north + n)) for c, f, (e, n) in zip(LOT, found, off, strict=True)]


def _move(turn: float, shift: tuple[float, float], scale: float = 1.0) -> Similarity:
    return Similarity(Point(0, 0), Point(*shift), turn, scale)


def test_mirrored_example() -> None:
    """The published example of a mirrored target: the fit turns, never mirrors, and leaves large residuals."""
    case = CASES["g03"]
    pairs = [(Point(*a), Point(*b)) for a, b in zip(case["from"], case["to"], strict=True)]
    fit = least_squares(pairs, scale=True)
    move = fit.similarity
    assert (fit.scale, move.turn) == pytest.approx((case["scale"], case["turn"]), abs=case["within"])
    assert (move.shift.east, move.shift.north) == pytest.approx(tuple(case["shift"]), abs=case["within"])
    for left, printed in zip(fit.residuals, case["residuals"], strict=True):
        assert (left.east, left.north) == pytest.approx(tuple(printed), abs=case["within"])


def test_sense_of_the_turn() -> None:
    """The published place comes out, not the one 9.4 m away that the other sense of the turn gives."""
    case = CASES["g09"]
    move = Similarity(Point(0, 0), Point(*case["shift"]), case["turn"], case["scale"])
    found, right, wrong = move.apply(Point(*case["from"][0])), Point(*case["to"][0]), Point(*case["wrong_to"][0])
    assert distance(found, right) < case["within"]
    assert distance(found, wrong) > 9
    assert Similarity(Point(0, 0), Point(0, 0), 90.0).apply(Point(0, 1)) == Point(1.0, 0.0)


def test_published_change_of_datum() -> None:
    """The published similarity between two grids, whose turn is given for the axes, brings the place to its image."""
    case = CASES["d01"]
    move = Similarity(Point(0, 0), Point(*case["shift"]), case["turn"], case["scale"])
    assert distance(move.apply(Point(*case["from"][0])), Point(*case["to"][0])) < case["within"]


@given(turns, shifts, st.floats(0.9, 1.1))
def test_moves_are_found_again(turn: float, shift: tuple[float, float], scale: float) -> None:
    """Pins that were turned, shifted and stretched exactly give back the move, with nothing left over."""
    fit = least_squares(_pairs(_move(turn, shift, scale)), scale=True)
    assert abs(difference(fit.similarity.turn, turn)) < 1e-7
    assert fit.similarity.scale == fit.scale == pytest.approx(scale, abs=1e-9)
    assert max(left.length for left in fit.residuals) < 1e-8
    assert fit.odd is None
    assert distance(fit.similarity.inverse().apply(fit.similarity.apply(LOT[2])), LOT[2]) < 1e-8


@given(turns, errors)
def test_turn_agrees_with_scipy(turn: float, slips: list[tuple[float, float]]) -> None:
    """The turn is that of scipy's best rotation between the figures about their centroids."""
    pairs = _pairs(_move(turn, (600000.0, 200000.0)), slips)
    record, found = (np.array([[p.east, p.north, 0.0] for p in side]) for side in zip(*pairs, strict=True))
    record, found = record - record.mean(axis=0), found - found.mean(axis=0)
    upright = np.array([[0.0, 0.0, 1e3]])  # keeps the rotation in the plane
    best, _ = Rotation.align_vectors(np.vstack([found, upright]), np.vstack([record, upright]))
    clockwise = -math.degrees(best.as_rotvec()[2])
    assert abs(difference(least_squares(pairs).similarity.turn, clockwise)) < 1e-5


@given(turns, errors, st.booleans())
def test_fit_agrees_with_scipy(turn: float, slips: list[tuple[float, float]], scale: bool) -> None:
    """No other turn, shift and stretch has a smaller sum of squares: scipy, started at ours, stays there."""
    pairs = _pairs(_move(turn, (50.0, -20.0)), slips)
    fit = least_squares(pairs, scale=scale)
    move = fit.similarity

    def left(numbers: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[float]:
        east, north, angle = (float(number) for number in numbers[:3])
        stretch = float(numbers[3]) if scale else 1.0
        tried = Similarity(move.pivot, Point(move.image.east + east, move.image.north + north), angle, stretch)
        return [part for v in residuals(tried, pairs) for part in (v.east, v.north)]

    start = [0.01, -0.01, move.turn + 0.01, *([1.0001] if scale else [])]
    best = scipy_least_squares(left, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    ours = math.fsum(v.dot(v) for v in fit.residuals)
    assert ours == pytest.approx(2 * best.cost, abs=1e-9)
    assert fit.standard_error == pytest.approx(math.sqrt(ours / fit.redundancy))
    assert fit.redundancy == (6 if scale else 7)


def test_scale_is_told_and_not_applied() -> None:
    """A record in the wrong foot shows its scale; it is applied only when that is asked for."""
    pairs = _pairs(_move(30.0, (0.0, 0.0), 1.002))
    plain, stretched = least_squares(pairs), least_squares(pairs, scale=True)
    assert plain.scale == stretched.scale == pytest.approx(1.002)
    assert plain.similarity.scale == 1.0
    assert max(v.length for v in plain.residuals) > 0.05 > max(v.length for v in stretched.residuals)


def test_large_coordinates_lose_no_digits() -> None:
    """In coordinates of millions of metres, residuals are as they are near the origin."""
    slips = [(0.01, 0.0), (0.0, -0.01), (-0.005, 0.0), (0.0, 0.0), (0.002, 0.003)]
    near, far = (least_squares(_pairs(_move(10.0, shift), slips)) for shift in ((0.0, 0.0), (2e6, 5e6)))
    for a, b in zip(near.residuals, far.residuals, strict=True):
        assert (a.east, a.north) == pytest.approx((b.east, b.north), abs=1e-8)


@pytest.mark.parametrize("odd", range(5))
@pytest.mark.parametrize("by", [(0.30, 0.0), (0.0, -0.12), (-0.08, 0.08)])
def test_pin_that_does_not_belong(odd: int, by: tuple[float, float]) -> None:
    """One pin moved by 4 in or more is named, and its distance from its place by the others is told."""
    slips = [(0.002, -0.001), (-0.001, 0.003), (0.0, -0.002), (0.003, 0.001), (-0.002, 0.0)]
    slips[odd] = by
    fit = least_squares(_pairs(_move(25.0, (100.0, 100.0)), slips))
    assert fit.odd == fit.left_out[0].index == odd
    assert fit.left_out[0].gap == pytest.approx(math.hypot(*by), abs=0.012)
    assert all(a.standard_error <= b.standard_error for a, b in pairwise(fit.left_out))


@given(turns, st.lists(st.tuples(st.floats(-0.004, 0.004), st.floats(-0.004, 0.004)), min_size=5, max_size=5))
def test_pins_in_good_order_are_not_blamed(turn: float, slips: list[tuple[float, float]]) -> None:
    """Where all pins are within what pins are found to, none is said not to belong."""
    assert least_squares(_pairs(_move(turn, (0.0, 0.0)), slips)).odd is None


def test_three_pins() -> None:
    """Of three pins the odd one is named where the other two agree and no other pair does."""
    record = (Point(0, 0), Point(30, 0), Point(15, 40))
    good = least_squares([(record[0], record[0]), (record[1], record[1]), (record[2], Point(16.0, 40.4))])
    assert good.odd == 2
    unclear = least_squares([(record[0], record[0]), (record[1], record[1]), (record[2], record[2])])
    assert unclear.odd is None
    assert least_squares([(c, c) for c in record], scale=True).left_out == ()


def test_two_pins_and_two_in_one_place() -> None:
    """Two pins give a turn, and with the scale nothing to judge by; no pin is judged by others in one place."""
    pairs = [(Point(0, 0), Point(5, 5)), (Point(10, 0), Point(5, 15.1))]
    assert least_squares(pairs).similarity.turn == pytest.approx(-90)
    assert least_squares(pairs, scale=True).standard_error is None
    heap = least_squares([(Point(0, 0), Point(0, 0)), (Point(0, 0), Point(0, 0.000001)), (Point(9, 0), Point(9, 0))])
    assert 2 not in [out.index for out in heap.left_out]
    assert heap.odd is None


def test_mirrored_lot_shows_in_the_residuals() -> None:
    """A lot laid out as its mirror image fits badly everywhere, and the turn is still a turn."""
    fit = least_squares([(corner, Point(-corner.east, corner.north)) for corner in LOT])
    assert fit.standard_error is not None
    assert fit.standard_error > 5
    assert fit.similarity.scale == 1.0


@pytest.mark.parametrize(
    ("pairs", "reason"),
    [
        ([], "two pins"),
        ([(Point(0, 0), Point(1, 1))], "two pins"),
        ([(Point(0, 0), Point(0, 0)), (Point(0, 0), Point(5, 0))], "one place"),
        ([(Point(0, 0), Point(0, 0)), (Point(5, 0), Point(0, 0))], "one place"),
        (
            [(Point(e, n), Point(-e, n)) for e, n in ((1, 1), (-1, 1), (-1, -1), (1, -1))],
            "mirrored",
        ),
    ],
)
def test_pins_that_fix_nothing(pairs: list[Pair], reason: str) -> None:
    """Too few pins, pins in one place, and a mirrored square are refused with the reason."""
    with pytest.raises(ValueError, match=reason):
        least_squares(pairs)


@given(turns, shifts)
def test_hold_and_turn(turn: float, shift: tuple[float, float]) -> None:
    """The pin held stays, the other one is in its direction, and the rest lie as the record has them."""
    move = _move(turn, shift)
    found = [move.apply(corner) for corner in LOT]
    found[3] = Point(found[3].east + 0.5, found[3].north)
    held = hold_and_turn(LOT, found, 0, 2)
    left = residuals(held, list(zip(LOT, found, strict=True)))
    assert [v.length for v in left] == pytest.approx([0, 0, 0, 0.5, 0], abs=1e-7)
    assert left[0].length == 0


@pytest.mark.parametrize(("hold", "toward"), [(1, 1), (0, 1)])
def test_hold_and_turn_needs_two_places(hold: int, toward: int) -> None:
    """A pin does not give a direction to itself, nor to another in the same place."""
    found = [Point(7, 7), Point(7, 7)]
    with pytest.raises(ValueError, match="no direction"):
        hold_and_turn(LOT[:2], found, hold, toward)


@pytest.mark.parametrize(
    ("by", "odd"),
    [
        ((0.0, 0.025), 2),  # without another pin: 0.025 cos 30 / sqrt 2 = 0.0153 m, above twice the noise of 0.006 m
        ((0.025, 0.0), None),  # 0.025 sin 30 / sqrt 2 = 0.0088 m: more than the noise, not twice as much
        ((0.0, 0.016), None),  # 0.016 cos 30 / sqrt 2 = 0.0098 m
    ],
)
def test_where_a_pin_begins_not_to_belong(by: tuple[float, float], odd: int | None) -> None:
    """In a triangle of equal sides, one pin a little off: the others fit exactly, any other pair by its distance."""
    record = (Point(0, 0), Point(30, 0), Point(15, 15 * math.sqrt(3)))
    slips = ((0.0, 0.0), (0.0, 0.0), by)
    found = [Point(p.east + e, p.north + n) for p, (e, n) in zip(record, slips, strict=True)]
    assert least_squares(list(zip(record, found, strict=True))).odd == odd


@given(turns, errors, st.booleans())
def test_a_pin_left_out_leaves_the_fit_of_the_others(
    turn: float, slips: list[tuple[float, float]], scale: bool
) -> None:
    """What is told of each pin left out is the fit of the others alone, and how far it is from its place by them."""
    pairs = _pairs(_move(turn, (50.0, -20.0)), slips)
    for out in least_squares(pairs, scale=scale).left_out:
        others = least_squares([*pairs[: out.index], *pairs[out.index + 1 :]], scale=scale)
        record, pin = pairs[out.index]
        assert out.standard_error == pytest.approx(others.standard_error, abs=1e-9)
        assert out.gap == pytest.approx(distance(others.similarity.apply(record), pin), abs=1e-9)


@given(turns, shifts, st.floats(0.9, 1.1))
def test_columns_are_carried_as_their_points_are(turn: float, shift: tuple[float, float], scale: float) -> None:
    """The same formula for many places at once."""
    move = Similarity(Point(10, 20), Point(*shift), turn, scale)
    east, north = move.carry(np.array([p.east for p in LOT]), np.array([p.north for p in LOT]))
    for place, e, n in zip(LOT, east.tolist(), north.tolist(), strict=True):
        assert distance(move.apply(place), Point(e, n)) < 1e-8


@pytest.mark.parametrize("case", published("conformal_fit"), ids=lambda case: str(case["id"]))
def test_a_published_fit_carries_other_points(case: dict[str, Any]) -> None:
    """Three control points, a turn of more than a right angle; four more points land where the book has them."""
    pairs = [(Point(*one), Point(*two)) for one, two in zip(case["from"], case["to"], strict=True)]
    similarity, _ = best_fit(pairs, scale=True)
    assert similarity.scale == pytest.approx(math.hypot(case["a"], case["b"]), abs=case["parameters_within"])
    ccw = math.degrees(math.atan2(case["b"], case["a"]))
    assert (similarity.turn + ccw) % 360 == pytest.approx(0.0, abs=1e-3) or (similarity.turn + ccw) % 360 > 359.999
    for place, there in zip(case["carry"], case["carried"], strict=True):
        found = similarity.apply(Point(*place))
        assert (found.east, found.north) == pytest.approx(tuple(there), abs=case["within"])


def test_exchanged_columns_of_a_published_fit_show_in_the_residuals() -> None:
    """The same three points with north and east exchanged in one system: residuals of more than a hundred units."""
    case = published("conformal_fit")[0]
    pairs = [(Point(*one), Point(*two[::-1])) for one, two in zip(case["from"], case["to"], strict=True)]
    similarity, _ = best_fit(pairs, scale=True)
    left = [distance(similarity.apply(record), found) for record, found in pairs]
    assert math.sqrt(math.fsum(each * each for each in left) / 3) > 100
