"""Every sample site writes what it wrote before; STAKING_REGENERATE=1 writes the golden files anew.

GeoJSON is left out, since the words of the coordinate operation change with PROJ; so are PDF and DXF, whose bytes
change with the libraries that write them. Their contents are tested in tests/exports.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from click.testing import CliRunner
from making import SAMPLES

from staking.app.cli import main

HERE = Path(__file__).parent
FILES = ("points.csv", "stakeout.csv", "layout.json")


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_sample_is_as_it_was(folder: Path, tmp_path: Path) -> None:
    """Points, stakes and everything computed, to the last digit."""
    out = tmp_path / "out"
    assert CliRunner().invoke(main, ["make", str(folder), "--out", str(out)]).exit_code == 0
    for name in (*FILES, *(path.name for path in out.glob("stakeout_*.csv"))):
        golden = HERE / folder.name / name
        if os.environ.get("STAKING_REGENERATE"):
            golden.parent.mkdir(exist_ok=True)
            golden.write_bytes((out / name).read_bytes())
        assert (out / name).read_text(encoding="utf-8") == golden.read_text(encoding="utf-8")
