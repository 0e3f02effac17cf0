"""Arcs and paths with arcs against finely chorded outlines in shapely, ezdxf's bulges, and laws of their own."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
import shapely
from ezdxf.math import bulge_center, bulge_radius
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from staking.survey.angles import difference
from staking.survey.lines import Line
from staking.survey.paths import (
    Arc,
    Piece,
    arriving,
    contains,
    crossings,
    first_fault,
    flattened,
    least_distance,
    leaving,
    nearest,
    path_area,
    path_length,
    reversed_path,
)
from staking.survey.points import Point, azimuth_of, distance

FINE = 1e-6  # metres: error of the chords the oracle is given
SLOW = settings(deadline=None, max_examples=40)  # thousands of chords each

places = st.builds(Point, st.floats(-50, 50), st.floats(-50, 50))
bulges = st.builds(lambda size, sign: sign * math.exp(size), st.floats(-4, 2), st.sampled_from([-1, 1]))


def _apart(a: Point, b: Point) -> bool:
    return distance(a, b) > 0.5


@st.composite
def arcs(draw: st.DrawFn) -> Arc:
    """An arc anywhere, short or nearly whole."""
    start, end = draw(places), draw(places)
    assume(_apart(start, end))
    return Arc.through_bulge(start, end, draw(bulges))


@st.composite
def lines(draw: st.DrawFn) -> Line:
    """A line anywhere."""
    start, end = draw(places), draw(places)
    assume(_apart(start, end))
    return Line(start, end)


pieces = st.one_of(arcs(), lines())


@st.composite
def lots(draw: st.DrawFn) -> tuple[Piece, ...]:
    """A closed path round a middle, counter-clockwise, some of its sides bulging a little in or out."""
    count = draw(st.integers(3, 8))
    reach = draw(st.lists(st.floats(20, 40), min_size=count, max_size=count))
    bent = draw(st.lists(st.floats(-0.2, 0.3), min_size=count, max_size=count))
    turn = draw(st.floats(0, 360))
    angles = [math.radians(turn + 360 * i / count) for i in range(count)]
    corners = [Point(r * math.cos(a), r * math.sin(a)) for r, a in zip(reach, angles, strict=True)]
    return _joined(corners, bent)


def _joined(corners: list[Point], bent: list[float]) -> tuple[Piece, ...]:
    sides = zip(corners, [*corners[1:], corners[0]], bent, strict=True)
    return tuple(Line(a, b) if abs(bulge) < 0.02 else Arc.through_bulge(a, b, bulge) for a, b, bulge in sides)


def _string(piece: Piece) -> shapely.LineString:
    corners = flattened([piece], FINE)
    return shapely.LineString([(c.east, c.north) for c in (*corners, piece.end)])


def _outline(path: tuple[Piece, ...]) -> shapely.Polygon:
    return shapely.Polygon([(c.east, c.north) for c in flattened(path, FINE)])


def _dot(point: Point) -> shapely.Point:
    return shapely.Point(point.east, point.north)


@given(arcs())
def test_bulges_agree_with_ezdxf(arc: Arc) -> None:
    """Centre, radius and bulge of an arc are what another program makes of its bulge."""
    ends = (arc.start.east, arc.start.north), (arc.end.east, arc.end.north)
    centre = bulge_center(*ends, arc.bulge)
    assert distance(arc.centre, Point(centre.x, centre.y)) < 1e-8 * max(1, arc.radius)
    assert arc.radius == pytest.approx(bulge_radius(*ends, arc.bulge), rel=1e-9)
    again = Arc.through_bulge(arc.start, arc.end, arc.bulge)
    assert distance(again.centre, arc.centre) < 1e-8 * max(1, arc.radius)


@pytest.mark.parametrize("left", [True, False])
def test_quarter_circle(left: bool) -> None:
    """From the south of a circle a quarter to the left ends in the east; to the right three quarters do."""
    arc = Arc(Point(0, -2), Point(2, 0), Point(0, 0), left)
    share = 1 if left else 3
    assert (arc.sweep, arc.length) == pytest.approx((90 * share, math.pi * share))
    assert azimuth_of(arc.start_direction) == (90 if left else 270)
    assert azimuth_of(arc.end_direction) == (0 if left else 180)
    middle = Point(math.sqrt(2), -math.sqrt(2)) if left else Point(-math.sqrt(2), math.sqrt(2))
    assert distance(arc.middle, middle) < 1e-12
    assert arc.bulge == pytest.approx(math.tan(math.pi / 8 * share) * (1 if left else -1))
    assert arc.chord == Line(arc.start, arc.end)


@given(arcs(), st.floats(0, 1), st.floats(-0.9, 0.9))
def test_along_and_offset_undo_at(arc: Arc, share: float, off: float) -> None:
    """A place so far along and so far to the left is found there again, and the foot is the place on the arc."""
    along, offset = arc.length * share, off * arc.radius
    place = arc.at(along, offset)
    reach = 1e-8 * max(1.0, arc.radius)
    assert arc.offset(place) == pytest.approx(offset, abs=reach)
    assert distance(arc.foot(place), arc.at(along)) < 10 * reach
    assert arc.offset(arc.at(along, 0.01)) == pytest.approx(0.01, abs=reach)


@given(arcs())
def test_ends_of_an_arc(arc: Arc) -> None:
    """An arc at no distance is at its start, at its length at its end; what is past an end has more or less."""
    assert arc.at(0.0) == Point(arc.start.east, arc.start.north)
    assert distance(arc.at(arc.length), arc.end) < 1e-8 * max(1, arc.radius)
    step = min(0.01, (360 - arc.sweep) / 4)
    assert arc.along(arc.at(-step)) < 0
    assert arc.along(arc.at(arc.length + step)) > arc.length
    assert arc.along(arc.centre) == pytest.approx(arc.length / 2)


@given(arcs())
def test_reversed_arc_is_the_same_piece(arc: Arc) -> None:
    """Run the other way, an arc has the same length and middle, the opposite bulge and directions."""
    back = arc.reversed()
    assert (back.length, back.bulge) == pytest.approx((arc.length, -arc.bulge), rel=1e-9)
    assert distance(back.middle, arc.middle) < 1e-8 * max(1, arc.radius)
    assert back.start_direction == arc.end_direction.reversed()
    assert arc.offset(Point(3, 4)) == -back.offset(Point(3, 4))


def test_whole_circle() -> None:
    """An arc that ends where it starts is the whole circle; it has an area and no bulge."""
    circle = Arc(Point(2, 0), Point(2, 0), Point(0, 0), left=True)
    assert (circle.sweep, path_area([circle])) == pytest.approx((360, 4 * math.pi))
    assert contains([circle], Point(1, -1))
    assert not contains([circle], Point(2, -1))
    assert first_fault([circle], 0.01) is None
    with pytest.raises(ValueError, match="bulge"):
        _ = circle.bulge


@pytest.mark.parametrize("bulge", [0.0, math.inf, math.nan])
def test_no_arc_without_a_bulge(bulge: float) -> None:
    """A straight line, or no number, makes no arc."""
    with pytest.raises(ValueError, match="bulge"):
        Arc.through_bulge(Point(0, 0), Point(1, 0), bulge)


@pytest.mark.parametrize("end", [Point(0, 2.1), Point(0, 0)])
def test_centre_must_be_equally_far(end: Point) -> None:
    """Ends at different distances from the centre make no arc."""
    with pytest.raises(ValueError, match="from its centre"):
        Arc(Point(2, 0), end, Point(0, 0), left=True)


@SLOW
@given(pieces, places)
def test_nearest_agrees_with_shapely(piece: Piece, point: Point) -> None:
    """The least distance from a point to a piece is that to its fine chords, and the place is on the piece."""
    least, place = nearest(piece, point)
    assert least == pytest.approx(_string(piece).distance(_dot(point)), abs=3 * FINE)
    assert distance(place, point) == least
    assert abs(piece.offset(place)) < 1e-8 * max(1, piece.length)


@SLOW
@given(pieces, pieces)
def test_least_distance_agrees_with_shapely(a: Piece, b: Piece) -> None:
    """The least distance between pieces is that of their fine chords, and both places are on them."""
    least, on_a, on_b = least_distance(a, b)
    assert least == pytest.approx(_string(a).distance(_string(b)), abs=4 * FINE)
    assert distance(on_a, on_b) == pytest.approx(least, abs=1e-12)
    assert nearest(a, on_a)[0] < 1e-7
    assert nearest(b, on_b)[0] < 1e-7


@SLOW
@given(pieces, pieces)
def test_crossings_lie_on_both(a: Piece, b: Piece) -> None:
    """Crossings lie on both pieces, are the same whichever comes first, and are there where the chords cross well."""
    met = crossings(a, b)
    assert all(nearest(piece, place)[0] < 2e-9 for place in met for piece in (a, b))
    assert len(met) == len(crossings(b, a))
    assert met or not _string(a).intersects(_string(b)) or least_distance(a, b)[0] < 3 * FINE


CIRCLE = Arc(Point(2, 0), Point(2, 0), Point(0, 0), left=True)


@pytest.mark.parametrize(
    ("other", "met"),
    [
        (Line(Point(-3, 0), Point(3, 0)), 2),  # through the middle
        (Line(Point(-3, 2), Point(3, 2)), 1),  # touching
        (Line(Point(-3, 2.001), Point(3, 2.001)), 0),
        (Line(Point(0, 0), Point(1, 1)), 0),  # inside
        (Arc(Point(5, 0), Point(5, 0), Point(3, 0), left=True), 2),
        (Arc(Point(6, 0), Point(6, 0), Point(4, 0), left=True), 1),  # touching from outside
        (Arc(Point(1, 0), Point(1, 0), Point(1.5, 0), left=True), 1),  # touching from inside
        (Arc(Point(6, 0), Point(6, 0), Point(4.5, 0), left=True), 0),
        (Arc(Point(1, 0), Point(1, 0), Point(0, 0), left=True), 0),  # of one centre
        (Arc(Point(0, 2), Point(-2, 0), Point(0, 0), left=True), 2),  # on the same circle
    ],
)
def test_ways_to_meet_a_circle(other: Piece, met: int) -> None:
    """Lines and circles meet a circle twice, once or not at all; a stretch that is shared counts by its ends."""
    assert len(crossings(CIRCLE, other)) == met
    assert (least_distance(CIRCLE, other)[0] == 0) == (met > 0)


def test_parallel_lines_meet_where_they_overlap() -> None:
    """Lines that run over each other meet at the ends of what they share."""
    one, other = Line(Point(0, 0), Point(4, 0)), Line(Point(3, 0), Point(9, 0))
    assert crossings(one, other) == (Point(4, 0), Point(3, 0))
    assert crossings(one, Line(Point(0, 1), Point(4, 1))) == ()


def test_touching_where_a_curve_begins() -> None:
    """A tangent curve and its course meet at the corner they share, once."""
    course = Line(Point(-9, 0), Point(0, 0))
    curve = Arc(Point(0, 0), Point(3, 3), Point(0, 3), left=True)
    assert crossings(course, curve) == (Point(0, 0),)
    assert leaving(curve) == arriving(course)


@SLOW
@given(lots())
def test_area_and_length_agree_with_shapely(lot: tuple[Piece, ...]) -> None:
    """Area and length of a path are those of its fine chords, and running it the other way turns the area's sign."""
    outline = _outline(lot)
    assert path_length(lot) == pytest.approx(outline.length, abs=1e-4)
    assert path_area(lot) == pytest.approx(outline.area, abs=outline.length * FINE)
    assert path_area(reversed_path(lot)) == pytest.approx(-path_area(lot), abs=1e-8)


