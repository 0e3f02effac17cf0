"""The plan of a whole layout as marks, made once for DXF, PDF, SVG and pages."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from staking.drawing.excavation_marks import excavation_marks
from staking.drawing.feature_marks import feature_marks
from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, SymbolShape, TextMark
from staking.drawing.relief import fall_marks, ground_marks, height_marks
from staking.drawing.site_marks import boundary_texts, diagonal_marks, lot_outline, setback_texts, tie_marks
from staking.kinds.ground import BaseLine
from staking.layout.computed import Layout, Stake
from staking.layout.grades import recesses_of
from staking.survey.points import Point, azimuth_of, mean, vector
from staking.survey.polygons import polygon, ring_corners

STAKE_LAYER = {
    "corner": "CORNER",
    "part corner": "CORNER",
    "offset": "OFFSET",
    "post": "BOARD",
    "nail": "BOARD",
    "mark": "MARK",
}
_ABOVE = 0.06  # of the width of the lot that the title stands above it
STAKE_SHAPE: dict[str, SymbolShape] = {"nail": "nail", "post": "pin", "mark": "foot"}


def plan(layout: Layout) -> Drawing:
    """Everything of a layout, seen from above, the ground first and the stakes on top."""
    marks = [
        *ground_marks(layout),
        *_survey(layout),
        *_things(layout),
        *_boards(layout),
        *_sizes(layout),
        *given_marks(layout),
    ]
    marks.extend(stake_mark(stake) for stake in layout.stakes)
    marks += [*fall_marks(layout), *height_marks(layout, joined=True), _title(layout)]
    return Drawing(tuple(marks), f"Plan of {layout.site.declared.site.name}")


def _survey(layout: Layout) -> Iterator[Mark]:
    """The boundary with bearings and lengths, setbacks with their figures, ties, diagonals and features."""
    if layout.lot is not None:
        yield lot_outline(layout.lot)
    yield from buildable_marks(layout)
    for part in (boundary_texts, setback_texts, feature_marks, tie_marks, diagonal_marks):
        yield from part(layout)
    if layout.slab.eaves:
        yield PathMark("EAVE", layout.slab.eaves, closed=True)


def _title(layout: Layout) -> TextMark:
    """What the drawing is, above it."""
    shown = layout.slab.form.whole if layout.lot is None else polygon(layout.lot.drawn)
    west, _, east, north = shown.bounds
    declared = layout.site.declared
    text = f"{declared.plan.heading}: {declared.site.name}"
    return TextMark("NOTE", Point((west + east) / 2, north + (east - west) * _ABOVE), text, size=12)


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
    yield from _things(layout)


def _things(layout: Layout) -> Iterator[Mark]:
    yield from clear_marks(layout)
    for base in layout.lines.values():
        yield from line_marks(layout, base)
    yield from slab_marks(layout)
    yield from excavation_marks(layout)


def lot_marks(layout: Layout) -> Iterator[Mark]:
    """The lot with the names of its sides, and the edge of what may be built on."""
    if layout.lot is None:
        return
    yield PathMark("LOT", layout.lot.corners, closed=True, bulges=layout.lot.bulges)
    middle = mean(layout.lot.drawn)
    for side in layout.lot.sides:
        yield beside_line("LOT", side.line.start, side.line.end, side.name, middle)
    yield from buildable_marks(layout)


def buildable_marks(layout: Layout) -> Iterator[Mark]:
    """The edge of what may be built on."""
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
    form = layout.slab.form
    yield PathMark("SLAB", form.corners, closed=True, filled=filled, bulges=form.outline.bulges)
    if layout.slab.ledge > 0:
        yield PathMark("BUILDING-LINE", layout.slab.building, closed=True, bulges=form.outline.bulges)
    for name, corners in layout.slab.form.parts:
        yield PathMark("PART", corners, closed=True)
        yield TextMark("PART", mean(corners), name, size=7)
    yield from recess_marks(layout)


def recess_marks(layout: Layout) -> Iterator[Mark]:
    """The edges of recesses, with their names; from the corners of those that fall to a drain a line to it."""
    drains = dict(layout.design.drains) if layout.design else {}
    for name, corners in recesses_of(layout.design):
        yield PathMark("PART", corners, closed=True)
        if (drain := drains.get(name)) is not None:
            yield from (LineMark("DRAINAGE", corner, drain) for corner in corners)
        yield TextMark("PART", _inside(corners), name, size=7)


def _inside(corners: tuple[Point, ...]) -> Point:
    """A place for a name: the middle of the corners, or another one where that lies outside."""
    middle, shape = mean(corners), polygon(corners)
    if shape.contains(shapely.Point(middle.east, middle.north)):
        return middle
    place = shape.representative_point()
    return Point(place.x, place.y)


def _boards(layout: Layout) -> Iterator[Mark]:
    for board in layout.boards:
        yield LineMark("BOARD", *board.posts)


def _sizes(layout: Layout) -> Iterator[Mark]:
    """The length of each side, written inside the slab along it; of an arc its radius too."""
    form = layout.slab.form
    leftward = form.outline.counter_clockwise  # asked once: it is computed anew from all corners
    for side, piece in zip(layout.sides, form.pieces, strict=True):
        direction = form.sides[side.index].direction
        inward = direction.left() if leftward else direction.right()
        text = layout.notation.length(side.length)
        if side.radius is not None:
            text = f"arc {text}, R {layout.notation.length(side.radius)}"
        yield TextMark("DIMENSION", piece.at(piece.length / 2), text, along=side.azimuth, side=azimuth_of(inward))


def given_marks(layout: Layout) -> Iterator[Mark]:
    """The given points; lot corners as pins."""
    for point in layout.points.values():
        yield SymbolMark("GIVEN", point.at, point.name, shape="pin" if point.lot_corner else "given")


def stake_mark(stake: Stake, *, emphasis: bool = False) -> SymbolMark:
    """One stake with its name. Posts and nails are small and close together, so they carry theirs too."""
    shape = STAKE_SHAPE.get(stake.kind, "stake")
    side = "" if stake.side is None else f"{stake.kind} {stake.part} {stake.side}"
    return SymbolMark(STAKE_LAYER[stake.kind], stake.at, stake.name, shape=shape, emphasis=emphasis, side=side)


def beside_line(layer: str, start: Point, end: Point, text: str, middle: Point) -> TextMark:
    """A text along the middle of a line, on the side away from the middle of things."""
    direction = vector(start, end).unit()
    away = direction.left() if direction.cross(vector(start, middle)) < 0 else direction.right()
    return TextMark(layer, mean([start, end]), text, along=azimuth_of(direction), side=azimuth_of(away))
