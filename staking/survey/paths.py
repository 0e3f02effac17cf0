"""Outlines made of straight sides and pieces of circles: lengths, areas, distances, what lies inside, and faults.

A path is a row of pieces, each beginning where the one before ends; in a closed path the last ends where the first
begins. East and north in metres; a distance off a piece is positive to the left of its travel.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from staking.survey.intersections import PARALLEL, crossing
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, distance, moved, vector
from staking.survey.polygons import sides_of, signed_area

REACH = 1e-9  # metres: as near as this, a point is on a piece and two circles touch; a few steps of a float at 1e6 m
_MERGED = 1e-6  # metres: crossings nearer to each other than this are one
_UNEVEN = 1e-6  # metres: by so much the two ends of an arc may differ in distance from its centre


@dataclass(frozen=True)
class Arc:
    """A piece of a circle from start to end; where they coincide, the whole circle.

    left: it turns to the left (counter-clockwise) as it runs. Raises ValueError where the centre is not equally far
    from both ends.
    """

    start: Point
    end: Point
    centre: Point
    left: bool

    def __post_init__(self) -> None:
        near, far = sorted((distance(self.centre, self.start), distance(self.centre, self.end)))
        if near == 0 or far - near > _UNEVEN * max(1.0, 1e-3 * near):
            raise ValueError(f"the ends of the arc are {near:.6f} m and {far:.6f} m from its centre")

    @classmethod
    def through_bulge(cls, start: Point, end: Point, bulge: float) -> Arc:
        """The arc between two points whose bulge is given: tan(sweep/4), positive where it turns left.

        Raises ValueError for a bulge of 0, which is a straight line, and for ends that coincide.
        Source: DXF reference, LWPOLYLINE, group 42, from memory; ezdxf's bulge functions are the oracle in the tests.
        """
        if bulge == 0 or not math.isfinite(bulge):
            raise ValueError(f"no arc has the bulge {bulge}")
        chord = Line(start, end)
        to_centre = chord.length * (1 - bulge * bulge) / (4 * bulge)
        return cls(start, end, chord.at(chord.length / 2, to_centre), left=bulge > 0)

    @cached_property
    def radius(self) -> float:
        """Of its circle [m]."""
        return 0.5 * (distance(self.centre, self.start) + distance(self.centre, self.end))

    @cached_property
    def sweep(self) -> float:
        """The angle at the centre [deg], above 0, at most 360."""
        out, back = vector(self.centre, self.start), vector(self.centre, self.end)
        turn = math.degrees(math.atan2(out.cross(back), out.dot(back)))
        return (turn if self.left else -turn) % 360.0 or 360.0

    @property
    def length(self) -> float:
        """Along the arc [m]."""
        return self.radius * math.radians(self.sweep)

    @property
    def chord(self) -> Line:
        """Straight from start to end; of no length for a whole circle."""
        return Line(self.start, self.end)

    @cached_property
    def start_direction(self) -> Vector:
        """Of length 1: which way it leaves its start."""
        out = vector(self.centre, self.start).unit()
        return out.left() if self.left else out.right()

    @cached_property
    def end_direction(self) -> Vector:
        """Of length 1: which way it arrives at its end."""
        out = vector(self.centre, self.end).unit()
        return out.left() if self.left else out.right()

    @property
    def middle(self) -> Point:
        """The place half way along it."""
        return self.at(self.length / 2)

    @property
    def bulge(self) -> float:
        """tan(sweep/4), positive where it turns left. Raises ValueError for a whole circle, which has none.

        Source: as `through_bulge`.
        """
        if self.sweep == 360.0:
            raise ValueError("a whole circle has no bulge")
        size = math.tan(math.radians(self.sweep) / 4)
        return size if self.left else -size

    def at(self, along: float, offset: float = 0.0) -> Point:
        """The place so far along the circle from the start and so far square to the left of travel [m].

        Before the start and past the end it goes on round the circle.
        """
        turn = along / self.radius
        ahead = self.start_direction
        inward = ahead.left() if self.left else ahead.right()
        # from the start, not from the centre: a centre far away would cost digits
        place = moved(moved(self.start, ahead, self.radius * math.sin(turn)), inward, self._sagitta(turn))
        if offset == 0:
            return place
        sine, cosine = math.sin(turn), math.cos(turn)
        here = Vector(ahead.east * cosine + inward.east * sine, ahead.north * cosine + inward.north * sine)
        return moved(place, here.left(), offset)

    def _sagitta(self, turn: float) -> float:
        return 2 * self.radius * math.sin(turn / 2) ** 2

    def along(self, point: Point) -> float:
        """How far along the circle from the start the point stands, measured toward the centre [m].

        Negative before the start and more than the length past the end, whichever is nearer to the middle of the arc;
        the centre itself counts as half way.
        """
        middle, out = vector(self.centre, self.middle), vector(self.centre, point)
        turn = math.atan2(middle.cross(out) + 0.0, middle.dot(out) + 0.0)  # 0.0 makes -0.0 plain: 0 at the centre
        return self.length / 2 + self.radius * (turn if self.left else -turn)

    def offset(self, point: Point) -> float:
        """Distance of point from the circle [m], positive on the left of travel: inside where the arc turns left."""
        inside = self.radius - distance(self.centre, point)
        return inside if self.left else -inside

    def foot(self, point: Point) -> Point:
        """The place of the circle nearest to a point."""
        return self.at(self.along(point))

    def reversed(self) -> Arc:
        """The same piece of the circle, run from its end to its start."""
        return Arc(self.end, self.start, self.centre, not self.left)


Piece = Line | Arc


def pieces_of(corners: Sequence[Point], bulges: Sequence[float]) -> tuple[Piece, ...]:
    """A closed path through corners; bulge: of each side, 0 where it is straight; none at all where all are."""
    sides = sides_of(corners)
    if not any(bulges):
        return sides
    return tuple(
        Arc.through_bulge(side.start, side.end, bulge) if bulge else side
        for side, bulge in zip(sides, bulges, strict=True)
    )


def leaving(piece: Piece) -> Vector:
    """Of length 1: which way a piece leaves its start."""
    return piece.start_direction if isinstance(piece, Arc) else piece.direction


def arriving(piece: Piece) -> Vector:
    """Of length 1: which way a piece arrives at its end."""
    return piece.end_direction if isinstance(piece, Arc) else piece.direction


def reversed_path(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The same path run the other way round."""
    return tuple(p.reversed() if isinstance(p, Arc) else Line(p.end, p.start) for p in reversed(pieces))


