"""Does one slip at the instrument explain where all points are: a constant along the sight, a turn of the backsight?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from staking.field.compared import Deviation
from staking.field.together import LIKELY, Together
from staking.field.words import SECOND, turn_words
from staking.layout.setups import SetUp, setup_of
from staking.survey.chances import chi_square
from staking.survey.points import Vector, distance, vector

NEAREST = 1.0  # metres; nearer to the station a sight has no direction to speak of; own choice
FEWEST = 3  # points that are asked for
LEAST = 0.001  # metres; a slip of less is written as nothing, also where no figure says what is allowed; own choice


@dataclass(frozen=True, slots=True)
class StationSlip:
    """A slip that would explain everything: its code, what every point does, what would make it so, what to do."""

    code: str
    what: str
    makes: str
    remedy: str


def station_slip(known: Together) -> StationSlip | None:
    """What is wrong at the station that [setup] declares; None where nothing is, or no one slip explains it."""
    setup = setup_of(known.layout)
    if not isinstance(setup, SetUp):
        return None
    shots = [each for each in known.both if distance(setup.station, each.design.at) > NEAREST]
    if len(shots) < FEWEST:
        return None
    where = "the instrument" if setup.resection else setup.station_name
    steps = [vector(setup.station, each.design.at) for each in shots]
    along, across = [step.unit() for step in steps], [step.right() for step in steps]
    constant, turn = _one_unknown(known, shots, along), _one_unknown(known, shots, across)
    likelier, ways = (constant, along) if constant.explains(turn) else (turn, across)
    if _contradicted(known, shots, likelier.value, ways):
        return None
    if constant.explains(turn) and abs(constant.value) > max(known.allowed, LEAST):
        return _along(known, constant.value, where)
    worst = abs(turn.value) * max(step.length for step in steps)
    if turn.explains(constant) and worst > max(known.allowed, LEAST) and abs(math.degrees(turn.value)) >= SECOND:
        return _turned(known, turn.value, worst, setup, where)
    return None


def _contradicted(known: Together, shots: Sequence[Deviation], value: float, ways: Sequence[Vector]) -> bool:
    """Whether a point lies on its place that the slip would have moved beyond what is allowed."""
    moved = [abs(value) * way.length for way in ways]
    return any(
        move > known.allowed and each.plan.length < move / (2 if each.design.what == "given" else 3)  # own choice
        for each, move in zip(shots, moved, strict=True)
    )


def _along(known: Together, constant: float, where: str) -> StationSlip:
    off = known.layout.notation.small(abs(constant))
    return StationSlip(
        code="measured-along-sight",
        what=f"every point lies {off} too {'far from' if constant > 0 else 'near to'} {where} along the line of sight",
        makes=f"a prism constant that is wrong by {off}",
        remedy="check the constant of the prism in the instrument, read a given point at a known distance, measure "
        "again",
    )


def _turned(known: Together, turn: float, worst: float, setup: SetUp, where: str) -> StationSlip:
    write = known.layout.notation
    return StationSlip(
        code="measured-backsight",
        what=f"every point is turned {turn_words(math.degrees(turn), write)} about {where}, up to {write.small(worst)}",
        makes=f"a wrong backsight at {where}",
        remedy=f"aim at {setup.backsight_name} again, read a third given point, measure again",
    )


@dataclass(frozen=True)
class _Explained:
    """One unknown that would explain all differences: the value that fits best, and two chances.

    left: of what remains, by noise. gain: of so much less remaining than without it, by noise.
    """

    value: float
    left: float
    gain: float

    def explains(self, other: _Explained) -> bool:
        """Whether what remains is noise, the other unknown leaves more, and without either there is more than noise."""
        return self.left > max(LIKELY, other.left) and self.gain < LIKELY


def _one_unknown(known: Together, shots: Sequence[Deviation], ways: Sequence[Vector]) -> _Explained:
    """The value whose multiples of a step for each shot fit the differences best, by weighted least squares."""
    weights = [1 / known.own(each) ** 2 for each in shots]
    whole = math.fsum(w * way.dot(way) for w, way in zip(weights, ways, strict=True))
    pull = math.fsum(w * each.plan.dot(way) for w, each, way in zip(weights, shots, ways, strict=True))
    without = math.fsum(w * each.plan.dot(each.plan) for w, each in zip(weights, shots, strict=True))
    gain = pull * pull / whole
    left = chi_square(max(0.0, without - gain), 2 * len(shots) - 1)
    return _Explained(pull / whole, left, chi_square(gain, 1))
