"""How often is a planted blunder named, and how often one where there is none? Printed, and asserted in tests/field.

python tests/bench/blunders.py

3 to 8 points of a slab are measured, so that 3 numbers and more are redundant: each coordinate with noise whose circle
of 95 in 100 is what is allowed, the whole set on its place or shifted and turned. The blunder is 5 times what is
allowed, in a random direction, at a random point; or as much of height; or two names exchanged.
"""

from __future__ import annotations

import math
import random
import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from staking import Layout, MeasuredPoint, compare, read_site, solve
from staking.field.compared import Comparison, DesignPoint, HowMeasured
from staking.field.design_points import design_points
from staking.survey.points import Point
from staking.survey.similarity import Similarity

ROOT = Path(__file__).parents[2]
SITES = ("tape_only_shed", "ell_house_on_grid", "metric_hall", "sloping_lot")
HOW = HowMeasured("random", "")
CIRCLE, BAND = 2.4477, 1.96  # standard errors that hold 95 in 100, in plan and of a height
TIMES = 5.0


def layouts() -> list[Layout]:
    """Sample sites of 4 and 6 corners, with stakes of all kinds."""
    return [solve(read_site(ROOT / "sample_sites" / name / "site.toml")) for name in SITES]


def measured(
    drawn: random.Random, layout: Layout, *, least: int = 4, moved: bool = False, high: bool = False
) -> list[MeasuredPoint]:
    """Points of the slab as a crew sets and measures them in good order; high: only those with a design height."""
    of_slab = (point for point in design_points(layout) if point.what != "given")
    design = [point for point in of_slab if point.up is not None or not high]
    chosen = drawn.sample(design, min(len(design), drawn.randint(least, 8)))
    allowed, level = 0.00635, 0.0127
    middle = chosen[0].at
    step = Point(middle.east + drawn.gauss(0, 0.05), middle.north + drawn.gauss(0, 0.05))
    move = Similarity(middle, step if moved else middle, drawn.gauss(0, 0.1) if moved else 0.0)
    return [_shot(drawn, point, move.apply(point.at), allowed / CIRCLE, level / BAND) for point in chosen]


def _shot(drawn: random.Random, point: DesignPoint, at: Point, noise: float, high: float) -> MeasuredPoint:
    there = Point(at.east + drawn.gauss(0, noise), at.north + drawn.gauss(0, noise))
    return MeasuredPoint(point.name, there, None if point.up is None else point.up + drawn.gauss(0, high))


def named(found: Comparison, code: str) -> set[str]:
    """The first words, which are names, of the findings of a code."""
    return {word for each in found.findings if each.code == code for word in _names(each.message)}


def _names(message: str) -> list[str]:
    return re.split(" or | and ", re.split(" does not | is | bear ", message, maxsplit=1)[0])


BLUNDERS = {"measured-odd-point", "measured-exchanged", "measured-other-point", "measured-order", "measured-rod-height"}


def false_alarms(drawn: random.Random, count: int, *, least: int = 4, moved: bool = False) -> int:
    """Sets without a blunder in which one is named."""
    sites = layouts()
    return sum(
        bool(
            BLUNDERS
            & {each.code for each in compare(site, measured(drawn, site, least=least, moved=moved), HOW).findings}
        )
        for site in drawn.choices(sites, k=count)
    )


def in_plan(drawn: random.Random, count: int, *, least: int = 4, moved: bool = False) -> tuple[int, int]:
    """Of so many planted blunders in plan: named alone, and named with another that the rest cannot tell it from."""
    alone = grouped = 0
    for site in drawn.choices(layouts(), k=count):
        points = measured(drawn, site, least=least, moved=moved)
        at, way = drawn.randrange(len(points)), drawn.uniform(0, 2 * math.pi)
        off = TIMES * 0.00635
        there = Point(points[at].at.east + off * math.cos(way), points[at].at.north + off * math.sin(way))
        points[at] = replace(points[at], at=there)
        names = named(compare(site, points, HOW), "measured-odd-point")
        alone += names == {points[at].name}
        grouped += points[at].name in names and len(names) > 1
    return alone, grouped


def in_height(drawn: random.Random, count: int) -> int:
    """Of so many heights that are off by a rod height of 5 times what is allowed: named alone."""
    site = solve(read_site(ROOT / "sample_sites" / "sloping_lot" / "site.toml"))
    hits = 0
    for _ in range(count):
        points = measured(drawn, site, high=True)
        at = drawn.randrange(len(points))
        points[at] = replace(points[at], up=(points[at].up or 0.0) + drawn.choice((-1, 1)) * TIMES * 0.0127)
        hits += named(compare(site, points, HOW), "measured-rod-height") == {points[at].name}
    return hits


def exchanged(drawn: random.Random, count: int) -> int:
    """Of so many sets in which two names are exchanged: those in which both are named."""
    hits = 0
    for site in drawn.choices(layouts(), k=count):
        points = measured(drawn, site)
        one, two = drawn.sample(range(len(points)), 2)
        names = points[one].name, points[two].name
        points[one], points[two] = replace(points[one], name=names[1]), replace(points[two], name=names[0])
        hits += named(compare(site, points, HOW), "measured-exchanged") == set(names)
    return hits


def rows(count: int, seed: int = 1) -> Iterator[str]:
    """What was found."""
    drawn = random.Random(seed)  # noqa: S311 - the same sets each time
    for words, least, moved in (
        ("4 to 8 points, on their places", 4, False),
        ("4 to 8 points, shifted and turned", 4, True),
        ("3 to 8 points, shifted and turned", 3, True),
    ):
        alone, grouped = in_plan(drawn, count, least=least, moved=moved)
        alarms = false_alarms(drawn, count, least=least, moved=moved)
        yield f"{words}: named {alone} of {count} alone, {grouped} with another; false alarms {alarms} of {count}"
    yield f"rod height of one point: named {in_height(drawn, count)} of {count}"
    yield f"two names exchanged: named {exchanged(drawn, count)} of {count}"


def main() -> None:
    """Prints the figures."""
    for line in rows(int(sys.argv[1]) if len(sys.argv) > 1 else 100):
        print(line)  # noqa: T201 - a script that prints figures


if __name__ == "__main__":
    main()