def nearest(piece: Piece, point: Point) -> tuple[float, Point]:
    """Least distance [m] from a point to the piece itself, its ends included, and the place on the piece."""
    along = piece.along(point)
    if 0 < along < piece.length:
        foot = piece.foot(point)
        return distance(foot, point), foot
    return min(((distance(end, point), end) for end in (piece.start, piece.end)), key=lambda found: found[0])


def crossings(a: Piece, b: Piece) -> tuple[Point, ...]:
    """Where two pieces meet: crossings, touchings, and ends of one that lie on the other, each once.

    Pieces that run over each other meet at the ends of the stretch they share.
    """
    candidates = [a.start, a.end, b.start, b.end, *_unbounded(a, b)]
    places: list[Point] = []
    for place in candidates:
        met = nearest(a, place)[0] <= REACH and nearest(b, place)[0] <= REACH
        if met and all(distance(place, known) > _MERGED for known in places):
            places.append(place)
    return tuple(places)


def _unbounded(a: Piece, b: Piece) -> tuple[Point, ...]:
    """Where the whole lines and circles meet that two pieces are parts of."""
    if isinstance(a, Arc):
        return _two_circles(a, b) if isinstance(b, Arc) else _line_and_circle(b, a)
    if isinstance(b, Arc):
        return _line_and_circle(a, b)
    return () if abs(a.direction.cross(b.direction)) < PARALLEL else (crossing(a, b),)


def _line_and_circle(line: Line, arc: Arc) -> tuple[Point, ...]:
    along, off = line.along(arc.centre), abs(line.offset(arc.centre))
    if off > arc.radius + REACH:
        return ()
    if off >= arc.radius - REACH:
        return (line.at(along),)
    half = math.sqrt((arc.radius - off) * (arc.radius + off))
    return line.at(along - half), line.at(along + half)


