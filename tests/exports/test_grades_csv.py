"""The table of heights: one row a point and set-up."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from making import PLACED_RECTANGLE, layout_of, sample

from staking import check
from staking.exports.grades_csv import COLUMNS, grades_csv
from staking.exports.job import export


def test_rows_hold_reading_and_cut() -> None:
    """The first corner of the flag lot: design, reading, top of its stake, and the cut between them."""
    rows = list(csv.reader(io.StringIO(grades_csv(sample("flag_lot")).decode("utf-8"))))
    assert tuple(rows[0]) == COLUMNS
    assert rows[1][:4] == ["101", "2150.0931", "1076.3453", "101.0972"]
    assert rows[1][4:] == ["corner", "1", "5.1111", "101.1250", "0.0278", "corner 1"]


def test_without_setups_heights_alone() -> None:
    """No set-up, no reading."""
    layout = layout_of(PLACED_RECTANGLE + "[floor]\nelevation = 100\n")
    rows = list(csv.reader(io.StringIO(grades_csv(layout).decode("utf-8"))))
    assert rows[1][3:9] == ["100.0000", "corner", "", "", "", ""]


def test_files_of_heights_are_made_only_with_a_floor(tmp_path: Path) -> None:
    """A site without [floor] has none of them, one with a floor has all three."""
    bare, flag = layout_of(PLACED_RECTANGLE), sample("flag_lot")
    none, all_three = (export(each, check(each), tmp_path / each.site.declared.site.name) for each in (bare, flag))
    assert not [name for name in none.files if name.startswith("grades")]
    assert len([name for name in all_three.files if name.startswith("grades")]) == 3


def test_tops_that_were_found_otherwise_have_their_cut() -> None:
    """Elevations of [stake_tops] stand in the column of tops, set-up or not."""
    text = PLACED_RECTANGLE + '[[stakes]]\nkind = "corners"\n[floor]\nelevation = 100\n'
    layout = layout_of(text + "[stake_tops]\nelevations = { 101 = 99.5 }\n")
    rows = list(csv.reader(io.StringIO(grades_csv(layout).decode("utf-8"))))
    assert rows[1][5:9] == ["", "", "99.5000", "-0.5000"]
    assert rows[2][7:9] == ["", ""]
