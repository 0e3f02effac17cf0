"""How long does it take to find out which of many measured points is which, beside asking for their nearest alone?"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import numpy.typing as npt
import shapely

from staking import MeasuredPoint, read_site, solve
from staking.field.allowed import Tolerances
from staking.field.compared import DesignPoint
from staking.field.deviations import Judge
from staking.field.matching import matched
from staking.field.partners import partners_of
from staking.survey.points import Point

ROOT = Path(__file__).parents[2]

LIMIT = 0.3048
Numbers = npt.NDArray[np.float64]


def places(count: int) -> tuple[Numbers, Numbers]:
    """Design points on a field, none nearer to another than 2 m, and the same measured in another order."""
    drawn = np.random.default_rng(11)
    across = int(np.ceil(np.sqrt(count)))
    grid = np.stack(np.meshgrid(np.arange(across), np.arange(across)), axis=-1).reshape(-1, 2)[:count] * 3.0
    design = grid + drawn.uniform(-0.5, 0.5, (count, 2))
    return design, drawn.permutation(design) + drawn.normal(0, 0.01, (count, 2))


def nearest(design: Numbers, measured: Numbers) -> npt.NDArray[np.int64]:
    """The bare query."""
    tree = shapely.STRtree(np.asarray(shapely.points(design)))
    return np.asarray(tree.query_nearest(shapely.points(measured), max_distance=LIMIT))


def rows(count: int, rounds: int) -> Iterator[tuple[str, str]]:
    """What was measured, the two in turn."""
    design, measured = places(count)
    names, numbers = [f"D{i}" for i in range(count)], [str(i) for i in range(count)]

    def ours(called: list[str]) -> object:
        match = matched(called, measured, names, design, limit=LIMIT)
        return np.hypot(*(measured[match.measured] - design[match.design]).T)

    assert len(matched(numbers, measured, names, design, limit=LIMIT).measured) == count
    pairs = [
        (timed(lambda: nearest(design, measured)), timed(lambda: ours(numbers)), timed(lambda: ours(names)))
        for _ in range(rounds)
    ]
    bare = statistics.median(pair[0] for pair in pairs)
    loose, named = (statistics.median(pair[at] / pair[0] for pair in pairs) for at in (1, 2))
    yield f"the nearest of {count:,} points to {count:,} others, by shapely alone", f"{bare * 1000:.0f} ms"
    yield (
        "the same matched, no point used twice, with differences",
        f"{loose:.2f} times that; {named:.2f} times where names tell",
    )
    whole = statistics.median(judged(design, measured) / pair[0] for pair in pairs)
    yield "the same with a record a point, judged", f"{whole:.2f} times that"


def judged(design: Numbers, measured: Numbers) -> float:
    """Seconds of matching records and judging each."""
    layout = solve(read_site(ROOT / "sample_sites" / "tape_only_shed" / "site.toml"))
    wanted = [DesignPoint(f"D{i}", Point(*at), None, "mark", "mark") for i, at in enumerate(design.tolist())]
    points = [MeasuredPoint(str(i), Point(*at)) for i, at in enumerate(measured.tolist())]
    judge = Judge(Tolerances(layout), {})
    return timed(lambda: judge.all(partners_of(points, wanted, file="", limit=LIMIT)))


def timed(call: Callable[[], object]) -> float:
    """Seconds that a call takes."""
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


if __name__ == "__main__":
    for what, took in rows(100_000, 7):
        print(what, took)  # noqa: T201 - a script that prints figures