def _two_circles(a: Arc, b: Arc) -> tuple[Point, ...]:
    base, most, least = distance(a.centre, b.centre), a.radius + b.radius, abs(a.radius - b.radius)
    if base <= REACH or not least - REACH <= base <= most + REACH:
        return ()  # circles of one centre, apart, or one within the other
    axis = Line(a.centre, b.centre)
    along = (base + (a.radius - b.radius) * most / base) / 2
    if base <= least + REACH or base >= most - REACH:
        return (axis.at(math.copysign(a.radius, along)),)
    half = math.sqrt(max(0.0, (a.radius - along) * (a.radius + along)))
    return axis.at(along, half), axis.at(along, -half)


def least_distance(a: Piece, b: Piece) -> tuple[float, Point, Point]:
    """The least distance between two pieces [m] and the place of it on each; 0 and one place where they meet.

    The shortest tie between pieces that do not meet ends at an end of one, or is square to both.
    """
    if met := crossings(a, b):
        return 0.0, met[0], met[0]
    ties = [_tie(a, b, place) for place in (a.start, a.end, *_square_places(a, b))]
    back = [_tie(b, a, place) for place in (b.start, b.end, *_square_places(b, a))]
    return min(ties + [(length, on_a, on_b) for length, on_b, on_a in back], key=lambda tie: tie[0])


def _tie(a: Piece, b: Piece, place: Point) -> tuple[float, Point, Point]:
    on_a = nearest(a, place)[1]
    length, on_b = nearest(b, on_a)
    return length, on_a, on_b


def _square_places(piece: Piece, other: Piece) -> tuple[Point, ...]:
    """Where a tie that is square to both can leave a piece; its line or circle taken whole."""
    if isinstance(piece, Line):
        return (piece.foot(other.centre),) if isinstance(other, Arc) else ()
    if isinstance(other, Line):
        normal = other.direction.left()
    elif distance(piece.centre, other.centre) > 0:
        normal = vector(piece.centre, other.centre).unit()
    else:
        return ()  # of one centre: the ends tell
    return moved(piece.centre, normal, piece.radius), moved(piece.centre, normal, -piece.radius)


def path_length(pieces: Iterable[Piece]) -> float:
    """Along all pieces [m]."""
    return math.fsum(piece.length for piece in pieces)


def path_area(pieces: Sequence[Piece]) -> float:
    """Area of a closed path [m2], positive where it runs counter-clockwise.

    The area of the chords by coordinates, and for every arc the segment r^2 (sweep - sin sweep) / 2 between it and its
    chord, added where it turns left. Source: area of a circular segment, from memory; densified outlines in shapely are
    the oracle in the tests.

    >>> path_area([Line(Point(0, 0), Point(2, 0)), Arc(Point(2, 0), Point(0, 0), Point(1, 0), left=True)]) * 2
    3.141592653589793
    """
    chords = signed_area([piece.start for piece in pieces])
    return math.fsum([chords, *(_segment(piece) for piece in pieces if isinstance(piece, Arc))])


def _segment(arc: Arc) -> float:
    turn = math.radians(arc.sweep)
    area = 0.5 * arc.radius**2 * (turn - math.sin(turn))
    return area if arc.left else -area


def contains(pieces: Sequence[Piece], point: Point) -> bool:
    """Whether a point lies inside a closed path, either way round, or on it within a millionth of a millimetre.

    By the angle through which an eye at the point turns as it follows the path: once round, or not at all.
    """
    if any(nearest(piece, point)[0] <= REACH for piece in pieces):
        return True
    return round(math.fsum(_seen(piece, point) for piece in pieces) / math.tau) != 0


def _seen(piece: Piece, point: Point) -> float:
    """The angle [rad] an eye at point turns as it follows a piece, positive to the left.

    From outside its circle an arc is seen under less than half a turn, as its chord is; from inside, the eye turns
    one way all the time.
    """
    first, last = vector(point, piece.start), vector(point, piece.end)
    turn = math.atan2(first.cross(last), first.dot(last))
    if isinstance(piece, Line) or distance(piece.centre, point) >= piece.radius:
        return turn
    return turn % math.tau or math.tau if piece.left else -(-turn % math.tau or math.tau)


