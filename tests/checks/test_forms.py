"""Boards, stakes, joints and loads at the edge of what is found."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import check

OWN = ("forms-", "joints-", "load-")


def _found(more: str, thickness: str = "4 in") -> list[str]:
    text = PLACED_RECTANGLE.replace("depth = 24", f'depth = 24\nthickness = "{thickness}"') + more
    return [finding.code for finding in check(layout_of(text)) if finding.code.startswith(OWN)]


@pytest.mark.parametrize(
    "more",
    [
        '[forms]\nboard = "2x6"\nstake_spacing = "4 ft"\n',
        '[forms]\nthickness = "1.5 in"\nheight = "4 in"\n',
        '[concrete]\njoint_spacing = "8 ft"\n',
        '[concrete]\ntruck = "10.67 cu yd"\n',
        '[concrete]\ntruck = "21.33 cu yd"\n',
    ],
)
def test_at_the_figure_nothing_is_found(more: str) -> None:
    """As far apart, as high and as large as the figures allow."""
    assert _found(more) == []


def test_a_2x4_is_lower_than_four_inches() -> None:
    """Its dressed width is 3-1/2 in."""
    assert _found('[forms]\nboard = "2x4"\n') == ["forms-low"]


def test_joints_of_a_slab_outside_the_table_are_not_judged() -> None:
    """Three inches are not in the table."""
    assert _found('[concrete]\njoint_spacing = "30 ft"\n', "3 in") == []
