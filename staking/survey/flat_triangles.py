r"""Which triangles of a surface are no more than points on one line, and what becomes of the surface without them?

  d            Where b lies on the side a c, but for the last digit, a triangulation may have the flat triangle
 / \           a b c, whose plane tells any height. Left out, the neighbour a c d would pass by b, and the ground
a-b-c          would have a step along a c. So the neighbour is parted at b: a b d and b c d.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

FLAT = 1e-5  # metres; a triangle no higher than this is points on one line


def areas_of(corners: Array) -> Array:
    """Of triangles on the plan [m2]: an array of 3 corners each, east and north first."""
    one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return np.asarray(np.abs(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]) / 2)


def without_flat(corners: Array) -> Array:
    """The triangles of some height, parted where a flat one lay between them; the widest flat ones first."""
    flat = _flat(corners)
    if not flat.any():
        return corners
    kept, thin = corners[~flat], corners[flat]
    beside = _beside(kept, thin)  # the only ones that may be parted: few, beside all of them
    near: Array = kept[beside]
    for each in thin[np.argsort(-_sides(thin).max(axis=1))]:
        near = _parted_at(near, each)
    return np.concatenate([kept[~beside], near])


def _flat(corners: Array) -> npt.NDArray[np.bool_]:
    """Which are no higher than FLAT; looked at closely where the area would do for a side as long as all the ground."""
    areas = areas_of(corners)
    places = corners[:, :, :2].reshape(-1, 2)
    reach = float(np.hypot(*np.ptp(places, axis=0))) if len(places) else 0.0
    found = 2 * areas <= FLAT * reach
    found[found] = 2 * areas[found] <= FLAT * _sides(corners[found]).max(axis=1)
    return found


def _beside(corners: Array, thin: Array) -> npt.NDArray[np.bool_]:
    """Which have a corner as far east as a corner of a flat one; more than share one, by a few."""
    east = np.unique(thin[:, :, 0])
    at = np.searchsorted(east, corners[:, :, 0]).clip(max=len(east) - 1)
    return np.asarray((east[at] == corners[:, :, 0]).any(axis=1))


def _sides(corners: Array) -> Array:
    """Lengths of the sides, each opposite the corner of its number."""
    steps = np.roll(corners, -1, axis=1)[:, :, :2] - np.roll(corners, 1, axis=1)[:, :, :2]
    return np.asarray(np.hypot(steps[:, :, 0], steps[:, :, 1]))


def _parted_at(corners: Array, thin: Array) -> Array:
    between = int(_sides(thin[None])[0].argmax())
    one, other = thin[between - 1], thin[(between + 1) % 3]
    ends = [(corners == end).all(axis=2) for end in (one, other)]
    found = np.flatnonzero(ends[0].any(axis=1) & ends[1].any(axis=1))
    if len(found) == 0:  # the flat one lay at the rim
        return corners
    far = corners[found[0]][~(ends[0] | ends[1])[found[0]]][0]
    parts = np.array([(one, thin[between], far), (thin[between], other, far)])
    return np.vstack([np.delete(corners, found[0], axis=0), parts])
