"""Which of several ways to bring a form in is said: the shortest, toward or away alike."""

from __future__ import annotations

import pytest

from staking.field.compared import Allowed
from staking.field.cure import Check, cure
from staking.field.taped import Span
from staking.survey.points import Point

STEP = 0.001
AT = {"1": Point(0, 0), "2": Point(12, 0), "3": Point(12, 9), "4": Point(0, 9)}


@pytest.mark.parametrize("by", [0.05, -0.05])
def test_the_shorter_way_is_taken_toward_and_away(by: float) -> None:
    """A diagonal of 15 m too long or too short: along the long side 5/4 of it, along the short one 5/3."""
    check = Check(Span("1", "3", "diagonal", ""), 15.0 - by, Allowed(0.004, "own choice"))
    (move,) = cure(AT, "1234", [check], "124", step=STEP).moves
    assert (move.way.corner, move.way.toward) == ("3", "4")
    assert move.by == pytest.approx(1.25 * by, abs=0.01)
