"""Which corners are moved, and by how much in words, so that as told every corner, side and diagonal is in?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from staking.field.allowed import Tolerances
from staking.field.compared import Deviation
from staking.field.placement import placement_of
from staking.field.shape import lengths_in, lengths_of
from staking.field.words import steps_words
from staking.layout.computed import Layout
from staking.survey.points import Vector, distance, moved

MOST = 8  # corners of which the fewest to move are looked for by trying; own choice

SHARES = (0.75, 1.0)  # of what is allowed: aimed at first, so that small slips leave it in, and then; own choice

_STAYS = Vector(0.0, 0.0)

Steps = Mapping[str, Vector]


def moves_told(layout: Layout, corners: Sequence[Deviation], tolerances: Tolerances, far: float) -> str:
    """Where corners must go to their places, as one says it in front of the slab.

    far [m]: at first those that are farther off are moved, by no less than half of that. Where sides, diagonals or
    corners with a smaller figure stay out so, the fewest that bring them in, those that are out among them; where no
    choice does, all of them. What is in so is asked to be well in, by the first of SHARES, before it is asked to be in.
    """
    right = layout.slab.form.pose.right
    steps = _steps(layout, corners, tolerances, far)
    told = {each.design.name: steps.get(each.design.name, _STAYS) for each in corners}
    return steps_words(told, 0.0, 0.0, right, layout.notation)


def in_shape(
    layout: Layout, corners: Sequence[Deviation], steps: Steps, tolerances: Tolerances, share: float = 1.0
) -> bool:
    """Whether after such steps [m] sides and diagonals are in, and no corner is out of shape by more than is allowed.

    share: of what is allowed, that is asked of sides and diagonals.
    """
    after = [_moved(each, steps.get(each.design.name)) for each in corners]
    placement, allowed = placement_of(after), [each.allowed.plus_minus for each in after if each.allowed.plus_minus]
    rest = placement.largest_shape if placement and allowed else 0.0
    return rest <= max(allowed, default=0.0) and lengths_in(lengths_of(layout, after, tolerances), share)


def _steps(layout: Layout, corners: Sequence[Deviation], tolerances: Tolerances, far: float) -> Steps:
    ways = list(_ways(layout, corners, far))
    tried = ((way, share) for share in SHARES for way in ways)
    found = (way for way, share in tried if _all_in(layout, corners, way, tolerances, share))
    return next(found, ways[-1])


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


def _all_in(layout: Layout, corners: Sequence[Deviation], steps: Steps, tolerances: Tolerances, share: float) -> bool:
    return in_shape(layout, corners, steps, tolerances, share) and all(_stands(each, steps, share) for each in corners)


def _stands(each: Deviation, steps: Steps, share: float) -> bool:
    """Whether a corner comes to lie on its place; one that is not moved is as good as it was."""
    allowed, step = each.allowed.plus_minus, steps.get(each.design.name)
    left = distance(each.design.at, _moved(each, step).measured.at)
    return allowed is None or left <= allowed * (1.0 if step is None else share)


def _moved(each: Deviation, step: Vector | None) -> Deviation:
    if step is None:
        return each
    return replace(each, measured=replace(each.measured, at=moved(each.measured.at, step, 1.0)))
