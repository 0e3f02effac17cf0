"""Are heights of the form what they seem, or was the rod, the benchmark or one reading wrong?

Never more than can be known: what fits all marks is laid to what all of them share, what fits one to that one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from statistics import fmean, pstdev
from types import MappingProxyType

from staking.field.compared import Allowed
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.design import Grade
from staking.survey.level_slips import meant, single_digit
from staking.survey.levels import Sight

READ = 0.003  # metres (0.01 ft): how well a rod is read; own choice
MOST = 400  # marks; for more of them level is judged, but not mended

CODES: Mapping[str, str] = MappingProxyType(
    {
        "levels-shifted": "All marks of the form are off alike, by more than is allowed, and agree among themselves. "
        "That is what a wrong benchmark, backsight or rod looks like. Check those before the form is moved.",
        "levels-odd": "One mark does not belong with the others, which agree without it: a rod that was read or "
        "written wrongly, another point, or a form that was knocked. Where one slip of the pen would explain it, it is "
        "named; that is no proof.",
        "levels-many": "There are too many marks to find the fewest that must be moved to make the form level; each is "
        "held to its own height only.",
    }
)


def doubts(
    layout: Layout,
    read: Sequence[Grade],
    off: Sequence[float],
    odd: int | None,
    *,
    allowed: Allowed,
    sights: Mapping[str, Sight],
) -> Iterator[Finding]:
    """What there is to doubt about heights. off: of each mark read, measured less design [m]. odd: the one of them
    that does not belong. sights: how the rod was read, by mark. Nothing where no figure says what is allowed.
    """
    most = allowed.plus_minus
    if most is None:
        return
    rest = [each for index, each in enumerate(off) if index != odd]
    mean = fmean(rest)
    if odd is not None:
        name, gap = read[odd].name, off[odd] - mean
        slips = _slips(sights.get(name), gap, most, float(layout.site.unit.metres))
        yield _odd(layout, name, gap, rest, slips)
    if len(rest) >= 3 and min(math.copysign(1, mean) * each for each in rest) > most >= pstdev(rest):
        yield _shifted(layout, mean, rest)
    if len(off) > MOST:
        words = f"there are {len(off)} marks, so each is held to its own height only"
        yield Finding("levels-many", Severity.NOTE, words, remedy=f"read {MOST} marks or fewer to mend level too")


def _shifted(layout: Layout, mean: float, rest: Sequence[float]) -> Finding:
    write = layout.notation.both
    words = (
        f"{len(rest)} marks are all {'high' if mean > 0 else 'low'}, {write(abs(mean))} on average, "
        f"and agree within {write(max(rest) - min(rest))}"
    )
    remedy = (
        "check the benchmark and its height, the backsight, and the rod (foot, extension, height keyed in) before the "
        "form is moved"
    )
    return Finding("levels-shifted", Severity.STRONG, words, remedy="\n".join([*_digit(layout, mean, rest), remedy]))


def _odd(layout: Layout, name: str, gap: float, rest: Sequence[float], slips: Iterator[str]) -> Finding:
    way = "higher" if gap > 0 else "lower"
    words = f"{name} stands {layout.notation.both(abs(gap))} {way} than the other {len(rest)} marks, which agree"
    said = tuple(slips) or tuple(_digit(layout, gap, rest))
    remedy = "\n".join([*said, f"read the rod on {name} again before the form is moved there"])
    return Finding("levels-odd", Severity.STRONG, words, remedy=remedy)


def _slips(sight: Sight | None, gap: float, most: float, unit: float) -> Iterator[str]:
    """The readings that may have been meant and with which the mark is as the others are."""
    for instead, swapped in meant(sight, unit) if sight else ():
        if sight and abs(gap + sight.reading - instead) <= most:
            what = f"two neighbouring digits swapped, {swapped}," if swapped else "its second reading"
            yield f"possibly line {sight.line}, {sight.written}: with {what} it is as the others are"


def _digit(layout: Layout, gap: float, rest: Sequence[float]) -> Iterator[str]:
    """That a gap is the size of one wrong digit, as far as marks that agree that well can tell."""
    unit = layout.site.unit
    if digit := single_digit(gap, float(unit.metres), max(READ, pstdev(rest))):
        yield f"it is the size of one wrong digit ({digit} {unit.name})"
