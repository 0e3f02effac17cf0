"""How does this site write a length, a coordinate, a direction or an area? The only rounding in the program.

Every figure is rounded once, to the nearest, and an exact tie goes away from zero. Old tables of inches and
hundredths print the ties 1-1/2, 4-1/2, 7-1/2 and 10-1/2 in rounded down (0.12 ft for 0.125 ft); here 0.13.
A float is the outcome of binary arithmetic, so one that lies within a millionth of a step of a tie counts
as the tie; a Fraction is taken exactly. Text is ASCII but for the degree sign. Zero never carries a minus.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from staking.survey.angles import fold
from staking.units import SITE_UNITS, UNITS, Unit

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

FRACTIONS = (8, 16, 32, 64)  # of an inch, as tapes are divided; common practice, no source
COORDINATE_DECIMALS = 4  # finer than any stake is set, coarse enough to read; own choice
_QUARTER = 90 * 3600  # seconds of arc
_STEPS = (3600, 600, 60, 10, 1)  # seconds of arc to which directions are rounded
_EXACT, _NEAR = 2.0**40, 1e-3  # steps: up to here doubles are right to less than so much of a step
_NOISE = 10**6  # parts of a step within which a float counts as a tie


@dataclass(frozen=True, slots=True)
class Notation:
    """The notation of one site.

    unit: the site's (m, ft or ftUS).  fraction: parts of an inch that lengths are rounded to (8, 16, 32, 64).
    decimals: of lengths in decimal feet or metres. Raises ValueError for anything else.
    """

    unit: Unit
    fraction: int = 16
    decimals: int = 3

    def __post_init__(self) -> None:
        """Refuse what no sheet could be written in."""
        if self.unit.name not in SITE_UNITS:
            raise ValueError(f"a site is in one of {', '.join(SITE_UNITS)}, not in {self.unit.name}")
        _check_fraction(self.fraction)
        if self.decimals < 0:
            raise ValueError(f"no text with {self.decimals} decimals")

    @property
    def unit_words(self) -> str:
        """The unit in words, which tell the two feet apart."""
        return self.unit.words

    def length(self, metres: float | Fraction) -> str:
        """A length [m] as the site reads it: 32' 6-1/2" on a site in feet, 9.918 m on a site in metres."""
        if self.unit.name == "m":
            return f"{self.decimal(metres)} m"
        steps = _steps(metres, 12 * self.fraction, self.unit.metres)
        return _minus(metres, steps) + _feet_text(steps, self.fraction)

    def decimal(self, metres: float | Fraction, places: int | None = None) -> str:
        """A length [m] as decimals of the site's unit, without a unit word: 32.542."""
        return _decimal(metres, self.unit.metres, self.decimals if places is None else places)

    def decimals_column(self, metres: npt.NDArray[np.float64], places: int) -> list[str]:
        """A whole column of lengths [m], each as `decimal` writes it; nan, which is none, as an empty text."""
        import numpy as np  # noqa: PLC0415 - opened for long columns only

        top, bottom = self.unit.metres.denominator * 10.0**places, float(self.unit.metres.numerator)
        steps = np.abs(metres) * top / bottom
        whole = np.floor(steps)
        rounded = np.copysign(np.floor(steps + 0.5), metres) / 10.0**places + 0.0  # no minus before 0
        form = f"%.{places}f"
        texts = list(map(form.__mod__, rounded.tolist()))
        # near half a step only whole numbers can tell to which side a value goes, and so for values that are huge
        odd = ~((np.abs(steps - whole - 0.5) > _NEAR) & (steps < _EXACT))
        for at in np.flatnonzero(odd).tolist():
            texts[at] = "" if math.isnan(metres[at]) else self.decimal(float(metres[at]), places)
        return texts

    def both(self, metres: float | Fraction) -> str:
        """A length [m] both ways: 32' 6-1/2" (32.542 ft); on a site in metres the same as `length`."""
        if self.unit.name == "m":
            return self.length(metres)
        return f"{self.length(metres)} ({self.decimal(metres)} {self.unit.name})"

    def small(self, metres: float | Fraction) -> str:
        """A small length [m] as a crew says it: 3/8 in, or 10 mm; from a foot or a metre on as `length` has it."""
        if self.unit.name == "m":
            return self.length(metres) if abs(float(metres)) >= 1 else f"{_decimal(metres, Fraction(1, 1000), 0)} mm"
        steps = _steps(metres, 12 * self.fraction, self.unit.metres)
        if steps >= 12 * self.fraction:
            return self.length(metres)
        return _minus(metres, steps) + _feet_text(steps, self.fraction).replace('"', " in")

    def fine(self, metres: float | Fraction) -> str:
        """An error or doubt [m], finer than lengths are written: 0.04 in, or 1.0 mm."""
        if self.unit.name == "m":
            return f"{_decimal(metres, Fraction(1, 1000), 1)} mm"
        return f"{_decimal(metres, self.unit.metres / 12, 2)} in"

    def allowance(self, metres: float) -> str:
        """A permitted difference [m], rounded down so that it never allows more than its source: 1/2", or 6 mm.

        In sixty-fourths at the finest; millimetres on a site in metres.
        """
        if self.unit.name == "m":
            return f"{math.floor(metres * 1000 + 1e-6)} mm"
        parts = math.floor(metres / float(self.unit.metres) * 12 * self.fraction + 1e-4)
        return _feet_text(parts, self.fraction)

    def fall(self, ratio: float | Fraction) -> str:
        """A fall, height over run, as people read it: 1/8" per ft (1.04 %), or 1.04 % on a site in metres.

        Inches a foot are rounded to sixty-fourths, per cent to two decimals.
        """
        percent = f"{_decimal(ratio, Fraction(1, 100), 2)} %"
        return percent if self.unit.name == "m" else f"{feet_inches(ratio, 64)} per ft ({percent})"

    def coordinate(self, metres: float | Fraction) -> str:
        """A coordinate [m] in the site's unit with 4 decimals; no exponent, no minus before zero."""
        return _decimal(metres, self.unit.metres, COORDINATE_DECIMALS)

    def bearing(self, azimuth: float, *, degree: str = "°") -> str:
        """A direction [deg] as a quadrant bearing to the second: N 12°30'15" E.

        Due north is N 0°00'00" E, due east N 90°00'00" E, due south S 0°00'00" E, due west N 90°00'00" W.
        degree: how the degree sign is written, `%%d` for drawings that want ASCII.
        """
        start, angle, side = _quadrant(_turn(azimuth))
        return f"{start} {_angle_text(angle, degree)} {side}"

    def way(self, azimuth: float, known: float) -> str:
        """A direction [deg] that is known to within `known` [deg], no finer than that: N 87°50' E, or north.

        To whole degrees, 10 minutes, minutes, 10 seconds or seconds: the coarsest whose half is within what is known.
        """
        step = next((each for each in _STEPS if each <= 7200 * known), 1)
        seconds = _steps(fold(azimuth), 3600, Fraction(step)) * step % (4 * _QUARTER)
        if seconds % _QUARTER == 0:
            return ("north", "east", "south", "west")[seconds // _QUARTER]
        start, angle, side = _quadrant(seconds)
        return f"{start} {_angle_text(angle, '°', step)} {side}"

    def turn(self, degrees: float, known: float) -> str:
        """A turn [deg] that is known to within `known` [deg], above 0, in decimals no finer than that: 0.50 degrees."""
        places = min(8, max(0, math.ceil(-math.log10(2 * known))))
        text = _decimal(degrees, Fraction(1), places)
        return f"{text} degree{'s' * (text != '1')}"

    def azimuth(self, azimuth: float, *, degree: str = "°") -> str:
        """A direction [deg] clockwise from north to the second, below 360: 192°30'15"."""
        return _angle_text(_turn(azimuth), degree)

    def areas(self, square_metres: float | Fraction) -> str:
        """An area [m2] as surveyors, assessors and neighbours read it: square feet, acres, square metres, hectares.

        On a site in metres the metric ones come first. An acre is 43,560 square feet of the site's own foot, of the
        survey foot on a site in metres; from memory.
        """
        foot = self.unit.metres if self.unit.name != "m" else UNITS["ftUS"].metres
        name = self.unit.name if self.unit.name != "m" else "ftUS"
        feet = (
            f"{_decimal(square_metres, foot**2, 1)} sq {name}",
            f"{_decimal(square_metres, 43560 * foot**2, 4)} acres",
        )
        metres = (
            f"{_decimal(square_metres, Fraction(1), 2)} sq m",
            f"{_decimal(square_metres, Fraction(10000), 5)} ha",
        )
        return ", ".join((*metres, *feet) if self.unit.name == "m" else (*feet, *metres))

    def area(self, square_metres: float | Fraction) -> str:
        """An area [m2] in the square of the site's unit: 1746.0 sq ft, or 162.21 sq m."""
        places = 2 if self.unit.name == "m" else 1
        return f"{_decimal(square_metres, self.unit.metres**2, places)} sq {self.unit.name}"

    def cubic(self, cubic_metres: float | Fraction) -> str:
        """A volume [m3] in the cube of the site's unit, as sums are done by hand: 727.5 cu ft, or 20.601 cu m."""
        places = 3 if self.unit.name == "m" else 1
        return f"{_decimal(cubic_metres, self.unit.metres**3, places)} cu {self.unit.name}"

    def volumes(self, cubic_metres: float | Fraction) -> tuple[tuple[str, str], tuple[str, str]]:
        """A volume [m3] as it is ordered, figure and unit: cubic yards and metres; metres first on a site in metres.

        A yard is three of the site's own feet, international ones on a site in metres.
        """
        foot = UNITS["ft"].metres if self.unit.name == "m" else self.unit.metres
        yards = (_decimal(cubic_metres, (3 * foot) ** 3, 2), "cu yd")
        metres = (_decimal(cubic_metres, Fraction(1), 2), "cu m")
        return (metres, yards) if self.unit.name == "m" else (yards, metres)

    def volume(self, cubic_metres: float | Fraction) -> str:
        """A volume [m3] as the site has it: 26.94 cu yd, or 9.40 cu m on a site in metres."""
        return " ".join(self.volumes(cubic_metres)[0])

    def share(self, ratio: float | Fraction) -> str:
        """A share as per cent, without needless zeros: 5 %, 7.5 %."""
        return f"{_trimmed(_decimal(ratio, Fraction(1, 100), 2))} %"

    def for_hand(self, metres: float | Fraction) -> str:
        """A length [m] as a pocket calculator takes it: decimals of the site's unit without needless zeros: 48.5."""
        return _trimmed(self.decimal(metres, 3))

    def inches(self, metres: float | Fraction) -> str:
        """A length [m] in inches of the site's foot (of the international foot on a site in metres), as `for_hand`."""
        foot = UNITS["ft"].metres if self.unit.name == "m" else self.unit.metres
        return _trimmed(_decimal(metres, foot / 12, 3))

    def factor(self, ratio: float | Fraction) -> str:
        """What a quantity is multiplied by, to four decimals without needless zeros: 1.05, 1.075."""
        return _trimmed(_decimal(ratio, Fraction(1), 4))

    def times(self, ratio: float | Fraction) -> str:
        """A bare number to two decimals: 2.83."""
        return _decimal(ratio, Fraction(1), 2)


def feet_inches(feet: float | Fraction, fraction: int = 16) -> str:
    """Feet as feet, inches and a fraction, reduced, carried into the next inch and foot.

    feet: of either kind.  fraction: parts of an inch to round to: 8, 16, 32 or 64. Below one foot only inches
    are written. Raises ValueError for another fraction, nan or inf.

    >>> print(feet_inches(6.76438), feet_inches(-0.5), feet_inches(11.999), feet_inches(0.0))
    6' 9-3/16" -6" 12' 0" 0"
    """
    _check_fraction(fraction)
    steps = _steps(feet, 12 * fraction)
    return _minus(feet, steps) + _feet_text(steps, fraction)


def _check_fraction(fraction: int) -> None:
    if fraction not in FRACTIONS:
        raise ValueError(f"inches are divided into 8, 16, 32 or 64 parts, not {fraction}")


def _steps(value: float | Fraction, parts: int, size: Fraction = Fraction(1)) -> int:
    """How many steps there are in a value without its sign: `parts` of them in one `size`; to the nearest."""
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be written down")
    above, below = value.as_integer_ratio()  # exact
    top = abs(above) * parts * size.denominator
    bottom = below * size.numerator
    noise = 1 if isinstance(value, float) else 0
    # floor(steps + 1/2 + noise/_NOISE) in whole numbers
    return (2 * _NOISE * top + (_NOISE + 2 * noise) * bottom) // (2 * _NOISE * bottom)


def _minus(value: float | Fraction, steps: int) -> str:
    return "-" if value < 0 and steps else ""


def _feet_text(steps: int, fraction: int) -> str:
    inches, parts = divmod(steps, fraction)
    feet, inches = divmod(inches, 12)
    words = [str(inches)] if inches or feet or not parts else []
    if parts:
        common = math.gcd(parts, fraction)
        words.append(f"{parts // common}/{fraction // common}")
    return (f"{feet}' " if feet else "") + "-".join(words) + '"'


def _decimal(value: float | Fraction, size: Fraction, places: int) -> str:
    steps = _steps(value, 10**places, size)
    whole, part = divmod(steps, 10**places)
    return f"{_minus(value, steps)}{whole}" + (f".{part:0{places}d}" if places else "")


def _trimmed(text: str) -> str:
    """Decimals without needless zeros."""
    return text.rstrip("0").rstrip(".") if "." in text else text


def _turn(azimuth: float) -> int:
    """Seconds of arc clockwise from north, below a full turn."""
    return _steps(fold(azimuth), 3600) % (4 * _QUARTER)


def _quadrant(seconds: int) -> tuple[str, int, str]:
    """Seconds of arc from north, below a full turn, as a quadrant bearing."""
    if seconds <= _QUARTER:
        return "N", seconds, "E"
    if seconds <= 2 * _QUARTER:
        return "S", 2 * _QUARTER - seconds, "E"
    if seconds < 3 * _QUARTER:
        return "S", seconds - 2 * _QUARTER, "W"
    return "N", 4 * _QUARTER - seconds, "W"


def _angle_text(seconds: int, degree: str, step: int = 1) -> str:
    """Degrees, minutes and seconds. step: of which the seconds are a multiple; what it makes needless is left out."""
    minutes, seconds = divmod(seconds, 60)
    degrees, minutes = divmod(minutes, 60)
    fine = f'{seconds:02d}"' if step < 60 else ""
    return f"{degrees}{degree}" + (f"{minutes:02d}'{fine}" if step < 3600 else "")
