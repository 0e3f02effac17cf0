"""The table of quantities."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from making import PLACED_RECTANGLE, layout_of, sample

from staking import check
from staking.exports.job import export
from staking.exports.takeoff_csv import COLUMNS, takeoff_csv


def test_rows_have_figures_and_units_apart() -> None:
    """Every quantity is a number; a volume has both units."""
    head, *rows = list(csv.reader(io.StringIO(takeoff_csv(sample("metric_record")).decode("utf-8"))))
    assert tuple(head) == COLUMNS
    assert all(float(row[2]) > 0 and row[3] for row in rows)
    assert [
        "Concrete",
        "to order",
        "33.60",
        "cu m",
        "43.95",
        "cu yd",
        "32.00 cu m x 1.05 = 33.60 cu m; 5 % waste",
    ] in rows


def test_no_row_can_be_read_as_a_point() -> None:
    """Whatever is called by a number: no head of a coordinate, and never two numbers side by side but a quantity's."""
    part = '[[slab.parts]]\nname = "12"\nside = "right"\nfrom = "front-right"\nwidth = 12\ndepth = 9\n[placement]'
    text = PLACED_RECTANGLE.replace("[placement]", f"thickness = 0.5\n{part}")
    mesh = 'kind = "mesh"\nlength = 10\nwidth = 5\nlap = 1\ncover = 0\n'
    bars = "spacing = 1\nlength = 50\ncover = 0\n"
    steel = "".join(f'[[reinforcement]]\nname = "{name}"\n{rest}' for name, rest in (("4", mesh), ("5", bars)))
    forms = '[forms]\nboard = "2x6"\nlengths = [16]\n'
    made = takeoff_csv(layout_of(f"{text}{forms}[concrete]\n{steel}")).decode("utf-8")
    head, *rows = list(csv.reader(io.StringIO(made)))
    assert not {"name", "north", "east", "northing", "easting", "x", "y"} & set(head)
    assert not [row for row in rows if row[0][0].isdigit() or row[1].replace(".", "").isdigit()]


def test_files_are_made_only_where_something_is_counted(tmp_path: Path) -> None:
    """A site without the tables has none of the three."""
    bare, counted = layout_of(PLACED_RECTANGLE), sample("metric_record")
    none, three = (export(each, check(each), tmp_path / each.site.declared.site.name) for each in (bare, counted))
    assert not [name for name in none.files if name.startswith("takeoff")]
    assert len([name for name in three.files if name.startswith("takeoff")]) == 3
