"""`staking levels --site`: the form's top against design, as people type it and read it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import ROOT

from staking.app.cli import main

PAD = ROOT / "sample_sites" / "workshop_pad"
MARKS = ("101", "401", "402", "403", "102", "404", "405", "103", "406", "407", "408", "104", "409", "410")


def _run(text: str | Path, tmp_path: Path, *words: str) -> Result:
    path = text if isinstance(text, Path) else tmp_path / "read.csv"
    if isinstance(text, str):
        path.write_text(text, encoding="utf-8")
    return CliRunner().invoke(main, ["levels", str(path), "--site", str(PAD), *words])


def _readings(**other: str) -> str:
    rows = "".join(f"{name},{other.get(f'm{name}', '3.76')}\n" for name in MARKS)
    return f"name,reading (ft)\nTP2,3.41\n{rows}TP2,{other.get('end', '3.41')}\n"


def test_a_form_that_is_well_set(tmp_path: Path) -> None:
    """Status 0, every mark within, nothing to do."""
    done = _run(_readings(), tmp_path)
    assert done.exit_code == 0, done.output
    assert 'every mark read is within; allowed is plus or minus 1/2"' in done.stdout
    assert "nothing to raise or lower" in done.stdout


def test_a_mark_that_is_low_is_raised(tmp_path: Path) -> None:
    """Status 1, and so much at that mark."""
    done = _run(_readings(m405="3.82"), tmp_path)
    assert done.exit_code == 1
    assert '-0.058  raise 11/16" (0.058 ft)' in done.stdout
    assert "1 of 14 marks out: 405" in done.stdout
    assert "least work: move 1 mark, each as listed" in done.stdout


def test_the_sample_names_its_slip() -> None:
    """The list of the sample holds a reading with two digits swapped."""
    done = _run(PAD / "forms.csv", Path())
    assert done.exit_code == 1
    assert "possibly line 12, 3.67: with two neighbouring digits swapped, 3.76, it is as the others are" in done.stdout


def test_a_wrong_backsight_is_laid_to_all(tmp_path: Path) -> None:
    """A foot too little on the benchmark makes all marks low."""
    text = _readings(end="2.41").replace("TP2,3.41", "TP2,2.41")
    done = _run(text, tmp_path)
    assert "14 marks are all low" in done.stdout
    assert "least work: move all 14 marks by one figure, 1' 0\" (0.998 ft) up" in done.stdout


def test_a_benchmark_that_reads_another_figure_at_the_end(tmp_path: Path) -> None:
    """The level was touched: the run does not close, and that is a stop."""
    done = _run(_readings(end="3.51"), tmp_path)
    assert done.exit_code == 1
    assert "level-misclosed" in done.stderr


def test_a_book_with_turning_points(tmp_path: Path) -> None:
    """Marks read along the way are held against design; turning points and benchmarks are no marks, a kerb is named."""
    head = "point,backsight (ft),intermediate,foresight\n"
    rows = "BM1,5.80,,\n101,,3.60,\nKERB,,4.0,\nTP9,6.0,,3.6\n102,,6.0,\nBM2,,,5.19\n"
    done = _run(head + rows, tmp_path)
    assert done.exit_code == 0, done.output
    assert "not read: 103, 104" in done.stdout
    assert "no marks of the form, so not held against design: KERB\n" in done.stdout


def test_a_name_that_is_written_otherwise(tmp_path: Path) -> None:
    """It is not judged, and the mark that may be meant is named."""
    done = _run("name,elevation\n101,214.6\n0402,214.6\n", tmp_path)
    assert 'not held against design: 0402 (did you mean "402"?)' in done.stdout


def test_elevations_as_a_list(tmp_path: Path) -> None:
    """Heights that some other instrument found need no reduction."""
    done = _run("point;elevation\n101;214.61\n102;214.59\n", tmp_path)
    assert done.exit_code == 0
    assert done.stdout.startswith("top of the form against design")


def test_tolerances_of_ones_own(tmp_path: Path) -> None:
    """They are used and named as asked."""
    done = _run(_readings(m405="3.82"), tmp_path, "--within", "1 in", "--level-within", "1 in over 20 ft")
    assert done.exit_code == 0
    assert 'level over 20\' 0": 11/16" (0.060 ft) between 101 and 405' in done.stdout or "(as asked)" in done.stdout


def test_a_book_without_marks_is_reduced_all_the_same() -> None:
    """The mistyped book of the sample: the site gives its benchmarks, and the reading is named."""
    done = _run(PAD / "levels_mistyped.csv", Path())
    assert done.exit_code == 1
    assert "no name in it is a mark of the form" in done.stdout
    assert "possibly: line 4, backsight 4.64 on TP1: with two neighbouring digits swapped, 6.44" in done.stderr


@pytest.mark.parametrize(
    ("text", "words", "said"),
    [
        ("name,reading\n101,3.76\nTP2,3.41\n", (), "the first row must be the backsight on a benchmark; 101 has no"),
        ("name,reading\nTP2,3.41\n", (), "one reading alone"),
        ("name,reading\n", (), "holds no rows"),
        ("name,elevation\nK9,214\n", (), "no name in it is a mark of the form"),
        ("name,reading\nTP2,3.41\n0101,3.7\nTP2,3.41\n", (), 'did you mean "101"?'),
        ("name,reading (m)\nTP2,3.41\n101,-1\n102,9\n103\n", (), "beyond the rod"),
        (_readings(), ("--within", "0"), "--within must be more than 0"),
        (_readings(), ("--level-within", "1 in"), "is no pair of lengths"),
        (_readings(), ("--pegs", "1@2"), "four readings"),
        (_readings(), ("--pegs", "4.25@50 4.00@50 4.62@10 4.39@110", "--correct"), "has no distance"),
    ],
)
def test_what_cannot_be_used_is_status_2(text: str, words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    """In a sentence, on standard error, and nothing is printed as if it were a result."""
    done = _run(text, tmp_path, *words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr


def test_all_rows_that_cannot_be_used_are_said_at_once(tmp_path: Path) -> None:
    """Three bad rows, three sentences, each with its line."""
    done = _run("name,reading (m)\nTP2,3.41\n101,-1\n102,9\n103\n", tmp_path)
    assert [f"read.csv:{line}: " in done.stderr for line in (3, 4, 5)] == [True] * 3


@pytest.mark.parametrize("words", [("--correct",), ("--within", "1 in"), ("--level-within", "1 in over 5 ft")])
def test_an_option_without_the_other_is_a_slip(words: tuple[str, ...]) -> None:
    """It would do nothing, so it is refused."""
    done = CliRunner().invoke(main, ["levels", str(PAD / "levels.csv"), *words])
    assert done.exit_code == 2
    assert "need" in done.stderr


def test_a_site_without_a_floor(tmp_path: Path) -> None:
    """There is nothing to hold readings against, and what to add is said."""
    site = tmp_path / "site.toml"
    for name in ("levels.csv", "tops.csv"):
        (tmp_path / name).write_bytes((PAD / name).read_bytes())
    text = (PAD / "site.toml").read_text(encoding="utf-8")
    site.write_text(text.replace("[floor]\nelevation = 214.60\n", ""), encoding="utf-8")
    done = CliRunner().invoke(main, ["levels", str(PAD / "forms.csv"), "--site", str(site)])
    assert done.exit_code == 2
    assert "add [floor]" in done.stderr
