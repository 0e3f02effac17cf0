"""Which corners are moved, and by how much in words, so that as told every corner, side and diagonal is in?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from staking.field.allowed import Tolerances
from staking.field.compared import Deviation
from staking.field.shape import lengths_of
from staking.field.words import steps_words
from staking.layout.computed import Layout
from staking.survey.points import Vector, distance, moved

MOST = 8  # corners of which the fewest to move are looked for by trying; own choice

_STAYS = Vector(0.0, 0.0)

Steps = Mapping[str, Vector]


def moves_told(layout: Layout, corners: Sequence[Deviation], tolerances: Tolerances, far: float) -> str:
    """Where corners must go to their places, as one says it in front of the slab.

    far [m]: at first those that are farther off are moved, by no less than half of that. Where sides, diagonals or
    corners with a smaller figure stay out so, the fewest that bring them in, those that are out among them; where no
    choice does, all of them.
    """
    right = layout.slab.form.pose.right
    steps: Steps = {}
    for steps in _ways(layout, corners, far):
        if _all_in(layout, corners, steps, tolerances):
            break
    told = {each.design.name: steps.get(each.design.name, _STAYS) for each in corners}
    return steps_words(told, 0.0, 0.0, right, layout.notation)


def _ways(layout: Layout, corners: Sequence[Deviation], far: float) -> Iterator[Steps]:
    first = {each.design.name: _step(layout, each, far / 2) for each in corners if each.plan.length > far}
    if first:
        yield first
    whole = {each.design.name: step for each in corners if (step := _step(layout, each, 0.0)).length > 0}
    must = [each.design.name for each in corners if each.answer == "out" and each.design.name in whole]
    free = [name for name in whole if name not in must]
    for count in range(len(free) if len(free) <= MOST else 0):
        for chosen in sorted(combinations(free, count), key=lambda names: sum(whole[name].length for name in names)):
            if must or chosen:
                yield {name: step for name, step in whole.items() if name in (*must, *chosen)}
    yield whole


def _step(layout: Layout, each: Deviation, least: float) -> Vector:
    """To its place, each way as it is written, what is less than `least` [m] left out."""
    unit, right = layout.site.unit, layout.slab.form.pose.right
    grain = 0.001 if unit.name == "m" else float(unit.metres) / 12 / layout.notation.fraction
    ways = [(way, each.plan.reversed().dot(way)) for way in (right, right.left())]
    told = [(way, math.copysign(round(abs(size) / grain) * grain, size)) for way, size in ways if abs(size) >= least]
    return Vector(sum(way.east * size for way, size in told), sum(way.north * size for way, size in told))


def _all_in(layout: Layout, corners: Sequence[Deviation], steps: Steps, tolerances: Tolerances) -> bool:
    after = [_moved(each, steps.get(each.design.name)) for each in corners]
    stand = all(
        each.allowed.plus_minus is None or distance(each.design.at, each.measured.at) <= each.allowed.plus_minus
        for each in after
    )
    return stand and not any(
        each.answer == "out" for each in lengths_of(layout, after, tolerances) if each.kind != "tie"
    )


def _moved(each: Deviation, step: Vector | None) -> Deviation:
    if step is None:
        return each
    return replace(each, measured=replace(each.measured, at=moved(each.measured.at, step, 1.0)))
