"""The order of work with a tape where the placement names no reference, or nothing gives a direction."""

from __future__ import annotations

import math

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking.layout.tape_plan import tape_plan

AT_POINT = """
[site]
name = "no lot"
unit = "m"
[points]
P = [100, 100]
{more}
[slab]
width = 12
depth = 8
[placement]
kind = "at_point"
corner = 1
at = "P"
side = "front"
bearing = 80
"""


def test_two_points_make_the_reference_where_no_line_is_declared() -> None:
    """The line between the two given points farthest apart carries the base line."""
    plan = tape_plan(layout_of(AT_POINT.format(more="Q = [101, 130]\nR = [100, 110]")))
    assert plan is not None
    assert plan.reference.name == "P to Q"
    assert plan.start is None


def test_one_point_gives_no_direction() -> None:
    """With a single point and a bearing, a tape has nothing to go by."""
    assert tape_plan(layout_of(AT_POINT.format(more=""))) is None


def test_corners_off_the_frame_are_set_by_ordinates() -> None:
    """The ell's inside corner and its neighbours have ordinates; the missing corner is a mark that is taken away."""
    plan = tape_plan(sample("ell_house_on_grid"))
    assert plan is not None
    assert plan.real == (True, True, False, True)
    assert [ordinate.name for ordinate in plan.ordinates] == ["103", "104", "105"]


def test_pulls_name_the_nearer_end_of_the_reference() -> None:
    """Each foot is measured from the end of the reference that is nearer to it."""
    plan = tape_plan(layout_of(PLACED_RECTANGLE))
    assert plan is not None
    first, second = plan.pulls
    assert (first.from_name, second.from_name) == ("A", "B")
    assert (first.along / 0.3048, second.along / 0.3048) == pytest.approx((30.0, 34.0))


def test_places_of_an_arc_lie_off_its_chord_as_the_circle_says() -> None:
    """Off the chord: the height of the circle over its middle, less that of the chord; four places on 27.8 ft."""
    plan = tape_plan(sample("triangle_lot"))
    assert plan is not None
    (arc,) = plan.arcs
    assert (arc.radius / 0.3048, arc.chord / 0.3048) == pytest.approx((15.0, 24.0))
    for place in arc.places:
        rise = math.sqrt(arc.radius**2 - (place.along - arc.chord / 2) ** 2) - math.sqrt(225 - 144) * 0.3048
        assert place.off == pytest.approx(rise, abs=1e-9)
    assert len(arc.places) == 4
