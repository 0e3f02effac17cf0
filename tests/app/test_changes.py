"""`staking changes` as people use it, and what `make` says of an older set in its folder."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from revised import LATER, OFFSETS, revised

from staking.app.cli import main
from staking.exports.bundle import write_bundle
from staking.exports.measured_log import append, read, taken

DEEPER = ("depth = 24", "depth = 26")
TOO_FAR = ("distance = 40", "distance = 90")


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def _write(path: Path, *made: tuple[str, str]) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(revised(*made), encoding="utf-8")
    return path


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A site in a folder of its own."""
    return _write(tmp_path / "old" / "site.toml")


@pytest.fixture
def new(tmp_path: Path) -> Path:
    """A later revision, two feet deeper."""
    return _write(tmp_path / "rev_b.toml", LATER, DEEPER)


def test_status_and_verdict(old: Path, new: Path, tmp_path: Path) -> None:
    """1 where something moved, 0 where all can stay, with the answer in the last line."""
    moved = _run("changes", old, new)
    assert (moved.exit_code, moved.stdout.splitlines()[-1]) == (1, "stakes: 6 moved")
    assert "103  corner 3 (back-right): 2' 0\" toward north; 2' 0\" out from side 3-4" in moved.stdout
    same = _run("changes", old, _write(tmp_path / "again.toml", LATER))
    assert (same.exit_code, same.stdout.splitlines()[-1]) == (0, "nothing that stands on the ground changed")


WITH_NORTH = ('reference = "lot front"\ndistance = 40', 'reference = "lot front"\ndistance = 40.5')


def test_a_move_of_the_whole_slab_is_said_once(old: Path, tmp_path: Path) -> None:
    """How far it went and which stakes go with it, in two lines; a row for each stake in JSON alone."""
    moved = _write(tmp_path / "moved.toml", LATER, WITH_NORTH)
    said = _run("changes", old, moved).stdout
    whole = 'the whole slab moved 6" toward north, not turned; 12 stakes moved with it; size and shape are the same'
    assert whole in said
    assert "with the whole slab: pull the old ones, set the new ones (12): 101 to 104, 201 to 208" in said
    assert "  103  corner 3" not in said
    found = json.loads(_run("changes", old, moved, "--json").stdout)
    assert len(found["moved"]) == len(found["moved_together"]["stakes"]) == 12
    assert (found["moved_together"]["moved"], found["moved_together"]["turned"]) == (0.5, 0.0)


def test_what_moved_otherwise_has_its_own_line(old: Path, tmp_path: Path) -> None:
    """Offsets that stand farther out as the slab moves, and other names, are told beside the common move."""
    text = (LATER, WITH_NORTH, ("distance = 5\n", "distance = 6\n"), ("[floor]", "[numbering]\ncorners = 501\n[floor]"))
    said = _run("changes", old, _write(tmp_path / "moved.toml", *text)).stdout
    assert "with the whole slab: pull the old ones, set the new ones (4): 501 to 504" in said
    assert "write a new name on these of them (4):\n  101 -> 501  corner 1 (front-left)\n" in said
    assert "moved otherwise: pull the old one, set the new one (8):\n  201  " in said


def test_every_way_to_name_a_revision(old: Path, new: Path, tmp_path: Path) -> None:
    """A file, a folder with a site file, a folder that make wrote, and the layout in it, mean the same."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    said = [_run("changes", name, new).stdout.splitlines()[5:] for name in (old, old.parent, out, out / "layout.json")]
    assert said[0]
    assert said.count(said[0]) == 4


def test_nothing_moves_by_being_written(old: Path, tmp_path: Path) -> None:
    """A site file and the layout that was made from it are one revision."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    assert _run("changes", old, out).exit_code == _run("changes", out, old).exit_code == 0


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("missing.toml", None, "there is no such file"),
        ("empty", "", "neither site.toml nor layout.json"),
        ("broken.toml", "[site", "toml"),
        ("layout.json", "{", "cut short"),
        ("points.csv", "a,1,2\n", "stop"),
        ("layout.geojson", '{"type": "FeatureCollection"}', "this is GeoJSON"),
        ("layout.json", "", "the file is empty"),
    ],
)
def test_what_cannot_be_read(new: Path, tmp_path: Path, name: str, text: str | None, said: str) -> None:
    """Status 2, one sentence, nothing written, whichever of the two it is."""
    path = tmp_path / name
    if name == "empty":
        path.mkdir()
    elif text is not None:
        path.write_text(text, encoding="utf-8")
    for words in ((path, new), (new, path)):
        done = _run("changes", *words, "--out", tmp_path / "sheet")
        assert done.exit_code == 2
        assert said in done.stderr
    assert not (tmp_path / "sheet").exists()


