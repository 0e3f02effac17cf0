"""A small plan of where the slab may stand: the lot, the places for its first corner, the slab, and its best place."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from staking.drawing.draw import clear_marks, lot_marks, slab_marks
from staking.drawing.fit import fit
from staking.drawing.marks import Drawing, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.paper import Fitted
from staking.layout.computed import Layout
from staking.layout.room import Place, Room
from staking.layout.shifted import shifted
from staking.survey.points import Point, vector
from staking.survey.polygons import ring_corners

WIDTH, HEIGHT = 560.0, 720.0  # points: a letter page within its margins
_SMOOTH = 0.002  # metres that the drawn edge of the region may leave the computed one
_APART = 0.05  # metres; nearer to the slab than this its best place is not drawn


def room_plan(layout: Layout, room: Room) -> Fitted:
    """The plan on paper, north up."""
    return fit(room_drawing(layout, room), WIDTH, HEIGHT, trim=True)


def room_drawing(layout: Layout, room: Room) -> Drawing:
    """The plan as marks: the ground first, corners on top."""
    marks: list[Mark] = [*slab_marks(layout), *lot_marks(layout), *clear_marks(layout)]
    if room.best is not None and vector(room.corner, room.best.corner).length > _APART:
        marks += _best(layout, room.best)
    marks += _region(room)
    marks.append(SymbolMark("CORNER", room.corner, "corner 1 now", emphasis=True))
    return Drawing(tuple(marks), f"Where the slab of {layout.site.declared.site.name} may stand")


def _region(room: Room) -> Iterator[Mark]:
    for part in shapely.get_parts(shapely.simplify(room.region, _SMOOTH)):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            for ring in (part.exterior, *part.interiors):
                yield PathMark("REFERENCE", ring_corners(shapely.LinearRing(ring.coords)), closed=True)
            inside = part.representative_point()
            yield TextMark("REFERENCE", Point(inside.x, inside.y), "places for corner 1", size=7)


def _best(layout: Layout, best: Place) -> Iterator[Mark]:
    slab = shifted(layout.slab, best.by)
    yield PathMark("EAVE", slab.form.corners, closed=True, bulges=slab.form.outline.bulges)
    for _, corners in slab.form.parts:
        yield PathMark("EAVE", corners, closed=True)
    yield SymbolMark("CORNER", best.corner, "corner 1 with most room")
