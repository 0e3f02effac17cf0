"""`staking tape`: what a crew reads, and the statuses."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import PLACED_RECTANGLE, ROOT, sample
from measuring import INCH, as_designed, carried, off, turned
from taping import exact, set_wrong, sheet_spans

from staking import read_site, solve
from staking.app.cli import main

SHED = ROOT / "sample_sites" / "tape_only_shed"
SQUARE = (
    "from,to,reading\n101,102,40' 3\"\n102,103,30' 3\"\n103,104,40' 3\"\n104,101,30' 3\"\n"
    "101,103,50' 4-3/16\"\n102,104,50' 4-3/16\"\n"
)


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, ["tape", *map(str, words)])


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book of a square form."""
    path = tmp_path / "tape.csv"
    path.write_text(SQUARE, encoding="utf-8")
    return path


def test_a_square_form(book: Path) -> None:
    """Status 0, and nothing to move."""
    done = _run(SHED, book)
    assert done.exit_code == 0, done.output
    assert "Nothing is to be moved." in done.stdout
    assert "square at every corner" in done.stdout
    assert "nothing here approves anything" in done.stdout


def test_the_sample_is_out_of_square_and_cured() -> None:
    """The form that slid by 1-1/8 in: two corners to move, two that stay."""
    done = _run(SHED, SHED / "tape_book.csv")
    assert done.exit_code == 1
    assert 'Move 103 (corner 3) toward 104 by 1-1/8".' in done.stdout
    assert 'Move 104 (corner 4) away from 103 by 1-1/8".' in done.stdout
    assert "101, 102 stay." in done.stdout


def test_what_is_held_stays(book: Path) -> None:
    """With the back held the front is moved."""
    book.write_text(SQUARE.replace("101,103,50' 4-3/16", "101,103,50' 5-1/8").replace(
        "102,104,50' 4-3/16", "102,104,50' 3-1/4"), encoding="utf-8")  # fmt: skip
    done = _run(SHED, book, "--hold", "back")
    assert "103, 104 stay." in done.stdout
    assert _run(SHED, book, "--hold", "middle").exit_code == 2
    assert _run(SHED, book, "--hold", "front,back").exit_code == 2


def test_a_foot_wrong(book: Path) -> None:
    """Named, left out, and nothing moved for it; status 1."""
    book.write_text(SQUARE.replace("40' 3\"", "41' 3\"", 1), encoding="utf-8")
    done = _run(SHED, book)
    assert done.exit_code == 1
    assert "Measure 101 - 102 again" in done.stdout
    assert "Nothing is to be moved." in done.stdout


def test_the_blank_book_is_one_to_fill(tmp_path: Path) -> None:
    """As printed it holds no readings; with figures it is read."""
    done = _run(SHED, "--blank")
    assert done.exit_code == 0
    path = tmp_path / "blank.csv"
    path.write_text(done.stdout, encoding="utf-8")
    assert "holds no readings" in _run(SHED, path).stderr
    filled = done.stdout.replace("101,102,,", "101,102,40' 3\",", 1)
    path.write_text(filled, encoding="utf-8")
    assert "tape-too-few" in _run(SHED, path).stdout


def test_what_to_pull_today() -> None:
    """A warm tape is longer, so it must read less; what is not known is said."""
    done = _run(SHED, "--set", "40' 3\"", "--temperature", "95 F", "--support", "ends", "--pull", "12 lb")
    assert done.exit_code == 0
    assert "until this tape reads 40' 2-15/16\" (40.243 ft)" in done.stdout
    assert "warmth -0.0070 ft" in done.stdout
    assert "sag is not corrected" in done.stdout


@pytest.mark.parametrize(
    "words",
    [
        ("--set", "0"),
        ("--set", "long"),
        ("--set", "40'", "--temperature", "hot"),
        ("--set", "40'", "--rise", "50'"),
        ("--set", "40'", "--support", "chairs"),
        (),
        ("nowhere.csv",),
    ],
)
def test_what_cannot_be_read(words: tuple[str, ...]) -> None:
    """Status 2, and nothing else."""
    done = _run(SHED, *words)
    assert done.exit_code == 2
    assert done.stdout == ""


def test_the_same_as_json(book: Path) -> None:
    """Readings, corners, checks and moves, in metres."""
    done = _run(SHED, book, "--json", "--error", "2 mm")
    found = json.loads(done.stdout)
    assert found["unit"] == "m"
    assert (len(found["readings"]), len(found["checks"])) == (6, 7)
    assert (found["cures"], found["moves"]) == (True, [])
    assert _run(SHED, book, "--error", "0").exit_code == 2


