"""Which single slip in a level book would explain that it does not close, and where can it not be?

Never more than can be known: a misclosure alone tells a size; swapped digits tell a reading only where one reading
fits; a point that was reached twice clears what lies between, or confines the slip to it. All tests are own choice.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from types import MappingProxyType

from staking.survey.levels import Reduced, Sight

MOST = 4  # suspects named; more of them tell nothing
_NONE: Mapping[str, float] = MappingProxyType({})
_DECIMAL = re.compile(r"[0-9]*\.?[0-9]+")


@dataclass(frozen=True, slots=True)
class Suspect:
    """A sight, what may have happened, the reading [m] with which the book would close, and what would be left [m]."""

    sight: Sight
    why: str
    instead: float
    left: float


def read_apart(rows: Sequence[Reduced], within: float) -> tuple[Sight, ...]:
    """Sights that were read twice, and whose readings differ by more than so much [m]."""
    sights = [row.sight for row in rows]
    return tuple(s for s in sights if s.second is not None and abs(s.second - s.reading) > within)


def suspects(
    rows: Sequence[Reduced], misclosure: float, unit: float, within: float, known: Mapping[str, float] = _NONE
) -> tuple[Suspect, ...]:
    """Readings that one known slip would mend to within so much [m]; a reading taken twice before swapped digits.

    misclosure: known less computed [m]. unit: of the written readings [m]. known: as of `open_rows`.
    """
    free = [row.sight for number, row in enumerate(rows) if number in open_rows(rows, misclosure, within, known)]
    found = []
    for sight in free:
        sign = 1 if sight.kind == "backsight" else -1
        for instead, swapped in meant(sight, unit):
            left = abs(sign * (instead - sight.reading) - misclosure)
            if left <= within:
                why = f"with two neighbouring digits swapped, {swapped}, the book closes" if swapped else _SECOND
                found.append(Suspect(sight, why, instead, left))
    second = [suspect for suspect in found if suspect.why == _SECOND]
    return tuple(second or found)


_SECOND = "the second reading closes the book"


def meant(sight: Sight, unit: float) -> Iterator[tuple[float, str]]:
    """What may have been meant by a reading [m], and its text with two digits swapped; "" for the second reading.

    unit: of the written reading [m].
    """
    if sight.second is not None:
        yield sight.second, ""
        return  # two readings alike: swapped digits twice over are no likely slip
    text = sight.written
    if not _DECIMAL.fullmatch(text):
        return
    digits = [at for at, sign in enumerate(text) if sign.isdigit()]
    for one, other in pairwise(digits):
        if text[one] != text[other]:
            signs = list(text)
            signs[one], signs[other] = signs[other], signs[one]
            swapped = "".join(signs)
            yield float(swapped) * unit - sight.corrected, swapped


def open_rows(
    rows: Sequence[Reduced], misclosure: float, within: float, known: Mapping[str, float] = _NONE
) -> frozenset[int]:
    """Numbers of backsights and foresights, from 0, that may hold the one slip.

    Between two heights of one point that agree there is none; between two that differ by the misclosure there it is.
    known: heights of points that are stated [m]; one on the way tells the same of what lies before it.
    """
    left = {number for number, row in enumerate(rows) if row.sight.kind != "intermediate"}
    reached = [n for n, row in enumerate(rows) if row.sight.kind == "foresight" or n == 0]
    left -= {number for number in left if number > reached[-1]}
    for one, other in combinations(reached, 2):
        if rows[one].sight.point != rows[other].sight.point:
            continue
        gap = rows[one].height - rows[other].height
        between = set(range(one + 1, other + 1)) | ({0} if one == 0 else set())
        if abs(gap) <= within:
            left -= between
        elif abs(gap - misclosure) <= within:
            left &= between
    for number in reached:
        up = known.get(rows[number].sight.point)
        if number == 0 or up is None or number == reached[-1]:
            continue
        if abs(up - rows[number].height) <= within:
            left -= set(range(number + 1))
        elif abs(up - rows[number].height - misclosure) <= within:
            left &= set(range(number + 1))
    return frozenset(left)


def single_digit(misclosure: float, unit: float, within: float) -> str:
    """The size of one wrong digit that the misclosure has, in units; empty where it has none.

    A size below ten times `within` [m] tells nothing: chance alone gives it.

    >>> single_digit(0.3049, 0.3048, 0.003)
    '1'
    """
    size = abs(misclosure) / unit
    if size <= 0 or abs(misclosure) < 10 * within:
        return ""
    power = math.floor(math.log10(size) + 1e-9)
    near = round(size / 10.0**power) * 10.0**power
    return f"{near:.10g}" if abs(size - near) * unit <= within else ""
