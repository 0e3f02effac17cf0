"""Distances off and along lines, and the line of best fit against scikit-image."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from skimage.measure import LineModelND

from staking.survey.lines import Line, best_fit
from staking.survey.points import Point, Vector, distance

numbers = st.floats(-300.0, 300.0)
places = st.builds(Point, numbers, numbers)


@given(places, places, places)
def test_off_and_along_lead_back(start: Point, end: Point, place: Point) -> None:
    """So far along and so far off is the place itself again."""
    assume(distance(start, end) > 0.1)
    line = Line(start, end)
    assert distance(line.at(line.along(place), line.offset(place)), place) < 1e-9
    assert distance(line.foot(place), place) == pytest.approx(abs(line.offset(place)), abs=1e-9)


def test_left_is_positive() -> None:
    """Walking north, what lies west is on the left."""
    assert Line(Point(0, 0), Point(0, 5)).offset(Point(-2, 1)) == 2


@given(st.lists(st.tuples(st.floats(0, 50), st.floats(-0.5, 0.5)), min_size=3, max_size=12), st.floats(0, 180))
def test_best_fit_agrees_with_scikit_image(raw: list[tuple[float, float]], turn: float) -> None:
    """The total least squares line of scikit-image runs through the same places."""
    assume(max(a for a, _ in raw) - min(a for a, _ in raw) > 10)
    sine, cosine = np.sin(np.radians(turn)), np.cos(np.radians(turn))
    points = [Point(a * cosine - b * sine, a * sine + b * cosine) for a, b in raw]
    assume(distance(points[0], points[-1]) > 1)
    line, residuals = best_fit(points)
    model = LineModelND.from_estimate(  # type: ignore[no-untyped-call]  # scikit-image has no types
        np.array([(p.east, p.north) for p in points])
    )
    direction = Vector(*model.direction)
    assert abs(line.direction.cross(direction)) < 1e-6
    assert abs(line.offset(Point(*model.origin))) < 1e-6
    assert sum(residuals) == pytest.approx(0.0, abs=1e-6)


def test_best_fit_runs_from_first_to_last() -> None:
    """The line has the sense of its points, and two points are the line."""
    line, residuals = best_fit([Point(10, 0.1), Point(5, -0.1), Point(0, 0.1)])
    assert line.direction.east < 0
    assert max(abs(r) for r in residuals) < 0.2
    assert best_fit([Point(0, 0), Point(1, 2)]) == (Line(Point(0, 0), Point(1, 2)), (0.0, 0.0))


def test_no_line_through_a_heap_or_a_single_point() -> None:
    """Points that show no direction are refused."""
    with pytest.raises(ValueError, match="two points"):
        best_fit([Point(0, 0)])
    with pytest.raises(ValueError, match="heap"):
        best_fit([Point(0, 0), Point(1, 0), Point(1, 1), Point(0, 1)])


def test_a_stubby_row_of_points_still_has_a_direction() -> None:
    """Four corners of 1.02 by 1 m are no heap: the line runs along the longer side, half a metre from each."""
    line, residuals = best_fit([Point(0, 0), Point(0, 1), Point(1.02, 0), Point(1.02, 1)])
    assert abs(line.direction.cross(Vector(1.0, 0.0))) < 1e-9
    assert residuals == pytest.approx((-0.5, 0.5, -0.5, 0.5))
