"""All points are off alike: does the slab stand so, or was the instrument set up so?

Given points measured from the same set-up decide. Without them it cannot be told, and that is said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from staking.field.allowed import GIVEN
from staking.field.compared import Deviation
from staking.field.words import moves_words, placed_words, step_words, turn_words
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.setups import SetUp, setup_of
from staking.survey.chances import chi_square
from staking.survey.error_budget import CIRCLE_95
from staking.survey.points import Vector, distance, vector
from staking.survey.two_systems import GOOD, TwoSystems, fit_systems

LIKELY = GOOD / 10  # residuals less likely than this contradict an explanation; own choice, as for pairs that pull
CLEARLY = 3.0  # times what remains, a common shift and turn is what is to be named; own choice
MOST = 200  # points that are looked at
SURE = 3.0  # standard errors, from which on a scale is one; own choice, as for three sigma


@dataclass(frozen=True)
class _All:
    """What was measured: of the slab, of given points, and how well a coordinate is known [m]."""

    layout: Layout
    slab: tuple[Deviation, ...]
    control: tuple[Deviation, ...]
    noise: float

    @property
    def both(self) -> tuple[Deviation, ...]:
        return (*self.slab, *self.control)

    @property
    def allowed(self) -> float:
        """What is allowed of a point of the slab [m]."""
        return max((each.allowed.plus_minus or 0.0 for each in self.slab), default=0.0)

    def own(self, each: Deviation) -> float:
        """Its standard error [m]."""
        return max(self.noise, GIVEN / CIRCLE_95) if each.design.what == "given" else self.noise

    def fit(self, points: Sequence[Deviation], *, scale: bool = False) -> TwoSystems | None:
        """Shift and turn of some of them; None where they tell none."""
        try:
            pairs = [(each.design.at, each.measured.at) for each in points]
            return fit_systems(pairs, scale=scale, expected=self.noise, own=[self.own(each) for each in points])
        except ValueError:
            return None


def of_measuring(
    layout: Layout, slab: Sequence[Deviation], control: Sequence[Deviation], noise: float
) -> tuple[Finding, ...]:
    """One slip of the measuring that alone explains where every point is; none where all are on their places.

    slab: what belongs to it. control: given points. noise: standard error of a coordinate [m]. By chance of residuals:
    an explanation with less than LIKELY is none.
    """
    known = _All(layout, tuple(slab[:MOST]), tuple(control[:MOST]), noise)
    if not any(each.answer == "out" for each in known.both):
        return ()
    return tuple(_by_station(known)) or tuple(_stretched(known))


def of_placing(
    layout: Layout, slab: Sequence[Deviation], control: Sequence[Deviation], noise: float
) -> tuple[Finding, ...]:
    """A shift and turn of all points of the slab beyond what is allowed, and whether slab or set-up is to blame.

    slab: without the points that do not belong.
    """
    known = _All(layout, tuple(slab[:MOST]), tuple(control[:MOST]), noise)
    return tuple(_shifted(known)) if any(each.answer == "out" for each in known.both) else ()


def _by_station(known: _All) -> Iterator[Finding]:
    """A constant along every line of sight, or a turn about the station, that alone explains everything."""
    setup = setup_of(known.layout)
    shots = [each for each in known.both if isinstance(setup, SetUp) and distance(setup.station, each.design.at) > 1.0]
    if not isinstance(setup, SetUp) or len(shots) < 3:
        return
    write = known.layout.notation
    where = "the instrument" if setup.resection else setup.station_name
    sights = [vector(setup.station, each.design.at).unit() for each in shots]
    arms = [vector(setup.station, each.design.at).right() for each in shots]
    constant, turn = _one_unknown(known, shots, sights), _one_unknown(known, shots, arms)
    worst = abs(turn.value) * max(arm.length for arm in arms)
    if constant.explains(turn) and abs(constant.value) > known.allowed:
        way = "too far from" if constant.value > 0 else "too near to"
        yield Finding(
            "measured-along-sight",
            Severity.STRONG,
            f"every point lies {write.small(abs(constant.value))} {way} {where} along the line of sight, as a wrong "
            "prism constant makes it",
            None,
            "check the constant of the prism in the instrument, read a given point at a known distance, measure again",
        )
    elif turn.explains(constant) and worst > known.allowed:
        yield Finding(
            "measured-backsight",
            Severity.STRONG,
            f"every point is turned {turn_words(math.degrees(turn.value), write)} about {where}, up to "
            f"{write.small(worst)}, as a wrong backsight makes it",
            None,
            f"aim at {setup.backsight_name} again, read a third given point, measure again",
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


def _one_unknown(known: _All, shots: Sequence[Deviation], ways: Sequence[Vector]) -> _Explained:
    """The value whose multiples of a step for each shot fit the differences best, by weighted least squares."""
    weights = [1 / known.own(each) ** 2 for each in shots]
    whole = math.fsum(w * way.dot(way) for w, way in zip(weights, ways, strict=True))
    pull = math.fsum(w * each.plan.dot(way) for w, each, way in zip(weights, shots, ways, strict=True))
    without = math.fsum(w * each.plan.dot(each.plan) for w, each in zip(weights, shots, strict=True))
    gain = pull * pull / whole
    left = chi_square(max(0.0, without - gain), 2 * len(shots) - 1)
    return _Explained(pull / whole, left, chi_square(gain, 1))


def _stretched(known: _All) -> Iterator[Finding]:
    """All distances longer or shorter alike, where that explains what shift and turn do not."""
    plain, free = known.fit(known.both), known.fit(known.both, scale=True)
    if plain is None or free is None or free.redundancy < 3 or plain.chance > GOOD or free.chance < LIKELY:
        return
    stretch = plain.scale - 1
    if abs(stretch) < SURE * plain.scale_error:
        return
    frame, parts = known.layout.frame, f"{abs(stretch) * 1e6:,.0f} parts in a million"
    way = "longer" if stretch > 0 else "shorter"
    message = f"every distance is {parts} {way} than in the layout"
    remedy = "check the unit, the scale factor and the air correction of the instrument, or the tape"
    if frame.factor != 1 and min(abs(plain.scale - 1 / frame.factor), abs(plain.scale - frame.factor)) < (
        SURE * plain.scale_error
    ):
        message += ", which is what the combined factor makes: ground values were measured for grid, or grid for ground"
        remedy = "set the same scale factor in the instrument as the site file has, and measure again"
    yield Finding("measured-scale", Severity.STRONG, message, None, remedy)


def _shifted(known: _All) -> Iterator[Finding]:
    """A shift and a turn of the whole: of the slab, of the set-up, or nobody can tell."""
    fit, write = known.fit(known.slab), known.layout.notation
    if fit is None or not _explains(known, fit):
        yield from _control_off(known)
        return
    shift, right = vector(fit.similarity.pivot, fit.similarity.image), known.layout.slab.form.pose.right
    words = placed_words(shift, fit.similarity.turn, right, write)
    names = ", ".join(each.design.name for each in known.control)
    if not known.control:
        yield Finding(
            "measured-placed-or-set-up",
            Severity.STRONG,
            f"the whole slab is {words}; no given point was measured, so nobody can tell whether it stands so or the "
            "instrument was set up so",
            None,
            "measure two given points from the same set-up, and compare again",
        )
    elif all(each.answer != "out" for each in known.control):
        yield Finding(
            "measured-placed",
            Severity.STRONG,
            f"the whole slab is {words}; given points ({names}) agree with their coordinates, so it stands so",
            None,
            f"move the form as a whole, seen from its front: {_moves(known)}; then measure again",
        )
    else:
        yield from _with_control_off(known, words, names)


def _explains(known: _All, fit: TwoSystems) -> bool:
    """Whether shift and turn move a point beyond what is allowed, and leave little: not where the shape is to blame."""
    placed = max(distance(each.design.at, fit.similarity.apply(each.design.at)) for each in known.slab)
    rest = max(left.length for left in fit.residuals)
    return placed > known.allowed and (rest <= max(known.allowed, placed / CLEARLY) or fit.chance > LIKELY)


def _moves(known: _All) -> str:
    corners = [each for each in known.slab if each.design.corner is not None]
    return moves_words(corners or known.slab, known.allowed, known.layout.slab.form.pose.right, known.layout.notation)


def _with_control_off(known: _All, words: str, names: str) -> Iterator[Finding]:
    joint = known.fit(known.both)
    if joint is not None and joint.chance > LIKELY:
        yield Finding(
            "measured-set-up",
            Severity.STRONG,
            f"all is {words}, given points ({names}) as the slab: the instrument was set up or oriented wrongly",
            None,
            "nothing is known of the slab yet: set up again, read a third given point as a check, measure again",
        )
        return
    yield from _control_off(known)
    message = f"the whole slab is {words}; given points are off too, and not as the slab is, so nobody can tell why"
    remedy = "settle the given points first: set up again, and measure two of them as a check"
    yield Finding("measured-placed-or-set-up", Severity.STRONG, message, None, remedy)


def _control_off(known: _All) -> Iterator[Finding]:
    """Given points that are not where they should be, one by one."""
    write = known.layout.notation
    for each in known.control:
        if each.answer == "out":
            message = (
                f"the given point {each.design.name} was measured {write.small(each.plan.length)} from its place, "
                f"{step_words(each.plan, write)}"
            )
            remedy = "see that it is the right mark and was not disturbed; check the set-up"
            yield Finding("measured-given-off", Severity.WARNING, message, None, remedy)
