"""How quick, and in how much memory, does a long list go through, beside bare csv, numpy and pyproj?

Both read a list in US survey feet on the state plane, turn and shift it by a fit on a few pairs, carry it to UTM and
write it again. The bare program keeps one row at a time of the text, as csv does, and 20,000 rows of figures; it looks
at nothing, and refuses nothing. Each runs in a program of its own, so that its peak of memory is its own.

python tests/bench/many_points.py ours IN OUT
python tests/bench/many_points.py bare IN OUT
"""

from __future__ import annotations

import csv
import random
import resource
import subprocess
import sys
import time
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import numpy as np
import pyproj

from staking.exports.points_stream import write_points
from staking.notation import Notation
from staking.sitefile.pointlists.blocks import read_blocks
from staking.sitefile.pointlists.moving import in_system, turned_and_shifted
from staking.sitefile.pointlists.opening import Asked, begin, open_list
from staking.survey.points import Point
from staking.survey.projected_systems import system
from staking.survey.similarity import Similarity, least_squares
from staking.units import UNITS

SOURCE, TARGET = "EPSG:6430", "EPSG:6342"  # state plane in US survey feet, UTM in metres, both on NAD83(2011)
MIDDLE = (3_150_000.0, 1_300_000.0)  # east, north: a town in it
FOOT = float(UNITS["ftUS"].metres)


def make(path: Path, count: int) -> None:
    """A list of so many points, the same each time."""
    drawn = random.Random(5)  # noqa: S311 - the same points each time
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write("name,north,east,elevation,note\n")
        for number in range(count):
            east, north = (middle + drawn.uniform(-5000, 5000) for middle in MIDDLE)
            file.write(f"P{number},{north:.3f},{east:.3f},{drawn.uniform(5000, 6000):.3f},peg {number % 9}\n")


def fitted() -> Similarity:
    """A fit on four pairs."""
    turn = Similarity(
        Point(MIDDLE[0] * FOOT, MIDDLE[1] * FOOT), Point(MIDDLE[0] * FOOT + 1, MIDDLE[1] * FOOT - 2), 0.01
    )
    places = [
        Point((MIDDLE[0] + e) * FOOT, (MIDDLE[1] + n) * FOOT) for e, n in ((0, 0), (900, 0), (0, 900), (900, 950))
    ]
    return least_squares([(place, turn.apply(place)) for place in places]).similarity


def ours(path: Path, out: Path) -> None:
    """By the public functions."""
    opening = open_list(begin(path, shown=str(path)), Asked(unit="ftUS"), shown=str(path))
    blocks = turned_and_shifted(read_blocks(path, opening, shown=str(path)), fitted())
    write_points(out, in_system(blocks, system(SOURCE), system(TARGET)), Notation(UNITS["m"]))


def bare(path: Path, out: Path) -> None:
    """By the libraries alone."""
    move = fitted()
    to_utm = pyproj.Transformer.from_crs(SOURCE, TARGET, always_xy=True)
    with path.open(encoding="utf-8", newline="") as file, out.open("w", encoding="utf-8", newline="") as new:
        rows, writer = csv.reader(file), csv.writer(new)
        next(rows)
        writer.writerow(("name", "north", "east", "elevation", "kind", "note"))
        for part in _parts(rows):
            names, north, east, high, notes = zip(*part, strict=True)
            figures = [np.array(list(map(float, column))) * FOOT for column in (east, north, high)]
            moved = move.carry(figures[0], figures[1])
            easts, norths = to_utm.transform(moved[0] / FOOT, moved[1] / FOOT)
            texts = [[f"{value:.4f}" for value in column.tolist()] for column in (norths, easts, figures[2])]
            writer.writerows(zip(names, *texts, ["given"] * len(part), notes, strict=True))


def _parts(rows: Iterator[list[str]]) -> Iterator[list[list[str]]]:
    while part := list(islice(rows, 20_000)):
        yield part


def measured(way: str, path: Path, out: Path) -> tuple[float, float]:
    """Seconds of the work and the peak of memory [MB] of a program that does it one way."""
    out.unlink(missing_ok=True)
    done = subprocess.run(
        [sys.executable, __file__, way, str(path), str(out)], check=True, capture_output=True, text=True
    )
    seconds, peak = map(float, done.stdout.split())
    return seconds, peak


def rows(count: int, rounds: int, folder: Path) -> Iterator[tuple[str, str]]:
    """What was measured, the two in turn, and how they compare; a tenth of the list shows that memory is flat."""
    few, many = folder / "few.csv", folder / "many.csv"
    make(few, count // 10)
    make(many, count)
    pairs = [(measured("ours", many, folder / "a"), measured("bare", many, folder / "b")) for _ in range(rounds)]
    with (folder / "a").open(encoding="utf-8") as one, (folder / "b").open(encoding="utf-8") as two:
        differ = sum(line != other for line, other in zip(one, two, strict=True))
    middle = sorted(pairs, key=lambda pair: pair[0][0] / pair[1][0])[len(pairs) // 2]
    (seconds, peak), (other, other_peak) = middle
    tenth = measured("ours", few, folder / "a")[1]
    yield f"{count:,} points by csv, numpy and pyproj alone", f"{other:.1f} s, {other_peak:.0f} MB"
    yield (
        f"{count:,} points read, fitted, carried, written; {differ:,} rows differ in a last digit",
        f"{seconds:.1f} s, {seconds / other:.2f} times that; {peak:.0f} MB, for a tenth of them {tenth:.0f} MB",
    )


def main() -> None:
    """Does the work one way, and prints seconds and MB."""
    way, path, out = sys.argv[1:]
    start = time.perf_counter()
    (ours if way == "ours" else bare)(Path(path), Path(out))
    took = time.perf_counter() - start
    print(took, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)  # noqa: T201 - read by the program above


if __name__ == "__main__":
    main()
