"""From what is declared to the design surface: the floor's plane, recesses, ledge, thickened edges and parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from staking.errors import RuleError, suggestion
from staking.kinds.fields import CornerName
from staking.kinds.outlines.levels import Footing, Recess, Thickened
from staking.kinds.outlines.slab import Part
from staking.kinds.slab import Form
from staking.layout.computed import NamedPoint, Slab
from staking.layout.design import Design, Piece, polygons
from staking.layout.recesses import INSIDE, Sunk, sunk
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.sitefile.heights_declared import Floor
from staking.survey.lines import Line
from staking.survey.overlays import shared, united, without
from staking.survey.points import Point, Vector, distance, mean, moved, vector
from staking.survey.polygons import line_string, polygon
from staking.survey.surface import Plane, plane_through, rise_of


def design_of(site: Site, slab: Slab, points: Mapping[str, NamedPoint], trouble: Trouble) -> Design | None:
    """The design surface; None where the site file has no [floor]. Raises SolveError with what cannot be done."""
    declared = site.declared.floor
    if declared is None:
        return None
    ways = _Ways(slab.form, points)
    with trouble.at("floor"):
        floor = _floor(declared, ways)
    trouble.stop()
    return surface_of(site, slab, points, floor, trouble)


def surface_of(site: Site, slab: Slab, points: Mapping[str, NamedPoint], floor: Plane, trouble: Trouble) -> Design:
    """The design surface about a plane of the floor. Raises SolveError with what cannot be done."""
    ways = _Ways(slab.form, points)
    tops = _Tops(site, slab, floor)
    for index, recess in enumerate(site.declared.slab.recesses):
        with trouble.at("slab", "recesses", index):
            tops.add(recess, ways)
    deep: list[tuple[Thickened, BaseGeometry]] = []
    for index, edge in enumerate(site.declared.slab.thickened):
        with trouble.at("slab", "thickened", index):
            deep.append((edge, edge_strip(slab.form, edge.sides, 0.0, edge.width)))
    footings: list[Piece] = []
    for index, footing in enumerate(site.declared.slab.footings):
        with trouble.at("slab", "footings", index):
            footings.extend(_footing(slab.form, footing, floor))
    trouble.stop()
    with trouble.at("slab"):
        pieces = tuple(_thickened(tops, deep))
    trouble.stop()
    bare = Design(floor, pieces)
    parts = zip(site.declared.slab.parts, slab.form.parts, strict=True)
    poured = pieces + tuple(_part(bare, part, corners, slab) for part, (_, corners) in parts)
    drains = tuple((recess.name, recess.drain) for recess in tops.recesses if recess.drain)
    return Design(floor, poured, tuple(footings), drains)


class _Ways:
    """Where falls lead to."""

    def __init__(self, form: Form, points: Mapping[str, NamedPoint]) -> None:
        self.form, self.points = form, points

    def toward(self, wanted: int | str, key: str) -> Vector:
        """The direction to a side of the slab, square out of it, or to a point from the middle of its corners."""
        if isinstance(wanted, int) or wanted not in self.points or wanted in self.form.outline.side_names:
            return self.form.outward(self.form.outline.side(wanted, key))
        step = vector(mean(self.form.corners), self.points[wanted].at)
        if step.length == 0:
            raise RuleError(
                f'the point "{wanted}" lies in the middle of the slab', key=key, remedy="name another point"
            )
        return step.unit()


def _floor(declared: Floor, ways: _Ways) -> Plane:
    pairs = ((declared.fall, declared.toward, "toward"), (declared.also, declared.also_toward, "also_toward"))
    falls = [(ways.toward(to, key), fall) for fall, to, key in pairs if fall is not None and to is not None]
    try:
        rise = rise_of(falls)
    except ValueError:
        raise RuleError("both falls lie along one line", key="also_toward", remedy="name another side") from None
    corners = ways.form.corners
    at = max(corners, key=lambda c: (round(c.east * rise.east + c.north * rise.north, 9), -corners.index(c)))
    if declared.at is not None:
        at = corners[ways.form.outline.corner(declared.at, "at")]
    return Plane(at, _stated(declared, ways.points), rise)


def _stated(declared: Floor, points: Mapping[str, NamedPoint]) -> float:
    if declared.elevation is not None:
        return declared.elevation
    point = points.get(declared.above)
    if point is None or point.at.up is None:
        known = [name for name, each in points.items() if each.at.up is not None]
        words = suggestion(declared.above, known) or "give it an elevation under [points]"
        raise RuleError(f'the point "{declared.above}" has no elevation', key="above", remedy=words)
    return point.at.up + (declared.by or 0.0)


class _Tops:
    """The tops of the slab, taken apart: recesses first, then the ledge, and the floor where nothing else is."""

    def __init__(self, site: Site, slab: Slab, floor: Plane) -> None:
        self.floor, self.form = floor, slab.form
        self.thickness, self.ledge_depth = slab.thickness, site.declared.slab.ledge_depth
        self.building = polygon(slab.building)
        self.recesses: list[Sunk] = []

    def add(self, recess: Recess, ways: _Ways) -> None:
        """One more recess. Raises RuleError where it leaves the slab or lies over another."""
        made = sunk(self.form, self.floor, recess, ways.toward)
        for other in self.recesses:
            if shared(made.shape, other.shape).area > INSIDE:
                key = "points" if recess.points else "start" if recess.side is not None else "x"
                raise RuleError(f'the recess lies over "{other.name}"', key=key, remedy="move one of the two")
        self.recesses.append(made)

    def pieces(self) -> Iterator[tuple[str, Literal["floor", "recess", "ledge"], BaseGeometry, Plane]]:
        """Name, kind, shape and top of each."""
        taken = united([recess.shape for recess in self.recesses])
        seat = without(self.form.shape, self.building) if self.ledge_depth else shapely.Polygon()
        yield "slab", "floor", without(without(self.form.shape, seat), taken), self.floor
        yield "ledge", "ledge", without(seat, taken), self.floor.lowered(self.ledge_depth)
        for recess in self.recesses:
            for shape, top in recess.tops:
                yield recess.name, "recess", shape, top


def _footing(form: Form, footing: Footing, floor: Plane) -> Iterator[Piece]:
    if footing.out >= footing.width:
        raise RuleError("the footing lies wholly outside the slab", key="out", remedy="less than its width")
    top = Plane(floor.at, floor.up - footing.top)
    for shape in polygons(edge_strip(form, footing.sides, footing.out, footing.width - footing.out)):
        yield Piece(footing.name, "footing", shape, top, top.lowered(footing.depth))


def edge_strip(form: Form, sides: Sequence[CornerName], out: float, inward: float) -> BaseGeometry:
    """A strip along the sides named, or all: from so far outside the formed edge to so far inside [m], mitred.

    Raises RuleError where a side named is an arc, or there is none of that name.
    """
    outer, inner = (form.shape.buffer(by, join_style="mitre", mitre_limit=5.0) for by in (out, -inward))
    ring = without(outer, inner)
    reach = max(out, inward)
    if not sides:
        return ring
    wanted = {form.outline.side(name, "sides") for name in sides}
    count = len(form.corners)
    strips = []
    for side in sorted(wanted):
        line = form.pieces[side]
        if not isinstance(line, Line):
            raise RuleError(f"{form.outline.side_label(side)} is an arc", key="sides", remedy="leave sides out")
        before, after = (3 * reach if near % count in wanted else 0.0 for near in (side - 1, side + 1))
        strips.append(line_string(Line(line.at(-before), line.at(line.length + after))).buffer(reach, cap_style="flat"))
    return shared(ring, united(strips))


def _thickened(tops: _Tops, deep: list[tuple[Thickened, BaseGeometry]]) -> Iterator[Piece]:
    """Every top, cut where an edge reaches deeper; of edges that lie over one another the deepest holds."""
    for name, kind, shape, top in tops.pieces():
        left = shape
        for edge, strip in sorted(deep, key=lambda each: -each[0].depth):
            under = tops.floor.lowered(edge.depth) if kind == "ledge" else top.lowered(edge.depth)
            yield from (_sound(Piece(name, kind, each, top, under)) for each in polygons(shared(left, strip)))
            left = without(left, strip)
        base = tops.floor if kind == "ledge" else top
        bottom = None if tops.thickness is None else base.lowered(tops.thickness)
        yield from (_sound(Piece(name, kind, each, top, bottom)) for each in polygons(left))


def _sound(piece: Piece) -> Piece:
    if piece.volume is not None and piece.volume <= 0:
        raise RuleError(
            "the ledge lies lower than the underside of the slab",
            key="ledge_depth",
            remedy="add [[slab.thickened]] below it",
        )
    return piece


def _part(bare: Design, part: Part, corners: tuple[Point, ...], slab: Slab) -> Piece:
    """The plane from the joint, `step` below the slab, to the outer edge, `drop` below it; the ledge does not count."""
    start, end, far, _ = corners
    middle = mean((start, end))
    inside = moved(middle, vector(far, end).unit(), slab.ledge + 0.002)
    at = bare.piece(inside)
    joint = at.top if at else bare.floor
    one, other = (Point(p.east, p.north, joint.height(p) - part.step) for p in (start, end))
    top = plane_through(one, other, Point(far.east, far.north, joint.height(end) - part.drop))
    bottom = None if slab.thickness is None else top.lowered(slab.thickness)
    return Piece(part.name, "part", polygon(corners), top, bottom)


def part_slope(part: Part, corners: tuple[Point, ...]) -> float:
    """How steeply a part falls away from the slab, height over run; negative where it rises."""
    return (part.drop - part.step) / distance(corners[1], corners[2])
