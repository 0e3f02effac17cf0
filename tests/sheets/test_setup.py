"""What the sheet at the instrument says."""

from __future__ import annotations

import csv
import io

from making import PLACED_RECTANGLE, layout_of, sample

from staking import check
from staking.exports.setup_csv import COLUMNS, setup_csv
from staking.layout.computed import Layout
from staking.layout.setups import SetUp, setup_of
from staking.sheets.page import Sheet, Table
from staking.sheets.setup import setup_sheet, stakes_fingerprint

FREE = """[[stakes]]
kind = "corners"
[setup]
[[setup.shots]]
to = "A"
angle = "0-00-00"
distance = 70.71
[[setup.shots]]
to = "B"
angle = "270-00-10"
distance = 70.72
"""


def _setup(layout: Layout) -> SetUp:
    found = setup_of(layout)
    assert isinstance(found, SetUp)
    return found


def _sheet(layout: Layout) -> Sheet:
    return setup_sheet(layout, _setup(layout), check(layout))


def _tables(sheet: Sheet) -> list[Table]:
    return [block for block in sheet.blocks if isinstance(block, Table)]


def test_every_stake_has_its_row_and_boxes() -> None:
    """Each stake once, with two empty boxes."""
    layout = sample("metric_hall")
    (rows,) = [table.rows for table in _tables(_sheet(layout)) if len(table.rows) == len(layout.stakes)]
    assert {row[0] for row in rows} == {stake.name for stake in layout.stakes}
    assert all(row[-2:] == ("", "") for row in rows)


def test_check_shot_says_what_should_be_read() -> None:
    """Angle, level, slope and vertical to G2, as computed by hand from the site file."""
    (first,) = [table for table in _tables(_sheet(sample("metric_hall"))) if table.rows[0][0] == "G3"]
    assert first.rows[1][:5] == ("G2", "39°59'54\"", "69.311", "69.311", "0.230")


def test_free_station_shows_what_is_left_over() -> None:
    """Two points with angles and distances leave one number to spare, and residuals."""
    words = str(_sheet(layout_of(PLACED_RECTANGLE + FREE)).blocks)
    assert "1 to spare" in words
    assert "seconds" in words
    assert "No check shot" in words


def test_fingerprint_changes_with_the_stakes() -> None:
    """The same stakes have the same fingerprint, and others another one."""
    text = PLACED_RECTANGLE + FREE
    same, other = layout_of(text), layout_of(text.replace("clear = 30", "clear = 30.01"))
    assert stakes_fingerprint(same) == stakes_fingerprint(layout_of("# a remark\n" + text))
    assert stakes_fingerprint(same) != stakes_fingerprint(other)


def test_list_for_a_spreadsheet() -> None:
    """Backsight, check point and every stake, with all columns; the backsight stands at 0."""
    layout = sample("metric_hall")
    rows = list(csv.DictReader(io.StringIO(setup_csv(layout, _setup(layout)).decode())))
    assert tuple(rows[0]) == COLUMNS
    assert [row["what"] for row in rows[:3]] == ["backsight", "check", "stake"]
    assert float(rows[0]["angle_right"]) == 0
    assert len(rows) == 2 + len(layout.stakes)
