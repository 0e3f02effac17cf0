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
    longest = _sides(corners).max(axis=1)
    flat = 2 * areas_of(corners) <= FLAT * longest
    kept: Array = corners[~flat]
    for thin in corners[flat][np.argsort(-longest[flat])]:
        kept = _parted_at(kept, thin)
    return kept


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
