"""How are the features of a site file drawn: drives, walks, buildings, utilities, fences, trees?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import shapely

from staking.drawing.marks import LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.layout.computed import Layout
from staking.layout.falls import Fall, falls_of
from staking.sitefile.plan_declared import Feature
from staking.survey.lines import Line
from staking.survey.points import Point, azimuth_of
from staking.survey.polygons import polygon

NAME = 7.0  # points of paper: names of things, smaller than any dimension

_LAYER = {
    "utility": "UTILITY",
    "septic": "UTILITY",
    "well": "UTILITY",
    "fence": "FENCE",
    "eave": "EAVE",
    "drainage": "DRAINAGE",
}


def building_distances(layout: Layout) -> Iterator[tuple[str, float, Point, Point]]:
    """From the slab to every other building: its name, how far [m], and between which places."""
    for feature in layout.site.declared.features:
        if feature.kind == "building" and feature.outline:
            other = polygon(_places(layout, feature))
            (ax, ay), (bx, by) = shapely.shortest_line(layout.slab.counted, other).coords
            yield feature.name, float(layout.slab.counted.distance(other)), Point(ax, ay), Point(bx, by)


def fall_words(layout: Layout, fall: Fall) -> str:
    """How steeply: of the floor as a level and a rule show it, of steeper things as a share."""
    if fall.kind != "floor":
        return f"falls {layout.notation.share(fall.ratio)}"
    return f"falls {layout.notation.fall(fall.ratio).partition(' (')[0]}"


def falls_by_name(layout: Layout, kind: str) -> dict[str, str]:
    """How steeply the drives or the parts of the slab fall, by their names; none where the plan says no heights."""
    shown = layout.site.declared.plan.heights
    return {fall.of: fall_words(layout, fall) for fall in falls_of(layout) if shown and fall.kind == kind}


def feature_marks(layout: Layout) -> Iterator[Mark]:
    """The features of the site file, each with its name and note."""
    falls = falls_by_name(layout, "drive")
    for feature in layout.site.declared.features:
        layer = _LAYER.get(feature.kind, "FEATURE")
        places = _places(layout, feature)
        text = ", ".join(filter(None, (feature.name, feature.note, falls.get(feature.name))))
        if feature.outline:
            yield PathMark(layer, places, closed=True)
            inside = polygon(places).representative_point()
            yield TextMark(layer, Point(inside.x, inside.y), text, size=NAME)
        elif len(places) == 1:
            yield SymbolMark(layer, places[0], text, shape="thing")
        else:
            yield from _feature_line(layer, places, text, arrow=feature.kind == "drainage")


def _feature_line(layer: str, places: tuple[Point, ...], text: str, *, arrow: bool) -> Iterator[Mark]:
    lines = [Line(start, end) for start, end in pairwise(places) if start != end]
    if arrow and lines:
        yield from flow_head(layer, lines[-1])
    yield PathMark(layer, places)
    if lines:
        longest = max(lines, key=lambda line: line.length)
        along = azimuth_of(longest.direction)
        yield TextMark(layer, longest.at(longest.length / 2), text, along=along, side=0.0, size=NAME)


def flow_head(layer: str, line: Line) -> Iterator[Mark]:
    """The head of an arrow at the end of a line."""
    long = line.length / 6
    for off in (long / 2.5, -long / 2.5):
        yield LineMark(layer, line.at(line.length - long, off), line.end)


def _places(layout: Layout, feature: Feature) -> tuple[Point, ...]:
    return tuple(layout.points[name].at for name in feature.places)
