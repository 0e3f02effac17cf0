"""Where the courses of a record lead, how far from closing they are, how to balance them, and which call may be wrong.

East and north in metres, azimuths in degrees clockwise from north. A misclosure is signed from the start to where the
courses end: the sums of the latitudes (north) and of the departures (east). Nothing is balanced unasked.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from staking.survey.angles import difference, direction, fold
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece, path_area, path_length
from staking.survey.points import Point, Vector, azimuth_of, moved, vector

CLOSED = 1e-9  # metres: below this nothing is left to close but arithmetic


@dataclass(frozen=True)
class Closure:
    """How far a row of courses ends from where it began.

    north, east: sums of latitudes and of departures [m]. azimuth: from the start to where the courses end [deg], None
    where they close. perimeter [m]: along the arcs. ratio: the perimeter over the distance, None where they close.
    """

    north: float
    east: float
    distance: float
    azimuth: float | None
    perimeter: float
    ratio: float | None

    @property
    def back(self) -> float | None:
        """From where the courses end to the start [deg], the way a closing line runs; None where they close."""
        return None if self.azimuth is None else fold(self.azimuth + 180.0)


@dataclass(frozen=True)
class Change:
    """What balancing did to a course or the chord of a curve: its length [m], and its azimuth [deg], clockwise."""

    length: float
    azimuth: float


def step(azimuth: float, length: float) -> Vector:
    """Latitude and departure of a course: how far north and east it leads [m].

    Source: latitude = length cos azimuth, departure = length sin azimuth; the published cases of
    tests/published/traverse.toml give the same.
    """
    way = direction(azimuth)
    return Vector(way.east * length, way.north * length)


def ends(start: Point, steps: Sequence[Vector]) -> tuple[Point, ...]:
    """The start, and where each step ends."""
    return tuple(accumulate(steps, lambda place, way: moved(place, way, 1.0), initial=start))


def closure(pieces: Sequence[Piece]) -> Closure:
    """The misclosure of courses and curves laid one after the other."""
    return closure_of(_chords(pieces), path_length(pieces))


def closure_of(steps: Sequence[Vector], perimeter: float) -> Closure:
    """The misclosure of latitudes and departures."""
    gap = _sum(steps)
    if gap.length < CLOSED:
        return Closure(gap.north, gap.east, gap.length, None, perimeter, None)
    return Closure(gap.north, gap.east, gap.length, azimuth_of(gap), perimeter, perimeter / gap.length)


def balanced(steps: Sequence[Vector]) -> tuple[Vector, ...]:
    """The steps with their misclosure spread in proportion to their lengths. Raises ValueError where all are nothing.

    Source: compass rule, from memory; the published cases give the same.
    """
    gap, total = _sum(steps), math.fsum(s.length for s in steps)
    if total == 0:
        raise ValueError("steps of no length cannot be balanced")
    shares = [s.length / total for s in steps]
    return tuple(
        Vector(s.east - gap.east * share, s.north - gap.north * share) for s, share in zip(steps, shares, strict=True)
    )


def compass(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces balanced by the compass rule, beginning where they began and closing there.

    A curve counts with the length of its chord; it is turned and stretched with its chord, so that its central angle
    stays and its radius changes as the chord does (own choice). Raises ValueError as `balanced`.
    """
    corners = ends(pieces[0].start, balanced(_chords(pieces)))
    closed = [*corners[:-1], corners[0]]
    return tuple(_carried(piece, a, b) for piece, (a, b) in zip(pieces, pairwise(closed), strict=True))


def _carried(piece: Piece, start: Point, end: Point) -> Piece:
    """A piece turned and stretched so that it runs between two other places."""
    if isinstance(piece, Line):
        return Line(start, end)
    old, new = vector(piece.start, piece.end), vector(start, end)
    out, size = vector(piece.start, piece.centre), old.dot(old)
    if size == 0:  # a whole circle has no chord to follow
        return Arc(start, end, moved(start, out, 1.0), piece.left)
    along, aside = out.dot(old) / size, old.cross(out) / size
    return Arc(start, end, moved(moved(start, new, along), new.left(), aside), piece.left)


def changes(before: Sequence[Piece], after: Sequence[Piece]) -> tuple[Change, ...]:
    """What balancing changed, course by course."""
    return tuple(_change(a, b) for a, b in zip(_chords(before), _chords(after), strict=True))


def _change(before: Vector, after: Vector) -> Change:
    if before.length == 0 or after.length == 0:
        return Change(after.length - before.length, 0.0)
    return Change(after.length - before.length, difference(azimuth_of(before), azimuth_of(after)))


def _chords(pieces: Sequence[Piece]) -> list[Vector]:
    return [vector(piece.start, piece.end) for piece in pieces]


def _sum(steps: Sequence[Vector]) -> Vector:
    return Vector(math.fsum(s.east for s in steps), math.fsum(s.north for s in steps))


def turned_wrong(pieces: Sequence[Piece], area: float, within: float) -> tuple[int, ...]:
    """The curves of a closed path that would give it a stated area [m2], within so much, if they turned the other way.

    None where the path has that area as it is. A curve by its chord closes whichever way it turns: only the area
    tells. area is unsigned.
    """
    if abs(abs(path_area(pieces)) - area) <= within:
        return ()
    found = []
    for index, piece in enumerate(pieces):
        if isinstance(piece, Arc) and piece.sweep < 360:
            mirrored = [*pieces[:index], Arc.through_bulge(piece.start, piece.end, -piece.bulge), *pieces[index + 1 :]]
            if abs(abs(path_area(mirrored)) - area) <= within:
                found.append(index)
    return tuple(found)
