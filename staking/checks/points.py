"""Are the given points plausible, and can a tape reach what it has to?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.tape_plan import longest_pull, tape_plan
from staking.survey.points import distance
from staking.survey.polygons import spots

SAME_SPOT = 0.0003  # metres (0.001 ft): two names for one mark

CODES = MappingProxyType(
    {
        "points-coincide": "Two given points have the same place within 0.001 ft (0.3 mm): one mark with two "
        "names, or a "
        "line copied without changing its numbers.",
        "tape-too-short": "A side, a diagonal or another pull of the tape sheet is longer than the tape ([tape] "
        "length, 100 ft where left out), so that it has to be measured in two lengths with a mark between.",
        "elevation-zero": "A point has the elevation 0 while others lie far from 0. An unknown elevation is left out, "
        "not written as 0.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _coincide(layout)
    yield from _zero(layout)
    yield from _beyond_tape(layout)


def _coincide(layout: Layout) -> Iterator[Finding]:
    points = list(layout.points.values())
    shapes = spots(point.at for point in points)
    first, second = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=SAME_SPOT)
    for a, b in sorted((int(i), int(j)) for i, j in zip(first, second, strict=True) if i < j):
        yield Finding(
            "points-coincide",
            Severity.WARNING,
            f"{points[a].name} and {points[b].name} are in the same place "
            f"({layout.notation.decimal(distance(points[a].at, points[b].at), 4)} apart)",
            layout.site.place("points", points[b].name),
            "remove one of them, or correct its numbers",
        )


def _zero(layout: Layout) -> Iterator[Finding]:
    known = [point for point in layout.points.values() if point.at.up is not None]
    far = [point for point in known if abs(point.at.up or 0.0) > 10.0]
    for point in known:
        if point.at.up == 0.0 and far:
            yield Finding(
                "elevation-zero",
                Severity.WARNING,
                f"{point.name} has the elevation 0; {far[0].name} lies at "
                f"{layout.notation.decimal(far[0].at.up or 0.0)}",
                layout.site.place("points", point.name),
                "leave the elevation out where it is not known",
            )


def _beyond_tape(layout: Layout) -> Iterator[Finding]:
    tape = layout.site.declared.tape.length
    length, longest = longest_pull(layout, tape_plan(layout))
    if length > tape:
        yield Finding(
            "tape-too-short",
            Severity.NOTE,
            f"{longest} is {layout.notation.length(length)}, longer than a tape of {layout.notation.length(tape)}",
            layout.site.place("tape") if "tape" in layout.site.declared.model_fields_set else layout.site.place("slab"),
            "measure it in two lengths with a mark on the string between, or write the length of your tape in [tape]",
        )


CHECK = Check("Are the given points plausible, and can a tape reach what it has to?", CODES, _findings)
