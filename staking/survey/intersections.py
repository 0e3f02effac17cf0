"""Where two lines of sight, two tapes, or a line and a tape meet, and how well the crossing fixes the place.

East and north in metres; angles in degrees.
"""

from __future__ import annotations

import math

from staking.survey.lines import Line
from staking.survey.points import Point, Vector, azimuth, distance, vector

PARALLEL = 1e-9  # sine of the smallest angle between lines that are said to cross


def crossing(first: Line, second: Line) -> Point:
    """Where two lines, however far extended, cross. Raises ValueError for parallel lines.

    Source: direction-direction intersection; checked against J. Mahun, open-access surveying library, COGO chapter B.

    >>> crossing(Line(Point(0, 0), Point(1, 1)), Line(Point(2, 0), Point(1, 1)))
    Point(east=1.0, north=1.0, up=None)
    """
    sine = first.direction.cross(second.direction)
    if abs(sine) < PARALLEL:
        raise ValueError("parallel lines do not cross")
    gap = vector(first.start, second.start)
    return first.at(gap.cross(second.direction) / sine)


def along_and_tape(line: Line, centre: Point, tape: float) -> tuple[Point, ...]:
    """The places on a line, forward of its start or behind it, at a tape's distance [m] from centre; none, one or two.

    They come in the order in which the line meets them.
    Source: direction-distance intersection; checked against J. Mahun, COGO chapter E section 2.
    """
    middle, off = line.along(centre), line.offset(centre)
    if abs(off) > tape:
        return ()
    half = math.sqrt(tape * tape - off * off)
    return (line.at(middle),) if half == 0 else (line.at(middle - half), line.at(middle + half))


def two_tapes(first: Point, tape_first: float, second: Point, tape_second: float) -> tuple[Point, Point]:
    """Where two tapes held at two points meet: first the place on the left of first-to-second, then on the right.

    Raises ValueError, with the gap [m], where the tapes cannot meet.
    Source: distance-distance intersection; checked against the assignment R, S of the published cases.
    """
    base = distance(first, second)
    if base == 0:
        raise ValueError("both tapes are held at the same place")
    gap = max(base - tape_first - tape_second, abs(tape_first - tape_second) - base)
    if gap > 0:
        raise ValueError(f"the tapes miss each other by {gap:.4f} m")
    along = (tape_first**2 - tape_second**2 + base**2) / (2 * base)
    off = math.sqrt(max(0.0, tape_first**2 - along**2))
    line = Line(first, second)
    return line.at(along, off), line.at(along, -off)


def angle_at(place: Point, first: Point, second: Point) -> float:
    """The angle seen at place between two points [deg], from 0 to 180; 90 fixes a crossing best."""
    turn = (azimuth(place, second) - azimuth(place, first)) % 360.0
    return min(turn, 360.0 - turn)


def angle_between(first: Vector, second: Vector) -> float:
    """The angle between two directions, taken without their sense [deg], from 0 to 90."""
    return math.degrees(math.atan2(abs(first.cross(second)), abs(first.dot(second))))
