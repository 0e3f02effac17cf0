"""What do two shapes share, what does one leave of the other, what do several cover together?

The door to overlays of shapes whose sides may coincide. Where two sides lie on one another but for the last
digits of their corners, as after a turn of the site, GEOS 3.14.1 takes one neighbour for the other about once in a
thousand times: a recess along the edge of a slab is then wholly outside of it. So corners that lie within ALIKE of
the other shape are first laid onto it; nothing else of either shape moves, and sizes stay exact. The tests turn
shapes that touch, and ask for the areas that are known beforehand.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

ALIKE = 1e-6  # metres; places nearer to one another are one, as a millionth of a metre is nothing on a site


def shared(shape: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What lies in both shapes."""
    return shapely.intersection(*_laid_on(shape, other))


def shared_by_each(shapes: NDArray[np.object_], other: BaseGeometry) -> NDArray[np.object_]:
    """What each of several shapes, none of them empty, has in common with one other."""
    laid = shapely.snap(shapes, other, ALIKE)
    return np.asarray(shapely.intersection(laid, shapely.snap(other, laid, ALIKE)), dtype=object)


def without(shape: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What another shape leaves of a shape."""
    return shapely.difference(*_laid_on(shape, other))


def united(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """All that lies in any of several shapes; an empty shape for none."""
    if len(shapes) < 2:
        return shapes[0] if shapes else shapely.Polygon()
    half = len(shapes) // 2
    return shapely.union(*_laid_on(united(shapes[:half]), united(shapes[half:])))


def _laid_on(shape: BaseGeometry, other: BaseGeometry) -> tuple[BaseGeometry, BaseGeometry]:
    """The two with corners in common wherever a corner of one lies on the other."""
    if shape.is_empty or other.is_empty:
        return shape, other
    laid = shapely.snap(shape, other, ALIKE)
    return laid, shapely.snap(other, laid, ALIKE)
