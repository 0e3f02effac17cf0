"""Which shape has the excavation: level with the undersides of the concrete, with sides that slope up to the ground?

          edge                                      edge      Every piece of the concrete asks for a bottom, grown by
   ground -+.                                      .+-------  the room to work in where no other concrete is, and for
             '.  room                      room  .'           sides that rise from its rim, measured square to it. The
               '-----+------------------+------'              pit is the lowest of all these surfaces wherever they
                     |     concrete     |                     lie below the ground. Outside corners are mitred.

Source: the slopes are those of `staking.layout.excavation`; where a slope meets the ground is computed exactly,
triangle by triangle; the closed forms in the tests are prisms and prismoids.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from staking.kinds.slab import Form
from staking.layout.design import Design, Piece, polygons
from staking.survey.lines import Line
from staking.survey.overlays import shared, united, without
from staking.survey.points import Point, Vector, moved
from staking.survey.polygons import line_string, polygon
from staking.survey.surface import Plane
from staking.survey.triangles import Triangles

ROUGH = 0.002  # metres; chords of arcs and crumbs of arithmetic shorter than this are no sides of a pit
SHARPEST = 5.0  # a mitred corner reaches no farther than so many times the side
FARTHEST = 60.0  # metres; a side that has not met the ground by then never will


@dataclass(frozen=True)
class Patch:
    """A flat piece of the pit's surface. kind: as of the concrete above it, or "side"."""

    shape: shapely.Polygon
    plane: Plane
    kind: str

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """West, south, east and north of it [m]."""
        return self.shape.bounds

    def apart(self, other: Patch) -> bool:
        """Whether the boxes around the two share nothing, so that the two share nothing."""
        (west, south, east, north), (left, low, right, high) = self.box, other.box
        return east <= left or right <= west or north <= low or high <= south


@dataclass(frozen=True, eq=False)
class Pit:
    """slab: surfaces asked for by slab and parts; footings: by footings. The lowest of them holds everywhere."""

    triangles: Triangles
    slab: tuple[Patch, ...]
    footings: tuple[Patch, ...]

    @cached_property
    def slab_volume(self) -> float:
        """Dug for slab and parts, sides included [m3]."""
        return _dug(self.triangles, lowest(self.slab))

    @cached_property
    def volume(self) -> float:
        """Dug for everything [m3]."""
        return _dug(self.triangles, lowest((*self.slab, *self.footings))) if self.footings else self.slab_volume

    @property
    def trenches(self) -> float:
        """What footings add to what is dug for slab and parts [m3]."""
        return self.volume - self.slab_volume

    @cached_property
    def edge(self) -> shapely.Polygon:
        """Where the pit meets the ground, the room to work in counted even where nothing is dug.

        Where the ground is not known, a side reaches as far as for the highest ground that is known beside its piece.
        """
        patches = (*self.slab, *self.footings)
        unknown = (_without(patch.shape, self.triangles.reach) for patch in patches)
        bottoms = (patch.shape for patch in patches if patch.kind != "side")
        sides = (_flat(self.triangles.above(patch.shape, patch.plane)) for patch in patches if patch.kind == "side")
        whole = united([*bottoms, *sides, *unknown])
        whole = whole.buffer(ROUGH).buffer(-ROUGH)  # cracks are closed
        largest = max(polygons(whole), key=_area)
        return shapely.Polygon(shapely.simplify(largest.exterior, ROUGH).coords)

    @cached_property
    def depth(self) -> float:
        """From the highest ground over the bottoms down to them [m]; 0 where nothing is dug."""
        bottoms = [patch for patch in (*self.slab, *self.footings) if patch.kind != "side"]
        return max(0.0, *(self.triangles.most_above(patch.shape, patch.plane) or 0.0 for patch in bottoms))


def _area(shape: shapely.Polygon) -> float:
    return float(shape.area)


def pit_of(form: Form, design: Design, triangles: Triangles, base: float, sides: tuple[float, float]) -> Pit | None:
    """The pit for a design surface; None where no thickness is known. base: dug below slab and parts [m].

    sides: room to work in [m], and run over height of the slopes.
    """
    if any(piece.bottom is None for piece in design.pieces):
        return None
    slab = (each for piece in design.pieces for each in _patches(piece, form.whole, triangles, base, sides))
    footings = (each for piece in design.footings for each in _patches(piece, shapely.Polygon(), triangles, 0.0, sides))
    return Pit(triangles, tuple(slab), tuple(footings))


def _patches(
    piece: Piece, whole: BaseGeometry, triangles: Triangles, base: float, sides: tuple[float, float]
) -> Iterator[Patch]:
    """Bottom and sides; none toward the rest of the concrete, which is dug for on its own."""
    if piece.bottom is None:
        return
    room, slope = sides
    bottom = piece.bottom.lowered(base)
    rest = _without(whole, piece.shape).buffer(-ROUGH).buffer(ROUGH, join_style="mitre")
    grown = _without(piece.shape.buffer(room, join_style="mitre", mitre_limit=SHARPEST), rest)
    for shape in polygons(grown.simplify(ROUGH)):
        yield Patch(shape, bottom, piece.kind)
        reach = _reach(shape, bottom, triangles, slope) if slope else 0.0
        if reach:
            yield from _sides(orient(shape), bottom, whole, slope, reach)


