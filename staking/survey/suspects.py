"""Which single call of a record that does not close is most likely the wrong one, and what would close it.

A call is tried with each slip that people make in copying, and those that close the figure are named. Lengths in
metres, azimuths in degrees clockwise from north.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from staking.survey.angles import difference, fold
from staking.survey.points import Vector, azimuth_of
from staking.survey.traverse import Closure, closure_of, step

RATIO = 2000.0  # a figure that misses by less than its perimeter over this counts as closed; own choice

# in the order in which they are believed; common practice, no source
KINDS = (
    "north for south",
    "east for west",
    "the other way",
    "digits of the length",
    "digits of the bearing",
    "turned the other way",
    "length",
    "bearing",
    "left out",
)
_SPECIFIC = 6  # so many of them are slips of the pen that leave no number free; the rest fit one to the misclosure


@dataclass(frozen=True)
class Call:
    """A call of the record. length: of the course, or the chord of a curve [m].

    azimuth: of the course or chord [deg]; None for a curve tangent to the call before. turn: central angle of a curve
    [deg], positive to the right; 0 for a straight course. digits: the length as printed, in the record's own unit,
    such as 108.01; left empty, its digits are not tried.
    """

    length: float
    azimuth: float | None
    turn: float = 0.0
    digits: str = ""

    @property
    def along(self) -> float:
        """Its length along the arc [m]."""
        half = math.radians(abs(self.turn)) / 2
        return self.length * half / math.sin(half) if half else self.length


@dataclass(frozen=True)
class Suspect:
    """A call that may be wrong. index: which, from 0, or before which one is left out (anywhere would close as well).

    what: one of KINDS. instead: the call that would close the figure. closure: what would be left.
    """

    index: int
    what: str
    instead: Call
    closure: Closure


def steps_of(calls: Sequence[Call]) -> tuple[Vector, ...]:
    """Where each call leads, the tangent curves following the call before.

    Raises ValueError where the first call is a tangent curve.
    """
    steps: list[Vector] = []
    heading: float | None = None
    for call in calls:
        if call.azimuth is not None:
            chord = call.azimuth
        elif heading is not None:
            chord = heading + call.turn / 2
        else:
            raise ValueError("the first call has no course before it to be tangent to")
        steps.append(step(chord, call.length))
        heading = chord + call.turn / 2
    return tuple(steps)


def closure_of_calls(calls: Sequence[Call]) -> Closure:
    """The misclosure of calls. Raises as `steps_of`."""
    return closure_of(steps_of(calls), math.fsum(call.along for call in calls))


def suspects(calls: Sequence[Call], *, ratio: float = RATIO, azimuths: bool = False) -> tuple[Suspect, ...]:
    """The single calls whose correction would close the figure better than one in `ratio`, the likeliest first.

    Empty where it closes so well as it stands. Slips that leave no number free go before a length or a bearing that
    is fitted to the misclosure, and these before a call that was left out, which always closes; among equals the
    smaller misclosure. Two opposite sides can bear the same blame: then both are named.
    azimuths: the record gives azimuths, not bearings, so digits are swapped in those.
    """
    if _closes(closure_of_calls(calls), ratio):
        return ()
    found = []
    for index, what, changed, instead in _tries(calls, azimuths):
        left = closure_of_calls(changed)
        if _closes(left, ratio):
            found.append(Suspect(index, what, instead, left))
    return tuple(sorted(found, key=_rank))


def _closes(closure: Closure, ratio: float) -> bool:
    return closure.distance * ratio <= closure.perimeter


def _rank(suspect: Suspect) -> tuple[int, float, int, int]:
    kind = KINDS.index(suspect.what)
    share = round(suspect.closure.distance / suspect.closure.perimeter, 7)  # finer than that, rounding decides
    return max(kind, _SPECIFIC - 1), share, kind, suspect.index


def _tries(calls: Sequence[Call], azimuths: bool) -> Iterator[tuple[int, str, list[Call], Call]]:
    gap = closure_of_calls(calls)
    for index, call in enumerate(calls):
        for what, instead in (*_slips(call, azimuths), *_fitted(calls, index)):
            yield index, what, [*calls[:index], instead, *calls[index + 1 :]], instead
    if gap.back is not None:
        missing = Call(gap.distance, gap.back)
        yield len(calls), "left out", [*calls, missing], missing


def _slips(call: Call, azimuths: bool) -> Iterator[tuple[str, Call]]:
    if call.turn:
        yield "turned the other way", replace(call, turn=-call.turn)
    for length in _swapped_lengths(call):
        yield "digits of the length", replace(call, length=length)
    if call.azimuth is None:
        return
    azimuth = fold(call.azimuth)
    ways = (("north for south", 180.0 - azimuth), ("east for west", -azimuth), ("the other way", azimuth + 180.0))
    swapped = [("digits of the bearing", other) for other in _swapped_azimuths(azimuth, azimuths)]
    for what, other in (*ways, *swapped):
        if abs(difference(azimuth, other)) > 1e-9:
            yield what, replace(call, azimuth=fold(other))


def _swapped_lengths(call: Call) -> Iterator[float]:
    if not call.digits or not float(call.digits) > 0:
        return
    for text in _swaps("0" + call.digits):  # 18.01 may have been 108.01, its nought lost in front
        if float(text) > 0:
            yield call.length * float(text) / float(call.digits)


def _swaps(text: str) -> Iterator[str]:
    """The text with two neighbouring digits changed, the decimal point staying where it is."""
    places = [place for place, sign in enumerate(text) if sign != "."]
    for a, b in pairwise(places):
        if text[a] != text[b]:
            signs = list(text)
            signs[a], signs[b] = signs[b], signs[a]
            yield "".join(signs)


def _swapped_azimuths(azimuth: float, whole_circle: bool) -> Iterator[float]:
    base, sign = (0.0, 1.0) if whole_circle else _quadrant(azimuth)
    total = round((azimuth - base) * sign * 3600)
    parts = [total // 3600, total // 60 % 60, total % 60]
    for place, part in enumerate(parts):
        for text in _swaps(f"{part:03d}" if whole_circle and place == 0 else f"{part:02d}"):
            swapped = [*parts[:place], int(text), *parts[place + 1 :]]
            degrees, minutes, seconds = swapped
            angle = degrees + minutes / 60 + seconds / 3600
            if minutes < 60 and seconds < 60 and angle <= (360 if whole_circle else 90):
                yield fold(base + sign * angle)


def _quadrant(azimuth: float) -> tuple[float, float]:
    """Where the angle of a bearing is counted from, and whether clockwise."""
    return ((0.0, 1.0), (180.0, -1.0), (180.0, 1.0), (360.0, -1.0))[min(int(azimuth // 90), 3)]


def _fitted(calls: Sequence[Call], index: int) -> Iterator[tuple[str, Call]]:
    """The call with the length, and with the bearing, that closes the figure best."""
    steps, call = steps_of(calls), calls[index]
    here = steps[index]
    gap = closure_of(steps, 1.0)
    wanted = Vector(here.east - gap.east, here.north - gap.north)
    if call.azimuth is None or here.length == 0 or wanted.length == 0:
        return
    if (length := wanted.dot(here.unit())) > here.length / RATIO and not call.turn:
        yield "length", replace(call, length=length)
    yield "bearing", replace(call, azimuth=azimuth_of(wanted))
