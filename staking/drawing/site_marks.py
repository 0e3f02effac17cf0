"""What does an inspector look for on a plan, as marks: boundary, setbacks, areas, ties, diagonals and features."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import shapely
from shapely.geometry.base import BaseGeometry

from staking.drawing.feature_marks import NAME, building_distances
from staking.drawing.marks import CircleMark, LineMark, Mark, PathMark, TextMark
from staking.findings import Severity
from staking.layout.computed import Layout, Lot, LotSide, Margin
from staking.layout.lots import side_strips
from staking.survey.lines import Line
from staking.survey.overlays import united, without
from staking.survey.paths import Arc, path_area
from staking.survey.points import Point, Vector, azimuth_of, mean, moved, vector
from staking.survey.polygons import line_string, polygon

DIMENSION = 7.5  # points of paper: read at arm's length from a copy; own choice

_SAME = 0.003  # metres: lines nearer than this are one line on any plan
_ROUGH = 0.0005  # metres that a drawn setback line may leave the true one


def curve_tags(layout: Layout) -> Mapping[int, str]:
    """What each curved side of the lot is called, by its index: C1, C2 ..., with letters no given point begins with."""
    sides = layout.lot.sides if layout.lot else ()
    curved = [index for index, side in enumerate(sides) if isinstance(side.piece, Arc)]
    letters = next(
        word for word in ("C", "CV", "CURVE ") if not any(f"{word}{n + 1}" in layout.points for n in range(len(curved)))
    )
    return {index: f"{letters}{number}" for number, index in enumerate(curved, start=1)}


def lot_outline(lot: Lot) -> PathMark:
    """The boundary, its arcs as arcs."""
    return PathMark("LOT", lot.corners, closed=True, bulges=lot.bulges)


def boundary_texts(layout: Layout) -> Iterator[TextMark]:
    """Name, bearing and length of every straight side outside it; the name and number of every curve."""
    if layout.lot is None:
        return
    tags = curve_tags(layout)
    for index, side in enumerate(layout.lot.sides):
        words = tags[index] if index in tags else f"{bearing(layout, side)}, {surveyed(layout, side.piece.length)}"
        # A text along the chord of a curve would stand across it.
        along = None if index in tags else azimuth_of(side.line.direction)
        outward = azimuth_of(_inward(layout.lot, side).reversed())
        yield TextMark("LOT", _middle_of(side), f"{side.name}: {words}", along=along, side=outward, size=DIMENSION)


def bearing(layout: Layout, side: LotSide) -> str:
    """The bearing of a side, or of its chord, as it runs."""
    return layout.notation.bearing(azimuth_of(side.line.direction))


def surveyed(layout: Layout, metres: float) -> str:
    """A length as plats write it: decimals of the site's unit."""
    if layout.site.unit.name == "m":
        return f"{layout.notation.decimal(metres, 3)} m"
    return f"{layout.notation.decimal(metres, 2)}'"


def _middle_of(side: LotSide) -> Point:
    return side.piece.middle if isinstance(side.piece, Arc) else side.piece.at(side.piece.length / 2)


def _inward(lot: Lot, side: LotSide) -> Vector:
    left = side.line.direction.left()
    return left if path_area(lot.pieces) > 0 else left.reversed()


def setback_marks(layout: Layout) -> Iterator[Mark]:
    """The setback lines with their figures, and the edge of what may be built on."""
    lot = layout.lot
    if lot is None:
        return
    edges = _setback_edges(layout, lot)
    for piece in shapely.get_parts(shapely.line_merge(edges)):
        if piece.length > _SAME * 4:
            corners = tuple(Point(float(x), float(y)) for x, y in shapely.simplify(piece, _ROUGH).coords)
            yield PathMark("SETBACK", corners)
    yield from _figures(layout, lot, edges)


def setback_texts(layout: Layout) -> Iterator[TextMark]:
    """The figure of each setback, beside its line."""
    if layout.lot is not None:
        yield from _figures(layout, layout.lot, _setback_edges(layout, layout.lot))


def _figures(layout: Layout, lot: Lot, edges: BaseGeometry) -> Iterator[TextMark]:
    return (_setback_text(layout, lot, margin, edges) for margin in _setbacks(layout))


def _setbacks(layout: Layout) -> list[Margin]:
    """The setbacks of the walls: parts and eaves that may stand nearer have lines of their own in no ordinance."""
    return [it for it in layout.margins if it.rule == "setback" and it.what == "outline" and it.required > 0]


def _setback_edges(layout: Layout, lot: Lot) -> BaseGeometry:
    area = polygon(lot.drawn)
    strips = [strip for it in _setbacks(layout) for strip in side_strips(lot, it.of, it.required)]
    left = without(area, united(strips))
    shapes = [left.boundary]
    if layout.buildable is not None:
        shapes.append(layout.buildable.boundary)
    # Where nothing is required the edge is the lot line itself, which is drawn already.
    return shapely.union_all(shapes).difference(area.boundary.buffer(_SAME))


