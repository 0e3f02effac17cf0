"""How is each mark of a drawing put together from the few entities that every DXF reader takes?

Places and distances on the ground become drawing units here: the site's unit, in the file's frame.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain, repeat
from typing import Any

import numpy as np
import shapely

from staking.drawing.marks import ArcMark, CircleMark, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.on_paper import headed
from staking.exports.dxf_text import ascii_text
from staking.exports.rows import PointRow
from staking.layout.computed import Layout
from staking.survey.points import Point, azimuth_of, mean, vector
from staking.survey.polygons import spots

_NEIGHBOURS = 3  # a label is at most one third as high as the next point is far
_USUAL_SIZE = 8.0  # points of paper; a TextMark of this size is written one text height high
_LABEL = 5.0  # points of paper, of the label of a line
_SAME_PLACE = 0.001  # metres
_EXTENT = 0.01  # metres that an arc may reach beyond the extents


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is drawn on, and how the ground lies in it. height: of text, in drawing units."""

    layout: Layout
    space: Any
    r12: bool
    height: float

    def place(self, point: Point) -> tuple[float, float]:
        """A place on the ground in the drawing."""
        at = self.layout.frame.to_file(point)
        size = float(self.layout.site.unit.metres)
        return at.east / size, at.north / size

    def size(self, metres: float) -> float:
        """A distance on the ground in the drawing."""
        return metres * self.layout.frame.factor / float(self.layout.site.unit.metres)

    def line(self, layer: str, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A line between two places of the drawing."""
        self.space.add_line(start, end, dxfattribs={"layer": layer})

    def text(self, layer: str, at: tuple[float, float], text: str, *, height: float, rotation: float = 0.0) -> None:
        """Text whose baseline begins at a place of the drawing; readers differ in how they take any other anchor."""
        attributes = {"layer": layer, "insert": at, "rotation": rotation}
        self.space.add_text(ascii_text(text), height=height, dxfattribs=attributes)


def reaches(mark: Mark) -> tuple[Point, ...]:
    """Places on the ground that tell how far a mark reaches."""
    match mark:
        case LineMark():
            return (mark.start, mark.end)
        case PathMark() | ArcMark():
            return mark.points(_EXTENT)
        case CircleMark():
            east, north, radius = mark.centre.east, mark.centre.north, mark.radius
            return Point(east - radius, north - radius), Point(east + radius, north + radius)
    return (mark.at,)


def draw_points(sheet: Sheet, rows: Sequence[PointRow]) -> None:
    """A POINT, a small circle and a label for every row, points before labels of anything else."""
    size = float(sheet.layout.site.unit.metres)
    crowd: dict[tuple[int, int], int] = {}
    for row, room in zip(rows, _rooms(rows, sheet.height * size * _NEIGHBOURS), strict=True):
        at = row.east / size, row.north / size
        spot = round(row.east / _SAME_PLACE), round(row.north / _SAME_PLACE)
        turn = crowd[spot] = crowd.get(spot, -1) + 1
        attributes = {"layer": row.layer}
        sheet.space.add_point((*at, (row.elevation or 0.0) / size), dxfattribs=attributes)
        _symbol(sheet, row.layer, at, row.name, room=room / size, turn=turn)


def _rooms(rows: Sequence[PointRow], most: float) -> tuple[float, ...]:
    """How far the next point is from each, up to most [m]; points in one place are one."""
    if not rows:
        return ()
    east, north = rows[0].east, rows[0].north  # numbers of millions lose digits in the tree
    places = spots(Point(row.east - east, row.north - north) for row in rows)
    one, other = shapely.STRtree(places).query(places, predicate="dwithin", distance=most)
    apart = shapely.distance(places[one], places[other])
    rooms = np.full(len(rows), most)
    np.minimum.at(rooms, one[apart > _SAME_PLACE], apart[apart > _SAME_PLACE])
    return tuple(rooms.tolist())


def _symbol(sheet: Sheet, layer: str, at: tuple[float, float], label: str, *, room: float, turn: int = 0) -> None:
    """A small circle, and a label near enough that no other point is nearer to its beginning."""
    height = min(sheet.height, room / _NEIGHBOURS)
    sheet.space.add_circle(at, radius=0.3 * height, dxfattribs={"layer": layer})
    if not label:
        return
    down = (0.4, -1.4, -2.8, 1.8)[turn % 4] * height  # labels of points in one place stand below one another
    sheet.text(layer, (at[0] + 0.5 * height, at[1] + down), label, height=height)


def draw_mark(sheet: Sheet, mark: Mark, named: set[str]) -> None:
    """One mark. named: the points that `draw_points` has drawn already."""
    match mark:
        case LineMark():
            start, end = sheet.place(mark.start), sheet.place(mark.end)
            sheet.line(mark.layer, start, end)
            for tip in headed(mark):
                there, back = (start, end) if tip is mark.start else (end, start)
                _arrow(sheet, mark.layer, there, back)
        case PathMark():
            _path(sheet, mark)
        case ArcMark():
            _arc(sheet, mark)
        case CircleMark():
            sheet.space.add_circle(
                sheet.place(mark.centre), radius=sheet.size(mark.radius), dxfattribs={"layer": mark.layer}
            )
        case SymbolMark():
            if mark.label not in named:  # the others are drawn from the point list
                _symbol(sheet, mark.layer, sheet.place(mark.at), mark.label, room=_NEIGHBOURS * sheet.height)
        case TextMark():
            _text(sheet, mark)


def _path(sheet: Sheet, mark: PathMark) -> None:
    """A polyline; its bulges are true arcs. Moving and scaling the ground into the file leaves a bulge as it is."""
    places = [sheet.place(corner) for corner in mark.corners]
    add = sheet.space.add_polyline2d if sheet.r12 else sheet.space.add_lwpolyline
    bulges = chain(mark.bulges, repeat(0.0))
    corners = [(x, y, bulge) for (x, y), bulge in zip(places, bulges, strict=False)]
    line = add(corners, format="xyb", close=mark.closed, dxfattribs={"layer": mark.layer})
    if mark.up is not None:
        _lift(sheet, line, mark.up / float(sheet.layout.site.unit.metres))
    if mark.label:
        _text(sheet, _beside(mark))


def _lift(sheet: Sheet, line: Any, up: float) -> None:
    """Give a polyline a height in drawing units. In R12 some read that of the line, others that of its corners."""
    if not sheet.r12:
        line.dxf.elevation = up
        return
    line.dxf.elevation = (0.0, 0.0, up)
    for vertex in line.vertices:
        vertex.dxf.location = (vertex.dxf.location.x, vertex.dxf.location.y, up)


def _beside(mark: PathMark) -> TextMark:
    """The label of a line at the middle one of its pieces: a DXF cannot break the line under it."""
    index = (len(mark.corners) - 1) // 2
    start, end = mark.corners[index : index + 2]
    along = azimuth_of(vector(start, end))
    return TextMark(mark.layer, mean((start, end)), mark.label, along=along, side=along - 90.0, size=_LABEL)


def _arc(sheet: Sheet, mark: ArcMark) -> None:
    """An arc; a DXF has them run to the left only, angles [deg] counted from east."""
    arc = mark.arc if mark.arc.left else mark.arc.reversed()
    first, last = (90.0 - azimuth_of(vector(arc.centre, end)) for end in (arc.start, arc.end))
    radius = sheet.size(arc.radius)
    sheet.space.add_arc(sheet.place(arc.centre), radius, first, last, dxfattribs={"layer": mark.layer})


def _arrow(sheet: Sheet, layer: str, tip: tuple[float, float], back: tuple[float, float]) -> None:
    """Two short lines from the tip of a dimension line."""
    run = math.dist(tip, back)
    if run == 0:
        return
    long = min(0.8 * sheet.height, run / 3)
    along = math.atan2(back[1] - tip[1], back[0] - tip[0])
    for turned in (along - 0.26, along + 0.26):  # radians; 15 degrees, own choice
        sheet.line(layer, tip, (tip[0] + long * math.cos(turned), tip[1] + long * math.sin(turned)))


def _text(sheet: Sheet, mark: TextMark) -> None:
    """Text that stands clear of its place, on the side asked for; along a line it is never upside down."""
    height = sheet.height * mark.size / _USUAL_SIZE
    lying = mark.along is not None
    rotation = _readable(mark.along) if mark.along is not None else 0.0
    width = len(ascii_text(mark.text)) * 0.8 * height
    turn, side = math.radians(rotation), math.radians(mark.side)
    clear = height if lying else height * 0.6 + abs(math.sin(side)) * width / 2
    x, y = sheet.place(mark.at)
    x, y = x + clear * math.sin(side), y + clear * math.cos(side)
    # from the middle of the text to where its baseline begins
    x += -width / 2 * math.cos(turn) + height / 2 * math.sin(turn)
    y += -width / 2 * math.sin(turn) - height / 2 * math.cos(turn)
    sheet.text(mark.layer, (x, y), mark.text, height=height, rotation=rotation)


def _readable(azimuth: float) -> float:
    """Counter-clockwise rotation [deg] of text along an azimuth, above -90 and at most 90."""
    turned = (90.0 - azimuth) % 180.0
    return turned - 180.0 if turned > 90.0 else turned
