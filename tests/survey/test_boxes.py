"""Triangles near a rectangle or an edge, against shapely."""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st

from staking.survey.boxes import boxes_of, meeting_edge, overlapping


def _triangles(seed: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    drawn = np.random.default_rng(seed)
    return drawn.uniform(0, 10, (200, 1, 3)) + drawn.uniform(-1, 1, (200, 3, 3))


@given(st.integers(0, 10**6))
def test_boxes_overlap_as_rectangles_do(seed: int) -> None:
    """The box around each triangle meets a rectangle where shapely says so."""
    corners = _triangles(seed)
    frame = shapely.box(2, 3, 7, 5)
    found = overlapping(boxes_of(corners), np.array(frame.bounds))
    assert (found == shapely.intersects(shapely.envelope(shapely.polygons(corners[:, :, :2])), frame)).all()


@given(st.integers(0, 10**6))
def test_no_triangle_on_the_edge_is_missed(seed: int) -> None:
    """All that the edge of a polygon with a hole runs through are found, and none that no side's box comes near."""
    corners = _triangles(seed)
    shape = shapely.Polygon([(1, 1), (9, 2), (8, 9), (3, 8)], [[(4, 4), (6, 4), (5, 6)]])
    found = meeting_edge(corners, boxes_of(corners), shape)
    triangles = shapely.polygons(corners[:, :, :2])
    assert found[shapely.intersects(triangles, shape.boundary)].all()
    assert not found[shapely.distance(shapely.envelope(triangles), shape.envelope) > 0].any()
    assert not found.all()
