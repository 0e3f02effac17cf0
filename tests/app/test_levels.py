"""`staking levels`: the reduced page, its sums, how it closes, and the level itself."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from staking.app.cli import main

BOOK = "point,backsight (ft),intermediate,foresight,distance,elevation\nA,5.00,,,150,100\nB,,4.00\nA,,,5.01,100\n"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A short book that closes."""
    path = tmp_path / "book.csv"
    path.write_text(BOOK, encoding="utf-8")
    return path


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, ["levels", *map(str, words)])


def test_the_page_is_printed_with_its_check(book: Path) -> None:
    """Height, rise and sums are there, and the status is 0."""
    done = _run(book)
    assert done.exit_code == 0
    assert "101.000" in done.stdout
    assert "backsights 5.000 - foresights 5.010 = -0.010" in done.stdout
    assert "the arithmetic agrees" in done.stdout
    assert "length of the run 250.000 ft; backsights less foresights 50.000" in done.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--adjust", "set-ups"), "heights are adjusted by set-ups"),
        (("--class", "ordinary"), "(ordinary, common practice, no source)"),
        (("--class", "third order"), "(third order, FGCC 1984 from memory)"),
        (("--allowed", "0.02"), "allowed: 0.020 ft (as asked)"),
        (("--pegs", "4.00@50 3.75@50 4.37@10 4.14@110"), "makes the last height 0.010 high"),
        (("--pegs", "4.00@50 3.75@50 4.37@10 4.10@110"), "add 0.020 for each 100 ft"),
    ],
)
def test_options(book: Path, words: tuple[str, ...], said: str) -> None:
    """Each changes what it says."""
    done = _run(book, *words)
    assert (done.exit_code, done.stderr) == (0, "")
    assert said in done.stdout


def test_a_long_sight_tells_of_the_curved_earth(book: Path) -> None:
    """From 86 m on it is half a millimetre."""
    book.write_text(BOOK.replace("150", "500"), encoding="utf-8")
    assert "curvature and refraction at A, the longest sight: the reading is 0.005 ft too large" in _run(book).stdout


def test_not_closing_is_status_1(book: Path) -> None:
    """The page is printed, nothing is spread, and the stop goes to standard error."""
    done = _run(book, "--allowed", "0.001", "--adjust", "set-ups")
    assert done.exit_code == 1
    assert "not adjusted: it is more than allowed" in done.stdout
    assert "level-misclosed" in done.stderr


def test_an_open_run_is_warned_of(book: Path) -> None:
    """Without a known end there is no misclosure."""
    book.write_text("point,bs,fs\nA,5,\nB,,4\n", encoding="utf-8")
    done = _run(book, "--unit", "ft", "--start", "100")
    assert "misclosure: none" in done.stdout
    assert "level-open" in done.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--start", "high"), "--start: "),
        (("--rod", "13"), "--rod: "),
        (("--rod", "4 ft"), "beyond the rod"),
        (("--allowed", "0"), "more than 0"),
        (("--pegs", "1@2"), "four readings"),
        (("--pegs", "1@5 1@5 1@5 1@5"), "nothing is learned"),
        (("--unit", "m"), "units differ"),
        (("--adjust", "distance", "--class", "ordinary"), ""),
    ],
)
def test_what_cannot_be_used_is_status_2(book: Path, words: tuple[str, ...], said: str) -> None:
    """In words, on standard error, and no page; the last case has all it needs."""
    done = _run(book, *words)
    assert done.exit_code == (2 if said else 0)
    assert said in done.stderr


def test_no_such_book(tmp_path: Path) -> None:
    """A missing file is said."""
    assert "no such file" in _run(tmp_path / "none.csv").stderr
