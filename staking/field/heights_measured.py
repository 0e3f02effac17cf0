"""Are measured heights off by one rod height: at one point, or at all of them alike?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.field.compared import Deviation
from staking.field.odd_height import fit_with_odd
from staking.field.words import up_words
from staking.findings import Finding, Severity
from staking.notation import Notation
from staking.survey.error_budget import LINE_95

SURELY = 3.0  # standard errors; of eight good heights one in a hundred sets has another so far out the same way


def height_findings(found: Sequence[Deviation], error: float | None, write: Notation) -> Iterator[Finding]:
    """Heights that do not belong with the others; then what all others have in common.

    error: standard error of a measured height [m]. What is allowed of a height is taken for 95 of 100; own choice.
    """
    high = [each for each in found if each.up is not None]
    if len(high) < 2:
        return
    allowed = high[0].allowed_up.plus_minus or 0.0127
    noise = ((allowed / LINE_95) ** 2 + (error or 0.0) ** 2) ** 0.5
    odd, kept = _odd(high, noise)
    for each in odd:
        yield _one(each, kept, write)
    yield from _common(kept, allowed, write)


def _odd(high: Sequence[Deviation], noise: float) -> tuple[list[Deviation], list[Deviation]]:
    """Those that do not belong, one after the other, while two thirds are left; and the others.

    Of two that are out the same way none is called so: a form that sags over both looks the same.
    """
    odd, kept = list[Deviation](), list(high)
    while len(odd) < len(high) // 3:
        places, off = [each.design.at for each in kept], [each.up or 0.0 for each in kept]
        at = fit_with_odd(places, off, expected=noise, most=SURELY * noise).odd
        if at is None:
            break
        odd.append(kept.pop(at))
    return odd, kept


def _one(each: Deviation, others: Sequence[Deviation], write: Notation) -> Finding:
    middle = sum(other.up or 0.0 for other in others) / len(others)
    off = (each.up or 0.0) - middle
    message = (
        f"{each.design.name} is {up_words(off, write)} against the {len(others)} others, which agree: a wrong rod "
        f"height makes one point so"
    )
    remedy = f"see which rod height stands by {each.design.name} in the instrument, and read it again"
    return Finding("measured-rod-height", Severity.STRONG, message, None, remedy)


def _common(kept: Sequence[Deviation], allowed: float, write: Notation) -> Iterator[Finding]:
    """All too high or too low alike: by the given points, the rod or the slab."""
    slab = [each for each in kept if each.design.what != "given"]
    control = [each for each in kept if each.design.what == "given"]
    if len(slab) < 2:
        return
    middle = sum(each.up or 0.0 for each in slab) / len(slab)
    if abs(middle) <= allowed or any(abs((each.up or 0.0) - middle) > allowed for each in slab):
        return
    names = ", ".join(each.design.name for each in control)
    words = f"all points of the slab are {up_words(middle, write)}"
    if not control:
        message = (
            f"{words} alike; no given point with an elevation was measured, so slab or rod height, nobody can tell"
        )
        yield Finding(
            "measured-all-high", Severity.STRONG, message, None, "read a benchmark from the same set-up, compare again"
        )
    elif all(abs((each.up or 0.0) - middle) <= allowed for each in control):
        message = f"{words}, and so are given points ({names}): the heights of rod or instrument were entered wrongly"
        remedy = "check both heights in the instrument and the benchmark, then measure again"
        yield Finding("measured-rod-heights", Severity.STRONG, message, None, remedy)
    elif all(each.answer_up == "within" for each in control):
        message = f"{words} alike; given points ({names}) agree with their elevations, so it stands so"
        yield Finding("measured-all-high", Severity.STRONG, message, None, "raise or lower the form as a whole")
