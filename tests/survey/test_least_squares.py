"""Least squares against published adjustments and numpy; problems that leave something open are refused."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.angles import parse_direction
from staking.survey.least_squares import Matrix, Model, linear, nonlinear

CASES = {str(case["id"]): case for case in published("least_squares")}
LINE = np.column_stack([np.ones(6), np.arange(6.0)])


def _distances(stations: list[list[float]]) -> Model:
    """Distances from a new place to fixed stations, and how they change with it."""

    def model(place: Matrix) -> tuple[Matrix, Matrix]:
        steps = place - np.array(stations, float)
        lengths = np.linalg.norm(steps, axis=1)
        return lengths, steps / lengths[:, None]

    return model


def test_a_place_from_three_distances() -> None:
    """Place, residuals and standard errors are those of the published trilateration."""
    case = CASES["g01"]
    found = nonlinear(_distances(case["stations"]), [270.0, 270.0], case["distances"])
    assert found.unknowns == pytest.approx(case["place"], abs=1e-6)
    assert found.residuals == pytest.approx(case["residuals"], abs=1e-7)
    assert found.standard_error == pytest.approx(case["standard_error"], abs=1e-7)
    assert found.standard_errors(found.standard_error or 0) == pytest.approx(case["standard_errors"], abs=5e-5)


def test_similarity_without_shift() -> None:
    """The published example, with errors in what is mapped to, and with errors in what is mapped from."""
    case = CASES["g04"]
    assert _turned(case["from"], case["to"]) == pytest.approx(case["errors_in_to"], abs=1e-12)
    c, d = _turned(case["to"], case["from"])
    back = [c / (c * c + d * d), -d / (c * c + d * d)]
    assert back == pytest.approx(case["errors_in_from"], abs=1e-6)


def test_weighted_sum_of_the_similarity() -> None:
    """The published weighted sum comes out of the published weights."""
    case = CASES["g04"]
    weights = np.full(6, 1 / (0.01 * 5))
    found = linear(_rows(case["from"]), np.ravel(case["to"]), weights=weights)
    assert found.weighted_sum == pytest.approx(case["weighted_sum"], abs=1e-9)


def _rows(places: list[list[float]]) -> Matrix:
    return np.array([row for x, y in places for row in ((x, -y), (y, x))], float)


def _turned(start: list[list[float]], end: list[list[float]]) -> list[float]:
    return [float(number) for number in linear(_rows(start), np.ravel(end)).unknowns]


def test_a_place_held_to_a_line() -> None:
    """The published trilateration, free and with one coordinate held; the held one gains a redundant number."""
    case = CASES["g05"]
    model = _distances(case["stations"])
    free = nonlinear(model, [5, 5], case["distances"])
    gap: Model = lambda place: (np.array([place[1] - case["held_north"]]), np.array([[0.0, 1.0]]))  # noqa: E731
    held = nonlinear(model, [5, 5], case["distances"], constraints=gap)
    assert free.unknowns == pytest.approx(case["free"], abs=1e-6)
    assert held.unknowns == pytest.approx(case["held"], abs=1e-6)
    assert (free.redundancy, held.redundancy) == (1, 2)


def test_angles_of_a_braced_quadrilateral() -> None:
    """Eight angles under three sums and a side condition get the published corrections."""
    case = CASES["g06"]
    angles = np.radians([parse_direction(text) for text in case["angles"]])
    found = nonlinear(lambda x: (x, np.eye(8)), angles, angles, constraints=_quadrilateral)
    assert np.degrees(found.residuals) * 3600 == pytest.approx(case["corrections"], abs=2e-4)
    assert found.redundancy == 4
    assert sum(found.redundancies) == pytest.approx(4)


def _quadrilateral(x: Matrix) -> tuple[Matrix, Matrix]:
    sums = np.zeros((3, 8))
    for row, members in enumerate(((0, 1, 2, 7), (3, 4, 5, 6), (0, 5, 6, 7))):
        sums[row, list(members)] = 1.0
    signs = np.array([1.0, -1.0] * 4)
    sides = float(signs @ np.log(np.sin(x)))
    return np.append(sums @ x - math.pi, sides), np.vstack([sums, signs / np.tan(x)])


def test_six_distances_among_four_corners() -> None:
    """The distances are adjusted as recomputed; the printed last one is no least squares and must not come out."""
    case = CASES["g07"]
    found = nonlinear(_between, [1525.0, 2306.0, 2032.0, 631.0, 2317.0], case["measured"])
    adjusted = found.residuals + np.array(case["measured"])
    assert adjusted == pytest.approx(case["adjusted"], abs=1e-3)
    assert abs(adjusted[5] - case["misprint_of_the_last"]) > 60
    assert found.redundancy == 1


def _between(x: Matrix) -> tuple[Matrix, Matrix]:
    """Distances AB BC CD AD AC BD: A at the origin, B on the first axis; x is bx, cx, cy, dx, dy."""
    design_of = np.zeros((8, 5))
    design_of[2, 0] = design_of[4, 1] = design_of[5, 2] = design_of[6, 3] = design_of[7, 4] = 1.0
    corners = (design_of @ x).reshape(4, 2)
    values, rows = [], []
    for a, b in ((0, 1), (1, 2), (2, 3), (0, 3), (0, 2), (1, 3)):
        step = corners[b] - corners[a]
        length = float(np.linalg.norm(step))
        values.append(length)
        rows.append(step / length @ (design_of[2 * b : 2 * b + 2] - design_of[2 * a : 2 * a + 2]))
    return np.array(values), np.array(rows)


@pytest.mark.parametrize("name", ["f08", "f11"])
def test_a_place_from_angles(name: str) -> None:
    """A resection from two angles is found again, with nothing redundant."""
    case = CASES[name]
    found = nonlinear(_angles(case["stations"]), case["start"], np.radians(case["angles"]))
    assert found.unknowns == pytest.approx(case["place"], abs=2e-3)
    assert (found.redundancy, found.standard_error) == (0, None)


def _angles(stations: list[list[float]]) -> Model:
    def model(place: Matrix) -> tuple[Matrix, Matrix]:
        steps = np.array(stations, float) - place
        ways = np.arctan2(steps[:, 0], steps[:, 1])
        rows = np.column_stack([-steps[:, 1], steps[:, 0]]) / (steps**2).sum(axis=1)[:, None]
        turns = np.mod(np.abs(np.diff(ways)), 2 * math.pi)
        sign = np.sign(np.diff(ways))
        folded = turns > math.pi
        return np.where(folded, 2 * math.pi - turns, turns), np.diff(rows, axis=0) * np.where(folded, -sign, sign)[
            :, None
        ]

    return model


@given(st.lists(st.floats(-5, 5), min_size=6, max_size=6), st.lists(st.floats(0.1, 9), min_size=6, max_size=6))
def test_weighted_lines_agree_with_numpy(observed: list[float], weights: list[float]) -> None:
    """Unknowns and their standard errors are those of numpy's weighted polynomial of the first degree."""
    found = linear(LINE, observed, weights=weights)
    best, spread = np.polyfit(np.arange(6.0), observed, 1, w=np.sqrt(weights), cov="unscaled")
    assert found.unknowns == pytest.approx(best[::-1], abs=1e-9)
    assert found.standard_errors(1.0) == pytest.approx(np.sqrt(np.diag(spread))[::-1], rel=1e-9)


