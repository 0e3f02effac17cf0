"""Which measured points do not belong with the others in plan?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from staking.field.compared import Allowed, Deviation
from staking.field.words import own_words, step_words
from staking.findings import Finding, Severity
from staking.notation import Notation
from staking.survey.chances import chi_square
from staking.survey.error_budget import CIRCLE_95
from staking.survey.points import Vector, vector
from staking.survey.similarity import Pair
from staking.survey.strain import strain_chance
from staking.survey.two_systems import GOOD, fit_systems, odd_pairs

MOST = 60  # points that are tried one by one; of more only the corners of slab and parts are; own choice
FAR = 3.0  # times what is allowed, where all others lie on their places: it stands out by itself; own choice


def noise_of(allowed: Iterable[Allowed], error: float | None) -> float:
    """Standard error of a coordinate as points in good order are set and measured [m].

    allowed: of the points of the slab; the largest is taken for the circle that holds 95 of 100 points; own choice.
    error: of the measuring [m]. Where no figure is given, a quarter of an inch is taken.
    """
    set_out = max((each.plus_minus for each in allowed if each.plus_minus), default=0.00635) / CIRCLE_95
    return math.hypot(set_out, error or 0.0)


def odd_groups(found: Sequence[Deviation], noise: float) -> tuple[tuple[int, ...], ...]:
    """Groups of indices: the first of each does not belong, or another of its group, which the others cannot tell.

    noise: standard error of a coordinate [m], to which that of a point itself is added in squares where it has one. By
    `two_systems.odd_pairs`, in which slab and list may be shifted and turned; a group is cut down to the one that is
    off its place where all others are on theirs. None where a form that is out of square makes them all so.
    """
    tried = [at for at, each in enumerate(found) if len(found) <= MOST or each.design.what in ("corner", "part")]
    if not 3 <= len(tried) <= MOST:
        return ()
    pairs = [(found[at].design.at, found[at].measured.at) for at in tried]
    own = [math.hypot(noise, found[at].measured.error or 0.0) for at in tried]
    try:
        groups = odd_pairs(pairs, expected=noise, own=own)
    except ValueError:
        groups = ()
    named = tuple(_cut_down(found, tuple(tried[i] for i in group)) for group in groups)
    named = named or _by_itself(found, tried, noise)
    return () if _out_of_square(found, named, pairs, own) else named


def _out_of_square(
    found: Sequence[Deviation], named: Sequence[tuple[int, ...]], pairs: Sequence[Pair], own: Sequence[float]
) -> bool:
    """Whether several do not belong, or one that lies on its place, and a form sheared or stretched explains all.

    One point off its place, while the others are on theirs or all off, stays what it is: measured wrongly till
    it is known.
    """
    others = [each for at, each in enumerate(found) if not named or at not in named[0]]
    if len(named) == 1 and any(found[at].answer == "out" for at in named[0]) and not _partly_out(others):
        return False
    chance = strain_chance(pairs, own) if named else None
    return chance is not None and chance > GOOD


def _partly_out(found: Sequence[Deviation]) -> bool:
    """Whether some are out and some are not, two at least of each, as one end of a form that was racked."""
    out = sum(each.answer == "out" for each in found)
    return min(out, len(found) - out) >= 2


def _cut_down(found: Sequence[Deviation], group: tuple[int, ...]) -> tuple[int, ...]:
    out = [at for at in group if found[at].answer == "out"]
    return tuple(out) if len(out) == 1 else group


def _by_itself(found: Sequence[Deviation], tried: Sequence[int], noise: float) -> tuple[tuple[int, ...], ...]:
    """Points far off their places while all the others, two thirds at least, are on theirs as far as noise tells."""
    far = [at for at in tried if found[at].plan.length > FAR * (found[at].allowed.plus_minus or noise * CIRCLE_95)]
    rest = [found[at].plan for at in tried if at not in far]
    if not far or len(far) > len(tried) // 3:
        return ()
    pull = sum(step.dot(step) for step in rest) / noise**2
    return tuple((at,) for at in far) if chi_square(pull, 2 * len(rest)) > GOOD else ()


def odd_findings(
    found: Sequence[Deviation], groups: Sequence[tuple[int, ...]], noise: float, right: Vector, write: Notation
) -> Iterator[Finding]:
    """One for each group. right: along the front of the slab, as one sees it who stands before it."""
    first = {group[0] for group in groups}
    others = [each for at, each in enumerate(found) if at not in first]
    for group in groups:
        each = found[group[0]]
        off = _off(each, others, noise)
        names = " or ".join(found[at].design.name for at in group)
        message = (
            f"{names} does not belong with the {len(others)} other points: by their fit {each.design.name} lies "
            f"{write.small(off.length)} from its place, {step_words(off, write)}"
        )
        step = own_words(off.reversed(), right, write)
        remedy = f"measure {names} again; if it stands so, move {each.design.name} {step}, seen from the front"
        yield Finding("measured-odd-point", Severity.STRONG, message, None, remedy)


def _off(each: Deviation, others: Sequence[Deviation], noise: float) -> Vector:
    """How far a point is from its place by the fit of the others."""
    try:
        fit = fit_systems([(other.design.at, other.measured.at) for other in others], expected=noise)
    except ValueError:
        return each.plan
    return vector(fit.similarity.apply(each.design.at), each.measured.at)
