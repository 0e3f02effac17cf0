"""Marks that become lines and texts."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from ezdxf.filemanagement import read

from staking.drawing.marks import ArcMark, CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.exports.dxf import dxf
from staking.exports.dxf_marks import reaches
from staking.layout.computed import Layout
from staking.survey.paths import Arc
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


def test_bulges_of_a_path_are_true_arcs(oregon: Layout) -> None:
    """A closed path keeps the bulge of each side; straight sides have none."""
    corners = (HERE, THERE, Point(30.0, 20.0))
    (line,) = space(oregon, PathMark("LOT", corners, closed=True, bulges=(0.0, 0.25, 0.0))).query("LWPOLYLINE")
    assert line.closed
    assert [bulge for (bulge,) in line.get_points("b")] == [0.0, 0.25, 0.0]


def test_bulges_go_into_r12_too(local: Layout) -> None:
    """The older polyline has them at its corners."""
    drawing = Drawing((PathMark("LOT", (HERE, THERE, Point(30.0, 20.0)), closed=True, bulges=(0.5, 0.0, 0.0)),), "")
    document = read(io.StringIO(dxf(local, drawing, version="r12").decode("ascii")))
    line: Any = document.modelspace().query("POLYLINE[layer=='LOT']").first
    assert [vertex.dxf.get("bulge", 0.0) for vertex in line.vertices] == [0.5, 0.0, 0.0]


@pytest.mark.parametrize("left", [True, False])
def test_an_arc_runs_through_its_middle(local: Layout, left: bool) -> None:
    """Whichever way it turned, the ARC covers the same piece of the circle."""
    arc = Arc(THERE, Point(0.0, 30.0), HERE, left=left)
    (drawn,) = space(local, ArcMark("LOT", arc)).query("ARC")
    turn = (drawn.dxf.end_angle - drawn.dxf.start_angle) % 360
    assert turn == pytest.approx(arc.sweep)
    assert drawn.dxf.radius == pytest.approx(30.0 / 0.3048)
    assert len(reaches(ArcMark("LOT", arc))) > 10
