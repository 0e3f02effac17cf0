"""`staking lot`: what a description says, how it closes, and which call is likely wrong."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from staking.app.cli import main
from staking.sitefile.starter import starter_site

SOUND = """BEGINNING at a point; thence North 88°14'30" East, 120.50 feet to an iron pin; thence South 1°45'30" East,
140.00 feet to a stake; thence S 88-14-30 W 120.50 feet; thence N 1 deg 45' 30" W, one hundred forty feet to the point
of beginning, containing 0.387 acres more or less.
"""

VARAS = (
    "Beginning at an iron pin, thence North 100 varas to a pin; thence East 50 varas to a pin; thence South 100 varas "
    "to a pin; thence West 50 varas to the place of beginning."
)


@pytest.fixture
def description(tmp_path: Path) -> Path:
    """A sound description of a rectangle."""
    path = tmp_path / "deed.txt"
    path.write_text(SOUND, encoding="utf-8")
    return path


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, ["lot", *map(str, words)])


def _changed(description: Path, old: str, new: str) -> Path:
    assert old in SOUND
    description.write_text(SOUND.replace(old, new, 1), encoding="utf-8")
    return description


def test_a_sound_description_closes(description: Path) -> None:
    """Status 0; every call with its words, the area in four units, and no misclosure."""
    result = _run(description)
    assert result.exit_code == 0, result.output
    assert "4  N 1-45-30 W, 140 ft" in result.stdout
    assert "16870.0 sq ft, 0.3873 acres, 1567.27 sq m, 0.15673 ha" in result.stdout


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("120.50 feet to an iron pin", "102.50 feet to an iron pin", "call 1 (or call 3), digits of the length"),
        ("thence N 1 deg 45' 30\" W", "thence S 1 deg 45' 30\" W", "call 4"),
        ("thence S 88-14-30 W 120.50 feet;", "", "a call was left out"),
        ("140.00 feet to a stake", "along the creek to a stake", "description-incomplete"),
        ("South 1°45'30\" East", "South 1°45'3O\" East", "not read"),
        ("0.387 acres", "0.487 acres", "area-differs"),
    ],
)
def test_slips_are_named(description: Path, old: str, new: str, said: str) -> None:
    """Swapped digits, a reversed bearing, a missing call, a creek, a letter for a digit, another area."""
    result = _run(_changed(description, old, new))
    assert said in result.output
    assert result.exit_code == (0 if "acres" in old else 1)


def test_calls_are_written_as_tables(description: Path, tmp_path: Path) -> None:
    """--toml writes [lot] with the calls; a file that is there already stays as it is."""
    out = tmp_path / "lot.toml"
    assert _run(description, "--toml", out).exit_code == 0
    written = tomllib.loads(out.read_text(encoding="utf-8"))["lot"]
    assert [course["length"] for course in written["courses"]] == ["120.50 ft", "140.00 ft", "120.50 ft", "140 ft"]
    assert _run(description, "--toml", out).exit_code == 2


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (VARAS, "there are many varas"),
        (VARAS.replace("varas", "feet").replace("South", "North", 1), "[lot-faulty]"),
    ],
)
def test_calls_that_make_no_lot_are_written_all_the_same(tmp_path: Path, text: str, said: str) -> None:
    """The tables are what the user goes on from: status 1, the reason, and the file."""
    deed, out = tmp_path / "deed.txt", tmp_path / "lot.toml"
    deed.write_text(text, encoding="utf-8")
    result = _run(deed, "--toml", out)
    assert result.exit_code == 1
    assert said in result.output
    assert "nothing was written" not in result.output
    assert len(tomllib.loads(out.read_text(encoding="utf-8"))["lot"]["courses"]) == 4


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    """Status 2 and a sentence."""
    result = _run(tmp_path / "none.txt")
    assert result.exit_code == 2
    assert "none.txt" in result.output
    assert "-> name a text file with the words of the deed or plat" in result.output


def test_a_folder_is_no_description(tmp_path: Path) -> None:
    """The site file in it is not named: it is no description either."""
    (tmp_path / "site.toml").write_text("[site]\n", encoding="utf-8")
    result = _run(tmp_path)
    assert result.exit_code == 2
    assert "this is a folder, not a file" in result.output
    assert "-> name a file in it\n" in result.output


@pytest.mark.parametrize(
    ("text", "tables"),
    [(starter_site(), "[site] and [lot]"), ('[lot]\ncorners = ["A"]\n', "[lot]"), ('[site]\nunit = "ft"', "[site]")],
)
def test_a_site_file_is_no_description(text: str, tables: str, tmp_path: Path) -> None:
    """Status 2, and the verb that reads it; no call is looked for in its numbers."""
    (tmp_path / "site.toml").write_text(text, encoding="utf-8")
    result = _run(tmp_path / "site.toml")
    assert result.exit_code == 2
    assert f"this is a site file, with {tables}, not a description in words" in result.output
    assert "read it with `staking check`" in result.output


@pytest.mark.parametrize("text", ["lot = 5\n", "site: 12 Main Street\n" + SOUND, SOUND, "[" * 5000])
def test_words_are_no_site_file(text: str, tmp_path: Path) -> None:
    """The words lot and site stand in descriptions too."""
    (tmp_path / "deed.txt").write_text(text, encoding="utf-8")
    assert "this is a site file" not in _run(tmp_path / "deed.txt").output


def test_tables_that_cannot_be_written_say_what_to_do(description: Path, tmp_path: Path) -> None:
    """The reason of the system, and another place."""
    result = _run(description, "--toml", tmp_path / "none" / "lot.toml")
    assert result.exit_code == 2
    assert f"cannot be written, for there is no folder {tmp_path / 'none'}\n  -> make the folder" in result.output
