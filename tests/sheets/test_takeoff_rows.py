"""The arithmetic of every quantity, in words and figures."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking.sheets.takeoff_row import Row
from staking.sheets.takeoff_rows import bought, rows_of

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
    assert rows["slab"].how == '48\' 6" x 36\' 0" x 5": 48.5 x 36 x 5 / 12 = 727.5 cu ft'
    assert rows["in the forms"].how == "sum: 727.5 cu ft / 27 = 26.94 cu yd"
    assert (rows["to order"].both, rows["to order"].how) == (
        "28.29 cu yd; 21.63 cu m",
        "26.94 cu yd x 1.05 = 28.29 cu yd; 5 % waste",
    )
    assert rows["loads"].how == ("28.29 cu yd / 10.00 cu yd = 2.83: 2 of 10.00 cu yd and a last one of 8.29 cu yd")


def test_boards_are_laid_with_laps_and_a_filler() -> None:
    """48' 7-1/2" of 16 ft boards lapped 2 ft."""
    how = '48\' 6" + 1-1/2" at corners = 48\' 7-1/2": 3 x 16\' 0" + 6\' 7-1/2" (sawn), less 3 x 2\' 0" lap'
    assert _rows()["front side 1-2"].how == f'{how}; needs 5" down to the underside'
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
    assert rows["sheet 10' 0\" wide"].quantity == "194' 0\""
    assert rows["bars, along the front, bars of 20' 0\""].amount == str(25 * 3)
    assert rows["sheets of mesh, 10' 0\" x 5' 0\""].amount == str(8 * 5)


def test_joints_by_the_table() -> None:
    """Ten feet for five inches, so five panels by four."""
    rows = _rows()
    assert rows["at most apart, suggested"].quantity == "10' 0\""
    assert rows["panels"].how.startswith("5 x 4; at most 10' 0\": panels 9' 8-3/8\" x 9' 0\"")


def test_a_part_has_an_opening_and_concrete_of_its_own() -> None:
    """Twelve feet, without an allowance."""
    rows = _rows(PART)
    assert rows["opening for apron"].how == '12\' 0" + 2 x 0" allowance, in the form of right side 2-3'
    assert rows["part apron"].how == '12\' 0" x 9\' 0" x 5": 12 x 9 x 5 / 12 = 45.0 cu ft'


def test_pieces_of_one_name_say_how_deep_they_are() -> None:
    """The inside of a slab, and its edge, which falls with it."""
    edge = '[[slab.thickened]]\nname = "edge"\nwidth = 1\ndepth = 1\n'
    rows = _rows(edge, f'{TABLES}[floor]\nelevation = 9\nfall = "1 %"\ntoward = "front"\n')
    inside = '46\' 6" x 34\' 0" x 5": 46.5 x 34 x 5 / 12 = 658.8 cu ft; top and underside fall alike'
    ring = "48.5 x 36 - 46.5 x 34 = 165.0 sq ft; 165.0 sq ft x 1' 0\": 165.0 x 12 / 12 = 165.0 cu ft"
    assert rows['slab, 5" deep'].how == inside
    assert rows["slab, 1' 0\" deep"].how == f"{ring}; top and underside fall alike"
    assert rows["in the forms"].how == "165.0 + 658.8 = 823.8 cu ft / 27 = 30.51 cu yd"


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


PANELS = """
[forms]
kind = "panels"
thickness = "4 in"
heights = ["1'", "2'"]
lengths = ["8'", "4'", "2'"]
inside_corner = "6 in"
"""


def test_panels_are_laid_whole_with_a_filler() -> None:
    """48 ft 6 in: six of 8 ft leave 6 in; a foot high is enough for 5 in."""
    rows = _rows(more=PANELS)
    how = '48\' 6": 6 x 8\' 0" + filler 6"; 1\' 0" high; needs 5" down to the underside'
    assert rows["front side 1-2"].how == how
    assert rows["panels 8' 0\" x 1' 0\""].amount == str(2 * 6 + 2 * 4)
    assert rows["panels 4' 0\" x 1' 0\""].amount == "2"
    assert rows["fillers, made to measure"].how == '6" x 1\' 0" for front side 1-2, back side 3-4'
    assert rows["outside corners"].amount == "4"
    assert "inside corners" not in rows


def test_panels_are_stacked_as_high_as_a_side_needs() -> None:
    """A slab of two and a half feet takes one of two feet and one of one foot, all round."""
    text = PLACED_RECTANGLE.replace("[placement]", "thickness = 2.5\n[placement]")
    rows = {row.item: row for row in rows_of(layout_of(text + PANELS))}
    assert (
        rows["front side 1-2"].how
        == "36' 0\": 4 x 8' 0\" + 1 x 4' 0\"; 2' 0\" + 1' 0\" high; needs 2' 6\" down to the underside"
    )
    assert rows["panels 8' 0\" x 2' 0\""].amount == rows["panels 8' 0\" x 1' 0\""].amount == str(2 * 4 + 2 * 3)


