"""Dressed sizes, as published."""

from __future__ import annotations

import pytest
from making import published

from staking.kinds.lumber import DRESSED, INCH, nominal

CASES = {case["id"]: case for case in published("forms")}


@pytest.mark.parametrize("name", ["lumber.1x", "lumber.2x"])
def test_thickness_as_published(name: str) -> None:
    """One and two inches nominal are 3/4 and 1-1/2."""
    case = CASES[name]
    assert DRESSED[case["nominal"]][0] == pytest.approx(case["thickness"] * INCH)


def test_widths_as_published() -> None:
    """Four to twelve inches nominal."""
    widths = [DRESSED[f"2x{width}"][1] / INCH for width in (4, 6, 8, 10, 12)]
    assert widths == pytest.approx(CASES["lumber.widths"]["widths"])


def test_a_nominal_size_is_known_and_a_dressed_one_is_none() -> None:
    """2 in by 6 in is a 2x6 typed wrongly; 1-1/2 in by 5-1/2 in is an actual size."""
    assert nominal(2 * INCH, 6 * INCH) == "2x6"
    assert not nominal(*DRESSED["2x6"])
