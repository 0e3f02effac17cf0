"""Which of many triangles lie near a rectangle or the edge of a polygon? Each is 3 corners, east and north first.

What is far off is told by boxes around the triangles, which are found once.
"""

from __future__ import annotations

import itertools

import numpy as np
import numpy.typing as npt
import shapely

Array = npt.NDArray[np.float64]


def boxes_of(corners: Array) -> Array:
    """West, south, east and north end of each triangle, one below the other."""
    found = np.empty((4, len(corners)))
    for axis in range(2):
        one, other, third = (corners[:, index, axis] for index in range(3))  # far quicker than min over an axis of 3
        found[axis] = np.minimum(np.minimum(one, other), third)
        found[2 + axis] = np.maximum(np.maximum(one, other), third)
    return found


def overlapping(boxes: Array, bounds: Array) -> npt.NDArray[np.bool_]:
    """Which boxes share a place with a rectangle of west, south, east and north end."""
    west, south, east, north = boxes
    here = (west <= bounds[2]) & (south <= bounds[3]) & (east >= bounds[0]) & (north >= bounds[1])
    return np.asarray(here, dtype=np.bool_)


def meeting_edge(corners: Array, boxes: Array, shape: shapely.Polygon) -> npt.NDArray[np.bool_]:
    """Which triangles may meet the edge: their boxes overlap a side's, and their corners are not all on one side."""
    found = np.zeros(len(corners), dtype=np.bool_)
    for ring in (shape.exterior, *shape.interiors):
        for start, end in itertools.pairwise(shapely.get_coordinates(ring)):
            near = overlapping(boxes, np.concatenate([np.minimum(start, end), np.maximum(start, end)]))
            found[near] |= _on_both_sides(corners[near], start, end)
    return found


def _on_both_sides(corners: Array, start: Array, end: Array) -> npt.NDArray[np.bool_]:
    """Which triangles have corners on both sides of a line, or on it."""
    step = corners[:, :, :2] - start
    turn = (end - start)[0] * step[:, :, 1] - (end - start)[1] * step[:, :, 0]
    left, right = turn > 0, turn < 0
    apart = (left[:, 0] & left[:, 1] & left[:, 2]) | (right[:, 0] & right[:, 1] & right[:, 2])
    return np.asarray(~apart)
