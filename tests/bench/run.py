"""How quick is the program beside the bare libraries it stands on? Ratios measured in one run, never asserted.

python tests/bench/run.py            prints the table that docs/benchmarks.md holds
python tests/bench/run.py --quick    a few rounds only, to see that it still runs
"""

from __future__ import annotations

import argparse
import math
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import many_matched
import many_points
import numpy as np
import shapely
from bare import bare_make

from staking import check, read_site, solve
from staking.exports.job import export
from staking.exports.plan import plan_pdf
from staking.sheets.plan import plan_pages
from staking.survey.points import Point
from staking.survey.surface import Plane
from staking.survey.triangles import triangles_of

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


RECORD = """
[site]
name = "twelve courses"
unit = "m"
[points]
MID = [-2, -4]
{start}
[lot]
given_by = "surveyor"
start = "POB"
{calls}
[setbacks]
{setbacks}
[slab]
width = 10
depth = 7
[placement]
kind = "at_point"
corner = 1
at = "MID"
side = "front"
bearing = 75
[[stakes]]
kind = "corners"
[[stakes]]
kind = "offsets"
distance = 1
"""


def timed(call: Callable[[], object]) -> float:
    """Seconds that a call takes."""
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def worked(call: Callable[[], object]) -> float:
    """Seconds of the processor that a call takes, which other programs on the machine hardly change."""
    start = time.process_time()
    call()
    return time.process_time() - start


def median_time(call: Callable[[], object], rounds: int) -> float:
    """Seconds of the middle one of several rounds, after one that warms up."""
    call()
    return statistics.median(timed(call) for _ in range(rounds))


def command(*words: str, bytecode: Path) -> Callable[[], object]:
    """A whole program, started and waited for. bytecode: kept there, as an installed program has it beside itself."""
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    surroundings["PYTHONPYCACHEPREFIX"] = str(bytecode)
    return lambda: subprocess.run([sys.executable, *words], check=True, capture_output=True, cwd=ROOT, env=surroundings)


def round_outline(count: int) -> str:
    """A site whose slab has many corners, on a circle."""
    turns = (2 * math.pi * i / count - math.pi / 2 - math.pi / count for i in range(count))
    first = (math.cos(-math.pi / 2 - math.pi / count), math.sin(-math.pi / 2 - math.pi / count))
    corners = ((50 * (math.cos(t) - first[0]), 50 * (math.sin(t) - first[1])) for t in turns)
    return SITE.format(vertices=", ".join(f"[{x:.4f}, {y:.4f}]" for x, y in corners))


