"""How is the shape of ground and floor drawn on a plan: contours, break lines, heights at the corners, falls?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import shapely

from staking.drawing.contours import contour_marks
from staking.drawing.feature_marks import fall_words, flow_head
from staking.drawing.marks import LineMark, Mark, PathMark, TextMark
from staking.drawing.window import contour_window
from staking.layout.computed import Layout
from staking.layout.falls import falls_of
from staking.survey.lines import Line
from staking.survey.points import Point, azimuth_of, mean, vector

MANY_CORNERS = 12  # of the slab; of more only the highest and the lowest are marked
SIZE = 6.5  # points of paper


def ground_marks(layout: Layout) -> Iterator[PathMark]:
    """Contours and break lines as far as the plan looks, but not under the concrete, where texts stand."""
    if layout.earth is None:
        return
    window = contour_window(layout)
    yield from contour_marks(layout, layout.earth, window, layout.slab.form.whole)
    shown = window.difference(layout.slab.form.whole)
    for declared in layout.site.declared.ground:
        for broken in declared.break_lines:
            yield from _break_line(layout, broken.points, shown)


def _break_line(layout: Layout, names: tuple[str, ...], shown: shapely.Geometry) -> Iterator[PathMark]:
    given = (layout.site.ground[name] for name in names)
    places = [layout.frame.to_ground(Point(each.east, each.north)) for each in given]
    line = shapely.LineString([(each.east, each.north) for each in places])
    for piece in shapely.get_parts(shapely.line_merge(line.intersection(shown))):
        if piece.length:
            yield PathMark("BREAK-LINE", tuple(Point(e, n) for e, n in shapely.get_coordinates(piece).tolist()))


def height_marks(layout: Layout, *, floor: bool = True, joined: bool = False) -> Iterator[TextMark]:
    """The heights of floor and ground at the corners.

    floor: False where the sheet must not say how to set the form; joined: both in one text, where none looks for room.
    """
    tops = _tops(layout) if floor else {}
    known = {spot.name: spot for spot in layout.earth.corners} if layout.earth else {}
    ends = _ends(layout)
    middle = mean(layout.slab.form.corners)
    corners = [*zip(layout.corner_names, layout.slab.form.corners, strict=True)]
    for name, at in sorted(
        corners, key=lambda corner: corner[0] not in ends
    ):  # the highest and the lowest need room most
        if len(layout.corner_names) > MANY_CORNERS and name not in ends:
            continue
        ups = (("F", tops.get(name)), ("G", known[name].ground if name in known else None))
        words = [f"{letter} {layout.notation.decimal(up, 2)}" for letter, up in ups if up is not None]
        if words and name in ends:
            words[-1] = f"{words[-1]} {ends[name]}"
        for text in [" / ".join(words)] if joined and words else words:
            yield TextMark("HEIGHT", at, text, side=azimuth_of(vector(middle, at)), size=SIZE)


def _tops(layout: Layout) -> Mapping[str, float]:
    """Of the concrete at every corner; none where all are alike, for then the word in the middle says it."""
    tops = {grade.name: grade.up for grade in layout.grades if grade.kind == "corner"}
    return tops if len({layout.notation.decimal(up, 2) for up in tops.values()}) > 1 else {}


def _ends(layout: Layout) -> Mapping[str, str]:
    """The corner where the ground, or where none is known the floor, is highest, and the lowest one."""
    if layout.earth is not None and layout.earth.high is not None and layout.earth.low is not None:
        high, low = layout.earth.high.name, layout.earth.low.name
    else:
        tops = {name: round(up, 6) for name, up in _tops(layout).items()}
        if not tops:
            return {}
        high, low = max(tops, key=tops.__getitem__), min(tops, key=tops.__getitem__)
    return {high: "high", low: "low"} if high != low else {}


def fall_marks(layout: Layout) -> Iterator[Mark]:
    """An arrow down every surface that falls; the floor's with how steeply, which names of other things say."""
    for fall in falls_of(layout):
        line = Line(fall.start, fall.end)
        yield LineMark("FALL", line.start, line.end)
        yield from flow_head("FALL", line)
        if fall.kind == "floor":
            along = azimuth_of(line.direction)
            side = azimuth_of(line.direction.left())
            middle = line.at(line.length / 2)
            yield TextMark("FALL", middle, fall_words(layout, fall), along=along, side=side, size=SIZE)
