"""Whether a measurement is good enough to judge what it judges."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from making import sample
from measuring import INCH, as_designed, off

from staking import HowMeasured, compare
from staking.field.compared import Comparison
from staking.sheets.as_built_doubt import doubt_blocks, height_doubt, length_doubt, near, near_line, point_doubt
from staking.sheets.page import Paragraph, Table


def _compared(error: float | None, east: float = 0.0) -> Comparison:
    """A shed measured with a standard error [m], one corner so far east of its place."""
    layout = sample("tape_only_shed")
    points = [off(each, east if each.name == "103" else 0.0) for each in as_designed(layout)]
    return compare(layout, points, HowMeasured("as_set.csv", "0" * 64, error=error, error_up=error))


def _fitness(error: float) -> dict[str, str]:
    (table,) = [block for block in doubt_blocks(_compared(error)) if isinstance(block, Table)]
    return {row[0]: row[-1] for row in table.rows}


@pytest.mark.parametrize(
    ("error", "says"),
    [
        (0.25 * INCH / 3 / 2.5, "can judge it"),
        (0.25 * INCH / 2.5, "can judge only clear cases"),
        (0.25 * INCH / 2.4, "cannot judge it"),
    ],
)
def test_a_measurement_that_is_too_coarse_is_told(error: float, says: str) -> None:
    """A third of what is allowed judges it; as much as is allowed does not."""
    assert _fitness(error)["points in plan"] == says


def test_doubts_hold_95_in_100_of_simulated_measurements() -> None:
    """A point in plan, a length between two points, a height: simulated with the error stated (three sigma: 0.4)."""
    found, random = _compared(0.002), np.random.default_rng(20260506)
    one, two = random.normal(0.0, 0.002, (2, 40_000, 2))
    point, length, height = point_doubt(found), length_doubt(found), height_doubt(found)
    assert point is not None
    assert length is not None
    assert height is not None
    assert np.mean(np.hypot(*one.T) <= point) == pytest.approx(0.95, abs=0.004)
    assert np.mean(np.abs(np.hypot(10 + one[:, 0] - two[:, 0], one[:, 1] - two[:, 1]) - 10) <= length) == pytest.approx(
        0.95, abs=0.004
    )
    assert np.mean(np.abs(one[:, 0]) <= height) == pytest.approx(0.95, abs=0.004)


def test_an_answer_near_the_limit_might_be_the_other_one() -> None:
    """A quarter inch is allowed: 1/4 in measured to 1/8 in is near it, 1 in is not, and nothing is without an error."""
    error = INCH / 8 / 2.4477
    (just,) = [each for each in _compared(error, 0.2 * INCH).corners if each.design.name == "103"]
    (far,) = [each for each in _compared(error, INCH).corners if each.design.name == "103"]
    assert near(_compared(error), just)
    assert not near(_compared(error), far)
    assert not near(_compared(None), just)


def test_room_that_is_less_than_the_doubt_is_near() -> None:
    """1.9600 standard errors across a line: 5 mm of room known to 3 mm may be none; over the line by as much, too."""
    found = _compared(0.003)
    assert [near_line(found, room) for room in (0.005, -0.005, 0.006)] == [True, True, False]
    assert not near_line(_compared(None), 0.0)


def test_a_length_that_was_measured_itself_is_known_by_its_own_error() -> None:
    """A tape reads a side better than two corners by coordinates tell it."""
    found = _compared(0.003)
    own = replace(found, how=replace(found.how, error_length=0.002))
    assert length_doubt(own) == pytest.approx(1.96 * 0.002, rel=1e-4)
    (words,) = [block.text for block in doubt_blocks(own) if isinstance(block, Paragraph)]
    assert "a length between two points to 1.9600 times its own standard error" in words


def test_a_point_with_an_error_of_its_own_is_judged_by_it() -> None:
    """What one point is known to goes before what all are."""
    found = _compared(0.001)
    corner = found.corners[0]
    own = replace(corner, measured=replace(corner.measured, error=0.004))
    assert point_doubt(found, own) == pytest.approx(4 * (point_doubt(found) or math.nan))


def test_without_a_stated_error_nothing_is_claimed() -> None:
    """One sentence says what to state."""
    blocks = list(doubt_blocks(_compared(None)))
    assert not [block for block in blocks if isinstance(block, Table)]
    assert any(
        isinstance(block, Paragraph) and "error of the measurement is not stated" in block.text for block in blocks
    )