def _reach(shape: shapely.Polygon, bottom: Plane, triangles: Triangles, slope: float) -> float:
    """How far out the sides can meet the ground at the most [m], found by widening until no higher ground appears."""
    reach = 0.0
    deepest = Plane(bottom.at, min(bottom.height(Point(x, y)) for x, y in shape.exterior.coords))
    while reach < FARTHEST:
        around = shape.buffer(reach, join_style="mitre", mitre_limit=SHARPEST)
        wanted = slope * max(0.0, triangles.most_above(around, deepest) or 0.0)
        if wanted <= reach + ROUGH:
            return wanted
        reach = wanted
    return FARTHEST


def _sides(shape: shapely.Polygon, bottom: Plane, whole: BaseGeometry, slope: float, reach: float) -> Iterator[Patch]:
    """Sides from every edge of a bottom, and wedges at outside corners. Rings have the outside on their right."""
    for ring in (shape.exterior, *shape.interiors):
        corners = [Point(x, y) for x, y in ring.coords[:-1]]
        ways = [Line(a, b).direction for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
        for index, way in enumerate(ways):
            start, end = corners[index], corners[(index + 1) % len(corners)]
            out, along = way.right(), bottom.rise.dot(way)
            upward = Vector(out.east / slope, out.north / slope)
            rise = Vector(way.east * along + upward.east, way.north * along + upward.north)
            for free in _free(Line(start, end), whole):
                square = [moved(each, out, reach) for each in (free.end, free.start)]
                yield Patch(polygon([free.start, free.end, *square]), Plane(start, bottom.height(start), rise), "side")
            for at, before, after in ((start, ways[index - 1], way), (end, way, ways[(index + 1) % len(ways)])):
                if before.cross(after) > 0:
                    plane = Plane(at, bottom.height(at), upward)
                    tip = _mitred(at, before.right(), after.right(), reach)
                    wedge = polygon([at, moved(at, out, reach), tip])
                    yield from (Patch(each, plane, "side") for each in _beside(wedge, at, whole))


def _free(edge: Line, whole: BaseGeometry) -> Iterator[Line]:
    """The stretches of an edge that have no other concrete just outside."""
    just = [moved(end, edge.direction.right(), ROUGH) for end in (edge.start, edge.end)]
    for left in shapely.get_parts(without(line_string(Line(*just)), whole)):
        along = [edge.along(Point(x, y)) for x, y in left.coords]
        if along and max(along) - min(along) > ROUGH:
            yield Line(edge.at(min(along)), edge.at(max(along)))


def _beside(wedge: shapely.Polygon, at: Point, whole: BaseGeometry) -> Iterator[shapely.Polygon]:
    """What other concrete leaves of a wedge at its corner; nothing beyond that concrete."""
    spot = shapely.Point(at.east, at.north)
    return (each for each in polygons(_without(wedge, whole)) if each.dwithin(spot, ROUGH))


def _mitred(at: Point, one: Vector, other: Vector, reach: float) -> Point:
    """Where two sides that start from an outside corner end together; at sharp ones not farther than SHARPEST.

    one, other: square out of the two. Half their sum is as long as the cosine of the angle to either.
    """
    between = Vector(one.east + other.east, one.north + other.north)
    return moved(at, between.unit(), reach * min(2 / between.length, SHARPEST))


def lowest(patches: Sequence[Patch]) -> tuple[Patch, ...]:
    """The lowest of surfaces that lie over one another: pieces that do not overlap."""
    kept: list[Patch] = []
    for new in patches:
        left: BaseGeometry = new.shape
        parted: list[Patch] = []
        for old in kept:
            if old.apart(new):
                parted.append(old)
                continue
            both = _flat(shared(old.shape, left))
            if both.is_empty:
                parted.append(old)
                continue
            lower = _lower(both, new.plane, old.plane)
            left = _without(left, _without(both, lower))
            parted.extend(Patch(each, old.plane, old.kind) for each in polygons(_without(old.shape, lower)))
        kept = parted + [Patch(each, new.plane, new.kind) for each in polygons(left)]
    return tuple(kept)


def _without(shape: BaseGeometry, other: BaseGeometry) -> shapely.MultiPolygon:
    return _flat(without(shape, other))


def _flat(shape: BaseGeometry) -> shapely.MultiPolygon:
    return shapely.MultiPolygon(polygons(shape))


def _lower(shape: BaseGeometry, one: Plane, other: Plane) -> BaseGeometry:
    """The part of a shape over which one plane lies lower than another: what a half-plane leaves of it."""
    middle = Point(shape.centroid.x, shape.centroid.y)
    over = one.height(middle) - other.height(middle)
    rise = Vector(one.rise.east - other.rise.east, one.rise.north - other.rise.north)
    west, south, east, north = shape.bounds
    far = 2 * (east - west + north - south)
    if abs(over) >= rise.length * far:  # they cross nowhere near
        return shape if over < 0 else shapely.Polygon()
    down = rise.reversed().unit()
    edge = moved(middle, down, over / rise.length)  # the planes cross here, and square to the way down
    ends = [moved(edge, down.left(), by) for by in (far, -far)]
    beyond = (moved(end, down, 2 * far) for end in reversed(ends))  # the crossing may lie that far before the shape
    return _flat(shared(shape, polygon([*ends, *beyond])))


def _dug(triangles: Triangles, patches: Sequence[Patch]) -> float:
    return sum(triangles.volume(patch.shape, patch.plane).cut for patch in patches)
