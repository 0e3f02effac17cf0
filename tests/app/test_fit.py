"""`staking fit` and `staking make --in measured` as people use them."""

from __future__ import annotations

import csv
import json
import math
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from making import ROOT

from staking.app.cli import main

SITE = ROOT / "sample_sites" / "ell_house_on_grid"
FACTOR = 0.99964
Change = Callable[[str, float, float], tuple[str, float, float]]


def _run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of the sample on a grid."""
    return Path(shutil.copytree(SITE, tmp_path / "job"))


def _as_it_is(name: str, north: float, east: float) -> tuple[str, float, float]:
    return name, north, east


def _control() -> list[dict[str, str]]:
    return list(csv.DictReader((SITE / "control.csv").read_text(encoding="utf-8").splitlines()))


def _measured(job: Path, change: Change = _as_it_is, turn: float = 12.0) -> Path:
    """The control as an instrument on a system of its own measured it, in the site's unit."""
    rows = _control()
    sine, cosine = math.sin(math.radians(turn)), math.cos(math.radians(turn))
    lines = ["name,north,east"]
    for index, row in enumerate(rows):
        n, e = (float(row["north"]) - 21036405) / FACTOR, (float(row["east"]) - 1640210) / FACTOR
        off = 0.01 * ((index * 7) % 5 - 2)
        name, north, east = change(row["name"], 1000 + n * cosine - e * sine + off, 5000 + e * cosine + n * sine - off)
        lines.append(f"{name},{north:.3f},{east:.3f}")
    path = job / "measured.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_a_good_list_fits(job: Path) -> None:
    """Status 0; turn, scale and residuals are shown, and nothing is written."""
    before = (job / "site.toml").read_bytes()
    result = _run("fit", job, _measured(job))
    assert result.exit_code == 0, result.output
    assert re.search(r"turn   1[12]°(59|00)'", result.output)
    assert "clockwise from given to measured" in result.output
    assert "numbers redundant" in result.output
    assert (job / "site.toml").read_bytes() == before


NEW_USERS: dict[str, tuple[Change, float, str]] = {
    "swapped": (lambda name, n, e: (name, e, n), 0.0, "north and east are exchanged"),
    "swapped and turned": (lambda name, n, e: (name, e, n), 12.0, "most often north and east are exchanged"),
    "metres": (lambda name, n, e: (name, n * 0.3048, e * 0.3048), 12.0, "one list is in m and was read in ft"),
    "digit": (lambda name, n, e: (name, n + 0.9 * (name == "L3"), e), 12.0, "L3 does not belong"),
    "names": (
        lambda name, n, e: ({"L1": "L2", "L2": "L1"}.get(name, name), n, e),
        12.0,
        "are exchanged: each was measured where the other should be",
    ),
    "wrong name": (
        lambda name, n, e: ({"L1": "L2", "L2": "X9"}.get(name, name), n, e),
        12.0,
        "it lies where L1 should be, so the name is likely wrong",
    ),
}


@pytest.mark.parametrize("slip", NEW_USERS)
def test_slips_are_named_on_the_first_line(job: Path, slip: str) -> None:
    """Status 1; the first line names the slip, and no new site file is written."""
    change, turn, words = NEW_USERS[slip]
    result = _run("fit", job, _measured(job, change, turn), "--write", job / "new.toml")
    assert result.exit_code == 1
    assert words in result.output.splitlines()[0]
    assert not (job / "new.toml").exists()


def test_the_wrong_foot_is_named(job: Path) -> None:
    """A list in the other foot is told by its coordinates, where 2 parts in a million are 42 ft."""
    rows = _control()
    lines = [f"{r['name']},{float(r['north']) * 1.000002:.3f},{float(r['east']) * 1.000002:.3f}" for r in rows]
    (job / "foot.csv").write_text("\n".join(["name,north,east", *lines]), encoding="utf-8")
    result = _run("fit", job, job / "foot.csv")
    assert result.exit_code == 1
    assert "ft and ftUS were mixed up" in result.output.splitlines()[0]
    assert "say --unit ft " in result.output
    assert _run("fit", job, job / "foot.csv", "--unit", "ft", "--scale").exit_code == 0


def test_a_digit_can_be_left_out(job: Path) -> None:
    """With the odd pair left out the others fit, and its residual is still shown."""
    measured = _measured(job, NEW_USERS["digit"][0])
    result = _run("fit", job, measured, "--leave-out", "L3")
    assert result.exit_code == 0
    assert "left out of the fit" in result.output
    assert _run("fit", job, measured, "--leave-out", "L33").exit_code == 2


def test_the_fit_goes_into_a_new_site_file(job: Path, tmp_path: Path) -> None:
    """The new file holds the old one word for word, and files in either system say which they hold."""
    new = job / "fitted.toml"
    assert _run("fit", job, _measured(job), "--write", new).exit_code == 0
    assert new.read_text(encoding="utf-8").startswith((job / "site.toml").read_text(encoding="utf-8").rstrip())
    assert _run("fit", new).exit_code == 0
    for system, name in (("given", "layout.json"), ("measured", "layout_measured.json")):
        made = _run("make", new, "--in", system, "--out", tmp_path / system)
        assert made.exit_code == 0, made.output
        facts = json.loads((tmp_path / system / name).read_text(encoding="utf-8"))["frame"]
        manifest = json.loads((tmp_path / system / "manifest.json").read_text(encoding="utf-8"))
        assert facts["system"] == manifest["system"] == system
    dxf = (tmp_path / "measured" / "layout_measured.dxf").read_text(encoding="ascii")
    assert "SYSTEM: measured system, fitted at 10 points" in dxf
    assert "measured system, fitted at 10 points" in (tmp_path / "measured" / "checks_measured.html").read_text()


def test_nothing_is_overwritten(job: Path) -> None:
    """A new site file never takes the place of a file, and a second fit does not go behind a first one."""
    measured = _measured(job)
    assert _run("fit", job, measured, "--write", job / "site.toml").exit_code == 2
    assert _run("fit", job, measured, "--write", job / "a.toml").exit_code == 0
    again = _run("fit", job / "a.toml", measured, "--write", job / "b.toml")
    assert again.exit_code == 2
    assert "holds [fit] or [[pairs]] already" in again.output
    away = _run("fit", job, measured, "--write", job.parent / "b.toml")
    assert "name a new file in the same folder" in away.output


def test_what_cannot_be_fitted_is_refused(job: Path) -> None:
    """No pairs, no list, strange names, and a site without a fit each get a sentence and status 2."""
    assert "holds no [[pairs]]" in _run("fit", job).output
    assert _run("fit", job, job / "none.csv").exit_code == 2
    strange = _run("fit", job, _measured(job, lambda name, n, e: (f"q{name}", n, e)))
    assert (strange.exit_code, "0 of 10 measured points bear the name" in strange.output) == (2, True)
    other = _run("make", job, "--in", "measured", "--out", job / "out")
    assert (other.exit_code, "holds no fit" in other.output) == (2, True)


def test_two_points_are_too_few(job: Path) -> None:
    """With two pairs a mirrored site cannot be seen: a third is asked for."""
    measured = _measured(job)
    measured.write_text("\n".join(measured.read_text(encoding="utf-8").splitlines()[:3]), encoding="utf-8")
    result = _run("fit", job, measured)
    assert result.exit_code == 1
    assert "measure a third point" in result.output
