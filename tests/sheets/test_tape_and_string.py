"""The sheet for tape and string: its steps in order of work, its figures, its cautions."""

from __future__ import annotations

import pytest
from making import OPEN_FIELD, PLACED_RECTANGLE, ROUND_PAD, layout_of, sample

from staking import Layout, check
from staking.drawing.marks import SymbolMark
from staking.sheets.page import Block, Bullets, Cautions, Paragraph, Sheet, Step, Table
from staking.sheets.tape_and_string import tape_and_string


def _sheet(layout: Layout) -> Sheet:
    return tape_and_string(layout, check(layout))


def _steps(sheet: Sheet) -> list[Step]:
    return [block for block in sheet.blocks if isinstance(block, Step)]


def _words(blocks: tuple[Block, ...]) -> str:
    texts: list[str] = []
    for block in blocks:
        if isinstance(block, Paragraph):
            texts.append(block.text)
        elif isinstance(block, Step):
            texts += [block.title, *block.text]
        elif isinstance(block, Bullets | Cautions):
            texts += block.items
    return "\n".join(texts)


def test_shed_in_the_order_of_work() -> None:
    """Base line, its marks, far line, diagonals, closing check, then the offset stakes."""
    titles = [step.title for step in _steps(_sheet(sample("tape_only_shed")))]
    assert titles == [
        "Base line off curb",
        "Marks on the base line: 101, then 102",
        "Far line, parallel to the base line",
        "Far corners by the diagonals: 103 and 104",
        "Closing check: 104 to 103",
        "Offset stakes",
    ]


def test_ell_and_parts_have_their_own_steps() -> None:
    """Inside corners by ordinates, parts along their side, boards with nails."""
    steps = _steps(_sheet(sample("ell_house_on_grid")))
    assert [step.number for step in steps] == list(range(1, 10))
    assert {"The other corners", "Parts of the slab", "Batter boards and nails"} <= {step.title for step in steps}
    assert all(step.picture for step in steps)


def test_parts_say_how_much_lower_they_meet_the_slab_and_end() -> None:
    """A step at the joint, and a drop at the outer edge; above where it is negative."""
    part = '[[slab.parts]]\nname = "porch"\nside = "front"\nfrom = "front-left"\nwidth = 9\ndepth = 6\n'
    text = PLACED_RECTANGLE.replace("[placement]", f'{part}step = "4 in"\ndrop = "5 in"\n[placement]')
    words = _words(_sheet(layout_of(text)).blocks)
    assert 'porch: where it meets the slab it lies 4" below the slab, its outer edge lies 5" below the slab.' in words
    raised = text.replace('step = "4 in"\ndrop = "5 in"', 'step = "-1 in"')
    assert 'porch: where it meets the slab it lies 1" above the slab.' in _words(_sheet(layout_of(raised)).blocks)


def test_diagonals_are_given_to_the_sixteenth_and_in_decimals() -> None:
    """30.25 ft by 40.25 ft: 50 ft 4-3/16 in and 50.350 ft; common practice, no source."""
    step = next(s for s in _steps(_sheet(sample("tape_only_shed"))) if "diagonals" in s.title)
    assert step.table is not None
    assert step.table.rows[0][2:4] == ("50' 4-3/16\"", "50.350")


def test_every_check_distance_has_its_permitted_difference_and_a_box() -> None:
    """Sides and diagonals with what they may be off, the source of that, and boxes to fill in."""
    sheet = _sheet(sample("tape_only_shed"))
    table = next(block for block in sheet.blocks if isinstance(block, Table))
    assert [row[4] for row in table.rows] == ['± 1/4"'] * 4 + ['± 3/8"'] * 2
    assert table.to_fill == {5, 6}
    assert "Ballast" in _words(sheet.blocks)


def test_a_sixteenth_on_the_diagonal() -> None:
    """The sheet says how far a sixteenth more on one diagonal moves the far corners."""
    words = _words(_sheet(sample("tape_only_shed")).blocks)
    # 1/16 in * 50.35 ft / 40.25 ft = 0.078 in; over a depth of 30.25 ft that is 0.026 in per 10 ft
    assert '1/16" more on 101 - 103' in words
    assert "stand 0.078 in too far" in words
    assert "0.026 in per 10 ft" in words


@pytest.mark.parametrize("word", ["not a boundary survey", "call 811", "overhead lines", "licensed design", "setback"])
def test_cautions_are_on_the_sheet(word: str) -> None:
    """Survey, utilities, overhead lines, design, setbacks."""
    assert word in _words(_sheet(sample("metric_hall")).blocks).lower()


def test_findings_to_settle_come_before_the_work() -> None:
    """Warnings stand above the first step; notes do not."""
    sheet = _sheet(sample("tape_only_shed"))
    before = _words(sheet.blocks[: next(i for i, b in enumerate(sheet.blocks) if isinstance(b, Step))])
    assert "line-not-surveyed" in before
    assert "position-unknown" not in before


def test_overruled_stops_are_on_every_page() -> None:
    """The warning of the sheet names the code."""
    layout = layout_of(PLACED_RECTANGLE.replace("distance = 40", "distance = 20"))
    sheet = tape_and_string(layout, check(layout), ["setback-crossed"])
    assert "setback-crossed" in sheet.warning


def test_without_a_direction_the_sheet_says_what_to_add() -> None:
    """One point and a bearing: no steps, and the sentence that says which line is missing."""
    sheet = _sheet(layout_of(OPEN_FIELD))
    assert not _steps(sheet)
    assert "[[references]]" in _words(sheet.blocks)


def test_metric_figures_have_no_inches() -> None:
    """A site in metres prints metres and millimetres only."""
    sheet = _sheet(sample("metric_hall"))
    cells = [cell for block in sheet.blocks if isinstance(block, Table) for row in block.rows for cell in row]
    assert not any('"' in cell or "'" in cell for cell in cells)
    assert "± 6 mm" in cells


def test_marks_on_an_arc_are_measured_along_the_form() -> None:
    """A string from corner to corner would cut across; straight sides need no such word."""
    marks = {name: _steps(_sheet(sample(name)))[-1].text for name in ("triangle_lot", "workshop_pad")}
    assert len(marks["workshop_pad"]) == 1
    assert marks["triangle_lot"][1] == (
        "On an arc measure along the form itself, once it is bent: a string there would cut across."
    )


def test_a_corner_of_two_arcs_is_named_once() -> None:
    """All four corners of a round pad, each with one name in the picture of its arcs."""
    step = next(step for step in _steps(_sheet(layout_of(ROUND_PAD))) if step.title == "Arcs off their chords")
    assert step.picture is not None
    names = [mark.label for mark in step.picture.drawing.marks if isinstance(mark, SymbolMark) and mark.label]
    assert sorted(names) == ["C1", "C2", "C3", "C4"]  # no stakes are asked for
