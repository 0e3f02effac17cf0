"""Marks an inspector looks for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.drawing.marks import CircleMark, LineMark, Mark, PathMark, TextMark
from staking.drawing.site_marks import (
    boundary_texts,
    clear_marks,
    curve_tags,
    diagonal_marks,
    lot_outline,
    setback_marks,
    tie_marks,
)
from staking.layout.computed import Layout
from staking.survey.paths import Arc

FOOT = 0.3048


def words(marks: Iterable[Mark]) -> list[str]:
    """The texts among marks."""
    return [mark.text for mark in marks if isinstance(mark, TextMark)]


def curved(layout: Layout) -> Layout:
    """The same with its rear line bent."""
    assert layout.lot is not None
    sides = [
        replace(it, piece=Arc.through_bulge(it.line.start, it.line.end, 0.2)) if it.name == "rear" else it
        for it in layout.lot.sides
    ]
    return replace(layout, lot=replace(layout.lot, sides=tuple(sides)))


def test_straight_sides_have_bearing_and_length() -> None:
    """As a plat writes them: bearing as the side runs, length in decimals."""
    assert words(boundary_texts(layout_of(PLACED_RECTANGLE)))[:2] == [
        "front: N 90°00'00\" E, 100.00'",
        "right: N 0°00'00\" E, 120.00'",
    ]


def test_texts_of_the_boundary_stand_outside() -> None:
    """The front of a lot to its north has its text to the south, the right side to the east."""
    sides = [mark.side for mark in boundary_texts(layout_of(PLACED_RECTANGLE))]
    assert sides == [180, 90, 0, 270]


def test_curves_are_numbered() -> None:
    """A curved side has a number instead of a bearing, and upright text beside its middle."""
    layout = curved(layout_of(PLACED_RECTANGLE))
    text = list(boundary_texts(layout))[2]
    assert (text.text, text.along) == ("rear: C1", None)


def test_numbers_of_curves_are_no_names_of_points() -> None:
    """Where a given point is called C1 the curve is CV1."""
    taken = PLACED_RECTANGLE.replace("[lot]", "C1 = [1, 1]\n[lot]", 1)
    assert dict(curve_tags(curved(layout_of(taken)))) == {2: "CV1"}


def test_the_outline_keeps_its_arcs() -> None:
    """The boundary is a closed path with the bulges of its sides."""
    lot = curved(layout_of(PLACED_RECTANGLE)).lot
    assert lot is not None
    assert lot_outline(lot).bulges == pytest.approx((0, 0, 0.2, 0))


def test_setback_lines_lie_where_they_should() -> None:
    """Four setbacks make one closed edge, 25 ft from the front and 7.5 ft from the left."""
    layout = layout_of(PLACED_RECTANGLE)
    corners = [at for mark in setback_marks(layout) if isinstance(mark, PathMark) for at in mark.corners]
    front_left = layout.points["A"].at
    assert min(c.north for c in corners) - front_left.north == pytest.approx(25 * FOOT)
    assert min(c.east for c in corners) - front_left.east == pytest.approx(7.5 * FOOT)
    assert max(c.east for c in corners) - front_left.east == pytest.approx(92.5 * FOOT)


def test_setbacks_have_their_figures() -> None:
    """Each figure stands on its line, toward the lot line."""
    layout = layout_of(PLACED_RECTANGLE)
    first = next(mark for mark in setback_marks(layout) if isinstance(mark, TextMark))
    assert first.text == "25' 0\" front setback"
    assert first.at.north - layout.points["A"].at.north == pytest.approx(25 * FOOT)
    assert first.side == 180


def test_no_setback_line_where_nothing_is_required() -> None:
    """A side without a figure has no line, and the lot line is not drawn a second time."""
    layout = layout_of(PLACED_RECTANGLE.replace("right = 7.5\n", ""))
    marks = list(setback_marks(layout))
    right = layout.points["B"].at.east
    on_line = [m for m in marks if isinstance(m, PathMark) and min(c.east for c in m.corners) > right - 0.01]
    assert on_line == []
    assert words(marks)[1] == "20' 0\" rear setback"


def test_keep_clear_areas_have_name_and_size() -> None:
    """A strip, a circle and a polygon."""
    areas = (
        '[[keep_clear]]\nname = "sewer"\nalong = "rear"\nwidth = 10\n'
        '[[keep_clear]]\nname = "well"\naround = "D"\nradius = 12\n'
        '[[keep_clear]]\nname = "pond"\npoints = ["A", "B", "C"]\n[slab]'
    )
    marks = list(clear_marks(layout_of(PLACED_RECTANGLE.replace("[slab]", areas))))
    assert words(marks) == ["sewer, 10' 0\"", "well, 12' 0\" around", "pond"]
    assert sum(isinstance(mark, CircleMark) for mark in marks) == 1


def test_ties_are_least_distances() -> None:
    """A line with arrows from the slab to every lot line, with its length."""
    marks = list(tie_marks(layout_of(PLACED_RECTANGLE)))
    assert words(marks) == ["40' 0\"", "34' 0\"", "56' 0\"", "30' 0\""]
    assert all(mark.arrows for mark in marks if isinstance(mark, LineMark))


def test_both_diagonals_are_drawn() -> None:
    """A rectangle has two of one length; an outline with more corners has them in a table."""
    assert words(diagonal_marks(layout_of(PLACED_RECTANGLE))) == ["43' 3-3/16\""] * 2
    ell = 'kind = "ell"\ncut_width = 9\ncut_depth = 9\nmissing = "back-right"\nwidth = 36'
    assert not list(diagonal_marks(layout_of(PLACED_RECTANGLE.replace("width = 36", ell))))