@given(st.lists(st.floats(-5, 5), min_size=6, max_size=6), st.integers(0, 5), st.integers(0, 5))
def test_gain_is_what_leaving_out_gives(observed: list[float], one: int, other: int) -> None:
    """The weighted sum falls by the gain when measurements are really left out."""
    rows = sorted({one, other})
    kept = [i for i in range(6) if i not in rows]
    whole, rest = linear(LINE, observed), linear(LINE[kept], np.array(observed)[kept])
    assert whole.gain(rows) == pytest.approx(whole.weighted_sum - rest.weighted_sum, abs=1e-8)


def test_what_nothing_checks_has_no_standardised_residual() -> None:
    """A measurement that alone fixes an unknown has redundancy 0, and says so."""
    found = linear([[1, 0], [1, 0], [0, 1]], [1.0, 1.2, 5.0])
    assert found.redundancies == pytest.approx((0.5, 0.5, 0.0))
    first, second, third = found.standardised(0.1)
    assert [first, second] == pytest.approx([math.sqrt(2), -math.sqrt(2)])
    assert third is None


@pytest.mark.parametrize(
    ("design", "weights", "constraints", "words"),
    [
        ([[1, 1], [2, 2], [3, 3]], None, None, "leave an unknown open"),
        ([[1, 0], [1, 1], [1, 2]], [1, 0, 1], None, "more than 0"),
        ([[1, 0], [1, 1], [1, 2]], [1, 1], None, "need 3 weights"),
        ([[1, 0], [1, 1], [1, 2]], None, ([[1, 0], [1, 0]], [0, 1]), "contradict"),
        ([[1, 0, 0], [0, 1, 0], [0, 0, 0]], None, None, "leave an unknown open"),
    ],
)
def test_open_problems_are_refused(design: object, weights: object, constraints: object, words: str) -> None:
    """What has no single answer is refused with the reason."""
    with pytest.raises(ValueError, match=words):
        linear(design, [1.0, 2.0, 3.0], weights=weights, constraints=constraints)  # type: ignore[arg-type]


def test_a_search_that_gets_nowhere_is_refused() -> None:
    """An iteration that runs away ends with a sentence, not with a wrong place."""
    with pytest.raises(ValueError, match="no solution after 5 steps"):
        nonlinear(lambda x: (np.cbrt(x), np.array([[np.cbrt(x[0]) / (3 * x[0])]])), [1.0], [0.0], most=5)


def test_correlated_measurements() -> None:
    """A matrix of weights counts: two copies of one measurement weigh as one."""
    together = np.linalg.inv(np.array([[1.0, 0.999999, 0], [0.999999, 1, 0], [0, 0, 1]]))
    assert linear(np.ones((3, 1)), [1.0, 1.0, 4.0], weights=together).unknowns[0] == pytest.approx(2.5, abs=1e-5)
    assert linear(np.ones((3, 1)), [1.0, 1.0, 4.0]).unknowns[0] == pytest.approx(2.0)
