"""How does the ground fall away from the slab: square to every side all along it, and every way out of its corners?

    :   :   :   :   . .'        Heights of a surface of triangles change evenly between the lines on which rays
    :   :   :   :  . .'         meet a side of a triangle, at their near end or their far one, or pass a corner of
----+---+---+---+ -.- - -       one. So the least fall beside a side is on one of these rays. Out of a corner it
 side of the slab  . : : .      is also where a triangle rises most. Nothing lies between the rays that is worse.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from staking.kinds.slab import Form
from staking.survey.lines import Line
from staking.survey.overlays import united
from staking.survey.paths import arriving, flattened, leaving
from staking.survey.points import Point, Vector, moved
from staking.survey.polygons import line_string, polygon
from staking.survey.triangles import Array, Triangles

ASIDE = 0.001  # metres; so near to the edge of something paved the ground is the paving's
COARSE = 0.01  # metres; how far the chords of an arc may leave it here
APART = 1e-6  # metres; rays nearer to one another than this are one


@dataclass(frozen=True, slots=True)
class Ray:
    """Out from a place on the edge of the slab. along [m]: of the side. drop [m]: how much the ground falls to its end.

    climb [m]: the most that it rises again on the way, less what it rises from end to end.
    """

    start: Point
    way: Vector
    along: float
    drop: float
    climb: float


@dataclass(frozen=True)
class Beside:
    """The ground beside a side, or out of a corner. side, corner: of the outline, from 0; one of them.

    length [m]: of the side, as far as ground lies beside it. rays: in order, those beside one another in one row.
    unknown [m]: along so much of it the ground is not known; of a corner above 0 where any of it is not.
    """

    name: str
    side: int | None
    corner: int | None
    length: float
    rows: tuple[tuple[Ray, ...], ...]
    unknown: float

    @property
    def least(self) -> Ray | None:
        """The ray along which the ground falls least."""
        return min((ray for row in self.rows for ray in row), key=lambda ray: ray.drop, default=None)

    @property
    def dip(self) -> Ray | None:
        """The ray on which it rises again the most."""
        return max((ray for row in self.rows for ray in row), key=lambda ray: ray.climb, default=None)

    def short(self, of: float) -> float:
        """Along how much of it the ground falls less than so much [m]."""
        return math.fsum(_short(*pair, of) for row in self.rows for pair in pairwise(row))


def _short(one: Ray, other: Ray, of: float) -> float:
    low, high = sorted((one.drop - of, other.drop - of))
    length = other.along - one.along
    return 0.0 if low >= 0 else length if high <= 0 else length * low / (low - high)


def beside_slab(form: Form, ground: Triangles, within: float, paved: Sequence[BaseGeometry]) -> tuple[Beside, ...]:
    """All sides, then all outside corners. within [m]: how far out. paved: beside these the ground is not asked."""
    parts = [polygon(corners) for _, corners in form.parts]
    around = _Around(form, ground, within, united([*parts, *paved]))
    return (*around.sides(), *around.corners())


class _Around:
    """The ground within so much of a slab."""

    def __init__(self, form: Form, ground: Triangles, within: float, paved: BaseGeometry) -> None:
        self.form, self.within, self.paved = form, within, paved
        self.ground = Triangles(_near(ground.corners, shapely.bounds(form.whole), within))
        corners = self.ground.corners
        self.bends = np.unique(corners.reshape(-1, 3)[:, :2].round(6), axis=0)
        self.edges = _Edges(corners[:0])  # beside the line or corner that is looked at
        self.rims = [Point(east, north) for east, north in shapely.get_coordinates(form.whole).tolist()]
        shapely.prepare(paved)

    def sides(self) -> Iterator[Beside]:
        """One after the other; an arc by its chords."""
        for index, piece in enumerate(self.form.pieces):
            places = [piece.start, piece.end] if isinstance(piece, Line) else flattened([piece], COARSE)
            done, length, unknown = 0.0, 0.0, 0.0
            rows: list[tuple[Ray, ...]] = []
            for line in (Line(a, b) for a, b in pairwise(places)):
                own, known, not_known = self._along(line, done)
                rows, length, unknown = [*rows, *own], length + known + not_known, unknown + not_known
                done += line.length
            yield Beside(self.form.outline.side_label(index), index, None, length, tuple(rows), unknown)

    def _out(self, way: Vector) -> Vector:
        return way.right() if self.form.outline.counter_clockwise else way.left()

    def _along(self, line: Line, done: float) -> tuple[list[tuple[Ray, ...]], float, float]:
        """Rows of rays along a line; how much of it they cover, and how much ground is not known [m]."""
        out = self._out(line.direction)
        strip = shapely.bounds(line_string(line))
        self.edges = _Edges(_near(self.ground.corners, strip, self.within), line.direction)
        rows: list[list[Ray]] = [[]]
        lengths = {True: 0.0, False: 0.0}
        last: tuple[float, bool] | None = None
        for at in self._stations(line, out):
            start = line.at(at)
            if self._is_covered(start, out):
                rows.append([])
                last = None
                continue
            ray = self._ray(start, out, done + at)
            if ray is None:
                rows.append([])
            else:
                rows[-1].append(ray)
            if last is not None:
                lengths[last[1] and ray is not None] += at - last[0]
            last = (at, ray is not None)
        return [tuple(row) for row in rows if row], lengths[True], lengths[False]

    def _stations(self, line: Line, out: Vector) -> list[float]:
        """Where along a line the fall may change otherwise than evenly, or something paved begins [m]."""
        far = Line(moved(line.start, out, self.within), moved(line.end, out, self.within))
        met = [end for each in (line, far) for s in self.ground.along(each.start, each.end) for end in (s.start, s.end)]
        passed = [line.along(place) for place in self._near(line)]
        rims = [line.along(place) for place in (*self.rims, *self._paved_ends(line, out)) if self._before(line, place)]
        edges = [rim + by for rim in rims for by in (-2 * ASIDE, 2 * ASIDE)]
        inside = np.unique(np.array([at for at in (*met, *passed, *edges) if 0 < at < line.length] or [0.0]))
        return _apart([0.0, *inside.tolist(), line.length])

    def _paved_ends(self, line: Line, out: Vector) -> list[Point]:
        """Where something paved begins and ends beside a line."""
        beside = line_string(Line(moved(line.start, out, ASIDE / 2), moved(line.end, out, ASIDE / 2)))
        ends = shapely.get_coordinates(shapely.intersection(beside, self.paved))
        return [Point(east, north) for east, north in ends.tolist()]

    def _before(self, line: Line, place: Point) -> bool:
        off = line.offset(place)
        return -ASIDE < (-off if self._out(line.direction) == line.direction.right() else off) < self.within

    def _near(self, line: Line) -> list[Point]:
        """Corners of triangles beside a line."""
        steps = self.bends - [line.start.east, line.start.north]
        along = steps @ [line.direction.east, line.direction.north]
        out = self._out(line.direction)
        off = steps @ [out.east, out.north]
        kept = self.bends[(along > 0) & (along < line.length) & (off > 0) & (off < self.within)]
        return [Point(east, north) for east, north in kept.tolist()]

    def _is_covered(self, start: Point, way: Vector) -> bool:
        """Whether a ray begins on something paved, or runs into concrete again."""
        if self.paved.dwithin(_spot(start), ASIDE):
            return True
        ray = line_string(Line(moved(start, way, ASIDE), moved(start, way, self.within)))
        return bool(self.form.whole.intersects(ray))

    def _ray(self, start: Point, way: Vector, along: float) -> Ray | None:
        end = moved(start, way, self.within)
        near, far = self.ground.height(start), self.ground.height(end)
        if near is None or far is None:
            return None
        ups = np.concatenate([[near], self._profile(start, way), [far]])
        climb = float((ups - np.minimum.accumulate(ups)).max())
        return Ray(start, way, along, near - far, climb - max(0.0, far - near))

    def _profile(self, start: Point, way: Vector) -> Array:
        """The heights at which a ray crosses sides of triangles, in order outward."""
        edges = self.edges.met_from(start)
        steps = [each[:, :2] - [start.east, start.north] for each in edges]
        (one, other), (off, beyond) = (
            [step @ np.array([axis.east, axis.north]) for step in steps] for axis in (way, way.left())
        )
        with np.errstate(invalid="ignore", divide="ignore"):
            share = off / (off - beyond)
            at = one + (other - one) * share
        met = (share >= 0) & (share <= 1) & (at > 0) & (at < self.within)
        ups = edges[0][met, 2] + (edges[1][met, 2] - edges[0][met, 2]) * share[met]
        return np.asarray(ups[np.argsort(at[met], kind="stable")])

    def corners(self) -> Iterator[Beside]:
        """Every outside corner, fanned out from square to one side to square to the other."""
        for index, at in enumerate(self.form.corners):
            before, after = arriving(self.form.pieces[index - 1]), leaving(self.form.pieces[index])
            first, last = self._out(before), self._out(after)
            turn = first.cross(last) if self.form.outline.counter_clockwise else last.cross(first)
            if turn < 1e-3:
                continue
            self.edges = _Edges(_near(self.ground.corners, shapely.bounds(_spot(at)), self.within))
            ways = [first, *(way for way in self._ways(at) if _between(first, way, last)), last]
            kept = [way for way in ways if not self._is_covered(at, way)]
            rays = [ray for way in kept if (ray := self._ray(at, way, 0.0)) is not None]
            unknown = float(len(kept) - len(rays))
            yield Beside(self.form.outline.corner_label(index), None, index, 0.0, (tuple(rays),), unknown)

    def _ways(self, at: Point) -> Iterator[Vector]:
        """To every corner of a triangle near a place, to where its sides leave the circle, and where it rises most."""
        middle = np.array([at.east, at.north])
        near = _near(self.ground.corners, shapely.bounds(_spot(at)), self.within)
        steps = near[:, :, :2] - middle
        yield from _units(steps.reshape(-1, 2))
        for index in range(3):
            yield from _units(_crossings(steps[:, index], steps[:, (index + 1) % 3], self.within))
        yield from _units(_uphill(near))


def _spot(at: Point) -> shapely.Point:
    return shapely.Point(at.east, at.north)


class _Edges:
    """Sides of triangles. along: of a line from which rays run out square to it; each then meets only some of them."""

    def __init__(self, corners: Array, along: Vector | None = None) -> None:
        self.ends, self.along = _edges(corners), along
        if along is not None:
            first, last = (each[:, :2] @ np.array([along.east, along.north]) for each in self.ends)
            low, high = np.minimum(first, last), np.maximum(first, last)
            order = np.argsort(low, kind="stable")
            self.ends = self.ends[0][order], self.ends[1][order]
            self.low, self.widest = low[order], float((high - low).max(initial=0.0))

    def met_from(self, start: Point) -> tuple[Array, Array]:
        """Beginnings and ends of those that a ray from there may meet, and of hardly any others."""
        if self.along is None:
            return self.ends
        at = start.east * self.along.east + start.north * self.along.north
        first, last = np.searchsorted(self.low, [at - self.widest - APART, at + APART])
        return self.ends[0][first:last], self.ends[1][first:last]


def _edges(corners: Array) -> tuple[Array, Array]:
    """Where the sides of triangles begin and end, each side once."""
    ends = np.stack([corners.reshape(-1, 3), np.roll(corners, -1, axis=1).reshape(-1, 3)], axis=1)
    swapped = (ends[:, 0, 0] > ends[:, 1, 0]) | ((ends[:, 0, 0] == ends[:, 1, 0]) & (ends[:, 0, 1] > ends[:, 1, 1]))
    ends[swapped] = ends[swapped][:, ::-1]
    once = np.unique(ends.reshape(-1, 6), axis=0)
    return once[:, :3], once[:, 3:]


def _near(corners: Array, bounds: Array, within: float) -> Array:
    """The triangles that may lie within so much of a box."""
    low, high = corners[:, :, :2].min(axis=1), corners[:, :, :2].max(axis=1)
    far = within + 1.0
    return np.asarray(corners[((low <= bounds[2:] + far) & (high >= bounds[:2] - far)).all(axis=1)])


def _crossings(start: Array, end: Array, radius: float) -> Array:
    """Where lines from start to end, counted from the middle of a circle, cross it."""
    step = end - start
    a, b = (step * step).sum(axis=1), (start * step).sum(axis=1)
    c = (start * start).sum(axis=1) - radius * radius
    with np.errstate(invalid="ignore", divide="ignore"):
        root = np.sqrt(b * b - a * c)
        shares = np.concatenate([(-b - root) / a, (-b + root) / a])
    both = np.concatenate([start, start]) + shares[:, None] * np.concatenate([step, step])
    return np.asarray(both[(shares >= 0) & (shares <= 1)])


def _uphill(triangles: Array) -> Array:
    """The direction in which each triangle rises most."""
    one, other = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    normal = np.cross(one, other)
    return np.asarray(-normal[:, :2] * np.sign(normal[:, 2:]))


def _units(steps: Array) -> Iterator[Vector]:
    for east, north in np.unique(steps.round(9), axis=0).tolist():
        if (length := math.hypot(east, north)) > 1e-9:
            yield Vector(east / length, north / length)


def _between(first: Vector, way: Vector, last: Vector) -> bool:
    """Whether a direction lies within the smaller angle between two others."""
    turn = math.copysign(1.0, first.cross(last))
    return turn * first.cross(way) > 0 and turn * way.cross(last) > 0


def _apart(stations: Iterable[float]) -> list[float]:
    kept: list[float] = []
    for at in sorted(stations):
        if not kept or at - kept[-1] > APART:
            kept.append(at)
    return kept
