"""What do people read whose site file cannot be used?"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from staking.errors import InputError
from staking.findings import as_text
from staking.layout.solve import solve
from staking.sitefile.reader import read_site

FOLDER = Path(__file__).parents[1] / "broken_sites"
FILES = sorted(FOLDER.glob("*.toml"))


def printed(name: str) -> str:
    """Everything that the program says about a broken site file; empty where it finds nothing wrong."""
    try:
        solve(read_site(name))
    except InputError as error:
        return "".join(f"{as_text(finding)}\n" for finding in error.findings)
    return ""


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_broken_site_says_what_is_wrong(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The printed text is the one beside the file; STAKING_REGENERATE=1 writes it anew, to be read first."""
    monkeypatch.chdir(FOLDER)
    text = printed(file.name)
    expected = file.with_suffix(".txt")
    if os.environ.get("STAKING_REGENERATE"):
        expected.write_text(text, encoding="utf-8", newline="\n")
    assert text
    assert text == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_nobody_reads_the_jargon_of_a_library(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No word that only programmers know, and no address of their pages, reaches the user."""
    monkeypatch.chdir(FOLDER)
    text = printed(file.name).lower()
    for word in ("pydantic", "http", "input should", "validation", "traceback", "str(", "none type", "tuple"):
        assert word not in text
    assert not re.search(r"kind:\w", text)


def test_there_are_enough_broken_sites_and_none_without_its_text() -> None:
    """Every broken file has its text and every text its file."""
    assert len(FILES) >= 30
    assert {file.stem for file in FILES} == {file.stem for file in FOLDER.glob("*.txt")}
