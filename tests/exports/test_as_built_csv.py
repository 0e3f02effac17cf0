"""The table of what was measured."""

from __future__ import annotations

import csv
import io
import math

import pytest
from measuring import INCH
from reported import measured

from staking import Layout
from staking.exports.as_built_csv import COLUMNS, as_built_csv


def rows(layout: Layout) -> list[dict[str, str]]:
    """The table as a spreadsheet has it."""
    return list(csv.DictReader(io.StringIO(as_built_csv(measured(layout)).decode("utf-8"), newline="")))


def test_the_table_begins_as_a_list_of_points(oregon: Layout) -> None:
    """Name, north, east, elevation, as measured, in the frame of the site file."""
    assert COLUMNS[:4] == ("name", "north", "east", "elevation")
    first = rows(oregon)[1]
    design = oregon.frame.to_file(oregon.slab.form.corners[1])
    assert float(first["north"]) == pytest.approx(design.north / 0.3048, abs=0.00006)
    moved = (design.east + INCH * oregon.frame.factor) / 0.3048
    assert float(first["east"]) == pytest.approx(moved, abs=0.00006)


def test_differences_are_in_the_sites_unit(oregon: Layout) -> None:
    """An inch east is 0.0833 ft, out of a quarter inch, square from one wall line and along the other."""
    second = rows(oregon)[1]
    assert (second["off_north"], second["off_east"], second["off"]) == ("0.0000", "0.0833", "0.0833")
    assert (second["allowed"], second["answer"], second["off_up"], second["answer_up"]) == ("0.0208", "out", "", "")
    assert {second["wall_1"], second["wall_2"]} == {"front", "right"}
    both = [abs(float(second[f"out_{n}"])) for n in (1, 2)]
    assert math.hypot(*both) == pytest.approx(0.0833, abs=0.0002)


def test_strangers_are_kept_and_held_against_nothing(oregon: Layout) -> None:
    """They come last; their notes run nowhere."""
    last = rows(oregon)[-1]
    assert (last["name"], last["kind"], last["answer"]) == ("MH3", "not of the design", "")
    assert last["note"] == "'=1+1"
    assert last["elevation"] == "4.9213"


def test_every_row_has_every_column(oregon: Layout) -> None:
    """No row is longer or shorter than the head."""
    table = list(csv.reader(io.StringIO(as_built_csv(measured(oregon)).decode("utf-8"), newline="")))
    assert {len(row) for row in table} == {len(COLUMNS)}
