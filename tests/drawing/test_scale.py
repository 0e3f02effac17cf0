"""The scale of a drawing: as large as the box allows, with room for the labels at the rim."""

from __future__ import annotations

import pytest

from staking.drawing.scale import LARGEST, Reach, view
from staking.survey.points import Point


def test_labels_at_the_rim_get_their_room() -> None:
    """Two points 10 m apart whose labels reach 40 points need 80 of the 180 points."""
    reaches = [Reach(Point(0, 0), 5, 40, 10), Reach(Point(10, 0), 5, 40, 10)]
    assert view(reaches, 180, 100).scale == pytest.approx((180 - 80) / 10)


def test_point_with_the_longest_reach_decides_only_at_the_rim() -> None:
    """A long label in the middle of the drawing does not make it smaller."""
    ends = [Reach(Point(0, 0), 5, 5, 5), Reach(Point(10, 0), 5, 5, 5)]
    assert view([*ends, Reach(Point(5, 0), 5, 60, 5)], 210, 100).scale == view(ends, 210, 100).scale


def test_labels_may_not_eat_up_the_drawing() -> None:
    """Where the labels would leave less than about half of the size, they get less room."""
    reaches = [Reach(Point(0, 0), 5, 90, 5), Reach(Point(10, 0), 5, 90, 5)]
    bare = (200 - 10) / 10
    assert view(reaches, 200, 100).scale >= 0.55 * bare


def test_single_point_is_centred() -> None:
    """One point has no extent: it lies in the middle, at full size."""
    seen = view([Reach(Point(7, 8), 5, 5, 5)], 100, 60)
    assert seen.scale == LARGEST
    assert seen.spot(Point(7, 8)) == pytest.approx((50, 30))


def test_box_smaller_than_its_labels_still_shows_the_drawing() -> None:
    """Even where there is no room for labels at all, the points stay apart and inside."""
    seen = view([Reach(Point(0, 0), 30, 30, 5), Reach(Point(10, 0), 30, 30, 5)], 50, 50)
    assert 0 < seen.spot(Point(0, 0)).x < seen.spot(Point(10, 0)).x < 50
