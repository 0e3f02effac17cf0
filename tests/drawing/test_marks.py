"""Marks that hold arcs."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from staking.drawing.marks import ArcMark, PathMark
from staking.survey.paths import Arc
from staking.survey.points import Point, distance

HALF = (Point(0, 0), Point(2, 0))


def test_a_path_without_bulges_is_its_corners() -> None:
    """Straight sides need no more points."""
    assert PathMark("LOT", HALF, closed=True).points(0.01) == HALF


def test_bulges_become_chords_near_the_arc() -> None:
    """A half circle on its diameter: every point is on the circle, and chords leave it by no more than asked for."""
    points = PathMark("LOT", HALF, closed=True, bulges=(0.0, 1.0)).points(0.001)
    assert len(points) > 20
    assert all(distance(point, Point(1, 0)) == pytest.approx(1) for point in points)
    longest = max(distance(a, b) for a, b in pairwise(points[1:]))
    assert 1 - math.sqrt(1 - longest**2 / 4) <= 0.001 * 1.001


def test_a_bulge_turns_left() -> None:
    """A positive bulge leaves its chord to the right, as DXF has it: the arc turns left."""
    points = PathMark("LOT", HALF, bulges=(0.5,)).points(0.01)
    assert min(point.north for point in points) == pytest.approx(-0.5)


def test_an_arc_of_its_own_keeps_its_ends() -> None:
    """From start to end, both included."""
    points = ArcMark("LOT", Arc(Point(1, 0), Point(0, 1), Point(0, 0), left=True)).points(0.01)
    assert points[0] == Point(1, 0)
    assert points[-1] == Point(0, 1)
