"""Planes, and what a rod reads: published cases, then laws."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.points import Point, Vector
from staking.survey.surface import (
    Plane,
    cut,
    height_of_instrument,
    height_read,
    plane_through,
    rise_of,
    rod_reading,
    same_height,
)

CASES: Mapping[str, Mapping[str, Any]] = {case["id"]: case for case in published("heights")}
SIZE = st.floats(-100, 100)
SMALL = st.floats(-0.1, 0.1)


def test_a_cut_stake_tells_what_is_left() -> None:
    """The reading at grade is the hub's and the cut; what is left is that less the reading on the ground."""
    case = CASES["e01"]
    sight = height_of_instrument(0.0, case["rod_on_hub"])
    design = 0.0 - case["marked_cut"]
    assert rod_reading(sight, design) == pytest.approx(case["grade_rod"], abs=1e-9)
    assert cut(height_read(sight, case["rod_on_ground"]), design) == pytest.approx(case["remaining"], abs=1e-9)


def test_a_target_above_the_line_of_sight_still_has_its_fill() -> None:
    """No rod can be read there, and the fill comes out as published all the same."""
    case = CASES["e03"]
    sight = height_of_instrument(case["benchmark"], case["backsight"])
    ground = height_read(sight, case["foresight"])
    assert (sight, ground) == pytest.approx((case["sight"], case["ground"]), abs=0.005)
    assert rod_reading(sight, case["finish"]) < 0
    assert -cut(ground, case["finish"]) == pytest.approx(case["fill"], abs=0.005)


def test_heights_of_one_setup() -> None:
    """Each height is the line of sight less its reading."""
    case = CASES["e10"]
    sight = height_of_instrument(case["benchmark"], case["backsight"])
    assert [height_read(sight, each) for each in case["readings"]] == pytest.approx(case["heights"], abs=0.0005)


def test_a_run_of_setups_by_turning_points() -> None:
    """Every height of instrument of the published run, and the height it ends on."""
    case = CASES["d01"]
    height, sights = case["start"], []
    for back, fore in zip(case["backsights"], case["foresights"], strict=True):
        sights.append(height_of_instrument(height, back))
        height = height_read(sights[-1], fore)
    assert sights == pytest.approx(case["sights"], abs=0.0005)
    assert height == pytest.approx(case["end"], abs=0.0005)


@given(SMALL, SMALL, st.floats(0, 360), st.floats(20, 160))
def test_two_falls_are_what_a_level_along_each_shows(first: float, second: float, turn: float, apart: float) -> None:
    """Ten metres along either direction the plane is lower by ten times its fall."""
    ways = [Vector(math.sin(math.radians(a)), math.cos(math.radians(a))) for a in (turn, turn + apart)]
    plane = Plane(Point(0, 0), 0.0, rise_of(list(zip(ways, (first, second), strict=True))))
    for way, fall in zip(ways, (first, second), strict=True):
        assert plane.height(Point(10 * way.east, 10 * way.north)) == pytest.approx(-10 * fall, abs=1e-9)


@given(SIZE, SMALL, SMALL)
def test_three_places_tell_the_plane(up: float, east: float, north: float) -> None:
    """A plane through three of its own places is that plane."""
    plane = Plane(Point(1, 2), up, Vector(east, north))
    three = [Point(e, n, plane.height(Point(e, n))) for e, n in ((0, 0), (30, 5), (-4, 20))]
    assert plane_through(three[0], three[1], three[2]).height(Point(7, 9)) == pytest.approx(plane.height(Point(7, 9)))


def test_what_tells_no_plane_is_refused() -> None:
    """Three falls, two along one line, places on one line, and an unknown height."""
    way = Vector(0, 1)
    with pytest.raises(ValueError, match="no more than two"):
        rise_of([(way, 0.1)] * 3)
    with pytest.raises(ValueError, match="one line"):
        rise_of([(way, 0.1), (way.reversed(), 0.2)])
    with pytest.raises(ValueError, match="one line"):
        plane_through(Point(0, 0, 0), Point(1, 1, 0), Point(2, 2, 0))
    with pytest.raises(ValueError, match="three heights"):
        plane_through(Point(0, 0, 0), Point(1, 1), Point(2, 0, 0))


def test_downhill_lowered_and_alike() -> None:
    """Water runs against the rise; a lowered plane keeps its fall; heights are one within a limit."""
    plane = Plane(Point(0, 0), 10.0, rise_of([(Vector(0, -1), 0.02)]))
    assert plane.downhill == Vector(0, -1)
    assert plane.lowered(1).height(Point(0, 5)) == pytest.approx(9.1)
    assert plane.steepness == 0.02
    assert rise_of([]) == Vector(0, 0)
    assert same_height(1.0, 1.001, 0.002) is not same_height(1.0, 1.003, 0.002)
