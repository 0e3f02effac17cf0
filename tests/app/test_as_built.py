"""`staking compare --out`: the report in a folder of its own."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import ROOT

from staking.app.cli import main

SHED = ROOT / "sample_sites" / "tape_only_shed"
SET = SHED / "as_set.csv"
WRITTEN = {"as_built.pdf", "as_built.html", "as_built.csv", "as_built.dxf", "manifest.json"}
LOG = "measured.jsonl"


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_the_report_is_written_beside_what_is_printed(tmp_path: Path) -> None:
    """Status 1 as without it, since the form is out; every file is named."""
    result = _run("compare", SHED, SET, "--out", tmp_path / "report", "--by", "the crew")
    assert result.exit_code == 1
    assert {path.name for path in (tmp_path / "report").iterdir()} == WRITTEN | {LOG}
    assert all(f"wrote {tmp_path / 'report' / name}" in result.output for name in WRITTEN)
    assert json.loads((tmp_path / "report" / "manifest.json").read_text())["measured_by"] == "the crew"


def test_the_report_says_what_it_was_made_from(tmp_path: Path) -> None:
    """The log beside it names every file that was held against the site file, by coordinates, tape or level."""
    report, book = tmp_path / "report", SHED / "tape_book.csv"
    said = _run("tape", SHED, book, "--record", report)
    assert f"{book} is on record in {report / LOG}" in said.stderr
    _run("compare", SHED, SET, "--out", report)
    page = (report / "as_built.html").read_text("utf-8")
    for path, verb in ((book, "tape"), (SET, "compare")):
        assert f"{path.name}, by {verb}. SHA-256: {hashlib.sha256(path.read_bytes()).hexdigest()}" in page
    assert len((report / LOG).read_text("utf-8").splitlines()) == 2


def test_the_same_list_taken_in_again_changes_no_byte_of_the_report(tmp_path: Path) -> None:
    """The log has a line more; the report names the file once."""
    report = tmp_path / "report"
    _run("compare", SHED, SET, "--out", report)
    before = {path.name: path.read_bytes() for path in report.iterdir() if path.name != LOG}
    _run("compare", SHED, SET, "--out", report)
    assert {path.name: path.read_bytes() for path in report.iterdir() if path.name != LOG} == before
    assert len((report / LOG).read_text("utf-8").splitlines()) == 2


def test_nothing_is_written_unasked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --out there is no file, wherever one stands."""
    monkeypatch.chdir(tmp_path)
    assert _run("compare", SHED, SET).exit_code == 1
    assert list(tmp_path.iterdir()) == []


def test_json_stays_json(tmp_path: Path) -> None:
    """What was written is told on standard error, so that another program can read the rest."""
    result = _run("compare", SHED, SET, "--json", "--out", tmp_path / "report")
    assert json.loads(result.stdout)["verdict"][-1]["answer"] == "out"
    assert "wrote " in result.stderr


def test_a_list_that_could_not_be_compared_makes_no_report(tmp_path: Path) -> None:
    """A list whose north and east are exchanged stops the comparison; a report of nothing would be taken for one."""
    rows = SET.read_text("utf-8").replace("name,north,east", "name,east,north")
    (tmp_path / "swapped.csv").write_text(rows, encoding="utf-8")
    result = _run("compare", SHED, tmp_path / "swapped.csv", "--out", tmp_path / "report")
    assert result.exit_code == 1
    assert "report is not written: settle what is said above first" in result.stderr
    assert not (tmp_path / "report").exists()


def test_the_folder_of_a_job_is_refused(tmp_path: Path) -> None:
    """Status 2, a sentence, and every file of the job still there."""
    assert _run("make", SHED, "--out", tmp_path / "out").exit_code == 0
    before = sorted(path.name for path in (tmp_path / "out").iterdir())
    result = _run("compare", SHED, SET, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert "would take it away; nothing was written" in result.stderr
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == before


def test_a_changed_report_is_not_lost(tmp_path: Path) -> None:
    """Notes that somebody wrote into the table stop the next run."""
    assert _run("compare", SHED, SET, "--out", tmp_path / "report").exit_code == 1
    with (tmp_path / "report" / "as_built.csv").open("a", encoding="utf-8") as table:
        table.write("my notes\r\n")
    result = _run("compare", SHED, SET, "--out", tmp_path / "report")
    assert result.exit_code == 2
    assert "as_built.csv was changed after staking wrote it, and would be lost" in result.stderr


def test_the_table_reads_back_as_a_measured_list(tmp_path: Path) -> None:
    """What was measured comes out of as_built.csv as it went in: the same points, the same answers."""
    first = _run("compare", SHED, SET, "--out", tmp_path / "report")
    again = _run("compare", SHED, tmp_path / "report" / "as_built.csv")
    said = [line for line in first.output.splitlines() if not line.startswith("wrote ")]
    assert again.output.splitlines() == said
