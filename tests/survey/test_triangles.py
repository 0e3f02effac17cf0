"""The surface of the ground: closed forms, an oracle, laws, break lines, and points no surface can be made of."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from making import Turn, turns

from staking.survey.points import Point, Vector
from staking.survey.surface import Plane
from staking.survey.triangles import Array, GroundError, triangles_of

SQUARE = np.array([(0, 0, 0), (10, 0, 1), (10, 10, 1), (0, 10, 0), (4, 5, 0.4)], dtype=float)
SEA = Plane(Point(0, 0), 0.0)
ELL = shapely.Polygon([(1, 1), (9, 1), (9, 4), (4, 4), (4, 8), (1, 8)])
random_places = st.lists(
    st.tuples(st.floats(0, 10).map(lambda x: round(x, 2)), st.floats(0, 10).map(lambda x: round(x, 2))),
    min_size=3,
    max_size=25,
    unique=True,
).map(lambda inner: np.array([(-5, -5, 0), (15, -5, 1), (15, 15, 0), (-5, 15, 2), *_raised(inner)], dtype=float))


def _raised(places: list[tuple[float, float]]) -> list[tuple[float, float, float]]:
    return [(e, n, math.sin(e) + math.cos(2 * n)) for e, n in places]


def _turned(places: Array, turn: Turn) -> Array:
    return np.array([(*turn(e, n), up) for e, n, up in places.tolist()])


def _polygon(turn: Turn) -> shapely.Polygon:
    return shapely.Polygon([turn(e, n) for e, n in shapely.get_coordinates(ELL).tolist()])


def test_plane_cut_by_a_plane() -> None:
    """Ground that rises 1 in 10, against a level plane at half its height: two wedges of 12.5 each."""
    volume = triangles_of(SQUARE).volume(shapely.box(0, 0, 10, 10), Plane(Point(0, 0), 0.5))
    assert (volume.cut, volume.fill, volume.area) == pytest.approx((12.5, 12.5, 100))


def test_cone_over_a_round_pad() -> None:
    """A heap with 400 points at its foot holds a third of base times height, the base as that polygon has it."""
    foot = [(5 * math.cos(a), 5 * math.sin(a), 0.0) for a in np.linspace(0, math.tau, 400, endpoint=False).tolist()]
    volume = triangles_of(np.array([*foot, (0.0, 0.0, 3.0)])).volume(shapely.box(-9, -9, 9, 9), SEA)
    assert volume.cut == pytest.approx(volume.area * 3 / 3)
    assert volume.cut == pytest.approx(math.pi * 25, rel=1e-4)


def test_prismoid_of_a_bank() -> None:
    """Two level terraces and the slope between them, held by break lines: length times area of the section."""
    places = [(e, n, 2.0 if n > 5 else 0.0) for n in (0.0, 4.0, 6.0, 10.0) for e in (0.0, 20.0)]
    bank = triangles_of(np.array(places), [(2, 3), (4, 5)])
    assert bank.volume(shapely.box(0, 0, 20, 10), SEA).cut == pytest.approx(20 * (2 * 4 + 2 * 2 / 2))


@pytest.mark.parametrize(("one", "other", "middle"), [(0, 2, 10.0), (1, 3, 0.0)])
def test_a_break_line_across_a_square_is_respected(one: int, other: int, middle: float) -> None:
    """Both diagonals of a square are Delaunay's; the one that is a break line holds."""
    square = np.array([[0, 0, 10], [8, 0, 0], [8, 8, 10], [0, 8, 0]], dtype=float)
    assert triangles_of(square, [(one, other)]).height(Point(4, 4)) == pytest.approx(middle)


def test_a_break_line_is_respected() -> None:
    """A ridge between points that lie nearer to one another than its ends: the ground on it is its own."""
    places = np.array([(0, 0, 5), (20, 0, 5), (10, 1, 0), (10, -1, 0), (10, 9, 0), (10, -9, 0)], dtype=float)
    assert triangles_of(places).height(Point(10, 0)) == pytest.approx(0)
    ridge = triangles_of(places, [(0, 1)])
    assert [ridge.height(Point(e, 0)) for e in (0.1, 5, 10, 19)] == pytest.approx([5] * 4)


def test_outside_nothing_is_known() -> None:
    """No height, a gap in the line, and less area than the polygon has."""
    ground = triangles_of(SQUARE)
    assert ground.height(Point(11, 5)) is None
    assert np.isnan(ground.heights(np.array([[11.0, 5.0]]))[0])
    stretches = ground.along(Point(-5, 5), Point(15, 5))
    assert (stretches[0].start, stretches[-1].end) == pytest.approx((5, 15))
    assert ground.volume(shapely.box(5, 0, 15, 10), SEA).area == pytest.approx(50)


