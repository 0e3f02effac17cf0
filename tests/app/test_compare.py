"""`staking compare` as a foreman uses it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import ROOT

from staking.app.cli import main

SHED = ROOT / "sample_sites" / "tape_only_shed"
SLOPE = ROOT / "sample_sites" / "sloping_lot"


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, ["compare", *map(str, words)])


def test_a_form_out_of_square() -> None:
    """Status 1; what to do first stands first, then a line a corner, and the overall line last."""
    result = _run(SHED, SHED / "as_set.csv")
    assert result.exit_code == 1
    lines = result.output.splitlines()
    assert "diagonals 101-103 and 102-104 differ by 1-1/8 in" in lines[0]
    assert lines[1].startswith("  -> seen from the front, move 103 11/16 in to the left; 104 3/4 in to the left")
    assert "101 corner 1 (front-left): on its place; ok" in lines
    assert "103 corner 3 (back-right): on back, 11/16 in outside right; OUT" in lines
    assert lines[-1].endswith("something is out: settle it before concrete; the inspector decides")


def test_a_turned_slab_that_is_square() -> None:
    """The pins agree, so it is the slab: which corner goes where is told in inches."""
    result = _run(SHED, SHED / "as_set_turned.csv")
    assert result.exit_code == 1
    assert "given points (P1, P2) agree with their coordinates, so it stands so" in result.output
    assert "sides and diagonals are within tolerance" in result.output
    assert "measured-out-of-shape" not in result.output


def test_a_wrong_rod_height() -> None:
    """One line names it."""
    result = _run(SLOPE, SLOPE / "as_set.csv")
    assert result.exit_code == 1
    assert "103 is 6-1/16 in high against the 4 others" in result.output.splitlines()[0]


CORNERS = "name,north,east\n101,135.18,113.09\n102,136.665,153.31\n103,166.889,152.193\n104,165.404,111.970\n"


@pytest.mark.parametrize(("rows", "status", "mark"), [(5, 0, "ok"), (3, 1, "part only")])
def test_all_within(tmp_path: Path, rows: int, status: int, mark: str) -> None:
    """Status 0 where every corner was measured, and the inspector still decides; 1 where some were not."""
    path = tmp_path / "set.csv"
    path.write_text("\n".join(CORNERS.splitlines()[:rows]), encoding="utf-8")
    result = _run(SHED, path)
    assert result.exit_code == status, result.output
    last = result.output.splitlines()[-1]
    assert last.startswith(mark)
    assert last.endswith("is within 1/4 in of the drawing; the inspector decides")


def test_the_same_as_json() -> None:
    """Everything that is printed, in metres; put on record who measured, when and with what."""
    words = ("--by", "foreman", "--date", "2026-05-01", "--instrument", "tape", "--error", "1/16 in", "--json")
    result = _run(SHED, SHED / "as_set.csv", *words)
    assert result.exit_code == 1
    found = json.loads(result.output)
    assert [each["name"] for each in found["points"]][:4] == ["101", "102", "103", "104"]
    assert found["how"]["by"] == "foreman"
    assert found["how"]["error"] == pytest.approx(0.0254 / 16)
    assert found["placement"]["redundancy"] == 5
    assert found["placement"]["turn_error"] > 0
    assert found["findings"][0]["code"] == "measured-out-of-shape"
    assert found["verdict"][-1]["answer"] == "out"


@pytest.mark.parametrize(
    ("text", "words", "said"),
    [
        ("name,north,east\n101,x,113\n", (), "line"),
        ("", (), "no points"),
        ("name,north,east\n101,135,113\n", ("--error", "0"), "--error must be more than 0"),
        ("name,north,east\n101,135,113\n", ("--limit", "wide"), "--limit"),
    ],
)
def test_what_cannot_be_read(tmp_path: Path, text: str, words: tuple[str, ...], said: str) -> None:
    """Status 2 and a sentence."""
    path = tmp_path / "set.csv"
    path.write_text(text, encoding="utf-8")
    result = _run(SHED, path, *words)
    assert result.exit_code == 2
    assert said in result.output or "set.csv:2" in result.output


def test_a_list_with_north_and_east_exchanged(tmp_path: Path) -> None:
    """It is refused by name, no figure is printed; with the columns said it is compared."""
    lines = (SHED / "as_set.csv").read_text(encoding="utf-8").splitlines()
    path = tmp_path / "set.csv"
    path.write_text("\n".join(["name,east,north,elevation,note", *lines[1:]]), encoding="utf-8")
    result = _run(SHED, path)
    assert result.exit_code == 1
    assert "north and east of the measured list are exchanged" in result.output
    assert "corner 1" not in result.output


def test_the_measured_system_needs_a_fit() -> None:
    """--in measured without one is refused."""
    assert _run(SHED, SHED / "as_set.csv", "--in", "measured").exit_code == 2


@pytest.fixture
def fitted(tmp_path: Path) -> Path:
    """A job on a grid that holds a fit, and its list in the measured system in out/."""
    job = Path(shutil.copytree(ROOT / "sample_sites" / "ell_house_on_grid", tmp_path / "job"))
    (job / "measured.csv").write_text(MEASURED, encoding="utf-8")
    run = CliRunner().invoke
    assert run(main, ["fit", str(job), str(job / "measured.csv"), "--write", str(job / "fitted.toml")]).exit_code == 0
    assert run(main, ["make", str(job / "fitted.toml"), "--in", "measured", "--out", str(job / "out")]).exit_code == 0
    return job


def test_a_list_in_the_measured_system(fitted: Path) -> None:
    """With the fit on record and --in measured it is compared; without the words it is refused by name."""
    listed = fitted / "out" / "points_measured.csv"
    result = _run(fitted / "fitted.toml", listed, "--in", "measured")
    assert result.exit_code == 0, result.output
    refused = _run(fitted / "fitted.toml", listed)
    assert refused.exit_code == 1
    assert "say --in measured" in refused.output


@pytest.mark.parametrize("off", [0.4, 10.0])
def test_nothing_is_compared_by_a_fit_that_is_wrong(fitted: Path, off: float) -> None:
    """The stop of the fit stands first and alone, with the status that `make` gives; as JSON and with --out too."""
    text = (fitted / "fitted.toml").read_text(encoding="utf-8")
    head, pair, rest = text.partition('point = "L3"\nnorth = ')
    north, rest = rest.split("\n", 1)
    wrong = fitted / "wrong.toml"
    wrong.write_text(f"{head}{pair}{float(north) + off:.6f}\n{rest}", encoding="utf-8")
    listed = fitted / "out" / "points_measured.csv"
    report = fitted / "report"
    result = _run(wrong, listed, "--in", "measured", "--out", report)
    assert result.exit_code == 1
    assert "stop: pairs: L3 does not belong" in result.output.splitlines()[0]
    assert "nothing was compared: put the fit right first" in result.output
    assert "corner 1" not in result.output
    assert not report.exists()
    found = json.loads(_run(wrong, listed, "--in", "measured", "--json").stdout)
    assert (found["points"], found["findings"][0]["code"]) == ([], "fit-odd-pair")


MEASURED = """name,north,east
L1,9999.988,4999.989
L2,10008.081,5103.683
L3,10156.509,5094.515
L4,10149.673,4986.996
CP1,9967.471,4983.972
W1,10126.887,5078.710
"""


def test_given_points_alone_say_nothing_of_the_slab(tmp_path: Path) -> None:
    """Status 1: a script must not take it for a slab in its place."""
    path = tmp_path / "pins.csv"
    path.write_text("name,north,east\nP1,100.000,100.002\nP2,103.100,188.451\n", encoding="utf-8")
    result = CliRunner().invoke(main, ["compare", str(ROOT / "sample_sites" / "tape_only_shed"), str(path)])
    assert "nothing is said of the slab" in result.output
    assert result.exit_code == 1