def test_the_report_of_corners_by_tape(tmp_path: Path) -> None:
    """The same files as of a comparison by coordinates, with the readings; the log says that it was a tape book."""
    done = _run(SHED, SHED / "tape_book.csv", "--out", tmp_path / "taped", "--by", "the crew", "--date", "2026-05-06")
    assert done.exit_code == 1, done.output
    page = (tmp_path / "taped" / "as_built.html").read_text(encoding="utf-8")
    assert "Readings of the tape" in page
    assert "Tied to: lot west, lot front." in page
    assert "of a side or diagonal" in page
    assert {path.name for path in (tmp_path / "taped").iterdir()} == {
        *(f"as_built.{kind}" for kind in ("pdf", "html", "csv", "dxf")),
        "manifest.json",
        "measured.jsonl",
    }
    assert '"taken_as": "tape"' in (tmp_path / "taped" / "measured.jsonl").read_text(encoding="utf-8")


def test_a_square_slab_that_is_turned(tmp_path: Path) -> None:
    """A tenth of a degree about 101: its shape is right, and the form is moved as a whole."""
    layout = sample("tape_only_shed")
    places = set_wrong(layout, random.Random(1), 0.0)  # noqa: S311 - nothing is drawn
    places |= {each.name: each.at for each in carried(as_designed(layout), turned(places["101"], 0.1))}
    rows = [f"{r.span.start},{r.span.end},{r.text}" for r in exact(layout, sheet_spans(layout), places)]
    path = tmp_path / "turned.csv"
    path.write_text("\n".join(["from,to,reading", *rows]), encoding="utf-8")
    done = _run(SHED, path)
    assert done.exit_code == 1, done.output
    assert re.search(r"turned 0°0[56]'\d\d\" clockwise", done.stdout)
    assert "the shape is right to" in done.stdout
    assert "Its shape is right: move the form as a whole, seen from its front: 102 " in done.stdout
    assert "101 stays" in done.stdout


def test_a_slab_over_a_setback_by_the_tape(tmp_path: Path) -> None:
    """An inch to the left with a quarter inch to spare: a stop, whatever lengths may differ."""
    site = tmp_path / "site.toml"
    site.write_text(PLACED_RECTANGLE.replace("left = 7.5", 'left = "29\' 11-3/4\\""'), encoding="utf-8")
    layout = solve(read_site(site))
    places = set_wrong(layout, random.Random(1), 0.0)  # noqa: S311 - nothing is drawn
    places |= {each.name: off(each, -INCH).at for each in as_designed(layout)}
    rows = [f"{r.span.start},{r.span.end},{r.text}" for r in exact(layout, sheet_spans(layout), places)]
    path = tmp_path / "left.csv"
    path.write_text("\n".join(["from,to,reading", *rows]), encoding="utf-8")
    done = _run(site, path)
    assert done.exit_code == 1, done.output
    assert "as measured the slab is over the setback to left by 3/4 in" in done.stderr
    assert "OVER the setback to left by 3/4 in; a setback has no tolerance" in done.stdout


def test_lengths_that_are_in_while_places_are_out(tmp_path: Path) -> None:
    """A quarter inch short of what may differ in both ways is more than a corner's place may: one answer everywhere."""
    layout = sample("tape_only_shed")
    places = set_wrong(layout, random.Random(1), 0.0)  # noqa: S311 - nothing is drawn
    places |= {each.name: off(each, 0.22 * INCH, 0.22 * INCH).at for each in as_designed(layout)}
    rows = [f"{r.span.start},{r.span.end},{r.text}" for r in exact(layout, sheet_spans(layout), places)]
    path = tmp_path / "off.csv"
    path.write_text("\n".join(["from,to,reading", *rows]), encoding="utf-8")
    done = _run(SHED, path)
    assert done.exit_code == 1, done.output
    assert "OUT" not in done.stdout
    assert "Every length is within what it may differ, and yet places are out:" in done.stdout
    assert "move the form as a whole" in done.stdout


def test_a_pair_of_diagonals_is_judged_by_its_difference(tmp_path: Path) -> None:
    """Each is within 3/8 in of the drawing, and they differ by 5/8 in: the form is not square."""
    path = tmp_path / "racked.csv"
    text = SQUARE.replace("101,103,50' 4-3/16", "101,103,50' 4-1/2").replace("102,104,50' 4-3/16", "102,104,50' 3-7/8")
    path.write_text(text, encoding="utf-8")
    done = _run(SHED, path)
    assert done.exit_code == 1, done.output
    assert '1 of 7 checks is out, the most 101-103 and 102-104 alike: differ by 5/8"' in done.stdout
    assert "Move 10" in done.stdout


def test_no_folder_goes_with_a_blank_book(tmp_path: Path) -> None:
    """Nothing would be written, so it is not passed over."""
    assert _run(SHED, "--blank", "--out", tmp_path / "x").exit_code == 2


def test_no_report_without_ties(book: Path, tmp_path: Path) -> None:
    """The shape is told, its place is not: the ties to measure are named, and no folder is made."""
    done = _run(SHED, book, "--out", tmp_path / "taped")
    assert done.exit_code == 1, done.output
    assert "is not written: the readings do not say where the slab stands on the lot; measure 102 square" in done.stderr
    assert not (tmp_path / "taped").exists()
