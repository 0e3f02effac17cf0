"""Lines of a layer joined to outlines."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely
from drawings import BAY, SQUARE, Vertices, blank, heavy, loose, polyline, saved
from ezdxf.math import bulge_to_arc
from hypothesis import given
from hypothesis import strategies as st

from staking.drafts.dxf import read_dxf
from staking.drafts.joining import Joined, Loop
from staking.drafts.outlines import outlines_of, turned
from staking.survey.paths import flattened


def _joined(document: Any, join: float = 0.0) -> Joined:
    return outlines_of(read_dxf(saved(document)), "m", join)["SLAB"]


def _only(document: Any, join: float = 0.0) -> Loop:
    (loop,) = _joined(document, join).loops
    return loop


def _light(vertices: Vertices) -> Loop:
    document = blank()
    polyline(document.modelspace(), vertices)
    return _only(document)


def _measures(loop: Loop) -> list[float]:
    """Area and the sorted lengths of the sides: what turning and mirroring leave alone."""
    return [loop.area, *sorted(piece.length for piece in loop.pieces)]


@st.composite
def outlines(draw: st.DrawFn) -> list[tuple[float, float, float]]:
    """A simple outline: corners around a middle, some sides gentle arcs that stay clear of the others."""
    count = draw(st.integers(4, 9))
    radii = draw(st.lists(st.floats(8, 12), min_size=count, max_size=count))
    bulges = draw(st.lists(st.sampled_from([0.0, 0.0, 0.1, -0.1, 0.3]), min_size=count, max_size=count))
    turns = [math.tau * i / count for i in range(count)]
    return [(r * math.cos(t), r * math.sin(t), b) for r, t, b in zip(radii, turns, bulges, strict=True)]


@given(outlines(), st.randoms(use_true_random=False))
def test_however_it_is_drawn_it_is_the_same_outline(vertices: Vertices, chance: Any) -> None:
    """Either polyline, and loose lines and arcs in any order and direction, give the outline of the light polyline."""
    expected = _measures(_light(vertices))
    order = list(range(len(vertices)))
    chance.shuffle(order)
    older, lines = blank(), blank()
    heavy(older.modelspace(), vertices)
    loose(lines.modelspace(), vertices, order)
    for document in (older, lines):
        assert _measures(_only(document)) == pytest.approx(expected, abs=1e-6)


@given(outlines(), st.floats(0, 360), st.sampled_from([(1, 1), (-1, 1), (1, -1), (-2, 2)]), st.booleans())
def test_turned_mirrored_and_scaled_in_a_block(
    vertices: Vertices, turn: float, scale: tuple[int, int], in_lines: bool
) -> None:
    """A block turned, mirrored and scaled, of polylines or lines and arcs, gives the outline at its scale."""
    document = blank()
    block, inner = document.blocks.new("OUTER"), document.blocks.new("INNER")
    loose(inner, vertices, range(len(vertices))) if in_lines else polyline(inner, vertices)
    block.add_blockref("INNER", (3, 4), dxfattribs={"rotation": 10})
    at = {"rotation": turn, "xscale": scale[0], "yscale": scale[1]}
    document.modelspace().add_blockref("OUTER", (100, 200), dxfattribs=at)
    area, *lengths = _measures(_light(vertices))
    expected = [area * scale[0] ** 2, *(length * abs(scale[0]) for length in lengths)]
    assert _measures(_only(document)) == pytest.approx(expected, abs=1e-6)


@given(outlines())
def test_area_and_arcs_agree_with_other_readers(vertices: Vertices) -> None:
    """The area is that shapely finds; the radius of each arc is that of ezdxf's bulge functions."""
    loop = _light(vertices)
    chords = shapely.Polygon([(p.east, p.north) for p in flattened(loop.pieces, 1e-6)])
    assert loop.area == pytest.approx(chords.area, rel=1e-5)
    for start, end, bulge in zip(loop.corners, (*loop.corners[1:], loop.corners[0]), loop.bulges, strict=True):
        if bulge:
            radius = bulge_to_arc((start.east, start.north), (end.east, end.north), bulge)[3]
            assert any(abs(getattr(piece, "radius", 0.0) - radius) < 1e-6 for piece in loop.pieces)


def test_a_gap_is_closed_only_within_join_and_told() -> None:
    """Lines that stop short make no outline; with join as large as the gap they meet where they would cross."""
    document = blank()
    space = document.modelspace()
    for start, end in (((0, 0), (3.98, 0)), ((4, 0.02), (4, 4)), ((4, 4), (0, 4)), ((0, 4), (0, 0))):
        space.add_line(start, end, dxfattribs={"layer": "SLAB"})
    assert not _joined(document).loops
    assert sorted(gap for _, gap in _joined(document).ends)[0] == pytest.approx(math.hypot(0.02, 0.02))
    loop = _only(document, join=0.03)
    assert loop.area == pytest.approx(16)
    assert list(loop.bridged) == [pytest.approx(math.hypot(0.02, 0.02))]


def test_a_stray_line_harms_nothing_and_a_branch_is_told() -> None:
    """A line that leads nowhere is left out; one that divides the outline makes it no outline."""
    stray, divided = blank(), blank()
    for document, end in ((stray, (9, 9)), (divided, (0, 0))):
        loose(document.modelspace(), SQUARE, range(4))
        document.modelspace().add_line((4, 4), end, dxfattribs={"layer": "SLAB"})
    assert _only(stray).area == pytest.approx(16)
    assert not _joined(divided).loops
    assert len(_joined(divided).branches) == 2


def test_corners_drawn_twice_or_in_line_and_lines_drawn_twice_are_one() -> None:
    """Repeated vertices, a corner in the middle of a straight side, and doubled lines change nothing."""
    repeated, doubled = blank(), blank()
    polyline(repeated.modelspace(), ((0, 0, 0), (2, 0, 0), (4, 0, 0), (4, 0, 0), (4, 4, 0), (0, 4, 0), (0, 0, 0)))
    loose(doubled.modelspace(), SQUARE, (0, 1, 2, 3, 2, 0))
    for document in (repeated, doubled):
        assert len(_only(document).corners) == 4


def test_a_polyline_whose_ends_meet_is_closed() -> None:
    """Without its flag a polyline is closed where it comes back to its beginning."""
    document = blank()
    document.modelspace().add_lwpolyline([(0, 0), (4, 0), (4, 4), (0, 4), (0, 0)], dxfattribs={"layer": "SLAB"})
    assert _only(document).area == pytest.approx(16)


@given(st.floats(0, 360))
def test_a_turned_drawing_has_square_sides_in_its_own_axes(turn: float) -> None:
    """However a rectangle lies in the drawing, in its own axes its corners have the same coordinates, to the bit."""
    document = blank()
    polyline(document.blocks.new("B"), [(x, y * 3, 0) for x, y, _ in SQUARE], "SLAB")
    document.modelspace().add_blockref("B", (6e5, 4e6), dxfattribs={"rotation": turn})
    if min(abs(turn % 90 - odd) for odd in (45,)) < 1:
        return
    own = turned(_only(document), "south")
    assert len({corner.east for corner in own.corners}) == len({corner.north for corner in own.corners}) == 2


def test_the_bay_has_one_arc() -> None:
    """The bay of the sample is an arc of 3.75/2 m, the radius a bulge of 0.5 over 3 m gives: c (1 + b^2) / (4 b)."""
    arcs = [piece for piece in _light(BAY).pieces if hasattr(piece, "radius")]
    assert [arc.radius for arc in arcs] == [pytest.approx(1.875)]
