"""Flat triangles are left out without leaving a step in the ground."""

from __future__ import annotations

import math

import numpy as np
import pytest

from staking.survey.flat_triangles import FLAT, areas_of, without_flat
from staking.survey.points import Point
from staking.survey.triangles import triangles_of

CORNERS = [(-5, -5, 0), (15, -5, 1), (15, 15, 0), (-5, 15, 2)]


def test_a_point_on_the_side_of_a_triangle_parts_it() -> None:
    """The point (0, 10) lies on the diagonal of the square: the ground has one height there, from every side."""
    inner = [(e, n, math.sin(e) + math.cos(2 * n)) for e, n in ((0, 0), (0, 10), (1.7, 0), (0.12, 0))]
    made = triangles_of(np.array([*CORNERS, *inner], dtype=float))
    for step in ((0.01, 0.01), (-0.01, -0.01), (0.01, -0.01), (-0.01, 0.01)):
        height = made.height(Point(step[0], 10 + step[1]))
        assert height == pytest.approx(inner[1][2], abs=0.02)
    assert areas_of(made.corners).sum() == pytest.approx(400)


def test_flat_triangles_one_on_another() -> None:
    """Two points on one side: the wider flat triangle is undone first, so that both part the neighbour."""
    a, b, c, e, d = (0, 0, 1), (2, 0, 5), (4, 0, 6), (10, 0, 2), (5, 8, 0)
    made = without_flat(np.array([(a, b, c), (a, c, e), (a, e, d)], dtype=float))
    assert sorted(areas_of(made)) == pytest.approx([8, 8, 24])
    assert all(any((corner == at).all() for corner in made.reshape(-1, 3)) for at in np.array((b, c)))


def test_at_the_rim_a_flat_triangle_is_simply_left_out() -> None:
    """Nothing lies beyond it that could be parted."""
    made = without_flat(np.array([[(0, 0, 1), (4, 1e-9, 9), (10, 0, 2)], [(0, 0, 1), (4, 1e-9, 9), (5, 8, 0)]]))
    assert len(made) == 1


@pytest.mark.parametrize(("high", "kept"), [(2 * FLAT, 1), (FLAT / 2, 0)])
def test_flat_is_a_height_whatever_the_length(high: float, kept: int) -> None:
    """A triangle 1,000 m long is left out below the same height as one of 1 m."""
    for long in (1.0, 1000.0):
        made = without_flat(np.array([[(0, 0, 0), (long, 0, 0), (long / 2, high, 0)]]))
        assert len(made) == kept
