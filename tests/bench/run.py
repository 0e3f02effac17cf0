"""How quick is the program beside the bare libraries it stands on? Ratios measured in one run, never asserted.

    python tests/bench/run.py            prints the table that docs/benchmarks.md holds
    python tests/bench/run.py --quick    a few rounds only, to see that it still runs
"""

from __future__ import annotations

import argparse
import math
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from bare import bare_make

from staking import check, read_site, solve
from staking.exports.job import export

ROOT = Path(__file__).parents[2]
ELL = ROOT / "sample_sites" / "ell_house_on_grid" / "site.toml"

SITE = """
[site]
name = "many corners"
unit = "m"
[points]
A = [0, 0]
B = [0, 400]
C = [400, 400]
D = [400, 0]
[lot]
given_by = "surveyor"
corners = ["A", "B", "C", "D"]
sides = ["front", "right", "rear", "left"]
[setbacks]
front = 5
right = 5
rear = 5
left = 5
[slab]
kind = "traced"
vertices = [{vertices}]
[placement]
kind = "from_lines"
side = 1
reference = "lot front"
distance = 60
corner = 1
from = "lot left"
clear = 200
[[stakes]]
kind = "corners"
"""


def median_time(call: Callable[[], object], rounds: int) -> float:
    """Seconds of the middle one of several rounds, after one that warms up."""
    call()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def command(*words: str) -> Callable[[], object]:
    """A whole program, started and waited for."""
    return lambda: subprocess.run([sys.executable, *words], check=True, capture_output=True, cwd=ROOT)


def round_outline(count: int) -> str:
    """A site whose slab has many corners, on a circle."""
    turns = (2 * math.pi * i / count - math.pi / 2 - math.pi / count for i in range(count))
    first = (math.cos(-math.pi / 2 - math.pi / count), math.sin(-math.pi / 2 - math.pi / count))
    corners = ((50 * (math.cos(t) - first[0]), 50 * (math.sin(t) - first[1])) for t in turns)
    return SITE.format(vertices=", ".join(f"[{x:.4f}, {y:.4f}]" for x, y in corners))


def rows(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    """What was measured, and how it compares."""
    start = median_time(command("-c", "pass"), rounds)
    yield "`python -c pass`", f"{start * 1000:.0f} ms"
    helped = median_time(command("-m", "staking", "--help"), rounds)
    yield "`staking --help`", f"{helped / start:.1f} times `python -c pass`"
    checked = median_time(command("-m", "staking", "check", "sample_sites/tape_only_shed"), rounds)
    yield "`staking check`, the shed", f"{checked / start:.1f} times `python -c pass`"
    site = read_site(ELL)
    layout = solve(site)
    yield "read the house of 6 corners", f"{median_time(lambda: read_site(ELL), rounds) * 1000:.2f} ms"
    yield "solve it, 53 stakes and buildable area", f"{median_time(lambda: solve(site), rounds) * 1000:.2f} ms"
    yield "check it", f"{median_time(lambda: check(layout), rounds) * 1000:.2f} ms"
    yield from _outlines(rounds, folder)
    yield from _make(rounds, folder)


def _outlines(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    for count in (6, 500):
        path = folder / f"{count}.toml"
        path.write_text(round_outline(count), encoding="utf-8")
        site = read_site(path)
        took = median_time(lambda site=site: solve(site), rounds)  # type: ignore[misc]
        yield f"solve an outline of {count} corners, a stake in each", f"{took * 1000:.2f} ms"


def _make(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    """The whole job in a running program, beside a bare script that writes the same bytes by the same libraries."""

    def ours() -> object:
        layout = solve(read_site(ELL))
        return export(layout, check(layout), folder / "ours")

    reference = folder / "ours"
    ours()
    bare = bare_make(reference, folder / "bare")
    slow, quick = median_time(ours, rounds), median_time(bare, rounds)
    yield "make the house, all files", f"{slow * 1000:.0f} ms, {slow / quick:.2f} times the bare libraries"


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    rounds = 2 if parser.parse_args().quick else 15
    with tempfile.TemporaryDirectory() as folder:
        print("| what | measured |\n|---|---|")  # noqa: T201 - a script that prints a table
        for what, measured in rows(rounds, Path(folder)):
            print(f"| {what} | {measured} |", flush=True)  # noqa: T201 - as above


if __name__ == "__main__":
    main()