@given(random_places)
def test_volume_is_that_of_many_samples(places: Array) -> None:
    """A fine grid of heights by interpolation sums to the same cut and fill, within what its cells can tell."""
    ground, plane = triangles_of(places), Plane(Point(0, 0), 0.4, Vector(0.05, -0.02))
    east, north = (each.ravel() for each in np.meshgrid(np.arange(1.05, 9, 0.1), np.arange(1.05, 8, 0.1)))
    inside = shapely.contains_xy(ELL, east, north)
    spots = np.column_stack([east[inside], north[inside]])
    over = ground.heights(spots) - (0.4 + 0.05 * spots[:, 0] - 0.02 * spots[:, 1])
    volume = ground.volume(ELL, plane)
    assert volume.cut == pytest.approx(over[over > 0].sum() * 0.01, abs=0.15)
    assert volume.fill == pytest.approx(-over[over < 0].sum() * 0.01, abs=0.15)


@given(random_places, turns)
def test_volume_does_not_know_the_frame(places: Array, turn: Turn) -> None:
    """A heap and a polygon moved and turned to state plane numbers hold the same earth."""
    # four points on one circle may be parted the other way, so the middle of the surface is made uneven first
    uneven = places + np.array([0.003, 0.001, 0]) * np.arange(len(places))[:, None] ** 1.5
    here = triangles_of(uneven).volume(ELL, SEA)
    there = triangles_of(_turned(uneven, turn)).volume(_polygon(turn), SEA)
    assert (there.cut, there.fill) == pytest.approx((here.cut, here.fill), rel=1e-5, abs=1e-5)


@given(random_places, st.floats(-3, 3))
def test_raising_the_floor_changes_the_excess_by_area_times_height(places: Array, by: float) -> None:
    """Cut less fill is mean difference of height times area, so it falls by the area for each metre."""
    ground = triangles_of(places)
    low, high = ground.volume(ELL, SEA), ground.volume(ELL, SEA.lowered(-by))
    assert low.excess - high.excess == pytest.approx(by * ELL.area, abs=1e-9)
    assert low.area == pytest.approx(ELL.area)


def test_a_point_on_the_side_of_two_others_leaves_no_step() -> None:
    """The middle of four points on a circle, which lies on their diagonal: heights on both sides of it are its own."""
    places = [(e, n, 0.0) for e in (-46.096, 33.904) for n in (-46.308, 34.692)]
    ground = triangles_of(np.array([*places, (-6.096, -6.308, 0.0), (-6.096, -5.808, 0.5)]))
    heights = [ground.height(Point(-6.096 + e, -5.808 + n)) for e, n in ((0.002, 0.002), (-0.002, 0.002), (0, 0))]
    assert heights == pytest.approx([0.5] * 3, abs=1e-3)


def test_contours_lie_at_their_height() -> None:
    """Each piece of the contour ends on the surface, at the height asked for."""
    ground = triangles_of(SQUARE)
    pieces = ground.contour(0.35)
    assert len(pieces) > 1
    assert [ground.height(end) for piece in pieces for end in piece] == pytest.approx([0.35] * (2 * len(pieces)))
    assert ground.contour(2.0) == ()
    assert (ground.lowest, ground.highest) == (0, 1)


@pytest.mark.parametrize(
    ("places", "lines", "words"),
    [
        ([(0, 0, 0), (1, 1, 0)], [], "three at least"),
        ([(0, 0, 0), (1, 1, 0), (2, 2, 0)], [], "one line"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0), (1, 0, 2)], [], "two heights"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0), (1, 1, 0)], [(0, 3), (1, 2)], "cross"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 0)], [(0, 3)], "one place"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0.3, 0.001, 0)], [(0, 1)], "too sharply"),
    ],
)
def test_points_no_surface_can_be_made_of(
    places: list[tuple[float, float, float]], lines: list[tuple[int, int]], words: str
) -> None:
    """Each is refused with its reason."""
    with pytest.raises(GroundError, match=words):
        triangles_of(np.array(places, dtype=float), lines)


@pytest.mark.parametrize("angle", [0.0, 17.0, 119.0, 203.3])
def test_points_nearly_on_one_line_make_no_triangle(angle: float) -> None:
    """A turned grid has rows that are straight but for the last digit; a sliver at its edge tells any height."""
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    places = [(x, y, 100 + x * y / 50) for x in (0.0, 7.3, 19.0, 30.0) for y in (0.0, 11.0, 24.0)]
    turned = [(x * cosine + y * sine, y * cosine - x * sine, up) for x, y, up in places]
    made = triangles_of(np.array(turned))
    for east, north, up in turned:
        assert made.height(Point(east, north)) == pytest.approx(up, abs=1e-6)
    assert len(made.corners) == 12
