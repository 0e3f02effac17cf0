"""Spacing of joints, as published."""

from __future__ import annotations

import pytest
from making import published

from staking.kinds.joints import joint_spacing
from staking.kinds.lumber import INCH


def test_spacing_as_published() -> None:
    """Every row of the table."""
    (case,) = [case for case in published("forms") if case["id"] == "joint.pca"]
    assert [joint_spacing(t * INCH) for t in range(4, 9)] == pytest.approx(
        [feet * 12 * INCH for feet in case["spacing"]]
    )


@pytest.mark.parametrize("inches", [3.9, 8.1])
def test_outside_the_table_nothing_is_said(inches: float) -> None:
    """No figure is drawn out beyond 4 and 8 in."""
    assert joint_spacing(inches * INCH) is None
