"""Words and tables set in columns: nothing wider than its column, nothing lost between columns."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.drawing.paper import PaperLine, Spot, Stroke
from staking.drawing.plan_text import LEAST, Block, Sample, block_set, least_high, lines_set, wrapped
from staking.drawing.widths import text_width


@given(st.text("abc -/", max_size=120), st.floats(20, 200))
def test_lines_are_no_wider_than_their_column(text: str, width: float) -> None:
    """Words stay whole where they fit and are broken where they do not; every letter is kept."""
    lines = wrapped(text, width, 7.0)
    assert all(text_width(line, 7.0) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_lines_stand_below_one_another() -> None:
    """Each line of running text is lower than the one before, and all lie in the height told."""
    row = lines_set("one two three four five", 30.0, 8.0)
    heights = [text.at.y for text in row.texts]
    assert heights == sorted(heights, reverse=True)
    assert -row.height <= min(heights) <= max(heights) < 0


@given(st.lists(st.tuples(st.text("ab c", max_size=40), st.text("0123' ", max_size=12)), min_size=1, max_size=6))
def test_cells_of_a_row_do_not_meet(rows: list[tuple[str, str]]) -> None:
    """Whatever stands in a table of two columns, the right one begins where the left one has ended."""
    done = block_set(Block("title", tuple(rows), ("left", "right"), right=frozenset({1})), 120.0, 7.0)
    for row in (done.top, *done.rows):
        ends = [text.box.x + text.box.half_length for text in row.texts if text.anchor == "left"]
        starts = [text.box.x - text.box.half_length for text in row.texts if text.anchor == "right"]
        assert all(end <= start for end in ends for start in starts) or row is done.top


@given(
    st.lists(st.tuples(st.text("ab  c", max_size=90), st.text("0123' ", max_size=12)), min_size=1, max_size=6),
    st.floats(60, 300),
    st.sampled_from((7.5, 7.0, LEAST)),
    st.booleans(),
)
def test_a_block_is_never_lower_than_foretold(
    rows: list[tuple[str, str]], width: float, size: float, over: bool
) -> None:
    """The height that is found quickly is a bound in every width and size, texts over their rows or not."""
    block = Block("title", tuple(rows), right=frozenset({1}), over=over)
    assert least_high(block, width) <= block_set(block, width, size).height + 1e-9


def test_figures_stay_on_one_line() -> None:
    """Where a table of figures is too wide it is set smaller, not broken, down to the least size."""
    wide = Block("", (("to the lot line", "136' 11-15/16\"", "136' 11-15/16\""),), right=frozenset({1, 2}))
    (row,) = block_set(wide, 125.0, 7.5).rows
    assert sum(text.text == "136' 11-15/16\"" for text in row.texts) == 2
    assert LEAST <= row.texts[-1].size < 7.5


def test_a_sample_stands_in_its_cell() -> None:
    """A piece of line in a table is moved to the middle of its cell."""
    sample = Sample((PaperLine(Spot(-5, 0), Spot(5, 0), Stroke(1.0)),), 12.0, 9.0)
    (row,) = block_set(Block("", ((sample, "a line"),)), 100.0, 7.0).rows
    (line,) = row.shapes
    assert isinstance(line, PaperLine)
    assert 0 < line.start.x < line.end.x < 12


@pytest.mark.parametrize("title", ["", "a title"])
def test_a_block_without_rows_is_its_title(title: str) -> None:
    """An empty block has a height and no rows."""
    done = block_set(Block(title, ()), 100.0, 7.0)
    assert done.rows == ()
    assert done.top.height > 0