def test_a_layout_changed_by_hand(old: Path, new: Path, tmp_path: Path) -> None:
    """One that is not what the manifest beside it lists is refused, whatever was changed in it."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    text = (out / "layout.json").read_text(encoding="utf-8")
    (out / "layout.json").write_text(text.replace('"note": ""', '"note": "x"', 1), encoding="utf-8")
    for words in ((out, new), (new, out), (out / "layout.json", new)):
        done = _run("changes", *words, "--out", tmp_path / "sheet")
        assert (done.exit_code, (tmp_path / "sheet").exists()) == (2, False)
        assert "the file was changed after staking wrote it" in done.stderr


def test_a_fit_added_to_the_site_file_is_no_other_system(tmp_path: Path) -> None:
    """The layout made before it compares, and `make` into its folder sets nothing aside."""
    site = _write(tmp_path / "site.toml")
    assert _run("make", site, "--out", tmp_path / "out").exit_code == 0
    pairs = ((0, 0), (0, 100), (120, 100), (120, 0))
    rows = (
        f'[[pairs]]\npoint = "{name}"\nnorth = {5000 + n}\neast = {900 + e}\n'
        for name, (n, e) in zip("ABCD", pairs, strict=True)
    )
    site.write_text(revised(LATER) + "".join(rows), encoding="utf-8")
    done = _run("changes", tmp_path / "out", site)
    assert (done.exit_code, done.stdout.splitlines()[-1]) == (0, "nothing that stands on the ground changed")
    made = _run("make", site, "--out", tmp_path / "out")
    assert made.exit_code == 0, made.output
    assert "changes-not-compared" not in made.output
    assert not list((tmp_path / "out").glob("superseded_*"))


def test_a_folder_with_two_layouts_asks_which(new: Path, tmp_path: Path) -> None:
    """Where a folder holds the given and the measured system, one must be named."""
    for name in ("layout.json", "layout_measured.json"):
        (tmp_path / "out").mkdir(exist_ok=True)
        (tmp_path / "out" / name).write_text("{}", encoding="utf-8")
    done = _run("changes", tmp_path / "out", new)
    assert "name one of them: layout.json, layout_measured.json" in done.stderr


def test_the_sheet_is_written_whole(old: Path, new: Path, tmp_path: Path) -> None:
    """Sheet on paper and screen, table and manifest; the same input gives the same bytes."""
    folders = [tmp_path / name for name in ("a", "b")]
    assert [_run("changes", old, new, "--out", folder).exit_code for folder in folders] == [1, 1]
    written = [{path.name: path.read_bytes() for path in folder.iterdir()} for folder in folders]
    assert set(written[0]) == {"changes.pdf", "changes.html", "changes.csv", "manifest.json"}
    assert written[0] == written[1]


def test_a_move_that_just_counts_is_not_written_as_one_that_does_not(old: Path, tmp_path: Path) -> None:
    """Beside the line that 1/16 in or less counts as none."""
    inch = 1 / 12
    moved = _write(tmp_path / "moved.toml", LATER, (WITH_NORTH[0], f"{WITH_NORTH[0]}.{str(inch * 1.2 / 16)[2:]}"))
    said = _run("changes", old, moved).stdout
    assert 'the whole slab moved just over 1/16" toward north' in said
    assert 'a move of 1/16" or less counts as none' in said


def test_a_stop_of_the_new_revision_is_said_without_a_sheet(old: Path, tmp_path: Path) -> None:
    """On the screen too, whether a folder was asked for or not."""
    done = _run("changes", old, _write(tmp_path / "far.toml", LATER, TOO_FAR))
    assert done.exit_code == 1
    assert "the new revision says stop (" in done.stderr
    assert "no sheet is written" not in done.stderr


def test_after_a_stop_no_sheet_is_written(old: Path, tmp_path: Path) -> None:
    """A new revision that crosses a line has no sheet; the screen says what it would move."""
    stopped = _write(tmp_path / "rev_b.toml", LATER, TOO_FAR)
    done = _run("changes", old, stopped, "--out", tmp_path / "sheet")
    assert (done.exit_code, (tmp_path / "sheet").exists()) == (1, False)
    assert "no sheet is written, for the new revision says stop (setback-crossed)" in done.stderr
    assert "changes-crossed" in done.stdout


def test_as_json(old: Path, new: Path) -> None:
    """The same for a program, lengths in the unit of the new revision."""
    done = _run("changes", old, new, "--json")
    found = json.loads(done.stdout)
    assert (done.exit_code, found["to_do"], found["unit"]) == (1, True, "ft")
    assert found["pull"] == ["103", "104", "204", "205", "206", "207"]
    assert (found["moved"][0]["name"], found["moved"][0]["moved"], found["moved"][0]["toward"]) == ("103", 2.0, 0.0)
    assert found["moved"][0]["by_walls"][1] == {"side": "3-4", "out": 2.0, "along": 0.0}
    assert found["room"] == [{"to": "setback rear", "was": "36' 0\"", "is": "34' 0\"", "change": "worse"}]


# --- make into the same folder -------------------------------------------------------------------------------------


def _superseded(out: Path) -> list[Path]:
    return sorted(out.glob("superseded_*.json"))


def test_make_warns_of_an_older_revision(old: Path, new: Path, tmp_path: Path) -> None:
    """How many moved, which one farthest, and a command that lists them from the layout that is kept."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    before = (out / "layout.json").read_bytes()
    done = _run("make", new, "--out", out)
    assert done.exit_code == 0
    assert "the folder held revision A: stakes: 6 moved, the farthest 103 by 2' 0\" [changes-older-here]" in done.stdout
    [kept] = _superseded(out)
    assert kept.name == f"superseded_A_{hashlib.sha256(before).hexdigest()[:8]}.json"
    assert kept.read_bytes() == before
    assert f"`staking changes {kept} {new}` lists them" in done.stdout
    assert _run("changes", kept, new).stdout.splitlines()[-1] == "stakes: 6 moved"


