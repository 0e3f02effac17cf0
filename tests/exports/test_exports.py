"""The table of files that a job makes."""

from __future__ import annotations

import subprocess
import sys

import pytest

from staking.drawing.draw import plan
from staking.errors import PositionError
from staking.exports import EXPORTS, Made, Options
from staking.findings import Finding, Severity
from staking.layout.computed import Layout


def test_every_file_is_made(oregon: Layout) -> None:
    """Each line of the table makes a file that is not empty, where the place on the earth is known."""
    made = Made(oregon, (), plan(oregon))
    assert all(export.make(made) for export in EXPORTS if export.wanted(oregon))
    assert len({export.name for export in EXPORTS}) == len(EXPORTS)


def test_only_files_that_need_a_place_refuse_a_local_site(local: Layout) -> None:
    """A local site makes every file but those marked as needing a place on the earth."""
    made = Made(local, (), plan(local))
    for export in EXPORTS:
        if not export.wanted(local):
            continue
        if export.positioned:
            with pytest.raises(PositionError):
                export.make(made)
        else:
            assert export.make(made)


def test_files_without_stakes_tell_no_stake(local: Layout) -> None:
    """The file that may be written after a stop holds no coordinate of a stake, as the point lists do."""
    stop = Finding("margin-setback", Severity.STOP, "too near")
    made = Made(local, (stop,), plan(local), withheld=(stop.code,))
    north = local.notation.coordinate(local.frame.to_file(local.stakes[0].at).north)
    free = {export.name: export.make(made) for export in EXPORTS if not export.stakes}
    assert north.encode() in EXPORTS[0].make(made)
    assert free
    assert not [name for name, content in free.items() if north.rstrip("0").encode() in content]


def test_options_reach_their_file(local: Layout) -> None:
    """Columns, delimiter, decimals, header and version are those asked for."""
    options = Options(("name", "east"), ";", 3, header=True, dxf_version="r12")
    made = {
        e.name: e.make(Made(local, (), plan(local), options)) for e in EXPORTS if not e.positioned and e.wanted(local)
    }
    assert made["stakeout.csv"].startswith(b"name;east\r\n101;")
    assert b"AC1009" in made["layout.dxf"]


def test_overruled_stops_are_in_the_drawing(local: Layout) -> None:
    """The drawing says which stop was overruled."""
    made = Made(local, (), plan(local), despite=("margin-setback",))
    assert b"made despite the stop margin-setback" in {e.name: e for e in EXPORTS}["layout.dxf"].make(made)


def test_the_table_opens_no_library() -> None:
    """Looking at the table imports none of the slow libraries."""
    program = "import sys, staking.exports as e; print({'ezdxf', 'pyproj', 'geojson', 'reportlab'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, text=True)
    assert done.stdout.strip() == "set()"
