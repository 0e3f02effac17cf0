"""Recesses by x and y, by points, and with a drain: their places, heights and volumes."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import Layout
from staking.layout.grades import recesses_of
from staking.survey.points import Point, mean, vector

FOOT = 0.3048
SHOWER = '[[slab.recesses]]\nname = "shower"\nlower = "2 in"\n'
BOX = "x = 4\ny = 6\nwidth = 6\ndepth = 4\n"


def _layout(recess: str, floor: str = "") -> Layout:
    text = PLACED_RECTANGLE.replace("depth = 24\n", 'depth = 24\nthickness = "4 in"\n')
    return layout_of(text.replace("[placement]", f"{SHOWER}{recess}[placement]") + f"[floor]\nelevation = 100\n{floor}")


def _corners(layout: Layout) -> list[tuple[float, float, float]]:
    """Right of corner 1, away from the front, and height [ft]."""
    ((_, corners),) = recesses_of(layout.design)
    form = layout.slab.form
    steps = [(vector(form.corners[0], at), at.up or 0.0) for at in corners]
    way = form.pose.right
    return sorted((s.dot(way) / FOOT, s.dot(way.left()) / FOOT, up / FOOT) for s, up in steps)


def _volume(layout: Layout) -> float:
    assert layout.design
    return (layout.design.volume or 0.0) / FOOT**3


def test_a_recess_by_x_and_y() -> None:
    """Its first corner 4 ft right of corner 1 and 6 ft away, 2 in lower than the floor."""
    low = 100 - 2 / 12
    expected = [(4, 6, low), (4, 10, low), (10, 6, low), (10, 10, low)]
    assert _corners(_layout(BOX)) == [pytest.approx(corner) for corner in expected]


def test_a_ledge_does_not_move_it() -> None:
    """It counts from the corner of the formed outline, as the words on the sheets do."""
    ledge = PLACED_RECTANGLE.replace("depth = 24\n", "depth = 24\nledge = 0.5\n")
    layout = layout_of(ledge.replace("[placement]", f"{SHOWER}{BOX}[placement]") + "[floor]\nelevation = 100\n")
    assert _corners(layout)[0][:2] == pytest.approx((4, 6))


def test_a_recess_by_points() -> None:
    """A triangle of 12 sq ft; floor and recess together are the slab, and the concrete is as thick everywhere."""
    layout = _layout("points = [[4, 6], [10, 6], [4, 10]]\n")
    assert layout.design
    areas = {kind: sum(p.shape.area for p in layout.design.pieces if p.kind == kind) for kind in ("floor", "recess")}
    assert areas["recess"] / FOOT**2 == pytest.approx(12)
    assert sum(areas.values()) == pytest.approx(36 * 24 * FOOT**2)
    assert _volume(layout) == pytest.approx(36 * 24 / 3)


def test_the_order_of_the_points_does_not_matter() -> None:
    """Clockwise or not, the same corners."""
    one, other = (
        _layout(f"points = {points}\n") for points in ("[[4, 6], [10, 6], [4, 10]]", "[[4, 10], [10, 6], [4, 6]]")
    )
    assert _corners(one) == [pytest.approx(corner) for corner in _corners(other)]


DRAIN = 'fall = "1/4 in per ft"\ndrain = [7, 8]\n'


@pytest.mark.parametrize("point", "ABCD")
def test_a_fall_aslant_begins_at_the_highest_corner(point: str) -> None:
    """Toward a corner of the lot: the corner farthest from it is 2 in below the floor, the others lower."""
    layout = _layout(BOX + 'fall = "2 %"\ntoward = "' + point + '"\n')
    ((_, corners),) = recesses_of(layout.design)
    way = vector(mean(layout.slab.form.corners), layout.points[point].at).unit()
    along = [vector(corners[0], corner).dot(way) for corner in corners]
    wanted = [100 * FOOT - 2 * FOOT / 12 - 0.02 * (each - min(along)) for each in along]
    assert [corner.up for corner in corners] == pytest.approx(wanted)


def test_a_drain_lies_as_low_as_the_farthest_corner_asks() -> None:
    """The corners are 3.6056 ft away, so the drain lies 0.0751 ft lower than they; a pyramid in the concrete's top."""
    layout = _layout(BOX + DRAIN)
    assert layout.design
    ((name, drain),) = layout.design.drains
    assert name == "shower"
    deep = 13**0.5 / 48
    assert (drain.up or 0) / FOOT == pytest.approx(100 - 2 / 12 - deep)
    assert layout.design.top(drain.east, drain.north) == pytest.approx(drain.up)
    flat = [(p, Point(p.shape.centroid.x, p.shape.centroid.y)) for p in layout.design.pieces]
    over = sum(float(p.shape.area) * (100 * FOOT - p.top.height(at)) for p, at in flat) / FOOT**3
    assert over == pytest.approx(24 * (2 / 12 + deep / 3))
    assert [grade.what for grade in layout.grades if grade.kind == "drain"] == [
        "drain of shower, 7' 0\" right and 8' 0\" away from corner 1"
    ]


def test_the_rim_of_a_drain_follows_a_floor_that_falls() -> None:
    """Every way from a corner to the drain falls 1/4 in per ft or more, and one by just that."""
    layout = _layout(BOX + DRAIN, 'fall = "1 %"\ntoward = "front"\n')
    assert layout.design
    ((_, drain),) = layout.design.drains
    ((_, corners),) = recesses_of(layout.design)
    falls = [((c.up or 0) - (drain.up or 0)) / vector(drain, c).length for c in corners]
    assert min(falls) == pytest.approx(1 / 48)
    assert max(falls) > 1 / 48 + 0.001
