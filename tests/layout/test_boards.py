"""Boards and panels along sides, round corners and beside openings."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, layout_of, sample

from staking.layout.boards import Corners, Ends, Run, corners_of, runs_of, spaces

FOOT = 0.3048
THICK = Ends(0.0381)
PART = '[[slab.parts]]\nname = "apron"\nside = "right"\nfrom = "front-right"\nstart = {start}\nwidth = 12\ndepth = 9\n'
ELL = 'kind = "traced"\nsteps = ["right 36\'", "away 12\'", "left 12\'", "away 12\'", "left 24\'", "toward 24\'"]\n'


@given(st.floats(0.1, 80.0), st.floats(0.2, 4.0))
def test_spaces_are_the_fewest_not_too_wide(length: float, spacing: float) -> None:
    """No space is wider than the spacing, and one space fewer would be."""
    count = spaces(length, spacing)
    assert length / count <= spacing + 1e-5
    assert count == 1 or length / (count - 1) > spacing


def _runs(slab: str = "", allowance: float = 0.0) -> tuple[list[Run], list[float]]:
    text = PLACED_RECTANGLE.replace("[placement]", f"{slab}[placement]")
    runs, openings = runs_of(layout_of(text).slab.form, THICK, allowance)
    return list(runs), [opening.whole / FOOT for opening in openings]


def test_at_outside_corners_a_board_runs_past_the_next() -> None:
    """All four boards of a rectangle are longer than the side by one thickness."""
    runs, _ = _runs()
    assert [run.past for run in runs] == pytest.approx([THICK.thickness] * 4)
    assert [run.concrete / FOOT for run in runs] == pytest.approx([36, 24, 36, 24])


def test_at_an_inside_corner_the_next_board_begins_later() -> None:
    """Five outside corners and an inside one: in all four thicknesses more than the outline."""
    text = PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", ELL)
    layout = layout_of(text)
    runs, _ = runs_of(layout.slab.form, THICK)
    assert sum(run.concrete for run in runs) == pytest.approx(layout.slab.form.shape.length)
    assert sum(run.past for run in runs) == pytest.approx((5 - 1) * THICK.thickness)


def test_an_opening_parts_the_boards() -> None:
    """Of 24 ft, 4 before the opening of 12 with half a foot at each end, and 8 after it; the part has three edges."""
    runs, openings = _runs(PART.format(start=4), 0.5 * FOOT)
    right = [run.concrete / FOOT for run in runs if run.label.startswith("right")]
    assert openings == pytest.approx([13])
    assert right == pytest.approx([3.5, 7.5])
    assert [run.concrete / FOOT for run in runs[-3:]] == pytest.approx([9, 12, 9])


def test_an_opening_at_the_corner_leaves_one_piece() -> None:
    """Nothing stands before a part that begins at the corner."""
    runs, _ = _runs(PART.format(start=0))
    assert [run.concrete / FOOT for run in runs if run.label.startswith("right")] == pytest.approx([12])


def test_an_arc_is_boarded_along_its_length() -> None:
    """The rounded end of a sample is bent, and longer than its chord."""
    layout = sample("triangle_lot")
    bent = [run for run in runs_of(layout.slab.form, THICK)[0] if run.bent]
    chord = [side.chord for side in layout.sides if side.radius is not None]
    assert len(bent) == len(chord) == 1
    assert all(long > short for long, short in pairwise([bent[0].concrete, chord[0]]))


def test_panels_end_with_the_concrete_at_outside_corners() -> None:
    """An angle joins them; at the inside corner a piece takes its leg off both runs, or one begins beyond the other."""
    form = layout_of(PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", ELL)).slab.form
    assert corners_of(form) == Corners(outside=5, inside=1, other=0)
    pieces, butted = (runs_of(form, Ends(0.1, panels=True, inside=leg))[0] for leg in (0.15, 0.0))
    assert sorted(run.past for run in pieces) == pytest.approx([-0.15, -0.15, 0, 0, 0, 0])
    assert sorted(run.past for run in butted) == pytest.approx([-0.1, 0, 0, 0, 0, 0])
