"""The statement of positional accuracy: with twenty check points, and not with nineteen."""

from __future__ import annotations

import math

import numpy as np
import pytest
from making import published, sample
from measuring import as_designed, off

from staking import HowMeasured, MeasuredPoint, compare
from staking.field.compared import Comparison
from staking.field.design_points import design_points
from staking.sheets.as_built_nssda import check_points, nssda_blocks
from staking.sheets.page import Paragraph, Table

CASES = {str(case["id"]): case for case in published("accuracy")}
STANDARD = CASES["c01"]
HALL = sample("metric_hall")
NAMES = [each.name for each in design_points(HALL) if each.what != "given"]


def _compared(points: list[MeasuredPoint], error: float | None = 0.0001) -> Comparison:
    return compare(HALL, points, HowMeasured("as_set.csv", "0" * 64, error=error))


def _off(count: int, east: float, north: float, up: float = 0.0) -> list[MeasuredPoint]:
    """So many points, off by turns to one side and the other [m]."""
    points = as_designed(HALL, *NAMES[:count])
    return [off(each, (-1) ** at * east, (-1) ** (at // 2) * north, up) for at, each in enumerate(points)]


def _texts(found: Comparison) -> str:
    return "\n".join(block.text for block in nssda_blocks(found) if isinstance(block, Paragraph))


def test_nineteen_check_points_make_no_statement() -> None:
    """The standard asks for twenty; the sentence says so, and how many there were."""
    words = _texts(_compared(_off(STANDARD["fewest"] - 1, 0.003, 0.003)))
    assert "it asks for 20 check points at the least, and 19 were measured" in words
    assert "Tested" not in words


def test_twenty_make_one_in_the_words_of_the_standard() -> None:
    """1.7308 times the radial root mean square error, rounded once."""
    found = _compared(_off(STANDARD["fewest"], 0.003, 0.003))
    accuracy = STANDARD["alike"] * math.hypot(0.003, 0.003)
    assert round(accuracy, 3) == 0.007
    assert "Tested 0.007 meters horizontal accuracy at 95% confidence level" in _texts(found).splitlines()
    assert "independent of the setting out" in _texts(found)


def test_axes_that_are_too_unlike_have_their_own_sentence() -> None:
    """Below a ratio of 0.6 the averaged form is not used, and no statement is made in the standard's words."""
    words = _texts(_compared(_off(24, 0.005, 0.0025)))
    assert "No horizontal statement" in words
    assert "only 0.50 of that along the other" in words
    assert "Tested" not in words


def test_given_points_are_no_check_points() -> None:
    """They were not set; measured again they tell of the control."""
    found = _compared([*_off(19, 0.003, 0.003), *as_designed(HALL, "G1", "G2", "G3", "G4")])
    assert len(check_points(found)) == 19
    assert "19 were measured" in _texts(found)


def test_heights_have_their_own_statement() -> None:
    """1.9600 times their root mean square, where there are twenty of them; feet are written as feet."""
    layout = sample("sloping_lot")
    names = [each.name for each in design_points(layout) if each.what != "given" and each.up is not None]
    assert len(names) >= 20
    points = [off(each, up=0.01 * (-1) ** at) for at, each in enumerate(as_designed(layout, *names))]
    words = _texts(compare(layout, points, HowMeasured("as_set.csv", "0" * 64)))
    feet = CASES["e01"]["line"] * 0.01 / 0.3048
    assert f"Tested {feet:.3f} feet vertical accuracy at 95% confidence level" in words
    assert "Tested 0.000 feet horizontal accuracy at 95% confidence level" in words


def test_figures_are_those_of_numpy() -> None:
    """Mean, root mean square and largest of random differences, as written in the table."""
    random = np.random.default_rng(20260506)
    steps = random.normal(0.001, 0.003, (30, 2))
    points = [off(p, *step) for p, step in zip(as_designed(HALL, *NAMES[:30]), steps.tolist(), strict=True)]
    (table,) = [block for block in nssda_blocks(_compared(points)) if isinstance(block, Table)]
    roots = np.sqrt((steps**2).mean(axis=0))
    north, east, plan = (tuple(map(float, row[2:4])) for row in table.rows)
    assert east == pytest.approx((steps[:, 0].mean(), roots[0]), abs=0.00005)
    assert north == pytest.approx((steps[:, 1].mean(), roots[1]), abs=0.00005)
    assert plan[1] == pytest.approx(math.hypot(*roots), abs=0.00005)
    assert float(table.rows[2][4]) == pytest.approx(np.hypot(*steps.T).max(), abs=0.00005)


def test_a_check_no_better_than_what_it_tests_is_told() -> None:
    """A measurement known to more than a third of the figure is much of the figure itself."""
    assert "much of the figure is the error of the measurement" in _texts(_compared(_off(24, 0.003, 0.003), 0.002))
    assert "much of the figure" not in _texts(_compared(_off(24, 0.003, 0.003), 0.0001))