def _setback_text(layout: Layout, lot: Lot, margin: Margin, edges: BaseGeometry) -> TextMark:
    side = max(lot.named(margin.of), key=lambda piece: piece.piece.length)
    inward = _inward(lot, side)
    at = moved(_middle_of(side), inward, margin.required)
    if isinstance(side.piece, Line):
        shifted = Line(moved(side.line.start, inward, margin.required), moved(side.line.end, inward, margin.required))
        shown = [
            part for part in shapely.get_parts(line_string(shifted).buffer(_SAME).intersection(edges)) if part.length
        ]
        if shown:
            middle = max(shown, key=lambda part: part.length).interpolate(0.5, normalized=True)
            at = shifted.foot(Point(middle.x, middle.y))
    text = f"{layout.notation.length(margin.required)} {margin.of} setback"
    along = None if isinstance(side.piece, Arc) else azimuth_of(side.line.direction)
    return TextMark("SETBACK", at, text, along=along, side=azimuth_of(inward.reversed()), size=DIMENSION)


def clear_marks(layout: Layout) -> Iterator[Mark]:
    """The areas that must stay clear, with name and width or radius."""
    for area in layout.kept_clear:
        if area.centre is not None:
            yield CircleMark("KEEP-CLEAR", area.centre, area.radius)
            text = f"{area.name}, {layout.notation.length(area.radius)} around"
            yield TextMark("KEEP-CLEAR", area.centre, text, size=NAME, side=180.0)
            continue
        for piece in shapely.get_parts(area.shape):
            yield PathMark("KEEP-CLEAR", _ring(piece), closed=True)
        yield _area_text(layout, area.name, area.along, area.width, area.shape)


def _area_text(layout: Layout, name: str, along: str, width: float, shape: BaseGeometry) -> TextMark:
    pieces = layout.lot.named(along) if layout.lot and along else ()
    if layout.lot is None or not pieces:
        inside = shape.representative_point()
        return TextMark("KEEP-CLEAR", Point(inside.x, inside.y), name, size=NAME)
    side = max(pieces, key=lambda piece: piece.piece.length)
    inward, azimuth = _inward(layout.lot, side), azimuth_of(side.line.direction)
    text = f"{name}, {layout.notation.length(width)}"
    return TextMark("KEEP-CLEAR", _middle_of(side), text, along=azimuth, side=azimuth_of(inward), size=NAME)


def _ring(piece: shapely.Polygon) -> tuple[Point, ...]:
    coords = shapely.simplify(piece, _ROUGH).exterior.coords[:-1]
    return tuple(Point(float(x), float(y)) for x, y in coords)


def tie_marks(layout: Layout) -> Iterator[Mark]:
    """Least distances from the slab to every lot line and every other building, and to whatever it is too near to."""
    write = layout.notation.length
    lines = [(it.at, it.foot, _tie_text(layout, it)) for it in _tied(layout)]
    lines += [(at, foot, write(distance)) for _, distance, at, foot in building_distances(layout)]
    for at, foot, text in lines:
        if vector(at, foot).length > _SAME:
            yield from _tie(at, foot, text)


def _tie(at: Point, foot: Point, text: str) -> Iterator[Mark]:
    yield LineMark("DIMENSION", at, foot, arrows=True)
    direction = vector(at, foot).unit()
    along, side = azimuth_of(direction), azimuth_of(direction.left())
    yield TextMark("DIMENSION", mean([at, foot]), text, along=along, side=side, size=DIMENSION)


def _tie_text(layout: Layout, margin: Margin) -> str:
    # The edge of the roof is a thin line: without the word the tie would seem to begin at the slab.
    text = layout.notation.length(margin.distance)
    return f"{text} to eaves" if margin.what == "eaves" else text


def _tied(layout: Layout) -> list[Margin]:
    """From the outline to every lot line; besides, every margin that a warning or something graver speaks of."""
    sides = [it for it in layout.margins if it.rule in ("setback", "lot line") and it.what == "outline"]
    shown = list(sides)
    for margin in layout.margins:
        if margin.severity >= Severity.WARNING and _straight(margin) and not any(_alike(margin, it) for it in shown):
            shown.append(margin)
    return shown


def _straight(margin: Margin) -> bool:
    """Whether the distance is that of its two places: how deep the slab stands in an area is none."""
    return abs(vector(margin.at, margin.foot).length - abs(margin.distance)) <= _SAME


def _alike(one: Margin, other: Margin) -> bool:
    """Whether two ties would be drawn over each other."""
    return vector(one.at, other.at).length <= _SAME and vector(one.foot, other.foot).length <= _SAME


def diagonal_marks(layout: Layout) -> Iterator[Mark]:
    """Both diagonals of a slab with four corners, with their lengths; those of others stand in a table."""
    if len(layout.slab.form.corners) != 4:
        return
    for diagonal in layout.diagonals:
        line = Line(diagonal.from_point, diagonal.to_point)
        yield LineMark("TIE", line.start, line.end)
        azimuth = azimuth_of(line.direction)
        text = layout.notation.length(diagonal.length)
        yield TextMark("TIE", line.at(line.length * 0.27), text, along=azimuth, side=0.0, size=DIMENSION)
