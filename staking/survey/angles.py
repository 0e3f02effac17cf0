"""Which way is it: directions as people write them, turns between them, and exact right angles.

Directions in degrees clockwise from north, at least 0 and below 360.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from staking.errors import TextError
from staking.survey.points import Vector

_USUAL = "write a bearing as N 12-30-15 E, or an azimuth clockwise from north as 192-30-15 or 192.504"
_LONGEST = 64  # characters; no direction needs more
_SPACES = "\t\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_ALIKE: Mapping[int, str] = MappingProxyType(
    str.maketrans(
        dict.fromkeys("′ʹ‘’‛´", "'")
        | dict.fromkeys("″ʺ“”", '"')
        | dict.fromkeys("º˚", "°")
        | dict.fromkeys("–‐‑−", "-")
        | dict.fromkeys(_SPACES, " ")
    )
)
_DUE: Mapping[str, float] = MappingProxyType(
    {"n": 0.0, "north": 0.0, "e": 90.0, "east": 90.0, "s": 180.0, "south": 180.0, "w": 270.0, "west": 270.0}
)

_NUMBER = r"[0-9]*\.?[0-9]+"
_ANGLE = (
    rf"(?P<degrees>{_NUMBER})(?:(?: ?(?:°|deg|d) ?|-| )(?P<minutes>{_NUMBER})"
    rf"(?:(?:(?P<letters> ?m ?)| ?' ?|-| )(?P<seconds>{_NUMBER})(?(letters)(?: ?s)?|(?: ?\")?)| ?(?:'|m)?)"
    r"| ?(?:°|deg|d)?)"
)  # an s closes seconds only behind an m: in a scanned 12-30-1S it is a 5
_BEARING = re.compile(rf"(?P<meridian>north|south|n|s) ?{_ANGLE} ?(?P<side>east|west|e|w)")
_AZIMUTH = re.compile(_ANGLE)
_GON = re.compile(rf"({_NUMBER}) ?gon")

# (what to look for, why it is refused, what to write instead)
_REFUSALS: tuple[tuple[re.Pattern[str], str, str], ...] = tuple(
    (re.compile(pattern), reason, remedy)
    for pattern, reason, remedy in (
        (r"^$", "it is empty", _USUAL),
        (
            r"^-",
            "directions are not negative",
            "write 347.5 or N 12.5 W for 12.5 degrees to the left of north",
        ),
        (",", "a comma can be a decimal comma or part a list", "write a point before decimals, as 192.504"),
        (r"grad|mil", "only degrees and gon are read", "write degrees, as 192.504, or gon, as 213.89 gon"),
        (
            r"^(north|south|n|s) ?-?(east|west|e|w)(?![a-z])",
            "the angle does not stand between the two letters",
            "write N 45 E: from north, 45 degrees, toward east",
        ),
        (r"^(east|west|e|w)(?![a-z])", "a bearing is counted from north or south", "write N 45 E or S 45 E"),
        (r"^[ns].* -|^[ns]-", "the angle of a bearing has no sign", "write N 12.5 W for the left of north"),
        (
            r"^(north|south|n|s)[^a-z].*(?<![ew])(?<!east)(?<!west)$",
            "a bearing ends with E or W",
            "write N 45 E or N 45 W",
        ),
        (r"", "it is neither a bearing nor an azimuth", _USUAL),
    )
)


def sind(angle: float) -> float:
    """Sine of an angle [deg]; exactly 0, 1 or -1 at multiples of 90. Raises ValueError unless finite.

    >>> sind(180.0), sind(270.0)
    (0.0, -1.0)
    """
    return _sine(*_quarters(angle))


def cosd(angle: float) -> float:
    """Cosine of an angle [deg]; exactly 0, 1 or -1 at multiples of 90. Raises ValueError unless finite.

    >>> cosd(90.0), cosd(180.0)
    (0.0, -1.0)
    """
    quarters, rest = _quarters(angle)
    return _sine(quarters + 1, rest)


def _quarters(angle: float) -> tuple[int, float]:
    """Whole quarter turns and the rest [deg], at most 45 either way."""
    turn = math.fmod(angle, 360.0)  # fmod is exact, and so is the difference below
    quarters = round(turn / 90.0)
    return quarters, turn - 90.0 * quarters


def _sine(quarters: int, rest: float) -> float:
    part = math.cos(math.radians(rest)) if quarters % 2 else math.sin(math.radians(rest))
    return (-part if quarters % 4 >= 2 else part) + 0.0  # adding 0.0 makes -0.0 plain


def direction(azimuth: float) -> Vector:
    """The step of length 1 that goes this way; exact at multiples of 90. Raises ValueError unless finite.

    azimuth: [deg], clockwise from north, of any size.

    >>> direction(90.0)
    Vector(east=1.0, north=0.0)
    """
    return Vector(sind(azimuth), cosd(azimuth))


def fold(azimuth: float) -> float:
    """The same direction [deg], at least 0 and below 360.

    >>> fold(-90.0), fold(720.0)
    (270.0, 0.0)
    """
    turned = azimuth % 360.0
    return 0.0 if turned == 360.0 else turned  # a tiny negative angle is rounded up to a full turn


def difference(start: float, end: float) -> float:
    """The smallest turn from start to end [deg]: above -180, at most 180, positive clockwise.

    >>> difference(350.0, 10.0), difference(10.0, 350.0)
    (20.0, -20.0)
    """
    turn = math.remainder(end - start, 360.0)
    return 180.0 if turn == -180.0 else turn + 0.0


def parse_direction(value: str | float) -> float:
    """The direction that somebody wrote [deg], clockwise from north, at least 0 and below 360.

    A number is an azimuth in degrees. Raises TextError. Grammar of a text, in any case, after look-alikes
    were made plain (primes, quotes, two single quotes, degree signs, %%d, dashes, spaces of typography)::

        direction = [ "due " ] ( "N" | "E" | "S" | "W" ) | bearing | angle | number [ " " ] "gon"
        bearing   = ( "N" | "S" ) [ " " ] angle [ " " ] ( "E" | "W" )       N 12-30-15 E   S75°25'E
        angle     = degrees [ joint minutes [ joint seconds ] ] [ mark ]    192-30-15   12d30m15s   12.504
        joint     = "-" | " " | mark

    Letters may be spelled out (north). Marks are ° ' " or d m s. Only the last number has decimals; minutes
    and seconds are below 60, the angle of a bearing at most 90, an azimuth below 360 (360 is refused: write
    0), gon below 400. `N 0 E`, `N 0 W` and `N` are one direction. A text that is a plain number, such as "45",
    is an azimuth in degrees, as the number is. Not read: directions without a letter or a number of degrees,
    counted from south, in mils or `grad` (which is a degree to some). Sums are exact and become a float once.

    >>> parse_direction("S 12-30-15 W"), parse_direction("N 90 E"), parse_direction("100 gon")
    (192.50416666666666, 90.0, 90.0)
    """
    if not isinstance(value, str):
        return _checked(value)
    try:
        return _read(_plain(value))
    except TextError as refused:
        message = f"`{_shown(value)}` cannot be read as a direction: {refused.message}"
        raise TextError(message, refused.remedy) from None


def parse_latitude(value: str | float) -> float:
    """A latitude that somebody wrote [deg], north above 0: a number, or text as 40-26-46.3 N. Raises TextError.

    >>> parse_latitude("40-30 S")
    -40.5
    """
    return _place_angle(value, "latitude", "ns", 90)


def parse_longitude(value: str | float) -> float:
    """A longitude that somebody wrote [deg], east above 0 and west below: as `parse_latitude`, with E or W.

    >>> parse_longitude("79-30-36 W"), parse_longitude(-79.51)
    (-79.51, -79.51)
    """
    return _place_angle(value, "longitude", "ew", 180)


def _place_angle(value: str | float, what: str, letters: str, most: int) -> float:
    write = f'write degrees as a number, or "{"40-26-46.3 N" if most == 90 else "79-58-36.2 W"}"'
    if not isinstance(value, str):
        number = value
    else:
        found = re.fullmatch(rf"(?P<sign>[-+]?) ?{_ANGLE} ?(?P<letter>[{letters}]?)", _plain(value))
        if found is None or (found["sign"] and found["letter"]):
            raise TextError(f"`{_shown(value)}` cannot be read as a {what}", write)
        number = float(_angle(found)) * (-1 if found["sign"] == "-" or found["letter"] == letters[1] else 1)
    if isinstance(number, bool) or not abs(number) <= most:
        swapped = "; perhaps latitude and longitude are swapped" if what == "latitude" else ""
        raise TextError(f"no {what} of {number} degrees: {most} at the most", f"check the digits{swapped}")
    return float(number)


def _checked(number: float) -> float:
    if isinstance(number, bool):
        raise TextError(f"{str(number).lower()} is not a direction", _USUAL)
    if not number - number == 0:  # nan and inf; isfinite would overflow at huge integers
        raise TextError(f"{number} is not a direction: it is not a finite number", _USUAL)
    try:
        return _below(Fraction(number), 360)
    except TextError as refused:
        raise TextError(f"{number} is not a direction: {refused.message}", refused.remedy) from None


def _plain(text: str) -> str:
    """The text in ASCII and degree signs, small letters, single spaces."""
    if len(text) > _LONGEST:
        raise TextError(f"it has more than {_LONGEST} characters", _USUAL)
    alike = text.translate(_ALIKE).replace("''", '"').replace("%%d", "°").replace("%%D", "°")
    for sign in alike:
        if not (" " <= sign <= "~" or sign == "°"):
            name = unicodedata.name(sign, "control character")
            raise TextError(f"it holds U+{ord(sign):04X} {name}", f"type it again with plain digits; {_USUAL}")
    return " ".join(alike.lower().split())


def _shown(text: str) -> str:
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short)


def _read(plain: str) -> float:
    if (due := plain.removeprefix("due ")) in _DUE:
        return _DUE[due]
    if found := _GON.fullmatch(plain):
        return _below(Fraction(found[1]), 400)
    if found := _BEARING.fullmatch(plain):
        return _from_quadrant(found["meridian"][0] + found["side"][0], _angle(found))
    if found := _AZIMUTH.fullmatch(plain):
        return _below(_angle(found), 360)
    raise next(TextError(reason, remedy) for pattern, reason, remedy in _REFUSALS if pattern.search(plain))


def _angle(found: re.Match[str]) -> Fraction:
    """Degrees, minutes and seconds together [deg]."""
    parts = [part for part in (found["degrees"], found["minutes"], found["seconds"]) if part is not None]
    if any("." in part for part in parts[:-1]):
        raise TextError("only the last of its numbers can have decimals", "write 12-30-15 or 12.504")
    for part, small, great in zip(parts[1:], ("minutes", "seconds"), ("degree", "minute"), strict=False):
        if Fraction(part) >= 60:
            raise TextError(f"{part} {small} are not below 60", f"carry 60 {small} over into the next {great}")
    return sum((Fraction(part) / 60**place for place, part in enumerate(parts)), Fraction(0))


def _from_quadrant(letters: str, angle: Fraction) -> float:
    if angle > 90:
        raise TextError(
            "the angle of a bearing is at most 90 degrees",
            "count from the nearer of north and south, as S 85 E",
        )
    azimuth = {"ne": angle, "se": 180 - angle, "sw": 180 + angle, "nw": 360 - angle}[letters]
    return fold(float(azimuth))


def _below(value: Fraction, turn: int) -> float:
    """Of a full turn of so many parts, as degrees."""
    if value == turn:
        raise TextError(f"{turn} is the same as 0", "write 0 for due north")
    if not 0 <= value < turn:
        raise TextError(f"directions are at least 0 and below {turn}", f"take off or add full turns of {turn}")
    return fold(float(value * 360 / turn))
