"""Marks that become lines and texts."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from ezdxf.filemanagement import read

from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, SymbolMark, TextMark
from staking.exports.dxf import dxf
from staking.exports.dxf_marks import reaches
from staking.layout.computed import Layout
from staking.survey.points import Point

Make = Callable[..., Layout]
HERE, THERE = Point(0.0, 0.0), Point(30.0, 0.0)


def space(layout: Layout, *marks: Mark) -> Any:
    """The modelspace of a drawing with these marks alone, besides points and note."""
    return read(io.StringIO(dxf(layout, Drawing(marks, "")).decode("ascii"))).modelspace()


def test_circles_shrink_with_the_grid(oregon: Layout) -> None:
    """A radius on the ground is drawn with the combined factor, in the site's unit."""
    circles = space(oregon, CircleMark("KEEP-CLEAR", HERE, 3.048)).query("CIRCLE[layer=='KEEP-CLEAR']")
    assert [circle.dxf.radius for circle in circles] == pytest.approx([10 * 0.99985])


def test_arrows_are_two_lines_at_both_ends(local: Layout) -> None:
    """A dimension line has heads of two short lines, which begin at its ends."""
    lines = space(local, LineMark("DIMENSION", HERE, THERE, arrows=True)).query("LINE[layer=='DIMENSION']")
    tips = [tuple(line.dxf.start) for line in lines[1:]]
    assert len(lines) == 5
    assert tips.count(tuple(lines[0].dxf.start)) == tips.count(tuple(lines[0].dxf.end)) == 2


def test_a_line_of_no_length_has_no_arrows(local: Layout) -> None:
    """Where both ends coincide there is no direction for a head."""
    assert len(space(local, LineMark("TIE", HERE, HERE, arrows=True)).query("LINE[layer=='TIE']")) == 1


@pytest.mark.parametrize(
    ("along", "rotation"), [(90.0, 0), (270.0, 0), (0.0, 90), (180.0, 90), (45.0, 45), (225.0, 45), (135.0, -45)]
)
def test_text_reads_from_below_or_the_right(local: Layout, along: float, rotation: float) -> None:
    """Text along any direction is turned so that it is read from below or from the right."""
    (text,) = space(local, TextMark("DIMENSION", HERE, "12' 6\"", along=along)).query("TEXT[layer=='DIMENSION']")
    assert text.dxf.rotation == pytest.approx(rotation)


def test_symbols_that_are_no_points_are_no_points(local: Layout) -> None:
    """The foot of a tie has a circle and its label, but nothing that an instrument could stake."""
    drawn = space(local, SymbolMark("TIE", THERE, "foot", "foot"))
    assert len(drawn.query("POINT[layer=='TIE']")) == 0
    assert [len(drawn.query(f"{kind}[layer=='TIE']")) for kind in ("CIRCLE", "TEXT")] == [1, 1]


def test_circles_reach_over_their_radius() -> None:
    """A circle counts with both of its far corners when the box round everything is sought."""
    assert reaches(CircleMark("KEEP-CLEAR", HERE, 2.0)) == (Point(-2.0, -2.0), Point(2.0, 2.0))
