"""Rectangles and lines on paper: when they meet."""

from __future__ import annotations

import math

import pytest

from staking.drawing.paper import PaperText, Spot, box, boxes_meet, line_meets, near, segment

HALF = math.sqrt(0.5)


def test_turned_boxes_meet_only_where_they_do() -> None:
    """Two boxes whose upright boxes overlap can still be apart when one is turned."""
    upright = box(Spot(0, 0), 5, 5)
    turned = box(Spot(9.5, 9.5), 10, 2, HALF, -HALF)
    assert near(upright, [turned]) == [turned]
    assert not boxes_meet(upright, turned)
    assert boxes_meet(upright, box(Spot(6, 6), 10, 2, HALF, -HALF))


def test_gap_keeps_boxes_apart() -> None:
    """Boxes one point apart meet when two points of white are asked for."""
    one, other = box(Spot(0, 0), 5, 5), box(Spot(11, 0), 5, 5)
    assert not boxes_meet(one, other)
    assert boxes_meet(one, other, 2.0)


@pytest.mark.parametrize(
    ("start", "end", "meets"),
    [
        ((-9, 0), (9, 0), True),
        ((-9, 6), (9, 6), False),
        ((1, 1), (2, 2), True),
        ((-9, 2), (1, 12), False),
        ((0, -9), (0, 9), True),
    ],
)
def test_line_through_a_box(start: tuple[float, float], end: tuple[float, float], meets: bool) -> None:
    """A line meets a box when a part of it lies inside."""
    assert line_meets(segment(Spot(*start), Spot(*end)), box(Spot(0, 0), 5, 5)) is meets


@pytest.mark.parametrize(("anchor", "shift"), [("left", 1), ("middle", 0), ("right", -1)])
def test_box_of_a_text_starts_at_its_anchor(anchor: str, shift: int) -> None:
    """The box lies right of a left anchor, about a middle one, left of a right one."""
    area = PaperText(Spot(50, 50), "101", 10.0, anchor=anchor).box  # type: ignore[arg-type]  # parametrized
    assert area.x == pytest.approx(50 + shift * area.half_length)


def test_ink_without_tails_stays_above_the_baseline() -> None:
    """Figures have no tails; a g has."""
    figures, tails = PaperText(Spot(0, 0), "101", 10.0), PaperText(Spot(0, 0), "gauge", 10.0)
    assert figures.ink.y - figures.ink.half_height == pytest.approx(0)
    assert tails.ink == tails.box
