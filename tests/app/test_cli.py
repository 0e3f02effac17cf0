"""The command line as people use it: statuses, what is written, what is withheld, what is said."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import PLACED_RECTANGLE, ROOT, SAMPLES

from staking.app.cli import main

STAKE_FILES = {"points.csv", "stakeout.csv", "layout.dxf", "landxml.xml", "tape_and_string.pdf", "tape_and_string.html"}
CHECK_FILES = {"plan.pdf", "plan.svg", "checks.pdf", "checks.html", "layout.json", "manifest.json"}
ASKED = {  # by a table of the site file
    "[floor]": {"grades.pdf", "grades.html", "grades.csv"},
    "[[levels]]": {"levels.pdf", "levels.html", "levels.csv"},
    "[setup]": {"setup.csv", "setup.pdf", "setup.html"},
    "[[ground]]": {"ground.pdf", "ground.html", "ground.csv"},
    "[forms]": {"takeoff.pdf", "takeoff.html", "takeoff.csv"},
}
CORNERS = '[[stakes]]\nkind = "corners"\n'


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def crossing(tmp_path: Path) -> Path:
    """A site whose slab is a foot over the front setback."""
    path = tmp_path / "site.toml"
    path.write_text(PLACED_RECTANGLE.replace("distance = 40", "distance = 24") + CORNERS, encoding="utf-8")
    return path


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_every_sample_is_made(folder: Path, tmp_path: Path) -> None:
    """Status 0, and every file of the job: GeoJSON where the place on earth is known, a setup's where there is one."""
    result = _run("make", folder, "--out", tmp_path / "out")
    assert result.exit_code == 0, result.output
    written = {path.name for path in (tmp_path / "out").iterdir()}
    lists = {name for name in written if name.startswith("stakeout_")}
    text = (folder / "site.toml").read_text(encoding="utf-8")
    asked = {it for table, files in ASKED.items() if table in text for it in files}
    assert written - {"layout.geojson"} - lists == STAKE_FILES | CHECK_FILES | asked
    placed = 'crs = "EPSG' in text
    assert ("layout.geojson" in written) == placed


def test_new_site_runs_as_it_is(tmp_path: Path) -> None:
    """The starter is read, checked and made without a change, and is not overwritten."""
    assert _run("new", tmp_path / "job").exit_code == 0
    assert _run("check", tmp_path / "job").exit_code == 0
    assert _run("make", tmp_path / "job", "--out", tmp_path / "out").exit_code == 0
    assert _run("new", tmp_path / "job").exit_code == 2


