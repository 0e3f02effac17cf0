"""Which number do the digits or the words of a description say?

The answer is text, because the digits that were printed are kept: `1,250.40` is `1250.40` and never 1250.4.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from staking.errors import TextError

_TO_NINE = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
_ROUND = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_SMALL: Mapping[str, int] = MappingProxyType(
    {word: number for number, word in enumerate((*_TO_NINE, *_TEENS), start=1)}
    | {word: 10 * number for number, word in enumerate(_ROUND, start=2)}
    | {"fourty": 40, "zero": 0, "no": 0}
)
_PARTS: Mapping[str, int] = MappingProxyType(
    {"half": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "eighth": 8, "tenth": 10}
    | {"sixteenth": 16, "hundredth": 100, "thousandth": 1000}
)
_VULGAR: Mapping[str, str] = MappingProxyType(
    dict(
        zip(
            "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞",
            ["1/2", "1/3", "2/3", "1/4", "3/4", "1/5", "2/5", "3/5", "4/5", "1/6", "5/6", "1/8", "3/8", "5/8", "7/8"],
            strict=True,
        )
    )
)

_PART_WORD = rf"(?:(?:{'|'.join(_PARTS)})s?|halves)"
_NONE = rf"no(?=[\s-]+(?:(?:one[\s-]+)?{_PART_WORD}|minutes|seconds)\b)"  # "no" is a number only before its part
_CARDINALS = "|".join(word for word in _SMALL if word != "no")
_WORD = rf"(?:(?:{_CARDINALS}|{_PART_WORD}|hundred|thousand)(?![a-z])|{_NONE})"
_WORDS = rf"{_WORD}(?:(?:\s*-\s*|\s+and\s+a\s+|\s+and\s+|\s+point\s+|\s+){_WORD}){{0,30}}"  # no number has more words
_BELOW = rf"(?:\d{{1,4}}/\d{{1,4}}|[{''.join(_VULGAR)}])(?!\d)"
_PLAIN = r"(?:\d{1,3}(?:,\d{3})+(?![\d,])(?:\.\d+)?|\d+(?:\.\d+)?|\.\d+)"
_DIGITS = rf"(?:{_PLAIN}(?:\s*[{''.join(_VULGAR)}]|(?:\s+and\s+|\s+|\s*-\s*){_BELOW})?|{_BELOW})"
_AGAIN = rf"(?:\s*\(\s*{_PLAIN}\s*\))?"

NUMBER = rf"(?:{_WORDS}(?:\s+and\s+(?:no|\d{{1,4}})/\d{{1,4}}(?!\d))?{_AGAIN}|{_DIGITS}{_AGAIN})"
"""Anything that may be a number, for use inside other patterns; `read_number` says whether it is one."""

_TWICE = re.compile(r"(.+?)\s*\(\s*([^()]+?)\s*\)", re.DOTALL)
_FRACTION = re.compile(r"(?:(?P<whole>.+?)(?: and |[ -]))?(?P<over>no|\d+)/(?P<under>\d+)", re.DOTALL)
_IN_WORDS = re.compile(
    r"(?:(?P<whole>.+) and (?P<a>a )?)?(?:(?P<over>.+?)(?: one(?P<joint>[ -])|(?P<close>[ -])))?"
    rf"(?P<under>{_PART_WORD})"
)
_BARE_ROUND = re.compile(rf"(?:.*\b)?(?:{'|'.join(_ROUND)})")


def read_number(text: str) -> str:
    """The number as digits, as printed, without commas: `1250.40`, `6-1/2`.

    text: what `NUMBER` matched, in small letters. Grammar::

        number   = digits | words | ( words | digits ) "(" digits ")"      fifteen (15)
        digits   = 1,250.40 | 6 1/2 | 6-1/2 | 6½ | 102 and 50/100
        words    = whole [ "and" part ] | whole "point" words              one hundred two and fifty one-hundredths
        part     = [ words ] [ "one-" ] ( "half" | "tenths" | "hundredths" | ... )

    Hundredths and the like become decimals with all their places. Raises TextError where words and digits
    contradict one another, and where words can be read in two ways.

    >>> read_number("one hundred two and fifty one-hundredths"), read_number("1,250.40")
    ('102.50', '1250.40')
    """
    plain = re.sub(r"\s*-\s*", "-", " ".join(text.split()))
    if twice := _TWICE.fullmatch(plain):
        return _agreed(_one(twice[1]), _one(twice[2]), text)
    return _one(plain)


def value_of(digits: str) -> Fraction:
    """The value of what `read_number` answers.

    >>> value_of("6-1/2")
    Fraction(13, 2)
    """
    *whole, last = digits.split("-")
    return Fraction(last) + sum(map(int, whole))


def as_decimal(digits: str) -> str:
    """The same number with a point; raises TextError where it has no end.

    >>> as_decimal("30-1/2")
    '30.5'
    """
    return digits if "/" not in digits else decimal_text(value_of(digits))


def decimal_text(value: Fraction) -> str:
    """An exact fraction with a point and no more places than it needs; raises TextError where it has no end.

    >>> decimal_text(Fraction(283, 20))
    '14.15'
    """
    for places in range(13):
        scaled = value * 10**places
        if scaled.denominator == 1:
            digits = str(scaled.numerator).rjust(places + 1, "0")
            return f"{digits[:-places]}.{digits[-places:]}" if places else digits
    raise TextError(f"{value} has no end as a decimal number", "write it with a point, to the places that you need")


def _agreed(said: str, again: str, text: str) -> str:
    """Both numbers where they are one; the one in digits, as it is printed."""
    if value_of(said) != value_of(again):
        raise TextError(
            f"`{' '.join(text.split())}` says {said} and then {again}", "find out which one holds, and strike the other"
        )
    return again


def _one(plain: str) -> str:
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}").strip()
    plain = " ".join(plain.split())
    if found := _FRACTION.fullmatch(plain):
        over = 0 if found["over"] == "no" else int(found["over"])
        return _with_part(_one(found["whole"]) if found["whole"] else "", over, int(found["under"]), plain)
    if plain[0].isdigit() or plain[0] == ".":
        return plain.replace(",", "")
    return _words(plain)


def _words(plain: str) -> str:
    if " point " in plain:
        whole, _, places = plain.partition(" point ")
        return f"{_whole(whole)}.{''.join(_digit(word, plain) for word in re.split('[ -]', places))}"
    found = _IN_WORDS.fullmatch(plain)
    if found is None:
        return str(_whole(plain))
    over = found["over"]
    bare = found["joint"] == " " and _BARE_ROUND.fullmatch(over)  # fifty one hundredths: 50 or 51 of them?
    if bare or (found["close"] == "-" and over.endswith("-one")):
        raise TextError(f"`{plain}` can be read in two ways", "write the number in digits")
    if not over and not found["a"]:
        raise TextError(f"`{plain}` is a part of something, and does not say how many parts", "write it in digits")
    under = _PARTS["half" if found["under"] == "halves" else found["under"].removesuffix("s")]
    return _with_part(str(_whole(found["whole"])) if found["whole"] else "", _whole(over or "one"), under, plain)


def _with_part(whole: str, over: int, under: int, plain: str) -> str:
    """A whole number and a part below 1: decimals where the part is of ten, hundred or thousand."""
    if under == 0 or over >= under or (whole and not whole.isdigit()):
        raise TextError(f"the fraction in `{plain}` is not a part below 1 of a whole number", "write it in digits")
    if under in (10, 100, 1000):
        return f"{whole or 0}.{str(over).rjust(len(str(under)) - 1, '0')}"
    return f"{whole}-{over}/{under}" if whole else f"{over}/{under}"


def _digit(word: str, plain: str) -> str:
    number = _SMALL.get(word, 10)
    if number > 9:
        raise TextError(f"behind the point of `{plain}` stands `{word}`, which is no digit", "write it in digits")
    return str(number)


def _whole(words: str) -> int:
    """A whole number below a million; `thirteen hundred` is read as 1300."""
    thousands, split, rest = re.sub("[ -]", " ", words).rpartition(" thousand")
    if not split:
        return _below_thousand(rest, words, most=99)
    return 1000 * _below_thousand(thousands, words) + (_below_thousand(_behind(rest), words) if rest else 0)


def _below_thousand(text: str, words: str, most: int = 9) -> int:
    hundreds, split, rest = text.rpartition(" hundred")
    if not split:
        return _below_hundred(rest.split(), words)
    count = _below_hundred(hundreds.split(), words)
    if not 0 < count <= most:
        raise _no_number(words)
    return 100 * count + (_below_hundred(_behind(rest).split(), words) if rest else 0)


def _behind(text: str) -> str:
    return text.strip().removeprefix("and ")


def _below_hundred(parts: list[str], words: str) -> int:
    numbers = [_SMALL.get(part, -1) for part in parts]
    if len(numbers) == 1 and numbers[0] >= 0:
        return numbers[0]
    if len(numbers) == 2 and numbers[0] >= 20 and 1 <= numbers[1] <= 9:
        return sum(numbers)
    raise _no_number(words)


def _no_number(words: str) -> TextError:
    return TextError(f"`{words}` is not one number", "write it in digits")
