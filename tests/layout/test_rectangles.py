"""A shape of square corners is the sum of its rectangles."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from staking.layout.rectangles import Rectangle, rectangles


def _area(found: tuple[Rectangle, ...]) -> float:
    return math.fsum((-1 if each.hole else 1) * each.long * each.short for each in found)


def test_a_rectangle_is_one() -> None:
    """Longer side first."""
    assert rectangles(shapely.box(0, 0, 2, 3)) == (Rectangle(3.0, 2.0),)


def test_a_ring_is_a_rectangle_less_a_hole() -> None:
    """As a thickened edge is."""
    ring = shapely.Polygon(shapely.box(0, 0, 36, 28).exterior, [shapely.box(1, 1, 35, 27).exterior])
    found = rectangles(ring)
    assert [(each.long, each.short, each.hole) for each in found] == [(36, 28, False), (34, 26, True)]


def test_an_ell_is_two() -> None:
    """Cut the way that gives fewer pieces."""
    ell = shapely.Polygon([(0, 0), (20, 0), (20, 8), (12, 8), (12, 14), (0, 14)])
    assert len(rectangles(ell)) == 2


def test_a_slanting_edge_has_none() -> None:
    """Nor has an arc drawn in chords."""
    assert rectangles(shapely.Polygon([(0, 0), (5, 0), (4, 3), (0, 3)])) == ()
    assert rectangles(shapely.Point(0, 0).buffer(2)) == ()


@given(st.lists(st.tuples(*[st.integers(0, 12)] * 4), min_size=1, max_size=4), st.floats(0, 90))
@settings(max_examples=60, deadline=None)
def test_they_add_up_to_the_area_however_it_is_turned(corners: list[tuple[int, int, int, int]], turn: float) -> None:
    """Rectangles laid over one another, turned; shapely's area is the oracle."""
    boxes = [shapely.box(min(a, c), min(b, d), max(a, c) + 1, max(b, d) + 1) for a, b, c, d in corners]
    shape = affinity.rotate(shapely.union_all(boxes), turn, origin=(0, 0))
    for each in shapely.get_parts(shape):
        if all(hole.is_simple for hole in each.interiors) and each.exterior.is_simple:
            assert _area(rectangles(each)) == pytest.approx(each.area, rel=1e-4)
