"""The README keeps its word: two commands, a site file that works, the output that the program gives."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from making import ROOT, layout_of
from shown import matches

from staking import Severity, check
from staking.app.cli import main

README = (ROOT / "README.md").read_text(encoding="utf-8")


def _blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", README, flags=re.MULTILINE | re.DOTALL)


def test_two_commands_that_set_up_from_nothing() -> None:
    """Each command of the README makes its own environment; one runs a sample, one the tests."""
    run, tests = _blocks("sh")
    assert all(command.startswith("python3 -m venv .venv && .venv/bin/pip install") for command in (run, tests))
    assert "staking make sample_sites/" in run
    assert tests.rstrip().endswith("pytest")


def test_the_site_file_works_without_a_warning() -> None:
    """The short site file is read and solved, and deserves no warning."""
    (text,) = _blocks("toml")
    assert all(finding.severity < Severity.WARNING for finding in check(layout_of(text)))


def test_the_output_is_what_the_program_answers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The printed answer of the first command is the real one, but for lines that it says are left out."""
    (tmp_path / "sample_sites").symlink_to(ROOT / "sample_sites")
    monkeypatch.chdir(tmp_path)
    words = re.search(r"staking (make .*)", _blocks("sh")[0])
    assert words is not None
    result = CliRunner().invoke(main, words.group(1).split())
    assert result.exit_code == 0
    assert matches(_blocks("text")[0], result.stdout), result.stdout


def test_every_verb_is_named() -> None:
    """Whoever reads the README alone learns of every verb there is."""
    table = README[README.index("## What it does") :]
    assert [verb for verb in main.commands if verb not in ("new", "schema") and f"`{verb}" not in table] == []


def test_the_first_screen_is_short() -> None:
    """What it is, how to set it up, what it writes and a whole site file stand before anything else, in 70 lines."""
    first = README[: README.index("## What it does")]
    assert len(first.splitlines()) <= 70


def test_every_link_leads_somewhere() -> None:
    """Pictures and pages that the README names are there."""
    for target in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / target).exists(), target
