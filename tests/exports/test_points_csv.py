"""Point lists read back by other readers, and what must never stand in them."""

from __future__ import annotations

import csv
import io
import math
import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pyogrio.raw
import pytest

from staking.errors import OutputError
from staking.exports.points_csv import harmless, points_csv, stakeout_csv
from staking.exports.rows import point_rows
from staking.kinds.slab import Form
from staking.layout.computed import Layout, NamedPoint
from staking.survey.points import Point

Make = Callable[..., Layout]


def cells(raw: bytes, delimiter: str = ",") -> list[list[str]]:
    """What Python's csv module reads."""
    return list(csv.reader(io.StringIO(raw.decode("utf-8"), newline=""), delimiter=delimiter))


def noted(layout: Layout, **notes: str) -> Layout:
    """The layout with other notes on its stakes, by the stake's name without its s."""
    stakes = [replace(stake, note=notes.get(f"s{stake.name}", stake.note)) for stake in layout.stakes]
    return replace(layout, stakes=tuple(stakes))


def test_the_bytes_are_those_of_rfc_4180(local: Layout) -> None:
    """CR LF ends every line, there is no byte order mark, and every row has as many cells as the header."""
    raw = points_csv(local)
    assert raw.startswith(b"name,north,east,elevation,kind,note\r\n")
    assert raw.endswith(b"\r\n")
    assert raw.count(b"\n") == raw.count(b"\r\n") == len(cells(raw))
    assert {len(row) for row in cells(raw)} == {6}


def test_coordinates_read_back_to_their_last_digit(oregon: Layout) -> None:
    """Every coordinate read back is within half of the fourth decimal of what was computed."""
    table = {row[0]: row for row in cells(points_csv(oregon))}
    for row in point_rows(oregon):
        assert abs(float(table[row.name][1]) - row.north / 0.3048) < 0.5001e-4
        assert abs(float(table[row.name][2]) - row.east / 0.3048) < 0.5001e-4


def test_given_digits_come_out_unchanged(oregon: Layout) -> None:
    """The surveyor's own figures are in the list digit by digit."""
    assert cells(points_csv(oregon))[1][:4] == ["P1", "812345.6789", "7654321.0123", "412.0700"]


def test_no_elevation_is_not_elevation_zero(local: Layout) -> None:
    """An unknown elevation is an empty cell, and 0 is written as 0.0000."""
    elevations = {row[0]: row[3] for row in cells(points_csv(local))}
    assert (elevations["P2"], elevations["P3"]) == ("", "0.0000")


def test_quotes_and_commas_survive(local: Layout) -> None:
    """A note with commas, inch marks and quotes reads back as it was."""
    assert cells(points_csv(local))[4][5] == 'hub, 1/2" down; "north"'


def test_gdal_reads_the_same(local: Layout, tmp_path: Path) -> None:
    """GDAL reads the names and coordinates that Python's csv module reads."""
    path = tmp_path / "points.csv"
    path.write_bytes(points_csv(local))
    meta, _, _, fields = pyogrio.raw.read(path)
    seen = dict(zip(meta["fields"], fields, strict=True))
    rows = cells(path.read_bytes())[1:]
    assert list(seen["name"]) == [row[0] for row in rows]
    assert list(seen["north"]) == [row[1] for row in rows]


def test_zero_has_no_minus(make_layout: Make) -> None:
    """A coordinate that rounds to zero is written 0.0000, and no figure has an exponent."""
    layout = make_layout("m", north=0.0, east=0.0)
    tiny = NamedPoint("T", layout.frame.to_ground(Point(-4e-5, -1e-9, -1e-12)))
    raw = points_csv(replace(layout, points={"T": tiny}, stakes=()))
    assert cells(raw)[1][:4] == ["T", "0.0000", "0.0000", "0.0000"]


@pytest.mark.parametrize("note", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "＝1", "＋1"])
def test_notes_are_never_formulas(local: Layout, note: str) -> None:
    """A note that a spreadsheet would run has an apostrophe in front, in both lists."""
    layout = noted(local, s101=note)
    for raw in (points_csv(layout), stakeout_csv(layout)):
        assert next(row for row in cells(raw) if row[0] == "101")[-1] == f"'{note}"


@pytest.mark.parametrize("note", ["", "corner 1", "5' 0\" beyond", "2-1", "a=b", "'quoted"])
def test_harmless_notes_stay(note: str) -> None:
    """Words, marks and signs inside a text are not touched."""
    assert harmless(note) == note


