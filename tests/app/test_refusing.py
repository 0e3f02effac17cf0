"""Files that may not be read, folders that may not be written, full disks: a sentence, status 2, and nothing lost."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import ROOT
from refusing import Refusing, no_room

from staking.app.cli import main

SAMPLES = ROOT / "sample_sites"
DEED = (
    "thence North 10 degrees East 100 feet; thence South 80 degrees East 100 feet; thence to the point of beginning.\n"
)
VERBS = {
    "make": ["make", "shed", "--out", "out"],
    "check": ["check", "shed"],
    "show": ["show", "shed"],
    "room": ["room", "shed", "--out", "out.svg"],
    "compare": ["compare", "shed", "shed/as_set.csv", "--out", "out"],
    "tape": ["tape", "shed", "shed/tape_book.csv", "--record", "out"],
    "levels": ["levels", "pad/forms.csv", "--site", "pad", "--record", "out"],
    "changes": ["changes", "shed", "later", "--out", "out"],
    "points": ["points", "shed/as_set.csv", "--unit", "ft", "--write", "out.csv"],
    "lot": ["lot", "deed.txt", "--toml", "out.toml"],
    "new": ["new", "out"],
}
FOLDERS = ("make", "compare", "changes")  # write a folder anew
LOGS = ("tape", "levels")  # add a line to a log
MEASURED = {
    "compare": "shed/as_set.csv",
    "tape": "shed/tape_book.csv",
    "levels": "pad/forms.csv",
    "points": "shed/as_set.csv",
    "lot": "deed.txt",
}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two sites, a later revision of one, and a description, in which one stands."""
    shutil.copytree(SAMPLES / "tape_only_shed", tmp_path / "shed")
    shutil.copytree(SAMPLES / "workshop_pad", tmp_path / "pad")
    later = (tmp_path / "shed" / "site.toml").read_text(encoding="utf-8")
    (tmp_path / "later").mkdir()
    (tmp_path / "later" / "site.toml").write_text(later.replace("46'-6", "48'-6"), encoding="utf-8")
    (tmp_path / "deed.txt").write_text(DEED, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def refusing(monkeypatch: pytest.MonkeyPatch) -> Refusing:
    """A disk that refuses what it is told to, from now on."""
    return Refusing(monkeypatch)


def _run(words: list[str]) -> Result:
    return CliRunner().invoke(main, words)


def _tree(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else b"" for path in folder.rglob("*")}


def _refused(words: list[str], said: str) -> None:
    """Status 2, and the first line of what is said begins a sentence with these words."""
    done = _run(words)
    assert (done.exit_code, type(done.exception)) == (2, SystemExit)
    assert said in done.stderr
    assert "Usage" not in done.stderr


@pytest.mark.parametrize("verb", [verb for verb in VERBS if verb not in ("points", "lot", "new")])
def test_a_site_file_that_may_not_be_read(here: Path, refusing: Refusing, verb: str) -> None:
    """It is named, however the site was."""
    site = "pad" if verb == "levels" else "shed"
    refusing.unread.add(here / site / "site.toml")
    _refused(VERBS[verb], f"{site}/site.toml: stop: the file may not be read")
    refusing.shut.add(here / site)
    _refused(VERBS[verb], "may not be read")


@pytest.mark.parametrize("verb", MEASURED)
def test_a_measured_file_that_may_not_be_read(here: Path, refusing: Refusing, verb: str) -> None:
    """It is named, and nothing is written or put on record."""
    before = sorted(here.iterdir())
    refusing.unread.add(here / MEASURED[verb])
    _refused(VERBS[verb], f"{MEASURED[verb]}: stop: the file may not be read")
    assert sorted(here.iterdir()) == before


def test_an_older_revision_in_a_folder_that_lets_nobody_in(here: Path, refusing: Refusing) -> None:
    """Whether it holds a site file cannot be told, so nothing is said of what it holds."""
    _run(VERBS["make"])
    refusing.shut.add(here / "out")
    _refused(["changes", "out", "shed"], "out: stop: the folder may not be read")


@pytest.mark.parametrize("verb", [*FOLDERS, *LOGS])
def test_a_folder_that_may_not_be_written(here: Path, refusing: Refusing, verb: str) -> None:
    """Neither into it nor beside it; what was there before is there still, the log among it."""
    _run(VERBS[verb])
    before = _tree(here)
    refusing.unwritten |= {here / "out", here / "out" / "measured.jsonl"}
    _refused(VERBS[verb], "written")
    refusing.shut.add(here / "out")
    _refused(VERBS[verb], "written")
    refusing.shut.clear()
    assert _tree(here) == before


@pytest.mark.parametrize("verb", FOLDERS)
def test_a_folder_above_that_may_not_be_written(here: Path, refusing: Refusing, verb: str) -> None:
    """A set that could not be swapped in is not begun, and no line of the log says that it was."""
    _run(VERBS[verb])
    before = _tree(here)
    refusing.unwritten.add(here)
    _refused(VERBS[verb], "out cannot be written, for the folder you are in may not be written into")
    assert _tree(here) == before


@pytest.mark.parametrize("verb", FOLDERS)
def test_a_file_of_ours_that_may_not_be_read(here: Path, refusing: Refusing, verb: str) -> None:
    """Whether somebody changed it cannot be told, so it is not taken away; the manifest the same."""
    _run(VERBS[verb])
    before = _tree(here)
    ours = next(path for path in sorted((here / "out").iterdir()) if path.suffix == ".html")
    for path in (ours, here / "out" / "manifest.json"):
        refusing.unread.add(path)
        _refused(VERBS[verb], f"out/{path.name} may not be read, so whether it was changed cannot be told")
        refusing.unread.clear()
    assert _tree(here) == before


def test_a_folder_in_the_folder_that_may_not_be_moved(here: Path, refusing: Refusing) -> None:
    """Somebody's folder could not be carried over, so the old set stays as it is."""
    _run(VERBS["make"])
    (here / "out" / "mine").mkdir()
    before = _tree(here)
    refusing.unwritten.add(here / "out" / "mine")
    _refused(VERBS["make"], "out/mine may not be moved, so the folder around it cannot be written anew")
    assert _tree(here) == before


@pytest.mark.parametrize("verb", [*FOLDERS, *LOGS])
def test_a_file_where_a_folder_is_wanted(here: Path, verb: str) -> None:
    """As the folder itself, or above it; the file is not touched."""
    (here / "out").write_text("mine", encoding="utf-8")
    before = _tree(here)
    _refused(VERBS[verb], "error: out is a file\n  -> name a folder")
    deeper = [word.replace("out", "out/deeper/out") if word == "out" else word for word in VERBS[verb]]
    _refused(deeper, "error: out is not a folder, so out cannot be made in it")
    assert _tree(here) == before


@pytest.mark.parametrize("verb", [*FOLDERS, *LOGS, "room", "points", "lot", "new"])
def test_a_disk_without_room(here: Path, verb: str) -> None:
    """What does not fit is taken away again; a second run with room finds nothing in its way."""
    before = _tree(here)
    with no_room(60):
        _refused(VERBS[verb], "cannot be written: File too large")
    left = _tree(here)
    assert {name: left[name] for name in left if name != "out"} == before
    assert _run(VERBS[verb]).exit_code in (0, 1)


@pytest.mark.parametrize("verb", FOLDERS)
def test_a_disk_that_fills_up_under_an_old_set(here: Path, verb: str) -> None:
    """The old files stay; the log of a comparison says what was taken in, for it was, and was printed."""
    _run(VERBS[verb])
    before = _tree(here)
    with no_room(3000):
        _refused(VERBS[verb], "cannot be written: File too large")
    after = _tree(here)
    assert {name: after[name] for name in after if "measured" not in name} == {
        name: before[name] for name in before if "measured" not in name
    }


def test_a_drawing_of_room_is_not_written_over_what_may_not_be(here: Path, refusing: Refusing) -> None:
    """A file that is write-protected stays; a folder of that name is named."""
    (here / "out.svg").write_text("mine", encoding="utf-8")
    refusing.unwritten.add(here / "out.svg")
    _refused(VERBS["room"], "out.svg may not be written")
    assert (here / "out.svg").read_text(encoding="utf-8") == "mine"
    _refused(["room", "shed", "--out", "pad/../out.txt"], "is no name for a drawing")


def test_a_new_file_beside_nothing(here: Path) -> None:
    """A folder that is not there is named; none is made for a single file."""
    _refused(["lot", "deed.txt", "--toml", "none/out.toml"], "for there is no folder none\n  -> make the folder first")
    assert not (here / "none").exists()
