"""How much room there is between the slab and every line and area it must keep away from.

The room to a side of the lot is the least distance from what is measured (the formed outline, its parts, the eaves) to
that side itself, arcs and edges exact, less the figure that is required. Practice differs between codes; the least
distance to any place of the side is what a parallel line touching the nearest part of the building gives, and on an
arc what a concentric one gives (Greenwood Village, Colorado, as read in its code).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from staking.findings import Severity
from staking.kinds.ground import BaseLine
from staking.kinds.slab import CHORD
from staking.layout.computed import KeptClear, Lot, Margin, Slab
from staking.layout.separations import separations_of
from staking.sitefile.declared import Site
from staking.sitefile.lot_declared import AlongSide, Margins, Setback
from staking.survey.lines import Line
from staking.survey.overlays import shared, united, without
from staking.survey.paths import Piece, contains, flattened, least_distance, nearest, pieces_of
from staking.survey.points import Point, distance, moved
from staking.survey.polygons import line_string, polygon, sides_of

NOISE = 1e-6  # metres; differences of computation below this are none
FAR = 1e4  # metres; a centre line is taken to run on this far past its points

Near = tuple[float, Point, Point]  # distance, where on the slab, where on the other


@dataclass(frozen=True)
class Figure:
    """What is measured from: the pieces of its edge, and its shape with arcs as chords."""

    what: str
    pieces: tuple[Piece, ...]
    shape: BaseGeometry


def margins_of(
    site: Site, lot: Lot | None, lines: Mapping[str, BaseLine], clear: tuple[KeptClear, ...], slab: Slab
) -> tuple[Margin, ...]:
    """Margins to the lot's sides in order, then separations, then areas to keep clear, in file order."""
    limits = site.declared.margins
    result: list[Margin] = []
    if lot is not None:
        for name in dict.fromkeys(side.name for side in lot.sides):
            result.extend(_of_side(site, lot, name, slab, lines))
    result.extend(
        judged("separation", of, required, near, limits=limits, what=wall)
        for of, wall, required, near in separations_of(site, lines, slab.form)
    )
    whole = formed_figure("outline", slab, parts=True)
    for declared, area in zip(site.declared.keep_clear, clear, strict=True):
        required = declared.width if isinstance(declared, AlongSide) else area.radius
        result.append(judged("keep clear", area.name, required, _to_area(lot, area, whole), limits=limits))
    return tuple(result)


def judged(rule: str, of: str, required: float, near: Near, *, limits: Margins, what: str = "outline") -> Margin:
    """A margin with its severity: below 0 stops, thin room warns."""
    room = near[0] - required
    room = 0.0 if abs(room) < NOISE else room
    severity = Severity.NOTE
    if room < 0:
        severity = Severity.STOP
    elif room < limits.strong:
        severity = Severity.STRONG
    elif room < limits.warn:
        severity = Severity.WARNING
    return Margin(rule, of, near[0], required, room, near[1], near[2], severity, what)


def _of_side(site: Site, lot: Lot, name: str, slab: Slab, lines: Mapping[str, BaseLine]) -> Iterator[Margin]:
    """The margins to one side: one for each thing that its setback is measured to."""
    rule = site.declared.setbacks.get(name)
    limits = site.declared.margins
    for figure in unmeasured(rule, slab):
        yield judged("lot line", name, 0.0, _to_side(lot, name, figure), limits=limits, what=figure.what)
    if rule is None:
        near = _to_side(lot, name, formed_figure("outline", slab, parts=True))
        yield judged("lot line", name, 0.0, near, limits=limits)
        return
    for figure, required in measured(rule, slab):
        near = _to_side(lot, name, figure)
        yield _with_uncertainty(judged("setback", name, required, near, limits=limits, what=figure.what), rule)
    if rule.from_center is not None:
        base = lines[rule.center].line
        centre = Line(moved(base.start, base.direction, -FAR), moved(base.end, base.direction, FAR))
        near = least(formed_figure("outline", slab, parts=True), (centre,))
        yield _with_uncertainty(judged("street centre", name, rule.from_center, near, limits=limits), rule)


def unmeasured(rule: Setback | None, slab: Slab) -> Iterator[Figure]:
    """Parts and eaves that no setback is measured to. Whatever is exempted, nothing may reach over the lot line."""
    parts = [corners for _, corners in slab.form.parts]
    if rule is None or rule.measured != "formed":
        parts = [corners for corners in parts if corners not in slab.counted_parts]
    if parts:
        pieces = tuple(side for corners in parts for side in sides_of(corners))
        yield Figure("parts", pieces, united([polygon(corners) for corners in parts]))
    if slab.eaves and (rule is None or rule.measured != "with eaves"):
        yield eaves_of(slab)


def _with_uncertainty(margin: Margin, rule: Setback) -> Margin:
    return replace(margin, uncertainty=rule.uncertainty)


def measured(rule: Setback, slab: Slab) -> Iterator[tuple[Figure, float]]:
    """What a setback is measured to, with the figure for each: parts and eaves may be allowed to project."""
    together = rule.measured != "formed" and rule.projection == 0
    yield formed_figure("outline", slab, parts=together), rule.required
    less = max(0.0, rule.required - rule.projection)
    if rule.measured != "formed" and not together and slab.counted_parts:
        pieces = tuple(side for corners in slab.counted_parts for side in sides_of(corners))
        yield Figure("parts", pieces, united([polygon(c) for c in slab.counted_parts])), less
    if rule.measured == "with eaves" and slab.eaves:
        yield eaves_of(slab), less


