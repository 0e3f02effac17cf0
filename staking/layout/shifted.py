"""How much room would the same slab have if it stood somewhere else, turned as it is?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import shapely.affinity

from staking.kinds.slab import Form, Pose
from staking.layout.computed import Layout, Margin, Slab
from staking.layout.margins import margins_of
from staking.survey.points import Point, Vector


def shifted(slab: Slab, by: Vector) -> Slab:
    """The slab moved by so much east and north [m], with its parts and eaves; it is not turned."""
    return replace(
        slab,
        form=_form(slab.form, by),
        building=_moved(slab.building, by),
        counted=shapely.affinity.translate(slab.counted, by.east, by.north),
        counted_parts=tuple(_moved(corners, by) for corners in slab.counted_parts),
        eaves=_moved(slab.eaves, by),
    )


def _form(form: Form, by: Vector) -> Form:
    (origin,) = _moved((form.pose.origin,), by)
    parts = tuple((name, _moved(corners, by)) for name, corners in form.parts)
    return replace(form, pose=Pose(origin, form.pose.right), corners=_moved(form.corners, by), parts=parts)


def _moved(points: Iterable[Point], by: Vector) -> tuple[Point, ...]:
    return tuple(Point(point.east + by.east, point.north + by.north, point.up) for point in points)


def margins_at(layout: Layout, by: Vector) -> tuple[Margin, ...]:
    """The margins of the slab moved by so much [m], in the order of the layout's own."""
    return margins_of(layout.site, layout.lot, layout.lines, layout.kept_clear, shifted(layout.slab, by))


def least(margins: Iterable[Margin]) -> Margin:
    """The margin with the least room. Raises ValueError where there is none."""
    return min(margins, key=lambda margin: margin.room)
