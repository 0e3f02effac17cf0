"""The ground round the slab as a picture: contours with their heights, and the height at each corner."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely

from staking.drawing.draw import excavation_marks
from staking.drawing.marks import Drawing, Mark, PathMark, SymbolMark, TextMark
from staking.layout.computed import Layout
from staking.layout.earth import Earth
from staking.survey.points import Point

AROUND = 6.0  # metres beyond the slab that are drawn
MOST = 40  # contours; beyond, only every second, fifth, tenth ... is drawn
SHORTEST = 2.0  # metres; a shorter piece bears no height


def interval_of(layout: Layout, earth: Earth) -> float:
    """The height between contours [m]: as asked for, or larger where there would be too many."""
    asked = layout.site.declared.earthwork.contours
    tall = earth.triangles.highest - earth.triangles.lowest
    times = (n * 10.0**power for power in range(9) for n in (1, 2, 5))
    return asked * next(each for each in times if tall / (asked * each) <= MOST)


def ground_drawing(layout: Layout, earth: Earth) -> Drawing:
    """Outline and parts of the slab, contours around, the ground at each corner."""
    form = layout.slab.form
    outlines = (PathMark("SLAB", form.corners, closed=True, bulges=form.outline.bulges),)
    parts = tuple(PathMark("PART", corners, closed=True) for _, corners in form.parts)
    spots = tuple(_spots(layout, earth))
    edge = tuple(excavation_marks(layout))
    return Drawing((*_contours(layout, earth), *edge, *parts, *outlines, *spots), "The ground: contours and corners")


def _contours(layout: Layout, earth: Earth) -> Iterator[Mark]:
    step = interval_of(layout, earth)
    frame = shapely.envelope(layout.slab.form.whole.buffer(AROUND))
    for number in range(math.ceil(earth.triangles.lowest / step), math.floor(earth.triangles.highest / step) + 1):
        pieces = [((a.east, a.north), (b.east, b.north)) for a, b in earth.triangles.contour(number * step)]
        whole = shapely.line_merge(shapely.MultiLineString(pieces)).intersection(frame)
        for line in shapely.get_parts(whole):
            places = [Point(east, north) for east, north in shapely.get_coordinates(line).tolist()]
            if len(places) > 1:
                yield PathMark("FEATURE", tuple(places))
            if shapely.length(line) > SHORTEST:
                share = 0.15 + 0.3 * (number % 3)  # so that heights of contours side by side stand apart
                at = shapely.get_coordinates(shapely.line_interpolate_point(line, share, normalized=True))[0]
                text = layout.notation.decimal(number * step, 2)
                yield TextMark("NOTE", Point(float(at[0]), float(at[1])), text, size=7.0)


def _spots(layout: Layout, earth: Earth) -> Iterator[Mark]:
    for spot in earth.spots:
        if spot.kind == "corner" and spot.ground is not None:
            label = f"{spot.name}: {layout.notation.decimal(spot.ground, 2)}"
            yield SymbolMark("CORNER", spot.at, label, emphasis=True)
