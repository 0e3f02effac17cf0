"""Comparisons made by hand: what was measured is the design, moved point by point as a test asks."""

from __future__ import annotations

import math
from collections.abc import Mapping

from staking.field.compared import (
    Allowed,
    Answer,
    CheckedAngle,
    CheckedLength,
    Comparison,
    DesignPoint,
    Deviation,
    FromSide,
    HowMeasured,
    MarginNow,
    MeasuredPoint,
    Placement,
    Sentence,
)
from staking.layout.computed import Layout
from staking.survey.points import Point, Vector, mean

QUARTER_INCH = 0.0254 / 4
BY_HAND = Allowed(QUARTER_INCH, "1/4 in, for this test")
HOW = HowMeasured(
    "as_set.csv", "0f" * 32, "total station", "No. 7", "the crew", "2026-05-04", error=0.001, error_up=0.001
)

Move = tuple[float, float]  # east, north [m]


def made(layout: Layout, moves: Mapping[str, Move] | None = None, **changes: object) -> Comparison:
    """All corners measured, each moved by so much from its design; those moved by nan were not measured."""
    moved = {name: Vector(*by) for name, by in (moves or {}).items()}
    corners = [
        DesignPoint(name, at, None, "corner", layout.slab.form.outline.corner_label(index), index)
        for index, (name, at) in enumerate(zip(layout.corner_names, layout.slab.form.corners, strict=True))
    ]
    missing = tuple(each for each in corners if math.isnan(moved.get(each.name, Vector(0, 0)).east))
    found = tuple(
        deviation(layout, each, moved.get(each.name, Vector(0, 0))) for each in corners if each not in missing
    )
    parts = {
        "placement": _placement(found),
        "lengths": _lengths(layout, found),
        "angles": (CheckedAngle(layout.corner_names[0], 90.0, 90.01, 0.001),),
        "margins": tuple(MarginNow(margin, None if missing else margin) for margin in layout.margins),
        "verdict": (Sentence("made by hand", "out" if any(e.answer == "out" for e in found) else "within"),),
    }
    return Comparison(layout, HOW, found, missing, (), **(parts | changes))  # type: ignore[arg-type]


def deviation(layout: Layout, design: DesignPoint, by: Vector, allowed: Allowed = BY_HAND) -> Deviation:
    """A point that was measured so far from its design [m]."""
    measured = MeasuredPoint(design.name, Point(design.at.east + by.east, design.at.north + by.north))
    side = FromSide("front", layout.corner_names[0], layout.corner_names[1], -by.north, by.east)
    return Deviation(design, measured, True, (side,), allowed, judged(by.length, allowed))


def judged(off: float, allowed: Allowed) -> Answer:
    """Within or out."""
    if allowed.plus_minus is None:
        return "not judged"
    return "within" if abs(off) <= allowed.plus_minus else "out"


def _placement(found: tuple[Deviation, ...]) -> Placement | None:
    if len(found) < 2:
        return None
    count = len(found)
    shift = Vector(sum(e.plan.east for e in found) / count, sum(e.plan.north for e in found) / count)
    shape = tuple((e.design.name, Vector(e.plan.east - shift.east, e.plan.north - shift.north)) for e in found)
    rest = max(each.length for _, each in shape)
    return Placement(mean([e.design.at for e in found]), shift, 0.0, 1.0, shape, 2 * count - 3, shift.length, rest)


def _lengths(layout: Layout, found: tuple[Deviation, ...]) -> tuple[CheckedLength, ...]:
    at = {each.design.name: each.measured.at for each in found}
    made = []
    for side in layout.sides:
        if side.start in at and side.end in at:
            one, two = at[side.start], at[side.end]
            measured = math.hypot(two.east - one.east, two.north - one.north)
            answer = judged(measured - side.chord, BY_HAND)
            made.append(
                CheckedLength("side", side.start, side.end, side.label, side.chord, measured, BY_HAND, answer)
            )
    return tuple(made)
