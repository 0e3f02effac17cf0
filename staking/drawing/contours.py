"""Contours of the ground as marks: how far apart in height, where, and which of them are the heavier ones."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from staking.drawing.excavation_marks import excavation_marks
from staking.drawing.marks import Drawing, Mark, PathMark, SymbolMark
from staking.drawing.window import contour_window
from staking.layout.computed import Layout
from staking.layout.earth import Earth
from staking.survey.points import Point
from staking.survey.triangles import Triangles

AROUND = 6.0  # metres beyond the slab that the picture of the ground shows
FIFTH = 5  # every so many contours one is heavier, counted from height 0
MOST = 40  # contours; beyond, only every second, fifth, tenth ... of those asked for is drawn

_WIDE = 2.1  # width / height of the picture at least
_ENOUGH = 12  # contours in sight where nothing is asked for; own choice, as are the figures below
_APART = 1 / 70  # of the larger side in sight: nearer than this on paper, contours of nearly all ground would blot
_NEARLY_ALL = 0.9  # of the ground; a bank may have them closer
_LEAST = 0.1  # of the site's unit; ground is not measured finer
_CRUMB = 1 / 40  # of the larger side in sight; shorter pieces of a contour tell of noise, and are left out
_ROUGH = 1 / 4000  # of the larger side in sight that a drawn contour may leave the true one: no printer shows it


def interval_of(layout: Layout, seen: Triangles, window: shapely.Polygon) -> float:
    """The height between contours [m]: as asked for, or larger where too many would be in sight.

    Where nothing is asked for: the least of 0.1, 0.2, 0.5, 1, 2, 5 ... of the site's unit that keeps them apart.
    """
    asked, tall = layout.site.declared.earthwork.contours, seen.highest - seen.lowest
    if asked is not None:
        times = (n * 10.0**power for power in range(9) for n in (1, 2, 5))
        return asked * next(each for each in times if tall / (asked * each) <= MOST)
    unit = float(layout.site.unit.metres)
    apart = _APART * _larger(window) * seen.steepness(_NEARLY_ALL)
    least = max(_LEAST, tall / _ENOUGH / unit, apart / unit)
    steps = (n * 10.0**power for power in range(-1, 9) for n in (1, 2, 5))
    return unit * next(each for each in steps if each >= least * (1 - 1e-9))


def step_in(layout: Layout, earth: Earth, window: shapely.Polygon) -> float | None:
    """The height between the contours of a window [m]; None where no ground is known in it."""
    seen = earth.triangles.within(window.bounds)
    return None if seen is None else interval_of(layout, seen, window)


def contour_marks(
    layout: Layout, earth: Earth, window: shapely.Polygon, hidden: BaseGeometry | None = None
) -> Iterator[PathMark]:
    """The contours in a window, each with its height written on it. hidden: where none is drawn, as under a slab."""
    seen = earth.triangles.within(window.bounds)
    if seen is None:
        return
    step, larger = interval_of(layout, seen, window), _larger(window)
    shown = window if hidden is None else window.difference(hidden)
    shapely.prepare(shown)
    for number in range(math.ceil(seen.lowest / step), math.floor(seen.highest / step) + 1):
        layer = "CONTOUR" if number % FIFTH else "CONTOUR-FIFTH"
        for places in chains(seen, number * step, shown, rough=_ROUGH * larger, shortest=_CRUMB * larger):
            yield PathMark(layer, places, up=number * step, label=height_words(layout, number * step, step))


def chains(
    ground: Triangles, up: float, shown: BaseGeometry, *, rough: float = 0.0, shortest: float = 0.0
) -> Iterator[tuple[Point, ...]]:
    """A contour as chains of places, as far as it is shown; every place lies on the ground.

    rough [m]: that a chain may leave the contour between two places; shortest [m]: shorter chains are left out.
    """
    pieces = [((a.east, a.north), (b.east, b.north)) for a, b in ground.contour(up) if a != b]
    whole = shapely.line_merge(shapely.MultiLineString(pieces)).intersection(shown)
    for line in shapely.get_parts(whole):
        if isinstance(line, shapely.LineString) and line.length > shortest:
            drawn = shapely.simplify(line, rough) if rough else line
            yield tuple(Point(east, north, up) for east, north in shapely.get_coordinates(drawn).tolist())


def height_words(layout: Layout, up: float, step: float) -> str:
    """A contour's height in the site's unit: never without decimals, it would be read as the name of a stake."""
    tenths = step / float(layout.site.unit.metres) * 10
    return layout.notation.decimal(up, 1 if abs(tenths - round(tenths)) < 1e-6 else 2)


def _larger(window: shapely.Polygon) -> float:
    west, south, east, north = window.bounds
    return max(east - west, north - south)


def picture_window(layout: Layout) -> shapely.Polygon:
    """What the picture of the ground shows: the slab and a little around, more to both sides as far as the lot goes."""
    west, south, east, north = layout.slab.form.whole.buffer(AROUND).bounds
    more = max(0.0, _WIDE * (north - south) - (east - west)) / 2
    wide = shapely.box(west - more, south, east + more, north)
    return shapely.box(*wide.intersection(contour_window(layout)).bounds)


def ground_drawing(layout: Layout, earth: Earth) -> Drawing:
    """Outline and parts of the slab, contours around and under it, the ground at each corner."""
    form = layout.slab.form
    outlines = (PathMark("SLAB", form.corners, closed=True, bulges=form.outline.bulges),)
    parts = tuple(PathMark("PART", corners, closed=True) for _, corners in form.parts)
    contours = tuple(contour_marks(layout, earth, picture_window(layout)))
    edge = tuple(excavation_marks(layout))
    spots = _spots(layout, earth)
    return Drawing((*contours, *edge, *parts, *outlines, *spots), "The ground: contours and corners")


def _spots(layout: Layout, earth: Earth) -> Iterator[Mark]:
    for spot in earth.corners:
        if spot.ground is not None:
            label = f"{spot.name}: {layout.notation.decimal(spot.ground, 2)}"
            yield SymbolMark("CORNER", spot.at, label, emphasis=True)