@SLOW
@given(lots(), places)
def test_containment_agrees_with_shapely(lot: tuple[Piece, ...], point: Point) -> None:
    """A point is inside where it is inside the fine chords, whichever way the path runs and wherever it begins."""
    outline = _outline(lot)
    assume(outline.is_valid and outline.exterior.distance(_dot(point)) > 3 * FINE)
    inside = outline.contains(_dot(point))
    assert contains(lot, point) == inside
    assert contains(reversed_path(lot), point) == inside
    assert contains([*lot[1:], lot[0]], point) == inside


@SLOW
@given(lots())
def test_edges_and_chords_count(lot: tuple[Piece, ...]) -> None:
    """Places on the edge are inside; the middle of the chord of a bulge is inside where it bulges out only."""
    for piece in lot:
        assert contains(lot, piece.at(piece.length * 0.3))
        chord = Line(piece.start, piece.end)
        if isinstance(piece, Arc) and abs(piece.bulge) > 0.05 and _outline(lot).is_valid:
            assert contains(lot, chord.at(chord.length / 2)) == (piece.bulge > 0)


@SLOW
@given(lots(), st.floats(-180, 180), places)
def test_turning_and_moving_change_nothing(lot: tuple[Piece, ...], turn: float, to: Point) -> None:
    """A path turned and moved keeps its area, its length, its distances and what it contains."""
    sine, cosine = math.sin(math.radians(turn)), math.cos(math.radians(turn))

    def carried(p: Point) -> Point:
        return Point(to.east + p.east * cosine - p.north * sine, to.north + p.east * sine + p.north * cosine)

    other = [_carried(piece, carried) for piece in lot]
    assert path_area(other) == pytest.approx(path_area(lot), abs=1e-8)
    assert least_distance(other[0], other[2])[0] == pytest.approx(least_distance(lot[0], lot[2])[0], abs=1e-8)
    assert contains(other, carried(Point(1, 2))) == contains(lot, Point(1, 2))