def test_make_again_says_nothing(old: Path, new: Path, tmp_path: Path) -> None:
    """Where no stake changed, nothing is said, nothing kept, and the same bytes are written."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    again = _run("make", old, "--out", out)
    assert "changes-older-here" not in again.stdout
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before
    _run("make", new, "--out", out)
    assert "changes-older-here" not in _run("make", new, "--out", out).stdout
    assert len(_superseded(out)) == 1


def test_the_same_letter_is_pointed_out(old: Path, tmp_path: Path) -> None:
    """Stakes that moved under one letter: give it a new one."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    done = _run("make", _write(tmp_path / "site.toml", OFFSETS), "--out", out)
    assert "the new one still says revision A: give it a new letter" in done.stdout


def test_without_a_letter_it_asks_for_one(old: Path, tmp_path: Path) -> None:
    """Two files that say no revision at all cannot be told apart either."""
    none = ('revision = "A"\n', "")
    first, second = _write(tmp_path / "a.toml", none), _write(tmp_path / "b.toml", none, OFFSETS)
    assert "neither says which revision it is, but stakes changed" in _run("changes", first, second).stdout
    out = tmp_path / "out"
    _run("make", first, "--out", out)
    done = _run("make", second, "--out", out)
    assert "held the revision without a letter" in done.stdout
    assert "the new one has no letter either: give it a new letter" in done.stdout
    assert "changes-older-here" in _run("make", old, "--out", out).stdout


def test_a_stop_between_two_revisions_hides_nothing(old: Path, new: Path, tmp_path: Path) -> None:
    """After a run whose stakes were withheld, the next is held against the last one that gave stakes out."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    for _ in range(2):
        stopped = _run("make", _write(tmp_path / "stop.toml", LATER, TOO_FAR), "--out", out)
        assert (stopped.exit_code, "changes-older-here" in stopped.output) == (1, False)
    done = _run("make", new, "--out", out)
    assert "the folder held revision A: stakes: 6 moved" in done.stdout
    assert len(_superseded(out)) == 1


def test_a_layout_that_cannot_be_compared_is_said(new: Path, tmp_path: Path) -> None:
    """One of a newer program stops no run; that nothing was compared is said."""
    newer = b'{"format": 2, "site": {}, "frame": {}, "stakes": []}'
    out = write_bundle(tmp_path / "out", {"layout.json": newer}, {})
    done = _run("make", new, "--out", out)
    assert (done.exit_code, "changes-not-compared" in done.stdout) == (0, True)
    assert [kept.read_bytes() for kept in _superseded(out)] == [newer]


def test_the_log_of_measured_files_stays(old: Path, new: Path, tmp_path: Path) -> None:
    """What was taken in before is still on record after the outputs are written anew."""
    out = tmp_path / "out"
    _run("make", old, "--out", out)
    append(out, taken("shots.csv", b"101,0,0\n", "compare"))
    assert _run("make", new, "--out", out).exit_code == 0
    assert [each.file for each in read(out).taken] == ["shots.csv"]


GROUND = '[coordinates]\ncrs = "EPSG:6557"\nvalues = "{}"\ncombined_factor = 0.9999\n{}[lot]'


def test_grid_and_ground_values_of_one_system(tmp_path: Path) -> None:
    """A grid file and ground files made from it are compared where it is said how; else they are refused."""
    about = "scaled_about = { north = 700000, east = 1300000 }\n"
    grid = _write(tmp_path / "grid.toml", ("[lot]", GROUND.format("grid", about)), *_at(700000, 1300000))
    _run("make", grid, "--out", tmp_path / "out", "--in", "ground")
    for words in ((tmp_path / "out", grid), (grid, tmp_path / "out")):
        done = _run("changes", *words)
        assert (done.exit_code, done.stdout.splitlines()[-1]) == (0, "nothing that stands on the ground changed")
    unsaid = _write(tmp_path / "unsaid.toml", ("[lot]", GROUND.format("grid", "")), *_at(700000, 1300000))
    assert "revisions-apart" in _run("changes", tmp_path / "out", unsaid).stderr


def _at(north: int, east: int) -> list[tuple[str, str]]:
    places = {"A": (0, 0, ", 100"), "B": (0, 100, ""), "C": (120, 100, ""), "D": (120, 0, "")}
    return [
        (f"{name} = [{n}, {e}{up}]", f"{name} = [{north + n}, {east + e}{up}]") for name, (n, e, up) in places.items()
    ]
