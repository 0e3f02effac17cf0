"""Areas against published tracts; offsets, faults and ways round shapes against shapely."""

from __future__ import annotations

import math
from itertools import accumulate
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.lines import Line
from staking.survey.points import Point, distance
from staking.survey.polygons import beyond_everything, first_fault, offset_outward, polygon, signed_area, turning

CASES = published("inverse")
ELL = (Point(0, 0), Point(9, 0), Point(9, 4), Point(5, 4), Point(5, 8), Point(0, 8))


@pytest.mark.parametrize("case", [c for c in CASES if c["what"] == "area"], ids=lambda case: str(case["id"]))
def test_areas_agree_with_double_meridian_distances(case: dict[str, Any]) -> None:
    """Area by coordinates gives what the published tables give by double meridian distances."""
    norths, easts = accumulate(case["latitudes"]), accumulate(case["departures"])
    corners = [Point(e, n) for e, n in zip(easts, norths, strict=True)]
    assert abs(signed_area(corners)) == pytest.approx(case["area"], abs=case["within"])


def test_ell_of_the_exam_question() -> None:
    """The corner coordinates give the sides, the diagonals and the area of the L-shaped building."""
    case = next(c for c in CASES if c["id"] == "f10")
    at = {name: Point(*place) for name, place in case["corners"].items()}
    names = list(at)
    for a, b, side in zip(names, names[1:] + names[:1], case["sides"], strict=True):
        assert distance(at[a], at[b]) == pytest.approx(side, abs=case["within"])
    for pair, diagonal in case["diagonals"].items():
        assert distance(at[pair[0]], at[pair[1]]) == pytest.approx(diagonal, abs=case["within"])
    assert signed_area(list(at.values())) == pytest.approx(-case["area"], abs=0.05)


@given(st.floats(0.01, 0.9), st.floats(0, 359))
def test_offset_outline_agrees_with_shapely(by: float, turn: float) -> None:
    """Sides moved outward with mitred corners are shapely's mitred buffer."""
    sine, cosine = math.sin(math.radians(turn)), math.cos(math.radians(turn))
    corners = [Point(c.east * cosine - c.north * sine, c.east * sine + c.north * cosine) for c in ELL]
    ours = polygon(offset_outward(corners, by))
    theirs = polygon(corners).buffer(by, join_style="mitre", mitre_limit=10)
    assert ours.symmetric_difference(theirs).area < 1e-6


def test_offset_that_swallows_a_side_is_refused() -> None:
    """A side that would turn over is refused; no offset changes nothing; a straight corner keeps its place."""
    with pytest.raises(ValueError, match="shorter"):
        offset_outward(ELL, -4.5)
    assert offset_outward(ELL, 0.0) == ELL
    straight = [Point(0, 0), Point(2, 0), Point(4, 0), Point(4, 3), Point(0, 3)]
    assert offset_outward(straight, 1.0)[1] == Point(2.0, -1.0)


@pytest.mark.parametrize(
    ("corners", "fault"),
    [
        (ELL, None),
        ((Point(0, 0), Point(4, 0), Point(4, 0.001), Point(0, 3)), ("short", 1, 1)),
        ((Point(0, 0), Point(4, 0), Point(2, 0), Point(2, 3)), ("spike", 0, 1)),
        ((Point(0, 0), Point(4, 4), Point(4, 0), Point(0, 4)), ("crossing", 0, 2)),
        ((Point(0, 0), Point(8, 0), Point(8, 4), Point(4, 0), Point(0, 4)), ("touching", 0, 2)),
    ],
)
def test_faults_name_the_two_sides(corners: tuple[Point, ...], fault: tuple[str, int, int] | None) -> None:
    """Short, doubling back, crossing and touching sides are found and named; a sound outline has none."""
    assert first_fault(corners, 0.01) == fault


def test_turning_is_positive_to_the_left() -> None:
    """The inside corner of a counter-clockwise ell turns to the right."""
    assert [math.copysign(1, turning(ELL, i)) for i in range(6)] == [1, 1, 1, -1, 1, 1]


def test_way_past_a_shape() -> None:
    """From the inside corner, the line of a side leaves the ell at the far side; off the shape nothing is ahead."""
    line = Line(Point(9, 4), Point(5, 4))
    aside = Line(Point(0, 20), Point(1, 20))
    assert beyond_everything([line, aside], polygon(ELL)) == pytest.approx((9.0, 1.0))


def test_way_past_a_second_wing() -> None:
    """A line that leaves the shape and meets it again is followed to the last crossing."""
    u_shape = shapely.union_all([shapely.box(0, 0, 2, 6), shapely.box(8, 0, 10, 6), shapely.box(0, 0, 10, 1)])
    assert beyond_everything([Line(Point(1, 3), Point(2, 3))], u_shape) == pytest.approx((9.0,))


def test_sides_at_the_edge_of_what_is_allowed() -> None:
    """A side moved in until nothing is left of it is refused; a side exactly as long as the least is no fault."""
    with pytest.raises(ValueError, match="shorter"):
        offset_outward([Point(0, 0), Point(4, 0), Point(4, 3), Point(0, 3)], -1.5)
    assert first_fault([Point(0, 0), Point(4, 0), Point(4, 0.25)], 0.25) is None
