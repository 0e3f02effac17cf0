"""The arithmetic of every quantity, in words and figures."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.sheets.takeoff_rows import Row, rows_of

TABLES = """
[forms]
board = "2x6"
lengths = ["16'", "12'"]
lap = "2'"
stake_spacing = "3'"
brace_spacing = "6'"
[concrete]
waste = "5 %"
truck = "10 cu yd"
[base]
thickness = "4 in"
[vapour_sheet]
width = "10'"
lap = "6 in"
[[reinforcement]]
name = "bars"
spacing = "18 in"
length = "20'"
lap = "2'"
cover = "3 in"
[[reinforcement]]
name = "mesh"
kind = "mesh"
length = "10'"
width = "5'"
lap = "6 in"
cover = "3 in"
"""
PART = '[[slab.parts]]\nname = "apron"\nside = "right"\nfrom = "front-right"\nstart = 4\nwidth = 12\ndepth = 9\n'


def _rows(slab: str = "", more: str = TABLES, width: str = "48' 6") -> dict[str, Row]:
    text = PLACED_RECTANGLE.replace(
        "width = 36\ndepth = 24\n", f'width = "{width}"\ndepth = 36\nthickness = "5 in"\n{slab}'
    )
    return {row.item: row for row in rows_of(layout_of(text + more))}


def test_concrete_can_be_checked_by_hand() -> None:
    """48' 6" x 36' 0" x 5" = 727.5 cu ft, / 27, + 5 %."""
    rows = _rows()
    assert rows["slab"].how == '48\' 6" x 36\' 0" x 5" = 727.5 cu ft'
    assert rows["in the forms"].how == "sum: 727.5 cu ft / 27 = 26.94 cu yd"
    assert (rows["to order"].quantity, rows["to order"].how) == ("28.29 cu yd; 21.63 cu m", "26.94 cu yd + 5 % waste")
    assert rows["loads"].how == "28.29 cu yd / 10.00 cu yd = 2.83; the last holds 8.29 cu yd"


def test_boards_are_laid_with_laps_and_a_filler() -> None:
    """48' 7-1/2" of 16 ft boards lapped 2 ft."""
    how = '48\' 6" + 1-1/2" at corners = 48\' 7-1/2": 3 x 16\' 0" + 6\' 7-1/2" (cut from 12\' 0"), less 3 x 2\' 0" lap'
    assert _rows()["front side 1-2"].how == how
    assert _rows()["string, outside each mark"].quantity == '1-1/2"'


def test_stakes_stand_at_joints_too() -> None:
    """17 spaces along 48 ft, 13 along 36 with the thickness past it; 3 and 2 joints a side."""
    rows = _rows()
    assert rows["stakes"].amount == str(2 * (18 + 14) + 2 * (3 + 2))
    assert rows["braces"].amount == str(2 * (10 + 8))


def test_base_sheet_and_steel() -> None:
    """Area by thickness; strips less laps; one bar more than spaces; sheets in rows."""
    rows = _rows()
    assert rows["compacted in place"].how == '1746.0 sq ft, x 4" = 582.0 cu ft / 27 = 21.56 cu yd'
    assert rows["roll 10' 0\" wide"].quantity == "194' 0\""
    assert rows["bars, along the front, bars of 20' 0\""].amount == str(25 * 3)
    assert rows["mesh"].amount == str(8 * 5)


def test_joints_by_the_table() -> None:
    """Ten feet for five inches, so five panels by four."""
    rows = _rows()
    assert rows["at most apart, suggested"].quantity == "10' 0\""
    assert rows["panels"].how.startswith("5 x 4; at most 10' 0\": panels 9' 8-3/8\" x 9' 0\"")


def test_a_part_has_an_opening_and_concrete_of_its_own() -> None:
    """Twelve feet, without an allowance."""
    rows = _rows(PART)
    assert rows["opening for apron"].how == '12\' 0" + 2 x 0" allowance, in the form of right side 2-3'
    assert rows["part apron"].how == '12\' 0" x 9\' 0" x 5" = 45.0 cu ft'


def test_pieces_of_one_name_say_how_deep_they_are() -> None:
    """The inside of a slab, and its edge, which falls with it."""
    edge = '[[slab.thickened]]\nname = "edge"\nwidth = 1\ndepth = 1\n'
    rows = _rows(edge, f'{TABLES}[floor]\nelevation = 9\nfall = "1 %"\ntoward = "front"\n')
    assert rows['slab, 5" deep'].how == '46\' 6" x 34\' 0" x 5" = 658.8 cu ft; top and underside fall alike'
    assert rows["slab, 1' 0\" deep"].how.startswith("165.0 sq ft x 1' 0\"")


def test_what_is_counted_twice_is_taken_off() -> None:
    """A footing whose upper two inches are slab already."""
    footing = '[[slab.footings]]\nname = "w"\nwidth = 1\ntop = 0.25\ndepth = 1\n'
    assert _rows(footing)["less, counted twice"].amount.startswith("-")


@pytest.mark.parametrize("table", ["forms", "concrete", "base", "vapour_sheet"])
def test_tables_not_declared_give_no_row(table: str) -> None:
    """Each group comes from its own table only."""
    only = {"forms": 'board = "2x6"', "base": "thickness = 1", "vapour_sheet": "width = 9\nlap = 1"}.get(table, "")
    groups = {row.group for row in _rows(more=f"[{table}]\n{only}\n").values()}
    assert groups <= {"Forms"} if table == "forms" else "Forms" not in groups


def test_no_table_no_row() -> None:
    """A site without any of them."""
    assert _rows(more="") == {}


def test_in_the_order_of_entries_nothing_depends() -> None:
    """Parts declared the other way round give the same concrete."""
    second = PART.replace("apron", "porch").replace("right", "left")
    assert _rows(PART + second)["in the forms"] == _rows(second + PART)["in the forms"]