def flattened(pieces: Sequence[Piece], chord_error: float) -> tuple[Point, ...]:
    """Corners of a path with its arcs as chords that leave them by at most so much [m]; every corner is on the path.

    The first corner of a closed path is not repeated; an open path keeps its end. Raises ValueError unless chord_error
    is above 0.
    """
    if not chord_error > 0:
        raise ValueError("the error of a chord must be above 0")
    corners = [corner for piece in pieces for corner in _chord_starts(piece, chord_error)]
    closed = distance(pieces[-1].end, pieces[0].start) <= _MERGED
    return tuple(corners) if closed else (*corners, pieces[-1].end)


def _chord_starts(piece: Piece, error: float) -> list[Point]:
    if isinstance(piece, Line):
        return [piece.start]
    most = 4 * math.asin(math.sqrt(min(error / (2 * piece.radius), 0.1)))  # from error = r (1 - cos(step / 2))
    count = math.ceil(math.radians(piece.sweep) / most)
    return [piece.start, *(piece.at(piece.length * i / count) for i in range(1, count))]


def first_fault(pieces: Sequence[Piece], least: float) -> tuple[str, int, int] | None:
    """The first thing wrong with a closed path: what ("short", "spike", "touching", "crossing"), and its two pieces.

    Pieces count from 0. least: pieces shorter than this [m] are faults, and so are pieces that come nearer to each
    other than this without being neighbours. None where the path is sound.
    """
    count = len(pieces)
    for index, piece in enumerate(pieces):
        if piece.length < least:
            return ("short", index, index)
    for index in range(count if count > 1 else 0):
        before, here = arriving(pieces[index - 1]), leaving(pieces[index])
        if abs(before.cross(here)) < PARALLEL and before.dot(here) < 0:
            return ("spike", (index - 1) % count, index)
    boxes = [_box(piece, least) for piece in pieces]
    for first in range(count):
        for second in range(first + 1, count):
            if _apart(boxes[first], boxes[second]):
                continue
            if what := _meeting(pieces, first, second, least):
                return (what, first, second)
    return None


_Box = tuple[float, float, float, float]  # west, south, east, north


def _box(piece: Piece, spare: float) -> _Box:
    """A box that holds a piece, and half of what must be between two pieces more; of an arc it may be too large."""
    wide = spare / 2
    if isinstance(piece, Arc):
        wide += piece.radius if piece.sweep > 180 else abs(piece.bulge) * piece.chord.length / 2
    easts, norths = (piece.start.east, piece.end.east), (piece.start.north, piece.end.north)
    return min(easts) - wide, min(norths) - wide, max(easts) + wide, max(norths) + wide


def _apart(a: _Box, b: _Box) -> bool:
    return a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]


def _meeting(pieces: Sequence[Piece], first: int, second: int, least: float) -> str | None:
    """How two pieces of a closed path meet where they should not."""
    a, b, count = pieces[first], pieces[second], len(pieces)
    shared = [a.end] if second - first == 1 else []
    shared += [a.start] if first == 0 and second == count - 1 else []
    met = [place for place in crossings(a, b) if all(distance(place, corner) > least for corner in shared)]
    if any(_cuts_through(a, b, place) for place in met):
        return "crossing"
    return "touching" if met or _too_near(a, b, shared, least) else None


def _cuts_through(a: Piece, b: Piece, place: Point) -> bool:
    if any(distance(place, end) <= REACH for end in (a.start, a.end, b.start, b.end)):
        return False
    return abs(_direction_at(a, place).cross(_direction_at(b, place))) > _MERGED


def _direction_at(piece: Piece, place: Point) -> Vector:
    return vector(piece.centre, place).unit().left() if isinstance(piece, Arc) else piece.direction


def _too_near(a: Piece, b: Piece, shared: Sequence[Point], least: float) -> bool:
    """Neighbours may be near each other at the corner they share, not at their other ends."""
    if not shared:
        return least_distance(a, b)[0] <= least
    pairs = ((a, end) for end in (b.start, b.end)), ((b, end) for end in (a.start, a.end))
    far = [(piece, end) for pair in pairs for piece, end in pair if all(distance(end, s) > least for s in shared)]
    return any(nearest(piece, end)[0] <= least for piece, end in far)