def test_the_stake_list_holds_stakes_only(local: Layout) -> None:
    """By default: no header, name, north, east, elevation, note; nothing that was given."""
    rows = cells(stakeout_csv(local))
    assert [row[0] for row in rows] == [stake.name for stake in local.stakes]
    assert [len(row) for row in rows] == [5] * len(rows)
    assert rows[0][4] == "corner 1 (front-left)"


def test_columns_delimiter_decimals_and_header(local: Layout) -> None:
    """Any columns in any order, with another delimiter, other decimals and a header."""
    raw = stakeout_csv(local, columns=("east", "north", "name"), delimiter=";", decimals=3, header=True)
    first, second = raw.decode().splitlines()[:2]
    assert first == "east;north;name"
    assert re.fullmatch(r"\d+\.\d{3};\d+\.\d{3};101", second)


def test_blanks_between_columns(local: Layout) -> None:
    """With blanks between columns a note is one word, and an empty one is a dash."""
    layout = noted(local, s101='5" nail here', s102="")
    lines = stakeout_csv(layout, columns=("name", "note"), delimiter=" ").decode().splitlines()
    assert lines[:2] == ["101 5''_nail_here", "102 -"]


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({"columns": ("name", "nort")}, 'no column "nort"'),
        ({"columns": ()}, "each of its columns once"),
        ({"columns": ("name", "name")}, "each of its columns once"),
        ({"delimiter": "|"}, "'|' cannot stand between columns"),
        ({"decimals": 1}, "not written with 1 decimals"),
        ({"decimals": 7}, "not written with 7 decimals"),
        ({"delimiter": " "}, "elevation of 101 is not known"),
    ],
)
def test_lists_that_are_refused(local: Layout, options: dict[str, Any], says: str) -> None:
    """A list that an instrument could misread is refused with a sentence and a remedy."""
    with pytest.raises(OutputError) as refused:
        stakeout_csv(local, **options)
    assert says in refused.value.message
    assert refused.value.remedy


def test_names_with_blanks_need_another_delimiter(local: Layout) -> None:
    """A name with a blank would fall into two columns, so it is refused."""
    named = replace(local, stakes=(replace(local.stakes[0], name="C 1"),))
    with pytest.raises(OutputError, match='"C 1" holds a blank'):
        stakeout_csv(named, columns=("name", "north"), delimiter=" ")


def test_sides_from_the_written_points(local: Layout) -> None:
    """Sides computed from the written coordinates are those of the slab within the last digit."""
    table = {row[0]: row for row in cells(points_csv(local))}
    form: Form = local.slab.form
    for side, line in zip(local.sides, form.sides, strict=True):
        start, end = table[side.start], table[side.end]
        run = math.hypot(float(end[1]) - float(start[1]), float(end[2]) - float(start[2]))
        assert abs(run - line.length / 0.3048) < 1.5e-4


PROGRAM = """
import importlib.util, sys
found = importlib.util.spec_from_file_location("sites", sys.argv[1])
sites = importlib.util.module_from_spec(found)
found.loader.exec_module(sites)
layout = sites.shed("ftUS", "", north=1.5, east=2.5)
from staking.exports.points_csv import points_csv
from staking.exports.dxf import dxf
from staking.exports.layout_json import layout_json
sys.stdout.buffer.write(points_csv(layout) + dxf(layout, sites.drawn(layout)) + layout_json(layout, ()))
"""


def test_the_same_bytes_everywhere() -> None:
    """Another language, time zone, hash seed or no home folder change no byte of any file."""
    sites = Path(__file__).with_name("conftest.py")
    roots = {"PYTHONPATH": os.pathsep.join([".", *sys.path]), "PATH": os.environ.get("PATH", "")}
    settings = (
        {"LANG": "C", "TZ": "UTC", "PYTHONHASHSEED": "1", "HOME": "/dev/null"},
        {"LANG": "de_DE.UTF-8", "LC_ALL": "tr_TR.UTF-8", "TZ": "Pacific/Chatham", "PYTHONHASHSEED": "2"},
    )
    runs = [
        subprocess.run([sys.executable, "-c", PROGRAM, sites], env=roots | more, capture_output=True, check=True)
        for more in settings
    ]
    assert runs[0].stdout == runs[1].stdout
    assert [run.stderr for run in runs] == [b"", b""]
