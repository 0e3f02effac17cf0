"""The room to every lot side is the least distance from the formed outline, edges included."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from making import RandomSite, layout_of, random_sites

from staking.survey.lines import Line
from staking.survey.points import distance

STEPS = 4000


def _sampled(line: Line) -> np.ndarray:
    """Places along a line, ends included."""
    share = np.linspace(0.0, 1.0, STEPS)
    start, end = np.array([line.start.east, line.start.north]), np.array([line.end.east, line.end.north])
    return np.asarray(start + share[:, None] * (end - start))


def _brute(side: Line, outline: tuple[Line, ...]) -> float:
    """Least distance found by trying places along every edge against the whole side; never too small."""
    direction = np.array([side.direction.east, side.direction.north])
    origin = np.array([side.start.east, side.start.north])
    best = np.inf
    for edge in outline:
        places = _sampled(edge) - origin
        along = np.clip(places @ direction, 0.0, side.length)
        best = min(best, float(np.linalg.norm(places - along[:, None] * direction, axis=1).min()))
    return best


@given(random_sites)
@settings(max_examples=25, deadline=None)
def test_margin_is_the_least_distance(site: RandomSite) -> None:
    """Brute force over thousands of places of every edge finds nothing nearer, and comes as near."""
    layout = layout_of(site.text())
    assert layout.lot is not None
    for side, margin in zip(layout.lot.sides, layout.margins, strict=True):
        brute = _brute(side.line, layout.slab.form.sides)
        assert margin.distance <= brute + 1e-9
        assert margin.distance == pytest.approx(brute, abs=0.005)
        assert distance(margin.at, margin.foot) == pytest.approx(margin.distance, abs=1e-9)
        assert abs(side.line.offset(margin.foot)) < 1e-9


def test_an_edge_can_be_nearer_than_any_corner() -> None:
    """A lot corner that points at the slab is nearest to the middle of an edge."""
    text = """
[site]
name = "dented lot"
unit = "m"
[points]
A = [0, 0]
B = [0, 40]
C = [20, 40]
D = [12, 20]
E = [20, 0]
[lot]
given_by = "surveyor"
corners = ["A", "B", "C", "D", "E"]
sides = ["front", "right", "dent right", "dent left", "left"]
[setbacks]
"front" = 1
[slab]
width = 30
depth = 6
[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = 3
corner = "front-left"
from = "lot left"
clear = 5
"""
    layout = layout_of(text)
    room = {margin.of: margin for margin in layout.margins}
    assert room["dent right"].distance == pytest.approx(3.0)
    corners = layout.slab.form.corners
    assert min(distance(room["dent right"].at, corner) for corner in corners) > 10