def _carried(piece: Piece, carry: Any) -> Piece:
    if isinstance(piece, Arc):
        return Arc(carry(piece.start), carry(piece.end), carry(piece.centre), piece.left)
    return Line(carry(piece.start), carry(piece.end))


@SLOW
@given(lots(), st.sampled_from([1e-4, 1e-2, 1.0]))
def test_chords_keep_their_error(lot: tuple[Piece, ...], error: float) -> None:
    """Corners of a flattened path are on it, and no chord leaves its arc by more than is allowed."""
    corners = flattened(lot, error)
    assert corners[0] == lot[0].start
    assert all(min(nearest(piece, corner)[0] for piece in lot) < 1e-9 for corner in corners)
    middles = [Line(a, b).at(distance(a, b) / 2) for a, b in pairwise(corners)]
    assert all(min(nearest(piece, middle)[0] for piece in lot) <= error * 1.0001 for middle in middles)


def test_open_path_keeps_its_end() -> None:
    """A flattened path that does not close ends with its end; an error of nothing is refused."""
    assert flattened([Line(Point(0, 0), Point(1, 0))], 0.1) == (Point(0, 0), Point(1, 0))
    with pytest.raises(ValueError, match="above 0"):
        flattened([CIRCLE], 0.0)


A, B, C, D = Point(0, 0), Point(8, 0), Point(8, 6), Point(0, 6)


