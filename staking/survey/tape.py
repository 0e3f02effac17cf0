"""How long is what a steel tape read, and what must it read to set a true length?

Lengths in metres, temperatures in degrees Celsius, pulls in newtons, weights in newtons per metre, sections in square
metres, elasticity in pascals. Corrections are added to a reading when something is measured; a tape that is too long
reads too little. When something is set out, the same corrections are taken off: `reading_for` does that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

EXPANSION = (
    11.6e-6  # per degree Celsius; lecture notes on tape corrections (case c13); 6.5e-6 per Fahrenheit is 11.7e-6
)
ELASTICITY = 29e6 * 6894.757293168  # pascals: 29 000 000 psi, university slides on taping corrections (case c05)
STANDARD_TEMPERATURE = 20.0  # degrees Celsius, which is 68 Fahrenheit; the same slides (case c03)
_MOST_STEPS = 50


@dataclass(frozen=True, slots=True)
class Tape:
    """A tape. true: what its `nominal` length really measures at the standard temperature and pull, lying flat.

    pull: the standard one; None where nobody knows it, and then no pull is corrected. weight: of the tape, 0 where it
    is not known, and then sag is not corrected. section: 0 where it is not known, and then stretch is not corrected.
    """

    nominal: float
    true: float
    temperature: float = STANDARD_TEMPERATURE
    pull: float | None = None
    weight: float = 0.0
    section: float = 0.0
    expansion: float = EXPANSION
    elasticity: float = ELASTICITY

    def __post_init__(self) -> None:
        """Refuse what is no tape."""
        if not (self.nominal > 0 and self.true > 0 and self.elasticity > 0):
            raise ValueError("a tape has a length and an elasticity above 0")
        if min(self.weight, self.section, self.expansion) < 0 or (self.pull is not None and self.pull < 0):
            raise ValueError("weight, section, expansion and standard pull of a tape are not below 0")


@dataclass(frozen=True, slots=True)
class Held:
    """How a tape was held. temperature, pull: None where nobody noted them, and then they are not corrected.

    spans [m]: the unsupported lengths, each hung between its ends; empty where the tape lay on the ground.
    rise [m]: from one end to the other, where the tape was not level.
    """

    temperature: float | None = None
    pull: float | None = None
    spans: tuple[float, ...] = ()
    rise: float = 0.0


@dataclass(frozen=True, slots=True)
class Corrections:
    """What is added to a reading [m], part by part, when it is measured."""

    length: float
    temperature: float
    pull: float
    sag: float
    slope: float

    @property
    def total(self) -> float:
        """All of them together [m]."""
        return math.fsum((self.length, self.temperature, self.pull, self.sag, self.slope))


def length_correction(reading: float, nominal: float, true: float) -> float:
    """For a tape that is not as long as it says [m]; above 0 where it is too long.

    Source: university slides on taping corrections (case c01); N. N. Basak, Surveying and Levelling, chapter 1 (c10).

    >>> round(length_correction(500.0, 100.0, 100.02), 4)
    0.1
    """
    return reading * (true - nominal) / nominal


def temperature_correction(reading: float, above: float, expansion: float = EXPANSION) -> float:
    """For a tape warmer than its standard by `above` [deg C] [m]; below 0 where it is colder. Source: as c03.

    >>> round(temperature_correction(368.50, 22 - 68, 6.5e-6), 4)
    -0.1102
    """
    return reading * expansion * above


def pull_correction(reading: float, beyond: float, section: float, elasticity: float = ELASTICITY) -> float:
    """For a tape pulled harder than its standard by `beyond` [N] [m]. Source: as c05.

    >>> round(pull_correction(100.0, 18 - 12, 0.015, 29e6), 4)
    0.0014
    """
    return reading * beyond / (section * elasticity)


def sag_correction(spans: Sequence[float], weight: float, pull: float) -> float:
    """For a tape hung in spans: minus weight squared times span cubed over 24 times pull squared, span by span [m].

    weight: per metre [N/m]. A span is what hangs between two supports, never the whole line (case c16 shows the slip).
    Raises ValueError for a pull that is not above 0, and where a span sags more than the formula holds for (one part
    in twenty of it; the parabola that stands for the hanging tape, from memory).
    Source: N. N. Basak, chapter 1, p. 27 (c06); the parabola: from memory.

    >>> round(sag_correction([100, 100, 100, 89.28], 0.0225, 12.0), 4)
    -0.5437
    """
    if not pull > 0:
        raise ValueError("a tape that hangs needs a pull above 0")
    if any(weight * span / (8 * pull) > 0.05 for span in spans):
        raise ValueError("the tape hangs so deep that no correction for sag holds")
    return -((weight / pull) ** 2) * math.fsum(span**3 for span in spans) / 24


def slope_correction(length: float, rise: float) -> float:
    """From a length along a slope to the level distance [m], exactly; never above 0.

    Raises ValueError where it rises more than it is long. Source: right triangle; cases c02, c11, c14.

    >>> round(slope_correction(300.0, 26.15), 3)
    -1.142
    """
    if abs(rise) > length:
        raise ValueError("it rises more than it is long")
    return math.sqrt((length - rise) * (length + rise)) - length


def level_of(length: float, angle: float) -> float:
    """The level distance of a length along a slope [m] of so many degrees. Source: case c02.

    >>> round(level_of(300.0, 5.0), 2)
    298.86
    """
    return length * math.cos(math.radians(angle))


def rise_within(length: float, ratio: float) -> float:
    """How far off level a tape may be held [m] before it errs by more than one part in `ratio`. Source: case c17.

    >>> round(rise_within(100.0, 10_000), 3)
    1.414
    """
    return length * math.sqrt((2 - 1 / ratio) / ratio)


def corrections(reading: float, tape: Tape, held: Held) -> Corrections:
    """What is added to a reading [m], all of it. What nobody knows is not corrected.

    Temperature, pull and sag are small, so each is taken of the reading itself and they are added up; the slope comes
    last. Raises ValueError as `sag_correction` and `slope_correction`.
    """
    length = length_correction(reading, tape.nominal, tape.true)
    warm = 0.0
    if held.temperature is not None:
        warm = temperature_correction(reading, held.temperature - tape.temperature, tape.expansion)
    stretch = 0.0
    if held.pull is not None and tape.pull is not None and tape.section > 0:
        stretch = pull_correction(reading, held.pull - tape.pull, tape.section, tape.elasticity)
    sag = 0.0
    if held.pull is not None and held.spans and tape.weight > 0:
        sag = sag_correction(held.spans, tape.weight, held.pull)
    along = reading + length + warm + stretch + sag
    return Corrections(length, warm, stretch, sag, slope_correction(along, held.rise) if held.rise else 0.0)


def corrected(reading: float, tape: Tape, held: Held) -> float:
    """The level distance that a reading stands for [m]. Raises as `corrections`."""
    return reading + corrections(reading, tape, held).total


def reading_for(distance: float, tape: Tape, held: Held) -> float:
    """What the tape must read to set a level distance [m]: `corrected` the other way round.

    The spans of `held` are those of the reading. A tape that is too long must read less. Raises as `corrections`.

    >>> round(reading_for(500.0, Tape(100.0, 100.02), Held()), 2)
    499.9
    """
    reading = distance
    for _ in range(_MOST_STEPS):
        step = distance - corrected(reading, tape, held)
        reading += step
        if abs(step) < 1e-12 * max(1.0, distance):
            return reading
    raise ValueError("no reading sets that distance: it rises too steeply")


def hung(length: float, between: float, *, count: int = 1) -> tuple[float, ...]:
    """The spans of a length [m] hung from its ends: tape length by tape length, each in `count` equal parts.

    between: of the tape [m]. The last tape length is what is left.

    >>> hung(389.28, 100.0)
    (100.0, 100.0, 100.0, 89.28)
    """
    whole, rest = divmod(length, between)
    pieces = [between] * int(whole) + ([round(rest, 9)] if rest > 1e-9 else [])
    return tuple(piece / count for piece in pieces for _ in range(count))


def normal_tension(span: float, tape: Tape) -> float:
    """The pull [N] at which the stretch of a tape over one span [m] makes up for its sag.

    Raises ValueError where section, weight or standard pull are not known.
    Source: (P - Ps) / (A E) = W^2 / (24 P^2), university slides (c05; the 31 lb printed there does not solve it).
    """
    if tape.pull is None or not (tape.section > 0 and tape.weight > 0):
        raise ValueError("section, weight and standard pull of the tape must be known")
    stiff, load = tape.section * tape.elasticity, (tape.weight * span) ** 2 / 24
    low, high = tape.pull, tape.pull + math.cbrt(load * stiff) + math.sqrt(load)
    for _ in range(200):  # halving; the left side grows and the right side falls
        middle = (low + high) / 2
        low, high = (middle, high) if (middle - tape.pull) / stiff < load / middle**2 else (low, middle)
    return (low + high) / 2


def temperature_from(reading: float, true: float, tape: Tape) -> float:
    """How warm the tape was [deg C], when it read so much on a length known to be `true` [m]. Source: case c13.

    The tape is taken to be as long as it says. Raises ValueError for a reading of 0 or a tape that does not expand.
    """
    if reading <= 0 or tape.expansion <= 0:
        raise ValueError("a reading above 0 and an expansion are needed")
    return tape.temperature + (true / reading - 1) / tape.expansion


def pull_from(reading: float, true: float, tape: Tape) -> float:
    """How hard the tape was pulled [N], when it read so much on a length known to be `true` [m]. Source: case c13.

    Raises ValueError where section or standard pull are not known.
    """
    if reading <= 0 or tape.pull is None or tape.section <= 0:
        raise ValueError("a reading above 0, section and standard pull are needed")
    return tape.pull + (true / reading - 1) * tape.section * tape.elasticity
