"""What `staking drawing` prints."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from drawings import BAY, SQUARE, blank, drawn, polyline, saved

from staking.app.cli import main


def _run(folder: Path, data: bytes, *words: str) -> Result:
    path = folder / "house.dxf"
    path.write_bytes(data)
    return CliRunner().invoke(main, ["drawing", str(path), *words])


def test_what_is_inside_is_listed(tmp_path: Path) -> None:
    """Form, unit, layers, outlines with their sizes, what is not read, and a [slab] to paste."""
    document = blank(units=2)
    space = document.modelspace()
    polyline(space, BAY)
    space.add_text("KITCHEN", dxfattribs={"layer": "TEXT"})
    space.add_line((0, 0), (1, 1), dxfattribs={"layer": "AXES"})
    space.add_spline([(0, 0), (1, 1), (2, 0)])
    printed = _run(tmp_path, saved(document)).output.splitlines()
    assert printed[0] == "house.dxf: DXF R2000, unit ft ($INSUNITS = 2)"
    assert 'layer "TEXT": 1 TEXT' in printed
    assert any(line.startswith("outline: 12' 9\" east by 9' 0\" north, 6 sides, 1 of them arcs") for line in printed)
    assert any(line.startswith('loose end on layer "AXES"') for line in printed)
    assert any(line.startswith("not read: SPLINE") for line in printed)
    assert printed[-4:-1] == ["[slab]", 'kind = "drawing"', 'path = "house.dxf"']


def test_without_a_unit_it_shows_the_sizes_and_guesses_none(tmp_path: Path) -> None:
    """The size in every unit, and a question mark in the table to paste; --unit then shows the outlines."""
    silent = _run(tmp_path, drawn(SQUARE, units=0)).output
    assert 'unit = "cm": its points lie within 0.040 m by 0.040 m' in silent
    assert 'unit = "?"' in silent
    assert "outline: 4' 0\" east by 4' 0\" north" in _run(tmp_path, drawn(SQUARE, units=0), "--unit", "ft").output


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", ()),
        (b"AC1032\x00", ()),
        (drawn(), ("--join", "wide")),
    ],
)
def test_what_cannot_be_read_ends_with_status_2(tmp_path: Path, data: bytes, words: tuple[str, ...]) -> None:
    """A sentence and a remedy, and no traceback."""
    result = _run(tmp_path, data, *words)
    assert result.exit_code == 2
    assert "  -> " in result.output
    assert isinstance(result.exception, SystemExit)


def test_a_drawing_without_lines_says_so(tmp_path: Path) -> None:
    """Nothing is suggested where nothing could be an outline."""
    assert _run(tmp_path, saved(blank())).output.splitlines()[-1] == "nothing in it that an outline could be made of"