@pytest.mark.parametrize(
    ("path", "fault"),
    [
        (_joined([A, B, C, D], [0.3, -0.2, 0.0, 1.0]), None),
        (_joined([A, Point(2, 0), Point(2, 6), D], [0.0, -0.8, 0.0, 0.0]), ("crossing", 1, 3)),  # its chord does not
        (_joined([A, B, C], [0.0, -0.6, 0.0]), ("crossing", 1, 2)),  # an arc across its neighbour
        ((Line(A, B), Arc.through_bulge(B, A, 0.7)), None),
        ((Line(A, B), Line(B, A)), ("spike", 1, 0)),
        (_joined([A, B, Point(8, 0.004), D], [0.0, 1.0, 0.0, 0.0]), ("short", 1, 1)),
        (
            (Line(A, B), Arc(B, Point(4, 4), Point(8, 4), left=False), Line(Point(4, 4), D), Line(D, A)),
            ("spike", 0, 1),
        ),
        (_joined([A, B, C, Point(4, 0), D], [0.0] * 5), ("touching", 0, 2)),
        (_joined([A, B, C, D], [-0.7499, 0.0, -0.7499, 0.0]), ("touching", 0, 2)),
    ],
)
def test_faults_of_paths(path: tuple[Piece, ...], fault: tuple[str, int, int] | None) -> None:
    """Short pieces, cusps, arcs that cross or nearly touch another side are found and named; sound paths have none."""
    assert first_fault(path, 0.01) == fault


def test_far_centre_costs_no_digits() -> None:
    """A curve of 100 km radius is as exact as a straight line, in state plane coordinates too."""
    arc = Arc.through_bulge(Point(600000, 200000), Point(600100, 200000), 0.00025)
    assert arc.radius == pytest.approx(100000.006, abs=0.001)
    assert distance(arc.middle, Point(600050, 200000 - 0.0125)) < 1e-6
    assert difference(90, azimuth_of(arc.start_direction)) == pytest.approx(0.02865, abs=1e-5)


def test_three_quarters_of_a_circle_and_their_chord() -> None:
    """Beyond half a circle the sine of the sweep is below 0: three quarters of 4 pi, and a triangle of 2 by 2."""
    arc = Arc(Point(2, 0), Point(0, -2), Point(0, 0), left=True)
    assert path_area([arc, Line(arc.end, arc.start)]) == pytest.approx(3 * math.pi + 2)


def test_no_more_chords_than_the_error_asks_for() -> None:
    """One chord less would leave the arc by more, r (1 - cos(step / 2)); a whole circle stays a figure."""
    arc = Arc(Point(10, 0), Point(0, 10), Point(0, 0), left=True)
    chords = len(flattened([arc], 0.01)) - 1
    errors = [10 * (1 - math.cos(math.pi / 4 / count)) for count in (chords, chords - 1)]
    assert errors[0] <= 0.01 < errors[1]
    assert len(flattened([CIRCLE], 10.0)) >= 3


def test_how_uneven_an_arc_may_be() -> None:
    """Half a millionth of a metre between its two radii is rounding, a tenth of a millimetre is not."""
    assert Arc(Point(2, 0), Point(0, 2.0000005), Point(0, 0), left=True).radius == pytest.approx(2)
    with pytest.raises(ValueError, match="from its centre"):
        Arc(Point(2, 0), Point(0, 2.0001), Point(0, 0), left=True)


@pytest.mark.parametrize(("off", "fault"), [(0.0075, ("touching", 0, 2)), (0.0125, None)])
def test_how_near_two_pieces_may_come(off: float, fault: tuple[str, int, int] | None) -> None:
    """The tip of a notch nearer to the first side than the least is a fault, and farther from it is none."""
    assert first_fault(_joined([A, B, C, Point(4, off), D], [0.0] * 5), 0.01) == fault
