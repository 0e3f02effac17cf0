"""`staking points` as people use it: statuses, what is said, what is written."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import ROOT

from staking.app.cli import main

ELL = ROOT / "sample_sites" / "ell_house_on_grid"
CONTROL = (ELL / "control.csv").read_text("utf-8").splitlines()


def run(folder: Path, rows: list[str], *words: object) -> Result:
    """The verb on some rows."""
    (folder / "list.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return CliRunner().invoke(main, ["points", str(folder / "list.csv"), *map(str, words)])


def exchanged() -> list[str]:
    """The control of the sample site with east before north, and no header."""
    cells = [row.split(",", 4) for row in CONTROL[1:]]
    return [",".join((c[0], c[2], c[1], c[3], c[4])) for c in cells]


def test_a_list_that_agrees_is_understood(tmp_path: Path) -> None:
    """Status 0; what each column is, and how many points agree."""
    result = run(tmp_path, CONTROL, "--site", ELL)
    assert result.exit_code == 0, result.output
    assert "column 2  north      north     certain: the header says so" in result.output
    assert "10 of them bear names of the site; 10 lie where it has them" in result.output


def test_the_order_is_told_by_the_site(tmp_path: Path) -> None:
    """The list is right, and the evidence is printed."""
    result = run(tmp_path, exchanged(), "--site", ELL)
    assert result.exit_code == 0, result.output
    assert "east      by evidence: 10 points of the site lie 0.00 m off; the other way round" in result.output


def test_an_order_that_cannot_be_told_is_asked_for(tmp_path: Path) -> None:
    """Status 2, and what to type."""
    result = run(tmp_path, exchanged())
    assert result.exit_code == 2
    assert '--columns "name,north,east,elevation,note"' in result.output


@pytest.mark.parametrize(
    ("rows", "words", "said"),
    [
        (exchanged(), ("--columns", "name,north,east,elevation,note"), "north and east are exchanged: 10 of 10"),
        (CONTROL, ("--unit", "ft"), "the list is in the other foot: 10 of 10"),
        ([row.replace("1640344", "1641344") for row in CONTROL], (), "likely 1640344.359 [list-digit]"),
    ],
)
def test_a_slip_stands_on_the_first_line(rows: list[str], words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    """North and east exchanged, the wrong foot, a mistyped digit: status 1, and nothing is written."""
    result = run(tmp_path, rows, "--site", ELL, "--write", tmp_path / "new.csv", *words)
    assert (result.exit_code, (tmp_path / "new.csv").exists()) == (1, False)
    assert said in result.output.splitlines()[0]


def test_a_list_is_written_in_our_own_order(tmp_path: Path) -> None:
    """A new file that reads the same; never over another."""
    result = run(tmp_path, ["p;e;n;z", "K1;12,5;7,25;"], "--unit", "m", "--write", tmp_path / "new.csv")
    assert "wrote" in result.output
    assert (tmp_path / "new.csv").read_bytes().splitlines()[1] == b"K1,7.2500,12.5000,,given,"
    again = run(tmp_path, ["p;e;n;z", "K1;12,5;7,25;"], "--unit", "m", "--write", tmp_path / "new.csv")
    assert (again.exit_code, "is there already" in again.output) == (2, True)


def test_a_list_without_unit_is_shown_and_not_written(tmp_path: Path) -> None:
    """Figures as they are; a unit is asked for."""
    result = run(tmp_path, ["p,n,e", "A,1,2"], "--write", tmp_path / "new.csv")
    assert "not stated" in result.output
    assert (result.exit_code, (tmp_path / "new.csv").exists()) == (2, False)


def test_rows_that_cannot_be_used_are_told(tmp_path: Path) -> None:
    """Twenty of them, and that there are more; lengths with units of their own too."""
    result = run(tmp_path, ["p,n,e", "A,1,2 ft", *["B,x,1"] * 25], "--unit", "ft")
    assert result.exit_code == 1
    assert result.output.count("[bad-row]") == 20
    assert "there are more rows" in result.output
    assert "a unit of their own among bare figures in 1 row, on line 2" in result.output


def test_a_header_against_the_command_line_is_refused(tmp_path: Path) -> None:
    """The words speak of the command line, not of a site file."""
    result = run(tmp_path, ["p,n,e", "A,1,2"], "--columns", "name,east,north")
    assert result.exit_code == 2
    assert "by the command line it is column 3" in result.output
    assert "site file" not in result.output


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (["name,north,east"], "the file holds no points, only a header"),
        (["[site]", 'name = "a"'], "this is a site file, not a list of points"),
        (["p;n;e", "A;1,234;5,678"], "say --decimal comma"),
        (["a,b,c", "x,y,z"], "its header is not known"),
    ],
)
def test_what_is_no_list_is_refused_in_words(rows: list[str], said: str, tmp_path: Path) -> None:
    """Status 2, and what to do instead."""
    result = run(tmp_path, rows)
    assert (result.exit_code, said in result.output) == (2, True)


def test_a_note_cut_short_is_told(tmp_path: Path) -> None:
    """A comma without quotes around it."""
    result = run(tmp_path, ["p,n,e,d", "A,1,2,hub, tack", "B,3,4 ft,hub"], "--unit", "ft")
    assert "more cells than the first line has in 1 row, on line 2" in result.output
