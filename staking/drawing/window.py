"""Which piece of ground does a plan look at? The plan sheet, the contours and the DXF share the answer."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from staking.layout.computed import Layout
from staking.survey.points import Point
from staking.survey.polygons import polygon

_AROUND_LOT = 0.15  # of the larger side of what must be seen
_AROUND_SLAB = 1.5  # the same where there is no lot
_CONTOURS_BEYOND_LOT = 0.035  # of the larger side: no farther than the room that a plan leaves for texts at its rim
_CONTOURS_ROUND_SLAB = 0.6


def window_of(layout: Layout) -> shapely.Polygon:
    """The piece of ground that the plan looks at: the lot or slab with what is around it."""
    places = (*_feature_points(layout), *_street_centres(layout))
    return _around(layout, places, _AROUND_SLAB if layout.lot is None else _AROUND_LOT)


def contour_window(layout: Layout) -> shapely.Polygon:
    """How far contours reach: hardly beyond the lot, so that they make nothing else smaller, or round a lone slab."""
    return _around(layout, (), _CONTOURS_ROUND_SLAB if layout.lot is None else _CONTOURS_BEYOND_LOT)


def _around(layout: Layout, places: Sequence[Point], share: float) -> shapely.Polygon:
    """The upright rectangle about lot, slab and places, with a share of its larger side added all round."""
    seen = [layout.slab.form.whole, *(shapely.Point(p.east, p.north) for p in places)]
    if layout.lot is not None:
        seen.append(polygon(layout.lot.drawn))
    west, south, east, north = shapely.union_all(seen).bounds
    room = share * max(east - west, north - south)
    return shapely.box(west - room, south - room, east + room, north + room)


def _street_centres(layout: Layout) -> list[Point]:
    """Where the slab is nearest to a street centre it keeps a distance from: the line is shown there."""
    return [margin.foot for margin in layout.margins if margin.rule == "street centre"]


def _feature_points(layout: Layout) -> list[Point]:
    return [layout.points[name].at for feature in layout.site.declared.features for name in feature.places]