def formed_figure(what: str, slab: Slab, *, parts: bool) -> Figure:
    """The formed outline, with the parts that count or without them."""
    if not parts or not slab.counted_parts:
        return Figure(what, slab.form.pieces, slab.form.shape)
    pieces = (*slab.form.pieces, *(side for corners in slab.counted_parts for side in sides_of(corners)))
    return Figure(what, pieces, slab.counted)


def eaves_of(slab: Slab) -> Figure:
    """The edge of the roof; its arcs keep their angles."""
    pieces = pieces_of(slab.eaves, slab.form.outline.bulges)
    return Figure("eaves", pieces, polygon(flattened(pieces, CHORD)))


def least(figure: Figure, pieces: Sequence[Piece]) -> Near:
    """The least distance between what is measured and some pieces, exact for lines and arcs."""
    if all(isinstance(piece, Line) for piece in (*figure.pieces, *pieces)):
        edges = shapely.multilinestrings([line_string(p) for p in figure.pieces if isinstance(p, Line)])
        others = shapely.multilinestrings([line_string(p) for p in pieces if isinstance(p, Line)])
        return _shortest(edges, others)
    return min((least_distance(a, b) for a in figure.pieces for b in pieces), key=lambda near: near[0])


def _shortest(first: BaseGeometry, second: BaseGeometry) -> Near:
    (ax, ay), (bx, by) = shapely.shortest_line(first, second).coords
    return float(first.distance(second)), Point(ax, ay), Point(bx, by)


def _to_side(lot: Lot, name: str, figure: Figure) -> Near:
    """Least distance to a side; below 0, by the place farthest out, where the slab lies beyond it."""
    beyond = _beyond(lot, figure).get(name)
    if beyond:
        far, at, foot = max(beyond, key=lambda near: near[0])
        return -far, at, foot
    return least(figure, [side.piece for side in lot.named(name)])


def _beyond(lot: Lot, figure: Figure) -> dict[str, list[Near]]:
    """By side name, how far what is measured lies outside the lot there, piece by piece."""
    result: dict[str, list[Near]] = {}
    if lot.shape.covers(figure.shape):
        return result
    for piece in shapely.get_parts(without(figure.shape, lot.shape)):
        corners = [Point(float(x), float(y)) for x, y in shapely.get_coordinates(piece)]
        found = [each for corner in corners if (each := _off_lot(lot, corner)) is not None]
        if not found and piece.area > NOISE:  # an edge that bridges a notch: its corners all lie on the lot line
            found = [_bridging(lot, piece)]
        for name, near in found:
            result.setdefault(name, []).append(near)
    return result


def _off_lot(lot: Lot, corner: Point) -> tuple[str, Near] | None:
    """The side a corner lies beyond, and how far; None where it is not outside."""
    (off, foot), name = min(
        ((nearest(side.piece, corner), side.name) for side in lot.sides), key=lambda found: found[0][0]
    )
    return (name, (off, corner, foot)) if off > NOISE and not contains(lot.pieces, corner) else None


def _bridging(lot: Lot, piece: BaseGeometry) -> tuple[str, Near]:
    """How deep a piece of the slab lies in a notch of the lot: the shorter side of the box around it."""
    inside = piece.representative_point()
    at = Point(inside.x, inside.y)
    (_, foot), name = min(((nearest(side.piece, at), side.name) for side in lot.sides), key=lambda found: found[0][0])
    return name, (_short_side(piece), at, foot)


def _to_area(lot: Lot | None, area: KeptClear, figure: Figure) -> Near:
    """Distance that is compared with the width or radius of an area; for a polygon, whose required room is 0, from it.

    Measured from the side or point itself, not from the drawn shape, so that it is exact.
    """
    if area.centre is not None:
        off, at = min((nearest(piece, area.centre) for piece in figure.pieces), key=lambda found: found[0])
        inside = figure.shape.covers(shapely.Point(area.centre.east, area.centre.north))
        return (0.0, area.centre, area.centre) if inside else (off, at, area.centre)
    if area.along and lot is not None:
        return least(figure, [side.piece for side in lot.named(area.along)])
    overlap = shared(figure.shape, area.shape)
    if overlap.area < NOISE:
        return _shortest(figure.shape, area.shape)
    return _depth(overlap, area.shape)


def _depth(overlap: BaseGeometry, area: BaseGeometry) -> Near:
    """How deep the slab stands in an area, below 0: the shorter side of the box around what they share."""
    _, at, foot = _shortest(overlap.representative_point(), area.boundary)
    return -_short_side(overlap), at, foot


def _short_side(shape: BaseGeometry) -> float:
    """The shorter side of the smallest box around a shape [m]."""
    corners = shapely.get_coordinates(shape.minimum_rotated_rectangle)
    return min(distance(a, b) for a, b in pairwise([Point(float(x), float(y)) for x, y in corners][:3]))
