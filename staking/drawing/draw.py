"""The plan of a whole layout as marks, made once for DXF, PDF, SVG and pages."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, SymbolShape, TextMark
from staking.kinds.ground import BaseLine
from staking.layout.computed import Layout, Stake
from staking.survey.points import Point, azimuth_of, mean, vector
from staking.survey.polygons import ring_corners

STAKE_LAYER = {
    "corner": "CORNER",
    "part corner": "CORNER",
    "offset": "OFFSET",
    "post": "BOARD",
    "nail": "BOARD",
    "mark": "MARK",
}
STAKE_SHAPE: dict[str, SymbolShape] = {"nail": "nail", "post": "pin", "mark": "foot"}


def plan(layout: Layout) -> Drawing:
    """Everything of a layout, seen from above, the ground first and the stakes on top."""
    marks = [*_ground(layout), *_boards(layout), *_sizes(layout), *given_marks(layout)]
    marks.extend(stake_mark(stake) for stake in layout.stakes)
    return Drawing(tuple(marks), f"Plan of {layout.site.declared.site.name}")


def overview(layout: Layout) -> Drawing:
    """The ground, the slab and its corners: what fits on a small picture."""
    marks = [*_ground(layout), *given_marks(layout)]
    marks.extend(
        SymbolMark("CORNER", at, name, emphasis=True)
        for name, at in zip(layout.corner_names, layout.slab.form.corners, strict=True)
    )
    return Drawing(tuple(marks), f"Overview of {layout.site.declared.site.name}")


def _ground(layout: Layout) -> Iterator[Mark]:
    yield from lot_marks(layout)
    yield from clear_marks(layout)
    for base in layout.lines.values():
        yield from line_marks(layout, base)
    yield from slab_marks(layout)


def lot_marks(layout: Layout) -> Iterator[Mark]:
    """The lot with the names of its sides, and the edge of what may be built on."""
    if layout.lot is None:
        return
    yield PathMark("LOT", layout.lot.corners, closed=True)
    middle = mean(layout.lot.corners)
    for side in layout.lot.sides:
        yield beside_line("LOT", side.line.start, side.line.end, side.name, middle)
    if layout.buildable is not None:
        for piece in shapely.get_parts(layout.buildable):
            if isinstance(piece, shapely.Polygon) and not piece.is_empty:
                for ring in (piece.exterior, *piece.interiors):
                    yield PathMark("SETBACK", ring_corners(shapely.LinearRing(ring.coords)), closed=True)


def clear_marks(layout: Layout) -> Iterator[Mark]:
    """The areas that must stay clear, with their names."""
    for area in layout.kept_clear:
        if area.centre is not None:
            yield CircleMark("KEEP-CLEAR", area.centre, area.radius)
        else:
            for piece in shapely.get_parts(area.shape):
                yield PathMark("KEEP-CLEAR", ring_corners(shapely.LinearRing(piece.exterior.coords)), closed=True)
        inside = area.shape.representative_point()
        yield TextMark("KEEP-CLEAR", Point(inside.x, inside.y), area.name, size=7)


def line_marks(layout: Layout, base: BaseLine) -> Iterator[Mark]:
    """A reference line with its name; lot sides are drawn with the lot."""
    if base.name.startswith("lot "):
        return
    yield LineMark("REFERENCE", base.line.start, base.line.end)
    yield beside_line("REFERENCE", base.line.start, base.line.end, base.name, mean(layout.slab.form.corners))


def slab_marks(layout: Layout, *, filled: bool = True) -> Iterator[Mark]:
    """The formed outline, the building line inside a ledge, and the parts."""
    yield PathMark("SLAB", layout.slab.form.corners, closed=True, filled=filled)
    if layout.slab.ledge > 0:
        yield PathMark("BUILDING-LINE", layout.slab.building, closed=True)
    for name, corners in layout.slab.form.parts:
        yield PathMark("PART", corners, closed=True)
        yield TextMark("PART", mean(corners), name, size=7)


def _boards(layout: Layout) -> Iterator[Mark]:
    for board in layout.boards:
        yield LineMark("BOARD", *board.posts)


def _sizes(layout: Layout) -> Iterator[Mark]:
    """The length of each side, written inside the slab along it."""
    form = layout.slab.form
    for side, line in zip(layout.sides, form.sides, strict=True):
        inward = form.outward(side.index).reversed()
        yield TextMark(
            "DIMENSION",
            line.at(line.length / 2),
            layout.notation.length(side.length),
            along=azimuth_of(line.direction),
            side=azimuth_of(inward),
        )


def given_marks(layout: Layout) -> Iterator[Mark]:
    """The given points; lot corners as pins."""
    for point in layout.points.values():
        yield SymbolMark("GIVEN", point.at, point.name, shape="pin" if point.lot_corner else "given")


def stake_mark(stake: Stake, *, emphasis: bool = False) -> SymbolMark:
    """One stake with its name. Posts and nails are small and close together, so they carry theirs too."""
    shape = STAKE_SHAPE.get(stake.kind, "stake")
    return SymbolMark(STAKE_LAYER[stake.kind], stake.at, stake.name, shape=shape, emphasis=emphasis)


def beside_line(layer: str, start: Point, end: Point, text: str, middle: Point) -> TextMark:
    """A text along the middle of a line, on the side away from the middle of things."""
    direction = vector(start, end).unit()
    away = direction.left() if direction.cross(vector(start, middle)) < 0 else direction.right()
    return TextMark(layer, mean([start, end]), text, along=azimuth_of(direction), side=azimuth_of(away))
