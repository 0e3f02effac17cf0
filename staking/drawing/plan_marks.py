"""Which marks does the plan sheet show?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from staking.drawing.draw import recess_marks, stake_mark
from staking.drawing.excavation_marks import excavation_marks
from staking.drawing.feature_marks import NAME, falls_by_name, feature_marks
from staking.drawing.marks import CircleMark, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.relief import fall_marks, ground_marks, height_marks
from staking.drawing.site_marks import (
    DIMENSION,
    boundary_texts,
    clear_marks,
    diagonal_marks,
    lot_outline,
    setback_marks,
    tie_marks,
)
from staking.drawing.window import window_of
from staking.layout.computed import Layout, LotSide, NamedPoint
from staking.sitefile.lot_declared import AroundPoint
from staking.sitefile.plan_declared import Feature
from staking.survey.lines import Line
from staking.survey.points import Point, azimuth_of, distance, mean, vector
from staking.survey.polygons import line_string, polygon

MANY = 40  # given points; of longer lists only those show that something is drawn from
MANY_SIDES = 24  # of the slab; of more the lengths stand in a table only

_ONE_PLACE = 0.1  # metres; symbols of points nearer than this would cover each other
_WIDE = 0.15  # metres; a ledge narrower than this would melt into the outline


def plan_marks(layout: Layout, *, stakes: bool) -> tuple[Mark, ...]:
    """Everything the plan shows, lowest first; texts that have the least choice of place come first.

    stakes: whether offset stakes and batter boards may be shown where the site file asks for them.
    """
    window = window_of(layout)
    declared = layout.site.declared.plan
    marks: list[Mark] = [*ground_marks(layout)] if declared.contours else []
    marks += [*setback_marks(layout), *clear_marks(layout), *feature_marks(layout)]
    marks += _references(layout, window)
    if layout.lot is not None:
        marks.append(lot_outline(layout.lot))
    marks += excavation_marks(layout)
    marks += [*_slab(layout), *diagonal_marks(layout), *tie_marks(layout), *boundary_texts(layout)]
    if declared.heights:
        marks += [*fall_marks(layout), *height_marks(layout, floor=stakes)]
    marks += _symbols(layout, window, stakes=stakes)
    return tuple(sorted(_clipped(marks, window), key=_turn))


def _turn(mark: Mark) -> int:
    # The boundary chooses its places first, names last; everything else keeps its order.
    if not isinstance(mark, TextMark):
        return 0
    return 1 if mark.layer == "LOT" else 2 if mark.size >= DIMENSION else 3


def _references(layout: Layout, window: shapely.Polygon) -> Iterator[Mark]:
    for base in layout.lines.values():
        shown = line_string(base.line).intersection(window)
        if base.name.startswith("lot ") or not shown.length:
            continue
        (ax, ay), (bx, by) = shapely.get_coordinates(shown)[[0, -1]]
        line = Line(Point(float(ax), float(ay)), Point(float(bx), float(by)))
        yield LineMark("REFERENCE", line.start, line.end)
        text = f"{base.name}, {base.given_by}" if base.given_by else base.name
        away = line.direction.left() if line.offset(mean(layout.slab.form.corners)) < 0 else line.direction.right()
        middle = line.at(line.length / 2)
        yield TextMark("REFERENCE", middle, text, along=azimuth_of(line.direction), side=azimuth_of(away), size=NAME)


def _slab(layout: Layout) -> Iterator[Mark]:
    form = layout.slab.form
    yield PathMark("SLAB", form.corners, closed=True, filled=True, bulges=form.outline.bulges)
    if layout.slab.eaves:
        yield PathMark("EAVE", layout.slab.eaves, closed=True)
    if layout.slab.ledge > _WIDE:
        yield PathMark("BUILDING-LINE", layout.slab.building, closed=True, bulges=form.outline.bulges)
    if len(layout.sides) <= MANY_SIDES:
        yield from _side_lengths(layout)
    falls = falls_by_name(layout, "part")
    for name, corners in form.parts:
        yield PathMark("PART", corners, closed=True)
        yield _part_text(layout, name, corners, falls.get(name, ""))
    yield from recess_marks(layout)
    inside = polygon(form.drawn).representative_point()
    floor = layout.floor_height
    if floor is not None:
        text = f"floor {layout.notation.decimal(floor, 2)}"
        yield TextMark("SLAB", Point(inside.x, inside.y), text, size=DIMENSION)


def _part_text(layout: Layout, name: str, corners: Sequence[Point], falls: str) -> TextMark:
    """Name, width along the slab and depth away from it, and how it falls."""
    write = layout.notation.length
    width, depth = (write(distance(corners[n], corners[n + 1])) for n in (0, 1))
    out = vector(mean(corners[:2]), mean(corners[2:]))
    text = f"{name}, {width} by {depth}{falls and f', {falls}'}"
    return TextMark("PART", mean(corners), text, side=azimuth_of(out), size=NAME)


def _side_lengths(layout: Layout) -> Iterator[Mark]:
    form = layout.slab.form
    for side, piece in zip(layout.sides, form.pieces, strict=True):
        outward = form.outward(side.index)
        text, along, beside = layout.notation.length(side.length), None, outward
        if side.radius is None:
            along, beside = side.azimuth, outward.reversed()
        else:
            text = f"arc {text}, R {layout.notation.length(side.radius)}"
        at = piece.at(piece.length / 2)
        yield TextMark("DIMENSION", at, text, along=along, side=azimuth_of(beside), size=DIMENSION)


def _symbols(layout: Layout, window: shapely.Polygon, *, stakes: bool) -> Iterator[Mark]:
    for side in layout.lot.sides if layout.lot else ():
        yield SymbolMark("GIVEN", side.piece.start, _pin_name(layout, side), shape="pin")
    for name, at in shown_points(layout, window):
        if not _at_pin(layout, at):
            yield SymbolMark("GIVEN", at, name, shape="given")
    for name, corner in zip(layout.corner_names, layout.slab.form.corners, strict=True):
        yield SymbolMark("CORNER", corner, name, emphasis=True)
    for crossing in layout.crossings:
        yield SymbolMark("STRING", crossing.at, crossing.name, shape="nail")
    if stakes and layout.site.declared.plan.stakes:
        yield from (stake_mark(it) for it in layout.stakes if it.kind != "corner" and _inside(it.at, window))


def _pin_name(layout: Layout, side: LotSide) -> str:
    """The corner with the point that was found there, two names for one place on any plan."""
    here = [it.name for it in layout.points.values() if distance(it.at, side.piece.start) < _ONE_PLACE]
    return ", ".join(dict.fromkeys([side.start_name, *here]))


def _at_pin(layout: Layout, at: Point) -> bool:
    return layout.lot is not None and any(distance(at, corner) < _ONE_PLACE for corner in layout.lot.corners)


def shown_points(layout: Layout, window: shapely.Polygon) -> list[tuple[str, Point]]:
    """The given points in the window that are neither lot corners nor merely corners of a feature."""
    declared = layout.site.declared
    used = {name for each in declared.features for name in each.places}
    used -= {area.around for area in declared.keep_clear if isinstance(area, AroundPoint)}
    used |= {side.start_name for side in layout.lot.sides} if layout.lot else set()
    few = len(layout.points) <= MANY
    return [
        (point.name, point.at)
        for point in layout.points.values()
        if point.name not in used and (few or _drawn_from(layout, point)) and _inside(point.at, window)
    ]


def _drawn_from(layout: Layout, point: NamedPoint) -> bool:
    ends = {name for base in layout.lines.values() for name in (base.start_name, base.end_name)}
    return point.name in ends or any(area.centre == point.at for area in layout.kept_clear)


def _inside(at: Point, window: shapely.Polygon) -> bool:
    return bool(window.covers(shapely.Point(at.east, at.north)))


def _clipped(marks: Sequence[Mark], window: shapely.Polygon) -> Iterator[Mark]:
    """The marks without what lies outside the window."""
    for mark in marks:
        match mark:
            case CircleMark(layer=layer, centre=centre, radius=radius):
                yield from _cut(
                    mark, layer, shapely.Point(centre.east, centre.north).buffer(radius, 90).boundary, window
                )
            case PathMark(layer="KEEP-CLEAR" | "EXCAVATION"):
                yield from _cut(mark, mark.layer, polygon(mark.corners).boundary, window)
            case TextMark(at=at) if not _inside(at, window):
                pass
            case _:
                yield mark


def _cut(mark: Mark, layer: str, line: BaseGeometry, window: shapely.Polygon) -> Iterator[Mark]:
    if window.covers(line):
        yield mark
        return
    for piece in shapely.get_parts(shapely.line_merge(line.intersection(window))):
        if piece.length:
            yield PathMark(layer, tuple(Point(float(x), float(y)) for x, y in shapely.get_coordinates(piece)))


def features_of_kind(layout: Layout, *kinds: str) -> list[Feature]:
    """The features of some kinds, in file order."""
    return [feature for feature in layout.site.declared.features if feature.kind in kinds]
