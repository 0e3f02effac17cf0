"""The sheet for the rod man: readings, boxes, cuts in two units, and what lies above the line of sight."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking import Layout, check
from staking.sheets.grades import both_ways, cut_words, grades_sheet, on_the_rod
from staking.sheets.page import Bullets, Paragraph, Sheet, Table

FOOT = 0.3048
STAKED = PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 99]") + '[[stakes]]\nkind = "corners"\n'
FLOOR = '[floor]\nabove = "A"\nby = 1\n'


def _sheet(text: str) -> Sheet:
    layout = layout_of(text)
    return grades_sheet(layout, check(layout))


def _tables(sheet: Sheet) -> list[Table]:
    return [block for block in sheet.blocks if isinstance(block, Table)]


def _words(sheet: Sheet) -> str:
    return " ".join(block.text for block in sheet.blocks if isinstance(block, Paragraph))


def test_without_a_floor_it_says_what_to_add() -> None:
    """No table, and the words [floor]."""
    assert "Add [floor]" in _words(_sheet(STAKED))


def test_without_a_setup_the_heights_stand_alone() -> None:
    """One table of heights with boxes for what was found."""
    (table,) = _tables(_sheet(STAKED + FLOOR))
    assert [row[2] for row in table.rows] == ["100.000"] * 4
    assert table.to_fill == {3}


def test_without_a_backsight_there_are_boxes_and_the_figure_to_add() -> None:
    """The floor lies 1 ft above the benchmark, so the rod reads 1 ft less than on it."""
    boxes, table = _tables(_sheet(STAKED + FLOOR + '[[level_setups]]\nbenchmark = "A"\n'))
    assert boxes.rows == (("", ""),)
    assert {row[3] for row in table.rows} == {"less 1' 0\""}


def test_with_a_backsight_the_rod_reads() -> None:
    """5 ft on the benchmark are 4 ft on the floor; a stake read at 4' 6 is to be filled by half a foot."""
    setup = '[[level_setups]]\nbenchmark = "A"\nbacksight = 5\nreadings = { 101 = "4\' 6" }\n'
    table, tops = _tables(_sheet(STAKED + FLOOR + setup))
    assert {row[3] for row in table.rows} == {"4' 0\""}
    assert tops.rows == (("101", "99.500", "100.000", 'FILL 6" (0.50 ft)'),)


def _rod(units: str) -> Layout:
    return layout_of(f'{STAKED}{FLOOR}[rod]\nunits = "{units}"\n')


@pytest.mark.parametrize(
    ("units", "words"),
    [
        ("feet and inches", 'CUT 3-1/2" (0.29 ft)'),
        ("tenths", 'CUT 0.29 ft (3-1/2")'),
        ("metres", "CUT 0.089 m (89 mm)"),
    ],
)
def test_a_cut_is_written_in_two_units(units: str, words: str) -> None:
    """Feet cannot be taken for inches."""
    assert cut_words(_rod(units), 3.5 * 0.0254) == words


def test_nothing_to_cut_is_at_grade() -> None:
    """A difference that prints as 0 is neither cut nor fill."""
    assert cut_words(_rod("tenths"), 0.0) == "at grade"
    assert both_ways(_rod("tenths"), FOOT) == "1.00 ft (1' 0\")"


def test_footings_have_their_two_heights() -> None:
    """Top and underside of a footing 2 ft below the floor and 1 ft deep."""
    footing = '[[slab.footings]]\nname = "wall"\nwidth = 2\ntop = 2\ndepth = 1\n[placement]'
    sheet = _sheet(STAKED.replace("[placement]", footing) + FLOOR)
    (bullets,) = [block for block in sheet.blocks if isinstance(block, Bullets)]
    assert bullets.items == ("Footing wall: top 98.000, underside 97.000, level.",)


def test_above_the_line_of_sight_the_rod_is_turned() -> None:
    """2.18 ft above it the rod reads 2.18 upside down."""
    assert on_the_rod(_rod("tenths"), (376.57 - 378.75) * FOOT).endswith("upside down reads 2.18 ft")


def test_a_sample_has_its_fall_and_its_high_corner() -> None:
    """The flag lot's floor falls to the front from corner 103."""
    layout = sample("flag_lot")
    words = _words(grades_sheet(layout, check(layout), ("some-stop",)))
    assert 'falls 1/8" per ft (1.04 %). Highest corner: 103, 101.500. Lowest: 101' in words


@pytest.mark.parametrize(
    ("at", "said"), [('at = "B"\n', "It stands at B; the readings below"), ("", "nothing is corrected")]
)
def test_a_level_out_of_adjustment_is_said(at: str, said: str) -> None:
    """Where it stands its readings allow for it; where nobody knows they do not, and both are said."""
    pegs = '[rod]\npegs = "4.25@50 4.00@50 4.62@10 4.39@110"\n'
    words = _words(_sheet(f'{STAKED}{FLOOR}{pegs}[[level_setups]]\nbenchmark = "A"\nbacksight = 5\n{at}'))
    assert "The line of sight of this level rises 0.020 in 100 by the two-peg test" in words
    assert said in words


def test_tops_that_were_found_otherwise_have_their_cut() -> None:
    """Elevations of the site file give cut and fill without a set-up."""
    heights, tops = _tables(_sheet(f"{STAKED}{FLOOR}[stake_tops]\nelevations = {{ 102 = 100.25 }}\n"))
    assert heights.to_fill == {3}
    assert tops.rows == (("102", "100.250", "100.000", 'CUT 3" (0.25 ft)'),)