def rows(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    """What was measured, and how it compares."""
    yield from _programs(rounds, folder)
    site = read_site(ELL)
    layout = solve(site)
    many = 10 * rounds  # for what takes milliseconds
    yield "read the house of 6 corners", f"{median_time(lambda: read_site(ELL), many) * 1000:.2f} ms"
    yield "solve it, 53 stakes and buildable area", f"{median_time(lambda: solve(site), many) * 1000:.2f} ms"
    yield "check it", f"{median_time(lambda: check(layout), many) * 1000:.2f} ms"
    yield from _outlines(many, folder)
    yield from _lots(1000 if rounds > 2 else 20, folder)
    yield from many_points.rows(
        1_000_000 if rounds > 2 else 20_000, min(rounds, 5), folder
    )  # before what takes more memory
    yield from many_matched.rows(100_000 if rounds > 2 else 5_000, min(rounds, 7))
    yield from _ground(min(rounds, 5))
    yield from _plan(rounds)
    yield from _make(rounds, folder)


def _programs(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    """Whole programs from start to end, beside Python that does nothing and Python that only opens the libraries."""

    def run(*words: str) -> float:
        return median_time(command(*words, bytecode=folder / "bytecode"), rounds)

    start = run("-c", "pass")
    yield "`python -c pass`", f"{start * 1000:.0f} ms"
    for what, words in (
        ("`import click`", ("-c", "import click")),
        ("`staking --help`", ("-m", "staking", "--help")),
        ("`import click, pydantic, shapely`", ("-c", "import click, pydantic, shapely")),
        ("`staking check`, the shed", ("-m", "staking", "check", "sample_sites/tape_only_shed")),
    ):
        took = run(*words)
        yield what, f"{took * 1000:.0f} ms, {took / start:.1f} times `python -c pass`"


def _outlines(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    for count in (6, 500):
        path = folder / f"{count}.toml"
        path.write_text(round_outline(count), encoding="utf-8")
        site = read_site(path)
        took = median_time(lambda site=site: solve(site), rounds)  # type: ignore[misc]
        yield f"solve an outline of {count} corners, a stake in each", f"{took * 1000:.2f} ms"


def _lots(count: int, folder: Path) -> Iterator[tuple[str, str]]:
    """Random lots of 12 courses, some of them curves: the middle one of so many, each read, solved and checked once."""
    drawn = random.Random(12)  # noqa: S311 - the same lots each time
    took: list[tuple[float, float, float]] = []
    path = folder / "lot.toml"
    for _ in range(count):
        path.write_text(random_record(drawn), encoding="utf-8")
        start = time.perf_counter()
        site = read_site(path)
        read = time.perf_counter()
        layout = solve(site)
        solved = time.perf_counter()
        check(layout)
        took.append((read - start, solved - read, time.perf_counter() - solved))
    words = [f"{statistics.median(each) * 1000:.2f} ms" for each in zip(*took, strict=True)]
    yield f"{count:,} random lots of 12 courses: read, solved, checked", ", ".join(words)


def random_record(drawn: random.Random) -> str:
    """A site file whose lot has 12 courses round its middle, every fourth a curve; a small slab with stakes."""
    turns = [math.tau * (i + 0.5 * drawn.random()) / 12 for i in range(12)]
    corners = [(r * math.sin(t), r * math.cos(t)) for t in turns for r in (drawn.uniform(30.0, 45.0),)]
    calls = []
    for index, ((e, n), (east, north)) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True)):
        long, way = math.dist((e, n), (east, north)), math.degrees(math.atan2(east - e, north - n)) % 360
        calls.append(f'[[lot.courses]]\nside = "s{index}"')
        if index % 4:
            calls.append(f'bearing = "{way:.6f}"\nlength = "{long:.4f} m"')
        else:
            calls.append(f'kind = "curve"\nturn = "right"\nradius = "{2 * long:.4f} m"\nchord = "{long:.4f} m"')
            calls.append(f'chord_bearing = "{way:.6f}"\nmore_than_half = false')
    setbacks = "\n".join(f"s{index} = 1.5" for index in range(12))
    start = f"POB = [{corners[0][1]:.4f}, {corners[0][0]:.4f}]"
    return RECORD.format(start=start, calls="\n".join(calls), setbacks=setbacks)


def _ground(rounds: int) -> Iterator[tuple[str, str]]:
    """Surface and volumes from a million ground points, beside shapely's triangulation of the same points alone."""
    drawn = np.random.default_rng(7)
    places = np.column_stack([drawn.uniform(0, 100, (1_000_000, 2)), drawn.uniform(0, 1, 1_000_000)])
    slab, plane = shapely.box(10, 10, 80, 70), Plane(Point(0, 0), 0.5)
    pairs = [
        (
            timed(lambda: triangles_of(places).volume(slab, plane)),
            timed(lambda: shapely.delaunay_triangles(shapely.linestrings(places))),
        )
        for _ in range(rounds)
    ]
    slow, ratio = (statistics.median(each) for each in ([one for one, _ in pairs], [one / two for one, two in pairs]))
    yield "surface and volumes of 1,000,000 ground points", f"{slow:.1f} s, {ratio:.2f} times shapely's triangles alone"


def _plan(rounds: int) -> Iterator[tuple[str, str]]:
    """The plan sheet of the house, beside the PDF library that draws the same lines and texts once they are placed."""
    layout = solve(read_site(ELL))
    findings = check(layout)
    ready = plan_pages(layout, findings)
    pairs = [
        (worked(lambda: plan_pdf(plan_pages(layout, findings))), worked(lambda: plan_pdf(ready))) for _ in range(rounds)
    ]
    slow, ratio = (statistics.median(each) for each in ([one for one, _ in pairs], [one / two for one, two in pairs]))
    yield "lay out and draw the plan sheet", f"{slow * 1000:.0f} ms, {ratio:.1f} times drawing it"


def _make(rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    """The whole job in a running program, beside a bare script that writes the same bytes by the same libraries."""

    def ours() -> object:
        layout = solve(read_site(ELL))
        return export(layout, check(layout), folder / "ours")

    ours()
    bare = bare_make(ELL, folder / "ours", folder / "bare")
    pairs = [(worked(ours), worked(bare())) for _ in range(rounds)]  # in turn, so that a busy machine slows both
    slow, quick = (statistics.median(times) for times in zip(*pairs, strict=True))
    ratio = statistics.median(one / other for one, other in pairs)
    yield "the same bytes by the bare libraries", f"{quick * 1000:.0f} ms"
    yield "make the house, all files", f"{slow * 1000:.0f} ms, {ratio:.2f} times the bare libraries"


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
