"""How high is the ground between the points measured on it? A surface of triangles, and its volume to a plane.

Coordinates and heights in metres. Triangles are Delaunay's, taken about the centroid of the points, so that state
plane numbers lose no digits. A break line is respected by points set along it, at heights between those of its ends,
until every piece of it is a side of a triangle: no triangle then crosses it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from staking.survey.boxes import boxes_of, meeting_edge, overlapping
from staking.survey.flat_triangles import areas_of, without_flat
from staking.survey.overlays import shared, shared_by_each, united
from staking.survey.points import Point
from staking.survey.surface import Plane

Array = npt.NDArray[np.float64]

APART = 0.001  # metres; two points nearer than this are one place
SHORTEST = 0.01  # metres; a piece of a break line is not halved below this
ROUNDS = 24
SEA = Plane(Point(0.0, 0.0), 0.0)
THIN = 1e-9  # square metres; smaller triangles are crumbs of arithmetic


class GroundError(ValueError):
    """Points that no surface can be made of; names: indices of what it is about, points or lines by their ends."""

    def __init__(self, message: str, names: tuple[tuple[int, ...], ...] = ()) -> None:
        super().__init__(message)
        self.names = names


@dataclass(frozen=True, slots=True)
class Volume:
    """cut [m3]: ground above the plane; fill [m3]: below it. area [m2]: of what is covered by triangles."""

    cut: float
    fill: float
    area: float

    def __add__(self, other: Volume) -> Volume:
        return Volume(self.cut + other.cut, self.fill + other.fill, self.area + other.area)

    @property
    def excess(self) -> float:
        """Cut less fill [m3]."""
        return self.cut - self.fill


NOTHING = Volume(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Stretch:
    """The ground along a line over one triangle: from `start` to `end` [m from the line's beginning], and heights."""

    start: float
    end: float
    start_up: float
    end_up: float


@dataclass(frozen=True, eq=False)
class Triangles:
    """corners: an array of m triangles, 3 corners, east, north, up. Made by `triangles_of`."""

    corners: Array

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(list(np.asarray(shapely.polygons(self.corners[:, :, :2]))))

    @cached_property
    def _boxes(self) -> Array:
        return boxes_of(self.corners)

    def height(self, place: Point) -> float | None:
        """Of the ground at a place [m]; None outside the triangles, never carried on beyond them."""
        spot = shapely.Point(place.east, place.north)
        found = self._tree.query(spot, predicate="dwithin", distance=APART)
        if len(found) == 0:
            return None
        return float(_heights(self.corners[self._best(found, spot)], np.array([[place.east, place.north]]))[0])

    def _best(self, found: npt.NDArray[np.intp], spot: shapely.Point) -> int:
        """Of triangles at a place the nearest, of several the largest: the plane of a sliver beside it is no guide."""
        far = np.asarray(shapely.distance(self._tree.geometries[found], spot))
        near = found[far <= far.min() + APART / 1e6]
        return int(near[areas_of(self.corners[near]).argmax()])

    def heights(self, places: Array) -> Array:
        """Of the ground at many places, an array of east and north; not a number outside the triangles."""
        where, which = self._tree.query(shapely.points(places), predicate="intersects")
        found = np.full(len(places), np.nan)
        found[where] = _over_at(self.corners[which], places[where], SEA)
        return found

    def along(self, start: Point, end: Point) -> tuple[Stretch, ...]:
        """The ground under a straight line, in order; where no triangle lies under it there is a gap."""
        line = shapely.LineString([(start.east, start.north), (end.east, end.north)])
        found = self._tree.query(line, predicate="intersects")
        stretches = [s for each in found for s in _crossed(self.corners[each], line)]
        return tuple(_once(sorted(stretches, key=lambda each: (each.start, each.end))))

    def volume(self, shape: shapely.Polygon, plane: Plane) -> Volume:
        """Between ground and plane over a polygon; cut where the ground is higher.

        Exact: each triangle is cut off at the polygon, and parted where ground and plane cross. Source: a prism with
        slanting top has its area times its height over the centroid; the corner of a triangle that lies on the other
        side is a pyramid (Euclid XII 7), area times height over three.
        """
        found = overlapping(self._boxes, shapely.bounds(shape))
        near = self.corners[found]
        on_edge = meeting_edge(near, self._boxes[:, found], shape)
        inner = near[~on_edge]
        east, north = ((inner[:, 0, axis] + inner[:, 1, axis] + inner[:, 2, axis]) / 3 for axis in range(2))
        shapely.prepare(shape)
        whole = inner[shapely.contains_xy(shape, east, north)]
        return _whole_volume(whole, plane) + _edge_volume(near[on_edge], shape, plane)

    def above(self, shape: BaseGeometry, plane: Plane) -> BaseGeometry:
        """The part of a polygon over which the ground is higher than a plane; nothing where no triangle lies."""
        near = self.corners[overlapping(self._boxes, shapely.bounds(shape))]
        parts, _ = _parted(near, _over(near, plane))
        higher = parts[_over(parts, plane).mean(axis=1) > 0]
        return shared(united(np.asarray(shapely.polygons(higher[:, :, :2])).tolist()), shape)

    def most_above(self, shape: BaseGeometry, plane: Plane) -> float | None:
        """How far the ground rises above a plane at the most over a polygon [m]; None where no triangle lies there."""
        near = self.corners[overlapping(self._boxes, shapely.bounds(shape))]
        shared = shapely.intersection(shapely.polygons(near[:, :, :2]), shape)
        places, of = shapely.get_coordinates(shared, return_index=True)
        return float(_over_at(near[of], places, plane).max()) if len(places) else None

    @cached_property
    def reach(self) -> BaseGeometry:
        """The hull of all points: outside of it nothing is known."""
        return shapely.MultiPoint(self.corners.reshape(-1, 3)[:, :2]).convex_hull

    def within(self, bounds: tuple[float, float, float, float]) -> Triangles | None:
        """The triangles that reach into an upright rectangle: west, south, east, north [m]; None where none does."""
        found = self.corners[overlapping(self._boxes, np.asarray(bounds))]
        return Triangles(found) if len(found) else None

    def steepness(self, share: float) -> float:
        """The slope, height over run, than which so large a share of the area, from 0 to 1, is no steeper.

        Source: a plane's steepest slope is the length of its gradient; definition.
        """
        one, other = (self.corners[:, index] - self.corners[:, 0] for index in (1, 2))
        turn = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
        east = (one[:, 2] * other[:, 1] - other[:, 2] * one[:, 1]) / turn
        north = (other[:, 2] * one[:, 0] - one[:, 2] * other[:, 0]) / turn
        slopes, areas = np.hypot(east, north), areas_of(self.corners)
        order = np.argsort(slopes)
        covered = np.cumsum(areas[order])
        return float(slopes[order][np.searchsorted(covered, share * covered[-1]).clip(max=len(order) - 1)])

    def contour(self, up: float) -> tuple[tuple[Point, Point], ...]:
        """The pieces of the contour at a height, one a triangle; a flat triangle at that height has none.

        Source: the line in which two planes meet; a corner at the very height counts as above it.
        """
        over = self.corners[:, :, 2] >= up
        crossed = over.any(axis=1) & ~over.all(axis=1)
        return tuple(_level_line(triangle, up) for triangle in self.corners[crossed])

    @cached_property
    def lowest(self) -> float:
        """The lowest height [m]."""
        return float(self.corners[:, :, 2].min())

    @cached_property
    def highest(self) -> float:
        """The greatest height [m]."""
        return float(self.corners[:, :, 2].max())


def triangles_of(places: Array, break_lines: Sequence[Sequence[int]] = ()) -> Triangles:
    """The surface through points: an array of east, north, up [m]; break lines as chains of their indices.

    Raises GroundError for fewer than three points, for points on one line, for two heights at one place, for break
    lines that cross, and for some that meet too sharply to be respected.
    Source: Delaunay's triangulation as GEOS has it, by shapely; of its constrained kind nothing is used, because it
    passes over break lines and inner points.
    """
    if len(places) < 3:
        raise GroundError(f"{len(places)} points make no surface; three at least")
    middle = np.append(places[:, :2].mean(axis=0), 0.0)
    near = places - middle
    _refuse_twins(near)
    if break_lines:
        near = np.vstack([near, _along_breaks(near, break_lines)])
    made = shapely.delaunay_triangles(shapely.linestrings(near))
    corners = shapely.get_coordinates(made, include_z=True).reshape(-1, 4, 3)[:, :3]
    corners = without_flat(corners)
    if len(corners) == 0:
        raise GroundError("all points lie on one line")
    corners += middle
    return Triangles(corners)


def _refuse_twins(near: Array) -> None:
    order = np.argsort(near[:, 0])
    level = np.diff(near[order, 0]) == 0
    order = order[np.append(level, False) | np.append(False, level)]  # few, but on a grid
    order = order[np.lexsort((near[order, 1], near[order, 0]))]
    steps = np.abs(np.diff(near[order], axis=0))
    twins = np.flatnonzero((steps[:, 0] == 0) & (steps[:, 1] == 0) & (steps[:, 2] > APART))
    if len(twins):
        first = int(twins[0])
        raise GroundError("two points at one place have two heights", ((int(order[first]),), (int(order[first + 1]),)))


def _along_breaks(near: Array, break_lines: Sequence[Sequence[int]]) -> Array:
    """Points along the break lines, so many that no other point lies in or on the circle over any of their pieces.

    A point on the circle counts: of a square both diagonals would do, and the break line is one of them.

    Source: such a piece is a side of Delaunay's triangulation (K. R. Gabriel, R. R. Sokal, 1969; from memory).
    """
    ends = [pair for chain in break_lines for pair in itertools.pairwise(chain)]
    pieces = [(near[a], near[b]) for a, b in ends]
    _refuse_crossings(pieces, ends)
    added: list[Array] = []
    for _ in range(ROUNDS):
        known = np.vstack([near, *added]) if added else near
        halves = list(_halved(pieces, shapely.STRtree(list(np.asarray(shapely.points(known[:, :2]))))))
        new = [(one[1])[None, :] for one, other in halves if other is not None]
        if not new:
            return np.vstack(added) if added else np.empty((0, 3))
        added.extend(new)
        pieces = [piece for pair in halves for piece in pair if piece is not None]
    raise GroundError("break lines meet too sharply, or run too near to another point")


Ends = tuple[Array, Array]


def _halved(pieces: Sequence[Ends], tree: shapely.STRtree) -> Iterator[tuple[Ends, Ends | None]]:
    for start, end in pieces:
        middle = (start + end) / 2
        half = float(np.hypot(*(end - start)[:2])) / 2
        found = tree.query(shapely.Point(middle[:2]), predicate="dwithin", distance=half * (1 + 1e-9))
        places = shapely.get_coordinates(tree.geometries[found])
        inside = ((places != start[:2]).any(axis=1) & (places != end[:2]).any(axis=1)).any()
        if inside and 2 * half > SHORTEST:
            yield (start, middle), (middle, end)
        elif inside:
            raise GroundError("break lines meet too sharply, or run too near to another point")
        else:
            yield (start, end), None


def _refuse_crossings(pieces: Sequence[Ends], names: Sequence[tuple[int, int]]) -> None:
    lines = [shapely.LineString([start[:2], end[:2]]) for start, end in pieces]
    for (start, end), name in zip(pieces, names, strict=True):
        if np.hypot(*(end - start)[:2]) == 0:
            raise GroundError("a break line has two points at one place, one after the other", (name,))
    one, other = shapely.STRtree(lines).query(lines, predicate="crosses")
    if len(one):
        first, second = min((int(a), int(b)) for a, b in zip(one, other, strict=True))
        raise GroundError("two break lines cross where neither has a point", (names[first], names[second]))


def _heights(triangle: Array, places: Array) -> Array:
    """Of a triangle's plane over places."""
    return _over_at(np.broadcast_to(triangle, (len(places), 3, 3)), places, SEA)


def _crossed(triangle: Array, line: shapely.LineString) -> Iterator[Stretch]:
    shared = shapely.intersection(line, shapely.Polygon(triangle[:, :2]))
    ends = shapely.get_coordinates(shared)
    if len(ends) < 2:
        return
    stations = np.asarray(shapely.line_locate_point(line, shapely.points(ends)))
    ups = _heights(triangle, ends)
    first, last = int(stations.argmin()), int(stations.argmax())
    if stations[last] - stations[first] > APART / 1000:
        yield Stretch(*(float(each) for each in (stations[first], stations[last], ups[first], ups[last])))


def _once(stretches: Sequence[Stretch]) -> Iterator[Stretch]:
    """Without the twin of a stretch that runs along the side of two triangles."""
    reached = -np.inf
    for each in stretches:
        if each.end > reached + APART / 1000:
            yield each
            reached = each.end


def _over(corners: Array, plane: Plane) -> Array:
    """How far each corner lies above the plane."""
    ups = plane.up + (corners[..., 0] - plane.at.east) * plane.rise.east
    return np.asarray(corners[..., 2] - ups - (corners[..., 1] - plane.at.north) * plane.rise.north)


def _whole_volume(corners: Array, plane: Plane) -> Volume:
    if len(corners) == 0:
        return NOTHING
    areas = areas_of(corners)
    over = np.sort(_over(corners, plane), axis=1)
    low, middle, high = over.T
    excess = areas * over.mean(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        alone_low = areas * -(low**3) / ((middle - low) * (high - low)) / 3
        alone_high = areas * high**3 / ((high - middle) * (high - low)) / 3
    fill = np.where(low >= 0, 0.0, np.where(high <= 0, -excess, np.where(middle >= 0, alone_low, alone_high - excess)))
    return Volume(float((excess + fill).sum()), float(fill.sum()), float(areas.sum()))


def _edge_volume(corners: Array, shape: shapely.Polygon, plane: Plane) -> Volume:
    """Of triangles that the edge of the polygon runs through: each parted where it crosses the plane, then cut off."""
    if len(corners) == 0:
        return NOTHING
    parts, of = _parted(corners, _over(corners, plane))
    cut = shared_by_each(np.asarray(shapely.polygons(parts[:, :, :2])), shape)
    areas = np.asarray(shapely.area(cut))
    kept = areas > 0
    middles = shapely.get_coordinates(shapely.centroid(cut[kept]))
    volumes = areas[kept] * _over_at(corners[of[kept]], middles, plane)
    return Volume(float(volumes[volumes > 0].sum()), float(-volumes[volumes < 0].sum()), float(areas.sum()))


def _parted(corners: Array, over: Array) -> tuple[Array, npt.NDArray[np.intp]]:
    """Triangles as up to three, none of which is both above and below 0, and of which triangle each is a part."""
    order = np.argsort(over, axis=1)
    order = np.where((np.take_along_axis(over, order, 1)[:, 1] < 0)[:, None], order[:, ::-1], order)
    alone, one, other = (corners[np.arange(len(corners)), order[:, index]] for index in range(3))
    here, *there = np.take_along_axis(over, order, 1).T
    first, second = (alone + (far - alone) * _share(here, up) for far, up in zip((one, other), there, strict=True))
    rows = [(alone, first, second), (first, one, other), (first, other, second)]
    parts = np.concatenate([np.stack(row, axis=1) for row in rows])
    kept = areas_of(parts) > THIN
    return parts[kept], np.tile(np.arange(len(corners)), 3)[kept]


def _share(here: Array, there: Array) -> Array:
    """How far along each side 0 is crossed; 0 where it is not."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(here * there < 0, here / (here - there), 0.0)[:, None]


def _over_at(corners: Array, places: Array, plane: Plane) -> Array:
    """How far the planes of triangles lie above another plane, each over its own place."""
    over = _over(corners, plane)
    one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    step = places - corners[:, 0, :2]
    turn = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    along = (step[:, 0] * other[:, 1] - step[:, 1] * other[:, 0]) / turn
    aside = (one[:, 0] * step[:, 1] - one[:, 1] * step[:, 0]) / turn
    return np.asarray(over[:, 0] * (1 - along - aside) + over[:, 1] * along + over[:, 2] * aside)


def _level_line(triangle: Array, up: float) -> tuple[Point, Point]:
    ends = []
    for index in range(3):
        start, end = triangle[index], triangle[(index + 1) % 3]
        if (start[2] >= up) != (end[2] >= up):
            if start[2] > end[2]:  # both triangles of a side then tell the same place, to the last digit
                start, end = end, start
            place = start + (end - start) * ((up - start[2]) / (end[2] - start[2]))
            ends.append(Point(float(place[0]), float(place[1]), up))
    return ends[0], ends[1]