def test_boards_are_as_many_high_as_a_side_needs() -> None:
    """Of the sample on a slope the deep edges take two, apron and ramp one."""
    rows = [row for row in rows_of(sample("sloping_lot")) if row.unit == "pieces"]
    assert all(("2 boards high" in row.how) == ("side" in row.item) for row in rows)


def test_rolls_hooks_edges_and_dowels() -> None:
    """A schedule by count and length, each with its arithmetic."""
    entry = '[[reinforcement]]\nname = "{}"\ncover = "3 in"\nlength = "20\'"\n{}'
    kinds = (
        ("hooked", 'spacing = "18 in"\nlap = "2\'"\nhook = "6 in"\n'),
        ("edge", 'kind = "edge"\ncount = 2\nlap = "2\'"\n'),
        ("fabric", 'kind = "rolls"\nwidth = "5\'"\nlap = "6 in"\n'),
        ("smooth", 'kind = "dowels"\nspacing = "12 in"\n'),
    )
    steel = "".join(entry.format(name, rest) for name, rest in kinds)
    rows = _rows(more=f'[concrete]\njoint_spacing = "12\'"\n{steel}')
    assert 'with hooks of 6" + 2 x 2\' 0" lap = 53\' 0"' in rows["hooked, along the front, bars of 20' 0\""].how
    assert rows["edge, front side 1-2, bars of 20' 0\""].amount == "6"
    assert rows["rolls of fabric, 20' 0\" x 5' 0\""].how.startswith("inside the cover 48' 0\" x 35' 6\"; 8 rows")
    dowels = rows["dowels smooth, 20' 0\" long"]
    assert dowels.amount == str(4 * 37 + 2 * 49)


def test_sheet_by_rolls_and_base_as_delivered() -> None:
    """Four strips of 49 ft with half a foot up at each edge; a quarter more when loose, and 5 % waste."""
    more = '[vapour_sheet]\nwidth = "10\'"\nlap = "6 in"\nlength = "100\'"\nturn_up = "6 in"\n'
    rows = _rows(more=f'{more}[base]\nthickness = "4 in"\nloose = "25 %"\nwaste = "5 %"\n')
    assert rows["sheet 10' 0\" wide"].how.startswith(
        'with 6" turned up at each edge 49\' 6" x 37\' 0"; (37\' 0" - 6" lap)'
    )
    assert rows["rolls of 100' 0\""].amount == "2"
    assert rows["to order"].how.startswith("21.56 cu yd x 1.25 x 1.05 = 28.29 cu yd; 25 % more when loose; 5 % waste")


def test_a_wall_is_in_the_concrete() -> None:
    """Its ring as the difference of two rectangles."""
    footing = '[[slab.footings]]\nname = "w"\nwidth = 1\ntop = 2\ndepth = 1\nwall = 0.5\n'
    how = _rows(footing)["wall w"].how
    assert how == "48.5 x 36 - 47.5 x 35 = 83.5 sq ft; 83.5 sq ft x 1' 7\": 83.5 x 19 / 12 = 132.2 cu ft"


def test_in_metres_nothing_is_divided() -> None:
    """Length by width by thickness, and a sum of cubic metres."""
    rows = {row.item: row for row in rows_of(sample("metric_hall"))}
    assert rows["slab"].how == "30.000 m x 18.000 m x 0.180 m: 30 x 18 x 0.18 = 97.200 cu m"
    assert rows["in the forms"].how == "97.200 + 2.592 + 2.592 = 102.384 cu m"


def test_what_to_order_has_every_kind_once() -> None:
    """Bars of one name both ways are one line; what is no order, as the string, is none."""
    orders = dict(bought(rows_of(sample("sloping_lot"))))
    assert orders["no 4 at 18, bars of 20' 0\""] == "78 bars"
    assert orders["boards of 10' 0\", 2x10"] == "1 board"
    assert orders["loads of concrete: 2 of 10.00 cu yd and a last one of 2.18 cu yd"] == "3 loads"
    assert not any("string" in name or "opening" in name for name in orders)


def test_earth_is_counted_as_on_the_ground_sheet() -> None:
    """What is dug straight down, beside it and for footings adds up to the whole pit; the fill stands apart."""
    layout = sample("sloping_lot")
    assert layout.earth
    assert layout.earth.pit
    rows = {row.item: row for row in rows_of(layout) if row.group == "Earth"}
    assert rows["dug in all"].amount == f"{layout.earth.pit.volume / 0.9144**3:.2f}"
    assert rows["filled under the concrete"].amount == f"{layout.earth.total.fill / 0.9144**3:.2f}"
    assert rows["dug in all"].how == "0.41 cu yd + 1.08 cu yd"
