"""Laws of comparing what was set with what was computed."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import RandomSite, Turn, layout_of, random_sites, turns
from measuring import HOW, as_designed, carried, codes, off, turned
from scipy.optimize import least_squares as scipy_fit

from staking import Layout, MeasuredPoint, compare
from staking.field.compared import Comparison
from staking.field.design_points import design_points
from staking.survey.points import Point, distance

small = st.floats(-0.02, 0.02)
degrees = st.floats(-3.0, 3.0)


def _everything(layout: Layout) -> list[MeasuredPoint]:
    return as_designed(layout, *(each.name for each in design_points(layout)))


def _scattered(layout: Layout, seed: int) -> list[MeasuredPoint]:
    drawn = random.Random(seed)  # noqa: S311 - the same points each time
    return [off(each, drawn.gauss(0, 0.004), drawn.gauss(0, 0.004)) for each in as_designed(layout)]


@settings(max_examples=20, deadline=None)
@given(random_sites, turns)
def test_measured_as_designed_is_zero_everywhere(site: RandomSite, turn: Turn) -> None:
    """Wherever the site lies: no difference, shift, turn or shape, no finding, margins as drawn."""
    layout = layout_of(site.text(turn))
    found = compare(layout, _everything(layout), HOW)
    assert max(each.plan.length for each in found.deviations) == 0
    assert found.placement is not None
    assert max(found.placement.largest_placed, found.placement.largest_shape, abs(found.placement.turn)) < 1e-9
    assert max(abs(each.difference) for each in found.lengths) < 1e-9
    assert max(abs(each.off) for each in found.angles) < 1e-9
    assert [each.now for each in found.margins] == [each.design for each in found.margins]
    assert set(codes(found)) <= {"measured-over-line"}  # where the drawing itself is over a line


@settings(max_examples=30, deadline=None)
@given(random_sites, small, small, degrees)
def test_a_rigid_move_is_pure_placement(site: RandomSite, east: float, north: float, turn: float) -> None:
    """Shift and turn come back as they were put in, and shape, sides, diagonals and angles are zero."""
    layout = layout_of(site.text())
    move = turned(layout.slab.form.corners[0], turn, east, north)
    found = compare(layout, carried(as_designed(layout), move), HOW, limit=5.0)
    placed = found.placement
    assert placed is not None
    assert placed.turn == pytest.approx(turn, abs=1e-9)
    assert placed.largest_shape < 1e-9
    middle = Point(placed.middle.east + placed.shift.east, placed.middle.north + placed.shift.north)
    assert distance(move(placed.middle), middle) < 1e-9
    assert max(abs(each.difference) for each in found.lengths if each.kind != "tie") < 1e-9
    assert max(abs(each.off) for each in found.angles) < 1e-9


@settings(max_examples=20, deadline=None)
@given(random_sites, turns, st.integers(0, 10_000))
def test_turning_the_site_changes_no_figure(site: RandomSite, turn: Turn, seed: int) -> None:
    """The same errors on a site that is turned and moved: the same off each wall line, in shape and in words."""
    layout, other = layout_of(site.text()), layout_of(site.text(turn))
    points = _scattered(layout, seed)
    by_name = dict(zip(layout.corner_names, layout.slab.form.corners, strict=True))
    there = dict(zip(other.corner_names, other.slab.form.corners, strict=True))
    bare = Turn(turn.angle)
    moved = []
    for each in points:
        step = bare(each.at.east - by_name[each.name].east, each.at.north - by_name[each.name].north)
        moved.append(off(MeasuredPoint(each.name, there[each.name]), *step))
    one, two = compare(layout, points, HOW), compare(other, moved, HOW)
    for a, b in zip(one.corners, two.corners, strict=True):
        for mine, theirs in zip(a.sides, b.sides, strict=True):
            assert theirs.out == pytest.approx(mine.out, abs=1e-7)
            assert theirs.along == pytest.approx(mine.along, abs=1e-7)
    assert one.placement is not None
    assert two.placement is not None
    assert two.placement.turn == pytest.approx(one.placement.turn, abs=1e-5)
    assert two.placement.largest_shape == pytest.approx(one.placement.largest_shape, abs=1e-7)
    assert codes(two) == codes(one)


@settings(max_examples=20, deadline=None)
@given(random_sites, st.integers(0, 10_000), st.randoms(use_true_random=False))
def test_the_order_of_rows_is_of_no_account(site: RandomSite, seed: int, drawn: random.Random) -> None:
    """Rows shuffled: corners, lengths, margins and verdict stay as they are."""
    layout = layout_of(site.text())
    points = _scattered(layout, seed)
    shuffled = list(points)
    drawn.shuffle(shuffled)
    assert _figures(compare(layout, shuffled, HOW)) == _figures(compare(layout, points, HOW))


def _figures(found: Comparison) -> object:
    rounded = [round(each.measured, 9) for each in found.lengths]
    return rounded, [each.plan for each in found.corners], [line.text for line in found.verdict], sorted(codes(found))


@settings(max_examples=30, deadline=None)
@given(random_sites, st.integers(0, 10_000))
def test_placement_and_shape_are_parted_as_scipy_parts_them(site: RandomSite, seed: int) -> None:
    """The turn and what remains are those of a minimiser that knows nothing of closed forms; squares add up."""
    layout = layout_of(site.text())
    found = compare(layout, _scattered(layout, seed), HOW)
    placed = found.placement
    assert placed is not None
    if placed.left_out:
        return  # a corner that does not belong takes no part, and has its own tests
    design = np.array([(each.design.at.east, each.design.at.north) for each in found.corners])
    measured = np.array([(each.measured.at.east, each.measured.at.north) for each in found.corners])
    middle = design.mean(axis=0)

    def left(guess: np.ndarray) -> np.ndarray:
        sine, cosine = np.sin(guess[2]), np.cos(guess[2])
        arm = design - middle
        there = np.column_stack([arm[:, 0] * cosine + arm[:, 1] * sine, arm[:, 1] * cosine - arm[:, 0] * sine])
        return np.asarray(measured - middle - guess[:2] - there).ravel()

    fit = scipy_fit(left, [0.0, 0.0, 0.0], xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert placed.turn == pytest.approx(np.degrees(fit.x[2]), abs=1e-7)
    assert (placed.shift.east, placed.shift.north) == pytest.approx(fit.x[:2], abs=1e-9)
    assert sum(rest.dot(rest) for _, rest in placed.shape) == pytest.approx(2 * fit.cost, abs=1e-12)


@settings(max_examples=20, deadline=None)
@given(random_sites, st.integers(0, 10_000))
def test_margins_move_no_farther_than_corners(site: RandomSite, seed: int) -> None:
    """No margin changes by more than the corner that moved most."""
    layout = layout_of(site.text())
    found = compare(layout, _scattered(layout, seed), HOW)
    most = max(each.plan.length for each in found.corners)
    for each in found.margins:
        assert each.now is not None
        assert abs(each.now.room - each.design.room) <= most + 1e-6