def test_a_stop_withholds_the_stake_files(crossing: Path, tmp_path: Path) -> None:
    """Status 1; the checks are written and say why; nothing that says where stakes stand is."""
    result = _run("make", crossing, "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert {path.name for path in (tmp_path / "out").iterdir()} == CHECK_FILES
    assert "stake files withheld: setback-crossed" in result.output
    assert json.loads((tmp_path / "out" / "layout.json").read_text())["stakes_withheld"] is True


def test_a_stop_can_be_overruled_by_name(crossing: Path, tmp_path: Path) -> None:
    """--despite writes the stake files; sheets, JSON, DXF and manifest record it."""
    result = _run("make", crossing, "--out", tmp_path / "out", "--despite", "setback-crossed")
    assert result.exit_code == 0, result.output
    out = tmp_path / "out"
    for name in ("tape_and_string.html", "checks.html", "layout.json", "layout.dxf", "manifest.json"):
        assert "setback-crossed" in (out / name).read_text(encoding="utf-8"), name


def test_an_overruling_that_overrules_nothing_is_a_slip(crossing: Path, tmp_path: Path) -> None:
    """A code that is no stop of this site is refused, with those that are."""
    result = _run("make", crossing, "--out", tmp_path / "out", "--despite", "setback-croosed")
    assert result.exit_code == 2
    assert "its stops: setback-crossed" in result.output
    assert not (tmp_path / "out").exists()


def test_a_later_stop_removes_the_old_stake_files(tmp_path: Path) -> None:
    """After a change that crosses a line, no stake file of the older run lies beside the new checks.

    What its stakes were is kept under a name that says that it is superseded: they may stand in the ground.
    """
    site = tmp_path / "site.toml"
    site.write_text(PLACED_RECTANGLE + CORNERS, encoding="utf-8")
    assert _run("make", site, "--out", tmp_path / "out").exit_code == 0
    site.write_text(PLACED_RECTANGLE.replace("distance = 40", "distance = 24") + CORNERS, encoding="utf-8")
    assert _run("make", site, "--out", tmp_path / "out").exit_code == 1
    written = {path.name for path in (tmp_path / "out").iterdir()}
    assert {name for name in written if not name.startswith("superseded_unnamed_")} == CHECK_FILES
    assert len(written) == len(CHECK_FILES) + 1


def test_input_that_cannot_be_read_writes_nothing(tmp_path: Path) -> None:
    """Status 2, every mistake with its line, and no folder."""
    site = tmp_path / "site.toml"
    site.write_text(PLACED_RECTANGLE.replace("width = 36", "widht = 36").replace('"surveyor"', '"uncle"'))
    result = _run("make", site, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert 'did you mean "width"?' in result.output
    assert "uncle" in result.output
    assert not (tmp_path / "out").exists()


def test_check_writes_nothing_and_answers_with_a_status(crossing: Path) -> None:
    """Status 1 for a stop, 0 for warnings, 2 for a file that is not there."""
    assert _run("check", crossing).exit_code == 1
    assert _run("check", SAMPLES[0]).exit_code == 0
    assert _run("check", crossing.with_name("other.toml")).exit_code == 2
    assert [path.name for path in crossing.parent.iterdir()] == ["site.toml"]


def test_files_of_others_are_not_overwritten(tmp_path: Path) -> None:
    """A points.csv that staking did not write stays, and the sentence names it."""
    out = tmp_path / "out"
    out.mkdir()
    (out / "points.csv").write_text("mine")
    result = _run("make", SAMPLES[0], "--out", out)
    assert result.exit_code == 2
    assert "points.csv" in result.output
    assert [path.name for path in out.iterdir()] == ["points.csv"]
    assert (out / "points.csv").read_text() == "mine"


def test_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    """Twice, from another folder and under another locale and time zone, every byte is the same."""
    shutil.copytree(ROOT / "sample_sites" / "ell_house_on_grid", tmp_path / "job")
    assert _run("make", tmp_path / "job", "--out", tmp_path / "one").exit_code == 0
    env = os.environ | {"LANG": "de_DE.UTF-8", "LC_ALL": "C", "TZ": "Asia/Tokyo"}
    command = [sys.executable, "-m", "staking", "make", "site.toml", "--out", "two"]
    subprocess.run(command, cwd=tmp_path / "job", env=env, check=True, capture_output=True)
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "job" / "two" / path.name).read_bytes(), path.name


def test_show_prints_every_stake() -> None:
    """Sides, diagonals, ties, margins and stakes with coordinates."""
    result = _run("show", ROOT / "sample_sites" / "tape_only_shed")
    assert result.exit_code == 0
    for word in ("Diagonals", "50' 4-3/16\"", "101", "204"):
        assert word in result.output


def test_schema_is_json() -> None:
    """`staking schema` prints a JSON Schema that knows the tables."""
    assert {"site", "slab", "placement"} <= set(json.loads(_run("schema").output)["properties"])


def test_stakeout_columns_for_any_instrument(tmp_path: Path) -> None:
    """Columns, delimiter, decimals and header are the user's choice."""
    words = ("--columns", "name,east,north", "--delimiter", "semicolon", "--decimals", "3", "--header")
    assert _run("make", SAMPLES[-1], "--out", tmp_path / "out", *words).exit_code == 0
    first, second, *_ = (tmp_path / "out" / "stakeout.csv").read_text().splitlines()
    assert first == "name;east;north"
    assert second.startswith("101;")


def test_unknown_columns_are_refused(tmp_path: Path) -> None:
    """A column that does not exist: status 2, nothing written."""
    result = _run("make", SAMPLES[-1], "--out", tmp_path / "out", "--columns", "name,northing")
    assert result.exit_code == 2
    assert not (tmp_path / "out").exists()


def test_closed_output_leaves_no_traceback() -> None:
    """`staking show | head -1` ends quietly."""
    command = f"{sys.executable} -m staking show sample_sites/ell_house_on_grid | head -1"
    done = subprocess.run(["bash", "-c", command], cwd=ROOT, capture_output=True, text=True, check=False)
    assert "Traceback" not in done.stderr


def test_help_needs_no_heavy_library() -> None:
    """--help starts without geometry, validation or drawing libraries."""
    code = (
        "import sys; from staking.app.cli import main\n"
        "try: main(['--help'])\nexcept SystemExit: pass\n"
        "heavy = ('shapely', 'numpy', 'pydantic', 'ezdxf', 'reportlab', 'pyproj', 'rich')\n"
        "print(sorted(name for name in heavy if name in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip().endswith("[]")


@pytest.mark.parametrize("words", [(), (".",), ("nosuch",), ("nosuch/site.toml",)])
def test_no_site_file_has_a_way_out(words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Status 2, and the verb that writes one."""
    monkeypatch.chdir(tmp_path)
    result = _run("check", *words)
    assert result.exit_code == 2
    assert "there is no such file" in result.output
    assert "`staking new FOLDER` writes one to start from" in result.output


def test_a_list_of_points_is_told_from_a_site_file() -> None:
    """One mistake, and how the list is named in a site file."""
    result = _run("check", ROOT / "sample_sites" / "ell_house_on_grid" / "control.csv")
    assert "1 mistake; nothing was written" in result.output
    assert '  -> [[point_files]]\n  -> path = "control.csv"\n' in result.output


@pytest.mark.parametrize("decimals", ["two", "1", "7", "3.5"])
def test_decimals_are_refused_with_the_numbers_that_may_stand(decimals: str, tmp_path: Path) -> None:
    """No word that only programmers know."""
    result = _run("make", SAMPLES[0], "--out", tmp_path / "out", "--decimals", decimals)
    assert result.exit_code == 2
    assert f"'--decimals': \"{decimals}\" is none; write a whole number from 2 to 6" in result.output
