"""Which reading of a tape does not belong to the others, and what may it have been?

Each reading is left out in turn. One whose pull noise alone would make with less than the allowed chance, shared out
among all readings, is suspected when the others then agree. Where the readings cannot tell several apart, the drawing
may: corners are set to it within a hand's breadth, and a foot read wrong would bend the slab by a foot.

Source: testing for gross errors with the number of candidates shared out among them (Bonferroni), from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from staking.field.tape_adjust import Adjusted, Matrix, Net, adjust, shape_gaps
from staking.field.tape_reliability import FALSE_ALARMS
from staking.field.tape_slips import Slip, slips
from staking.field.taped import Places
from staking.survey.chances import chi_square

GOOD = 0.01  # chance of the rest's residuals above which it agrees; own choice
NEAR = 0.02  # metres, 3/4 in; a crew sets corners to the drawing at least so well, as a rule; own choice
SPREADS = (0.003, 0.006, 0.012, 0.024, 0.048)  # metres, an eighth to 2 in: how well this crew did; own choice
PLACED = 0.3  # metres; the slab as a whole lies so near its place on the lot; own choice
SURE = 0.9  # of the chance; so much of it the readings that are named must hold together; own choice
_AS_LIKELY = 9.0  # of twice the log likelihood: a reading within this of the likeliest cannot be told from it
_TELLING = 0.4  # of a slip: one known less well than this explains nothing; own choice
_FAR, _CLOSE = 100.0, 25.0  # sums of squares over NEAR: corners 8 in off in all, and 4 in; own choice
_LENIENT = 4.0  # times the pull or bend by straight-line reckoning: what is beyond is not tried; own choice
_MOST = 3  # readings that are put aside one after another


@dataclass(frozen=True)
class Suspect:
    """Readings of which one does not belong, the likeliest first; one alone where it can be told from the others.

    expected [m]: what the first should have been, by the others. slip: what would explain it. by_drawing: whether the
    drawing told it from the others.
    """

    numbers: tuple[int, ...]
    expected: float
    slip: Slip | None
    by_drawing: bool = False

    @property
    def named(self) -> bool:
        """Whether it is one reading alone."""
        return len(self.numbers) == 1


@dataclass(frozen=True)
class Verdict:
    """What was suspected, the fit of what is left, and whether that agrees. numbers: of the readings of the book."""

    suspects: tuple[Suspect, ...]
    fit: Adjusted
    agrees: bool


@dataclass(frozen=True)
class _Try:
    """The fit without one reading. score: its weighted sum. pull: by how much that fell."""

    number: int
    fit: Adjusted
    score: float
    pull: float


def judge(net: Net, held: tuple[str, ...] = ()) -> Verdict:
    """The readings that do not belong, and the fit of the others. Raises ValueError as `adjust`."""
    numbers = list(range(len(net.readings)))
    fit = adjust(net, held)
    found: list[Suspect] = []
    while len(found) < _MOST and net.redundancy > 0:
        tries = tuple(_tries(net, fit, held))
        suspect = _suspected(net, tries)
        if suspect is None:
            break
        found.append(replace(suspect, numbers=tuple(numbers[number] for number in suspect.numbers)))
        if not suspect.named:
            break
        (gone,) = suspect.numbers
        del numbers[gone]
        fit = next(each.fit for each in tries if each.number == gone)
        net = fit.net
    agrees = fit.chance > GOOD / 10
    if not found and (slip := _by_drawing_alone(net, fit, held)):
        return Verdict((slip,), fit, agrees=False)
    return Verdict(tuple(found), fit, agrees and all(each.named for each in found))


def _tries(net: Net, fit: Adjusted, held: tuple[str, ...]) -> Iterator[_Try]:
    """The fits without each reading that may pull too much; without those that nothing else checks."""
    for number in range(len(net.readings)):
        if not _pulls(_LENIENT * fit.solution.gain((number,)), net):
            continue
        rest = net.without(number)
        if rest.open.shape[1] > net.open.shape[1]:
            continue
        try:
            other = adjust(rest, held)
        except ValueError:
            continue  # nothing comes near the others: they hold another slip
        score = other.solution.weighted_sum
        yield _Try(number, other, score, fit.solution.weighted_sum - score)


def _pulls(pull: float, net: Net) -> bool:
    """Whether noise alone hardly makes such a fall of the weighted sum, the chance shared out among all readings."""
    return chi_square(max(0.0, pull), 1) < FALSE_ALARMS / len(net.readings)


def _bend(net: Net, at: Places) -> float:
    """How far the corners are from the drawing, as squares over NEAR."""
    return math.fsum((gap / NEAR) ** 2 for gap in shape_gaps(net, at).values())


def _unlikely(net: Net) -> float:
    """Minus twice the log of how likely readings are, given that corners were set by the drawing.

    How well they were set is not known: any of SPREADS, as likely one as the other, so that readings which put every
    corner near the drawing speak for a careful crew. The slab as a whole may lie anywhere within PLACED.
    """
    lengths, rows = net.rows(net.spans)
    off = np.array([reading.value for reading in net.readings] + [0.0] * len(net.strings)) - lengths
    fixed = np.diag(np.square(net.errors)) + PLACED**2 * rows @ net.rigid @ net.rigid.T @ rows.T
    each = [_twice_log(off, fixed + spread**2 * rows @ rows.T) for spread in SPREADS]
    least = min(each)
    return least - 2 * math.log(math.fsum(math.exp((least - one) / 2) for one in each))


def _twice_log(off: Matrix, spread: Matrix) -> float:
    """Minus twice the log of the density of a normal vector with this covariance, but for a constant."""
    return float(off @ np.linalg.solve(spread, off) + np.linalg.slogdet(spread)[1])


def _suspected(net: Net, tries: tuple[_Try, ...]) -> Suspect | None:
    """The reading that does not belong, with those it cannot be told from; None where all belong."""
    pulls = [each for each in tries if _pulls(each.pull, net)]
    if not pulls:
        return None
    freedom = net.redundancy - 1
    settled = [each for each in pulls if not freedom or chi_square(each.score, freedom) > GOOD]
    if settled:
        group, by_drawing = _likeliest(net, settled)
    else:
        group, by_drawing = (min(pulls, key=lambda each: (round(each.score, 6), each.number)),), False
    first = group[0]
    expected = net.readings[first.number].span.length(first.fit.at)
    slip = _slip(net, first, expected)
    return Suspect(tuple(each.number for each in group), expected, slip, by_drawing)


def _likeliest(net: Net, settled: Sequence[_Try]) -> tuple[tuple[_Try, ...], bool]:
    """The readings that are to blame with a chance of SURE together, and whether the drawing had to tell."""
    least = min(each.score for each in settled)
    alike = [each for each in settled if each.score < least + _AS_LIKELY]
    if len(alike) == 1:
        return tuple(alike), False
    unlikely = {each.number: _unlikely(net.without(each.number)) for each in settled}
    order = sorted(settled, key=lambda each: (round(unlikely[each.number], 6), each.number))
    weights = [math.exp((unlikely[order[0].number] - unlikely[each.number]) / 2) for each in order]
    count, sure = 0, 0.0
    while sure < SURE * math.fsum(weights):
        sure += weights[count]
        count += 1
    return tuple(order[:count]), count == 1


def _slip(net: Net, tried: _Try, expected: float) -> Slip | None:
    """The slip that would bring a reading near what the others expect, as near as they know."""
    reading = net.readings[tried.number]
    off = expected - reading.value
    doubt = 3 * abs(off) / math.sqrt(max(tried.pull, 1e-9))
    wanted = reading.read + off
    for slip in _slips(net, tried.number):
        if abs(slip.read - wanted) < doubt < _TELLING * abs(slip.read - reading.read):
            return slip
    return None


def _slips(net: Net, number: int) -> tuple[Slip, ...]:
    reading, site = net.readings[number], net.layout.site
    return slips(reading.text, reading.read, site.declared.tape.length, site.unit)


def _by_drawing_alone(net: Net, fit: Adjusted, held: tuple[str, ...]) -> Suspect | None:
    """The one slip that would bring corners far from the drawing back to it, where no other reading checks it.

    Only a slip of the pen is believed here; a form that is out by other figures is out.
    """
    if _bend(fit.net, fit.at) < _FAR:
        return None
    found = []
    for number, slip in _bringing_back(net, fit):
        try:
            mended = adjust(net.with_value(number, slip.read), held)
        except ValueError:
            continue
        if _bend(mended.net, mended.at) < _CLOSE and mended.chance > GOOD:
            expected = net.readings[number].span.length(mended.at)
            found.append(Suspect((number,), expected, slip, by_drawing=True))
    numbers = {each.numbers for each in found}
    return found[0] if len(numbers) == 1 else None


def _bringing_back(net: Net, fit: Adjusted) -> Iterator[tuple[int, Slip]]:
    """The slips without which corners come near the drawing, by straight-line reckoning."""
    _, rows = net.rows(net.spans, fit.solution.unknowns)
    moves = fit.solution.cofactors @ rows.T / np.square(net.errors)  # of all places, by each reading
    for number, reading in enumerate(net.readings):
        for slip in _slips(net, number):
            there = net.places(fit.solution.unknowns + moves[:, number] * (slip.read - reading.read))
            if _bend(net, there) < _LENIENT * _CLOSE:
                yield number, slip
