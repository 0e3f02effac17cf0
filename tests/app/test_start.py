"""The program as a process of its own: full disks, plain terminals, ctrl-C."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from making import ROOT

SHED = str(ROOT / "sample_sites" / "tape_only_shed")
FULL = Path("/dev/full")
READY = "from staking.__main__ import main; print(flush=True); main()"  # Python itself has started by then


def _start(
    *arguments: str, program: tuple[str, ...] = ("-m", "staking"), stdout: int = subprocess.PIPE, **environment: str
) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, *program, *arguments],
        stdout=stdout,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
    )


@pytest.mark.parametrize("arguments", [("check", SHED), ("show", SHED), ("schema",)])
def test_a_full_disk_gets_a_sentence(arguments: tuple[str, ...]) -> None:
    """Nothing can be printed: one line says so, and the status is 2."""
    with FULL.open("wb") as full:
        process = _start(*arguments, stdout=full.fileno())
        _, said = process.communicate(timeout=60)
    assert process.returncode == 2
    assert said.splitlines() == ["error: what was asked for cannot be printed: No space left on device"]


def test_a_terminal_without_a_degree_sign() -> None:
    """The sign becomes a question mark; nothing else is lost."""
    process = _start("show", SHED, PYTHONIOENCODING="ascii")
    printed, said = process.communicate(timeout=60)
    assert process.returncode == 0, said
    assert "N 87?53'06\" E" in printed


@pytest.mark.parametrize("after", [0.05, 0.1, 0.2, 0.3, 0.5])
def test_an_interrupted_run_leaves_nothing(after: float, tmp_path: Path) -> None:
    """Ctrl-C at any time: no traceback, and the folder is whole or absent."""
    out = tmp_path / "out"
    process = _start("make", SHED, "--out", str(out), program=("-c", READY))
    assert process.stdout is not None
    process.stdout.readline()
    time.sleep(after)
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=60)
    assert "Traceback" not in said
    assert process.returncode in (0, 1, 130, -signal.SIGINT)
    assert [path.name for path in tmp_path.iterdir()] == (["out"] if process.returncode == 0 else [])
    assert not out.exists() or (out / "manifest.json").is_file()
