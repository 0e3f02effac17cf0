"""Marks on paper."""

from __future__ import annotations

import pytest

from staking.drawing.fit import fit
from staking.drawing.labels import FREE
from staking.drawing.marks import ArcMark, Drawing, LineMark, PathMark
from staking.drawing.on_paper import line_shapes, segments, span_under
from staking.drawing.paper import PaperPolygon, Spot, segment
from staking.drawing.scale import View
from staking.survey.paths import Arc
from staking.survey.points import Point

VIEW = View(100.0, Point(0, 0), Spot(100, 100), (400, 400))
QUARTER = Arc(Point(1, 0), Point(0, 1), Point(0, 0), left=True)


def test_arcs_are_smooth_on_paper() -> None:
    """A quarter circle of an inch and a half is drawn by so many chords that nobody sees them."""
    fitted = fit(Drawing((ArcMark("LOT", QUARTER),), ""), 110, 110)
    (shape,) = fitted.shapes
    assert isinstance(shape, PaperPolygon)
    assert not shape.closed
    assert len(shape.corners) > 15


def test_arcs_stay_in_the_box() -> None:
    """An arc that reaches past its corners is fitted with its bulge."""
    path = PathMark("LOT", (Point(0, 0), Point(10, 0)), closed=True, bulges=(1.0, 1.0))
    fitted = fit(Drawing((path,), ""), 200, 100)
    (shape,) = fitted.shapes
    assert isinstance(shape, PaperPolygon)
    assert all(0 <= corner.x <= 200 and 0 <= corner.y <= 100 for corner in shape.corners)


def test_texts_keep_off_arcs() -> None:
    """The lines that texts avoid follow the arc, not its chord."""
    assert len(list(segments(ArcMark("LOT", QUARTER), VIEW))) > 2


def test_the_span_is_that_of_the_shortest_line_under_a_text() -> None:
    """From a text in the middle to both ends; lines off it or square to it do not count."""
    lines = [segment(Spot(0, 0), Spot(100, 0)), segment(Spot(30, 0), Spot(60, 0)), segment(Spot(40, -5), Spot(40, 5))]
    assert span_under(Spot(40, 0), 0.0, lines) == pytest.approx((10, 20))
    assert span_under(Spot(40, 9), 0.0, lines) == FREE


def _heads(line: LineMark) -> list[Spot]:
    """Where the tips of the arrowheads are."""
    shapes = line_shapes(line, VIEW)
    return [shape.corners[0] for shape in shapes if isinstance(shape, PaperPolygon)]


def test_a_dimension_has_two_heads_and_an_arrow_one() -> None:
    """An arrow points to where something went; the other end stays bare."""
    ends = Point(0, 0), Point(1, 0)
    assert _heads(LineMark("TIE", *ends)) == []
    assert _heads(LineMark("TIE", *ends, head=True)) == [Spot(200, 100)]
    assert _heads(LineMark("TIE", *ends, arrows=True)) == [Spot(100, 100), Spot(200, 100)]
