"""How long is what somebody wrote: feet and inches, decimal feet of either kind, or metres?

Everything is exact (fractions.Fraction) until somebody asks for a float. The international foot and the
US survey foot are different rows of one table; neither ever stands in for the other.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING

from staking.errors import TextError

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt


@dataclass(frozen=True)
class Unit:
    """A unit of length: name as written in files, its size [m], and the words people use for it."""

    name: str
    metres: Fraction
    words: str


_FOOT = Fraction(3048, 10000)  # Fed. Reg. 85 FR 62698 (5 Oct 2020): 0.3048 m exactly
_SURVEY_FOOT = Fraction(1200, 3937)  # the same notice; NGS webinar slides, 12 Dec 2019: 1200/3937 m

UNITS: Mapping[str, Unit] = MappingProxyType(
    {
        unit.name: unit
        for unit in (
            Unit("m", Fraction(1), "metres"),
            Unit("cm", Fraction(1, 100), "centimetres"),  # SI prefix, from memory
            Unit("mm", Fraction(1, 1000), "millimetres"),  # SI prefix, from memory
            Unit("km", Fraction(1000), "kilometres"),  # SI prefix, from memory
            Unit("ft", _FOOT, "international feet"),
            Unit("in", _FOOT / 12, "inches"),  # common practice, no source: 12 inches a foot
            Unit("yd", _FOOT * 3, "yards"),  # common practice, no source: 3 feet a yard
            Unit("ftUS", _SURVEY_FOOT, "US survey feet"),
            Unit("inUS", _SURVEY_FOOT / 12, "US survey inches"),  # as the inch
            Unit("ch", _SURVEY_FOOT * 66, "chains"),  # Gunter's chain, 66 survey feet, in US records; from memory
            Unit("rd", _SURVEY_FOOT * Fraction(33, 2), "rods"),  # a quarter of a chain; also pole or perch; from memory
            Unit("lk", _SURVEY_FOOT * Fraction(66, 100), "links"),  # a hundredth of a chain; from memory
        )
    }
)
SITE_UNITS = ("m", "ft", "ftUS")

_WORDS: Mapping[str, str] = MappingProxyType(
    {name.lower(): name for name in UNITS}
    | dict.fromkeys(("metre", "metres", "meter", "meters"), "m")
    | dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters"), "cm")
    | dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), "mm")
    | dict.fromkeys(("kilometre", "kilometres", "kilometer", "kilometers"), "km")
    | dict.fromkeys(("foot", "feet", "international foot", "international feet"), "ft")
    | dict.fromkeys(("inch", "inches"), "in")
    | dict.fromkeys(("yard", "yards"), "yd")
    | dict.fromkeys(("chain", "chains"), "ch")
    | dict.fromkeys(("rod", "rods", "pole", "poles", "perch", "perches"), "rd")
    | dict.fromkeys(("link", "links"), "lk")
    | dict.fromkeys(("us survey foot", "us survey feet", "survey foot", "survey feet", "ft us"), "ftUS")
)

_USUAL = "write feet and inches as 32' 6-1/2\", decimal feet as 32.54 ft, metres as 9.918 m"
_LONGEST = 64  # characters; no length needs more, and endless digits cost time
_SPACES = "\t\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_ALIKE: Mapping[int, str] = MappingProxyType(
    str.maketrans(
        dict.fromkeys("′ʹ‘’‛´", "'")
        | dict.fromkeys("″ʺ“”", '"')
        | dict.fromkeys("⁄∕", "/")
        | dict.fromkeys("–‐‑", "-")
        | dict.fromkeys(_SPACES, " ")
    )
)
_MINUS = "−"  # kept apart from the hyphen: inside a length it cannot be a separator
_VULGAR = re.compile("(-?)([½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])")

_NUMBER = r"[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.?[0-9]+"
_MARK = r"'|\"|[a-z]+(?: [a-z]+)*"
_LENGTH = re.compile(rf"(?:(?P<feet>{_NUMBER}) ?(?P<foot>{_MARK})-? ?)?(?P<number>{_NUMBER})(?: ?(?P<mark>{_MARK}))?")

# (what to look for, why it is refused, what to write instead)
_REFUSALS: tuple[tuple[re.Pattern[str], str, str], ...] = tuple(
    (re.compile(pattern), reason, remedy)
    for pattern, reason, remedy in (
        (r"^$", "there is no number in it", _USUAL),
        (
            ",",
            "a comma can be a decimal comma or can mark thousands",
            "write a point before decimals, 12.5, and nothing between thousands, 1234.5",
        ),
        (r"^(nan|inf)", "it is not a finite number", _USUAL),
        (r"[0-9.]e[-+]?[0-9]", "exponents are not read", "write the number out, as 1000' for 1e3'"),
        (r"/0+(?![0-9.])", "its fraction has 0 below the line", 'write the fraction of the inch, as 6-1/2"'),
        (r"\.[0-9]*\.", "one number has two points", "write one point, as 12.5 ft"),
        (r"\.(?![0-9])", "no digit follows the point", "write 5 ft or 5.0 ft"),
        (
            r"[+−]| -|--|^-",
            "a sign inside it could mean less, or only be a dash",
            "write 32' 6\" or 32'-6\"; a minus stands once, in front of the whole",
        ),
        (
            r"(?<![0-9./])[0-9.]+[ -][0-9.]+(?![0-9./])",
            "two numbers stand side by side and nothing says which are feet",
            "write 12' 6\" for feet and inches, 12.5 ft for decimal feet",
        ),
    )
)


def parse_length(text: str, unit: Unit | None) -> Fraction:
    r"""The length that somebody wrote [m], exactly; negative where a minus stands in front.

    unit: the site's. It is what a bare number means, and whose foot the marks ' and " stand for; on a site in
    metres, and for None, the marks stand for the international foot. Raises TextError.

    Grammar, after look-alikes were made plain (below)::

        length    = [ sign ] ( together | single )
        together  = digits foot [ "-" ] [ " " ] number [ inch ]     32' 6-1/2"   32'-6   32 ft 6.5 in
        single    = number [ " " ] [ mark ]                         6-1/2 in   32.54 ftUS   9918 mm   12
        number    = digits | [ digits ] "." digits | [ digits ( " " | "-" ) ] digits "/" digits
        foot      = "'" | "ft" | "ftUS"          inch = '"' | "in" | "inUS"
        mark      = foot | inch | "m" | "cm" | "mm" | "km" | "yd"
        sign      = "-" | "+"                    for the whole: -12'-6" is 12 1/2 feet the other way

    Decisions. Words are read in any case and spelled out too (feet, inches, metres, US survey feet). `ft` and
    `in` alone are always international, `ftUS` and `inUS` always survey; inches that follow feet are twelfths
    of those feet, and `32 ft 6 inUS` is refused. Inches after a feet mark may leave their own mark out
    (`32' 6`); after a word they may not (`32 ft 6`). Feet before inches are whole, inches after feet are
    below 12, fractions are below 1. `.5` is read, `5.` refused: a digit may be lost. `1/2'` is half a foot.
    A hyphen directly behind the feet joins (`32'-6"`); behind a space it could be a minus (`32' -6`), and a
    true minus sign inside always is: both refused. Also refused: two bare numbers (`12-6`, `12 6`), a bare
    fraction (`6-1/2`: feet or inches?), commas, exponents, nan and inf, more than 64 characters.

    Made plain first: primes, curly quotes and acute accents are marks, two single quotes are an inch mark,
    vulgar fractions, fraction slash, en dash, and every space of typography. Any other sign from outside
    ASCII, such as other digits and characters of no width, is refused by code point.

    >>> parse_length("32' 6-1/2\"", None) == Fraction(781, 2) * Fraction(254, 10000)
    True
    """
    try:
        return _read(_plain(text), unit)
    except TextError as refused:
        raise TextError(f"`{_shown(text)}` cannot be read as a length: {refused.message}", refused.remedy) from None


def to_metres(value: float, unit: Unit) -> Fraction:
    """A number in a unit as metres, exactly: a float counts as its shortest decimal, so 0.1 is one tenth.

    Raises TextError for nan, inf and truth values, which are no lengths.

    >>> to_metres(0.1, UNITS["m"])
    Fraction(1, 10)
    """
    if isinstance(value, bool):
        raise TextError(f"{str(value).lower()} is not a length", "write a number, or a text as 32' 6-1/2\"")
    if isinstance(value, int):
        return value * unit.metres
    if not math.isfinite(value):
        raise TextError(f"{value} is not a length: it is not a finite number", _USUAL)
    return Fraction(repr(float(value))) * unit.metres


def nearest_metres(value: float, unit: Unit) -> float:
    """The double nearest to what `to_metres` gives, for long lists. Raises TextError as that does."""
    if not isinstance(value, float) or not math.isfinite(value):
        return float(to_metres(value, unit))
    figures, _, power = repr(value).partition("e")
    whole, _, decimals = figures.partition(".")
    places = len(decimals) - int(power or 0)
    steps, tens = int(whole + decimals) * unit.metres.numerator, int(10 ** abs(places))  # divided to the nearest double
    return steps / (unit.metres.denominator * tens) if places >= 0 else steps * tens / unit.metres.denominator


def _plain(text: str) -> str:
    """The text in ASCII (and the minus sign), small letters, single spaces."""
    if len(text) > _LONGEST:
        raise TextError(f"it has more than {_LONGEST} characters", _USUAL)
    alike = _VULGAR.sub(_spelled, text.translate(_ALIKE)).replace("''", '"')
    for sign in alike:
        if not (" " <= sign <= "~" or sign == _MINUS):
            raise TextError(f"it holds {_named(sign)}", "type it again with plain digits and marks, as 32' 6-1/2\"")
    return " ".join(alike.lower().split())


def _spelled(vulgar: re.Match[str]) -> str:
    # Spaces on both sides keep 6½ from becoming 61/2 and ½2 from becoming 1/22.
    return (vulgar[1] or " ") + unicodedata.normalize("NFKC", vulgar[2]).replace("⁄", "/") + " "


def _named(sign: str) -> str:
    return f"U+{ord(sign):04X} {unicodedata.name(sign, 'control character')}"


def _shown(text: str) -> str:
    """The text on one line, no longer than a line, with nothing invisible in it."""
    short = text if len(text) <= _LONGEST else text[: _LONGEST - 3] + "..."
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in short)


def _read(plain: str, site: Unit | None) -> Fraction:
    sign = -1 if plain[:1] in ("-", _MINUS) else 1
    body = plain[1:].lstrip() if plain[:1] in ("-", "+", _MINUS) else plain
    for pattern, reason, remedy in _REFUSALS:
        if pattern.search(body):
            raise TextError(reason, remedy)
    found = _LENGTH.fullmatch(body)
    if found is None:
        raise TextError("it is neither a number with a unit nor feet and inches", _USUAL)
    return sign * (_together(found, site) if found["foot"] else _single(found["number"], found["mark"], site))


def _together(found: re.Match[str], site: Unit | None) -> Fraction:
    """Feet, then inches, which are twelfths of those feet."""
    foot = _unit(found["foot"], site)
    if foot.name not in ("ft", "ftUS"):
        raise TextError("only feet and inches are written together", "write one number with one unit, as 9.918 m")
    if not found["feet"].isdigit():
        raise TextError(f"{found['feet']} feet are not whole, yet inches follow", "write 32' 6\" or 32.5 ft")
    _check_inch_mark(found, foot, site)
    inches = _number(found["number"])
    if inches >= 12:
        what = "a whole foot" if inches == 12 else "more than a foot"
        raise TextError(
            f"{found['number']} in is {what}",
            "write inches below 12 after the feet, as 32' 6-1/2\", or the whole length in inches",
        )
    return (int(found["feet"]) + inches / 12) * foot.metres


def _check_inch_mark(found: re.Match[str], foot: Unit, site: Unit | None) -> None:
    mark = found["mark"]
    if mark is None and found["foot"] != "'":
        raise TextError("the number after the feet has no unit", "write 32 ft 6 in")
    if mark in (None, '"'):
        return
    inch = _unit(mark, site).name
    if inch not in ("in", "inUS"):
        raise TextError(f"{mark} cannot follow feet; only inches can", "write 32' 6\" or 32 ft 6 in")
    if inch == "inUS" and foot.name == "ft":
        raise TextError("it mixes international feet with survey inches", "write 32 ftUS 6 inUS, or 32 ft 6 in")


def _single(number: str, mark: str | None, site: Unit | None) -> Fraction:
    if mark is not None:
        return _number(number) * _unit(mark, site).metres
    if "/" in number:
        raise TextError("nothing says whether it is feet or inches", f"write {number} in, or {number}' for feet")
    if site is None:
        raise TextError("a bare number has no unit here", f"write {number} ft, {number} in or {number} m")
    return _number(number) * site.metres


def _number(text: str) -> Fraction:
    *whole, last = re.split("[ -]", text)
    part = Fraction(last)
    if "/" in last and part >= 1:
        raise TextError(
            f"the fraction {last} is not below 1", "write whole inches and a fraction below 1, as 1-1/4 in for 5/4 in"
        )
    return part + sum(map(int, whole))


def _unit(mark: str, site: Unit | None) -> Unit:
    """The unit that a mark or a word stands for."""
    if mark in ("'", '"'):
        survey = site is not None and site.name in ("ftUS", "inUS")
        return UNITS[("ft" if mark == "'" else "in") + ("US" if survey else "")]
    if mark not in _WORDS:
        raise TextError(f"{mark} is not a unit known here", f"use one of {', '.join(UNITS)}, or the marks ' and \"")
    return UNITS[_WORDS[mark]]


_GRADE = re.compile(
    r"(?P<percent>[0-9]*\.?[0-9]+) ?(?:%|percent)"
    r"|(?P<rise>[0-9]*\.?[0-9]+) ?(?::|in|to) ?(?P<run>[0-9]*\.?[0-9]+)"
    r"|(?P<up>.+?) ?(?:per|/) ?(?P<one>foot|ftus|ft|m|metre|meter)"
    r"|(?P<rises>.+?) per (?P<along>[0-9].*)"
)
_USUAL_GRADE = "write 1/8 in per ft, 2 % or 1:48"


def parse_grade(text: str, unit: Unit | None) -> Fraction:
    """The fall or slope that somebody wrote, as a ratio, exactly: height over level run. Raises TextError.

    unit: the site's, for lengths with marks. Grammar, after look-alikes were made plain::

        grade   = number ( "%" | "percent" )                      2 %
                | number ( ":" | "in" | "to" ) number             1:48, the height first
                | length ( "per" | "/" ) ( "ft" | "m" | length )  1/8 in per ft, 20 mm per m, 3 in per 10 ft

    A bare number is refused, since nothing says whether 2 is 2 % or 1:2; so is a fall upward.

    >>> parse_grade("1/8 in per ft", None), parse_grade("2 %", None), parse_grade("1:12", None)
    (Fraction(1, 96), Fraction(1, 50), Fraction(1, 12))
    """
    try:
        return _grade(_plain(text), unit)
    except TextError as refused:
        raise TextError(f"`{_shown(text)}` cannot be read as a fall: {refused.message}", _USUAL_GRADE) from None


def _grade(plain: str, site: Unit | None) -> Fraction:
    found = _GRADE.fullmatch(plain)
    if plain.startswith(("-", _MINUS)):
        raise TextError("a fall is not negative; toward says which way it runs", _USUAL_GRADE)
    if found is None:
        raise TextError("nothing says over which distance it falls", _USUAL_GRADE)
    if found["percent"]:
        return Fraction(found["percent"]) / 100
    if found["run"]:
        return _over(Fraction(found["rise"]), Fraction(found["run"]))
    return _over(_read(found["up"] or found["rises"], site), _read(found["along"] or f"1 {found['one']}", site))


def _over(rise: Fraction, run: Fraction) -> Fraction:
    if run <= 0:
        raise TextError("it falls over no distance", _USUAL_GRADE)
    return rise / run


_FIGURES = b"0123456789.+- \n"  # what a column of plain decimals consists of
_EXACT = 2.0**53  # whole numbers up to here are doubles without loss
_MOST_DECIMALS = 8
_MOST_SIGNS = 17  # sign, point and 15 digits, which a double tells apart


def plain_lengths(texts: Sequence[str], unit: Unit) -> npt.NDArray[np.float64] | None:
    """A whole column of plain decimals in a unit [m], each the double that `parse_length` gives; None where any is not.

    A decimal is a whole number of tenths, hundredths and so on. Times the unit's numerator it stays a whole number that
    a double holds exactly, and one division then rounds once, as IEEE 754 asks of it.
    """
    import numpy as np  # noqa: PLC0415 - opened for long columns only

    joined = "\n".join(texts)
    if not joined.isascii() or joined.count("\n") != max(len(texts) - 1, 0):  # float would pass over a line end
        return None
    data = joined.encode("ascii")
    if data.translate(None, _FIGURES) or b".\n" in data or data.endswith(b".") or b". " in data:
        return None
    if max(map(len, texts), default=0) > _MOST_SIGNS:
        return None
    try:
        values = np.array(list(map(float, texts)), dtype=np.float64)
    except ValueError:
        return None
    return (_exactly(values, unit) if unit.metres != 1 else values + 0.0) if len(values) else values


def _exactly(values: npt.NDArray[np.float64], unit: Unit) -> npt.NDArray[np.float64] | None:
    """Doubles nearest to decimals of a unit, in metres; None where a decimal has too many digits for that."""
    import numpy as np  # noqa: PLC0415 - as above

    above, below = unit.metres.as_integer_ratio()
    for places in range(_MOST_DECIMALS + 1):
        whole = np.rint(values * 10.0**places)
        if np.abs(whole).max(initial=0.0) * above >= _EXACT or below * 10**places >= _EXACT:
            return None
        if (whole / 10.0**places == values).all():
            exact: npt.NDArray[np.float64] = whole * float(above) / (below * 10.0**places) + 0.0  # no minus before 0
            return exact
    return None


_SHARE = re.compile(r"(?P<number>[0-9]{1,6}(?:\.[0-9]{1,9})?) ?(?:%|percent)")
_VOLUME = re.compile(r"(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?) ?(?:cu|cubic) ?(?P<mark>[a-z]+)")


def parse_share(text: str) -> Fraction:
    """A share of something, such as waste: "5 %" is 1/20. Raises TextError for anything but 0 to 100 %."""
    found = _SHARE.fullmatch(_plain(text))
    share = Fraction(found["number"]) / 100 if found else Fraction(2)
    if share > 1:
        raise TextError(f"`{_shown(text)}` is no share from 0 % to 100 %", "write 5 %")
    return share


def parse_volume(text: str, unit: Unit | None) -> Fraction:
    """A volume in cubic metres, from "10 cu yd" or "8 cu m". unit: the site's, whose yard or foot is meant."""
    found = _VOLUME.fullmatch(_plain(text))
    name = _WORDS.get(found["mark"]) if found else None
    if found is None or name not in ("m", "yd", "ft") or not Fraction(found["number"]):
        raise TextError(f"`{_shown(text)}` is no volume above 0", "write 10 cu yd, or 8 cu m")
    survey = name != "m" and unit is not None and unit.name == "ftUS"
    size = _SURVEY_FOOT * (3 if name == "yd" else 1) if survey else UNITS[name].metres
    return Fraction(found["number"]) * size**3
