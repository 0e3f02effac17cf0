"""Which lengths and areas does a description give, and in which unit?

Units are the words of the trade. Chains, rods and links are related by 1 chain = 4 rods = 100 links = 66 feet
(from memory); feet are left as they are named, and only words can make them US survey feet.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from staking.errors import TextError, suggestion
from staking.sitefile.descriptions.items import Item, one_line
from staking.sitefile.descriptions.number_words import NUMBER, as_decimal, decimal_text, read_number, value_of
from staking.survey.angles import parse_direction
from staking.units import UNITS, parse_length

_SURVEY = r"(?:u\.?\s?s\.?\s+)?survey\s+(?:feet|foot|ft\.?)|u\.?s\.?\s?(?:feet|foot|ft\.?)|ft\s?us"
UNIT_WORDS: tuple[tuple[str, str], ...] = (
    ("ftUS", _SURVEY),
    ("ft", r"(?:international\s+)?(?:feet|foot|ft\.?)"),
    ("in", r"inch(?:es)?"),
    ("m", r"met(?:er|re)s?|m\.?"),
    ("ch", r"chains?|chs?\.?"),
    ("lk", r"links?|lks?\.?"),
    ("rd", r"rods?|rds?\.?|poles?|pos?\.?|perch(?:es)?"),
    ("vara", r"varas?|vrs?\.?"),
    ("yd", r"yards?|yds?\.?"),
    ("mile", r"miles?|mi\.?"),
)
"""Every unit of length that is read: its name in site files, and the words for it."""

_AREA_WORDS: tuple[tuple[str, str], ...] = (
    ("acres", r"acres?|ac\.?"),
    ("square feet", r"(?:square|sq\.?)\s*(?:feet|foot|ft\.?)|ft²|s\.?f\.?"),
    ("square metres", r"(?:square|sq\.?)\s*(?:met(?:er|re)s?|m\.?)|m²"),
    ("square yards", r"(?:square|sq\.?)\s*(?:yards?|yds?\.?)"),
    ("square rods", r"(?:square|sq\.?)\s*(?:rods?|poles?|perches|perch)"),
    ("square chains", r"(?:square|sq\.?)\s*chains?"),
    ("hectares", r"hectares?|ha\.?"),
)

_IN_FEET: Mapping[str, Fraction] = MappingProxyType(
    {"ch": Fraction(66), "rd": Fraction(33, 2), "lk": Fraction(66, 100), "ft": Fraction(1), "ftUS": Fraction(1)}
)  # common practice, no source
_TOGETHER: Mapping[tuple[str, str], str] = MappingProxyType(
    {("ch", "lk"): "ch", ("ch", "rd"): "rd", ("rd", "lk"): "lk", ("ch", "ft"): "ft", ("rd", "ft"): "ft"}
)  # two units in one length, and the unit that holds both without a rest

_END = r"(?![a-z0-9²])"
UNIT_MARK = rf"(?:(?:{'|'.join(words for _, words in UNIT_WORDS)}){_END}|\"|''|')"
"""Any unit of length as people write it, for use inside other patterns."""

_LENGTH = re.compile(rf"(?P<number>{NUMBER})[\s-]*(?P<unit>{UNIT_MARK})")
_SECOND = re.compile(rf"(?:\s*[,-]?\s*(?:and\s+)?)(?P<number>{NUMBER})[\s-]*(?P<unit>{UNIT_MARK}|in\.?{_END})")
_AGAIN = re.compile(rf"\s*\(\s*(?P<number>{NUMBER})\s*(?P<unit>{UNIT_MARK})\s*\)")
_PLACE = re.compile(r"\s+(?:due\s+)?(?:north|south|east|west)[a-z]*\s+(?:of|from)\b")
_AREA = re.compile(rf"(?P<number>{NUMBER})[\s-]*(?P<unit>{'|'.join(f'(?:{words})' for _, words in _AREA_WORDS)}){_END}")
_NUMBER = re.compile(rf"{NUMBER}(?![\w]|[.,/]\d)")
_TOKEN = re.compile(
    r"(?=[^\s;()]*\d)[^\s;()]*[^\s;().,:]|(?=[oilsbz.,]*o)[oilsbz][oilsbz.,]*(?=[\s-]*(?:feet|foot|ft)\b)"
)
_APART = re.compile(
    rf"(?:\d[\d,]*(?:\.\d+)?(?:\s*\.\s+|\s+[.,]?)(?!\d+/)\d[\d.,]*|\d{{1,3}},\s+\d{{3}}(?:\.\d+)?)[\s-]*(?:{UNIT_MARK})"
)  # 1 02.50 feet, 12. 50 feet, 1, 250 feet
_UNIT = re.compile(rf"[\s-]*(?:{UNIT_MARK})")
_NEXT_WORD = re.compile(r"[\s-]*([a-z]{2,12})")
_TYPED_AGAIN = "look at the original, and type the number again"


@dataclass(frozen=True)
class Units:
    """What the description says about its units as a whole: of bare numbers (empty: nothing), and which foot."""

    bare: str = ""
    foot: str = "ft"


def said_units(plain: str) -> Units:
    """The units by a sentence such as `all distances are in US survey feet`; else none for bare numbers."""
    found = STATEMENT.search(plain)
    if found is None:
        return Units()
    name = _name(found["unit"])
    return Units(name, name if name in ("ft", "ftUS") else "ft")


STATEMENT = re.compile(
    rf"(?:all\s+)?(?:distances|dimensions|measurements|lengths)\b[^.;\d]{{0,60}}?\b(?:in|are)\s+(?:decimal\s+)?(?P<unit>{UNIT_MARK})"
)


def area_at(plain: str, at: int) -> Item | None:
    """An area that begins here; its value is number and unit, such as `0.057 acres`."""
    found = _AREA.match(plain, at)
    if found is None:
        return None
    unit = next(name for name, words in _AREA_WORDS if re.fullmatch(words, found["unit"]))
    try:
        return Item("area", at, found.end(), f"{read_number(found['number'])} {unit}")
    except TextError as refused:
        return Item("refused", at, found.end(), "area", refused.message, refused.remedy)


def length_at(plain: str, at: int, units: Units) -> Item | None:
    """A length that begins here, in two units where it is; refused with its reason where it cannot be one."""
    if apart := _APART.match(plain, at):
        why = "two numbers stand side by side: are they one, with a blank inside?"
        return Item("refused", at, apart.end(), "length", why, _TYPED_AGAIN)
    found = _LENGTH.match(plain, at)
    if found is None:
        return _bare_at(plain, at, units) or _broken_at(plain, at)
    second = _second(plain, found)
    again = _AGAIN.match(plain, second.end() if second else found.end())
    end = next(piece.end() for piece in (again, second, found) if piece)
    if _PLACE.match(plain, end):
        return Item("word", at, end)
    try:
        if found["unit"] == "'" and not second and re.match(r"[ -]?\d", plain[end : end + 2]):
            raise TextError(
                "a number follows the feet, and nothing says that it is inches", "write 102' 6\" or 102 ft 6 in"
            )
        value, note = _value(found, second, units)
        if again and not same_value(_value(again, None, units)[0], value):
            raise TextError(
                f"`{one_line(plain[at:end])}` says two lengths", "find out which one holds, and strike the other"
            )
    except TextError as refused:
        return Item("refused", at, end, "length", refused.message, refused.remedy)
    return Item("length", at, end, value, note=note)


def same_value(one: str, other: str) -> bool:
    """Whether two texts of a course say the same, such as `100 ft` and `100.00 ft`.

    >>> same_value("100 ft", "100.00 ft"), same_value("N 45 E", "N 45-00 E"), same_value("100 ft", "100 m")
    (True, True, False)
    """
    if one == other:
        return True
    try:
        return parse_direction(one) == parse_direction(other)
    except TextError:
        number, _, unit = one.partition(" ")
        again, _, other_unit = other.partition(" ")
        return unit == other_unit and " " not in unit and value_of(number) == value_of(again)


def _second(plain: str, first: re.Match[str]) -> re.Match[str] | None:
    """The smaller part of a length in two units, where there is one."""
    second = _SECOND.match(plain, first.end())
    if second is None:
        return None
    pair = (_name(first["unit"]), _name(second["unit"]))
    return second if pair in _TOGETHER or pair in (("ft", "in"), ("ftUS", "in")) else None


def _name(words: str) -> str:
    if re.fullmatch(r"in\.?|\"|''", words):
        return "in"
    if words == "'":
        return "ft"
    return next(name for name, pattern in UNIT_WORDS if re.fullmatch(pattern, words))


def _value(first: re.Match[str], second: re.Match[str] | None, units: Units) -> tuple[str, str]:
    """The length as site files write it, and what was done to get it."""
    number, unit = read_number(first["number"]), _name(first["unit"])
    unit = units.foot if unit == "ft" and "international" not in first["unit"] else unit
    said = one_line(first[0] + (second[0] if second else ""))
    if second is not None and _name(second["unit"]) == "in":
        text = f"{number} {unit} {read_number(second['number'])} in"
        parse_length(text, None)  # refuses 12 inches and more, and inches after feet that are not whole
        return text, ""
    if second is not None:
        text = _joined(number, unit, read_number(second["number"]), _name(second["unit"]), units)
        return text, f"`{said}` is taken together as {text}"
    if unit == "mile":  # 5280 feet, common practice, no source
        text = f"{decimal_text(value_of(number) * 5280)} {units.foot}"
        return text, f"`{said}` is written as {text}: 5280 feet a mile"
    if unit in UNITS:
        parse_length(f"{number} {unit}", None)
    note = f"`{said}`: how long a vara is differs from place to place" if unit == "vara" else ""
    return f"{number} {unit}", note


def _joined(number: str, unit: str, rest: str, small: str, units: Units) -> str:
    if "/" in number or "." in number:
        raise TextError(f"{as_decimal(number)} {unit} are not whole, yet a smaller unit follows", _TYPED_AGAIN)
    into = _TOGETHER[unit, small]
    if value_of(rest) * _IN_FEET[small] >= _IN_FEET[unit]:
        raise TextError(f"{rest} {small} are not below 1 {unit}", _TYPED_AGAIN)
    total = value_of(number) * _IN_FEET[unit] + value_of(rest) * _IN_FEET[small]
    return f"{decimal_text(total / _IN_FEET[into])} {units.foot if into == 'ft' else into}"


def _bare_at(plain: str, at: int, units: Units) -> Item | None:
    """A number without a unit: a length only where a sentence of the description gives the unit of all of them."""
    found = _NUMBER.match(plain, at)
    if found is None:
        return None
    try:
        number = read_number(found[0])
    except TextError as refused:
        return Item("number", at, found.end(), "", refused.message, refused.remedy)
    word = _NEXT_WORD.match(plain, found.end())
    near = suggestion(word[1], _FULL_WORDS) if word else ""
    if word and near.startswith("did you mean"):
        why = f"`{word[1]}` is no unit that is known here"
        return Item("number", at, word.end(), number, why, near)
    why = "" if units.bare else "it has no unit"
    return Item("number", at, found.end(), number, why, "write the unit behind it, as 102.50 feet")


_FULL_WORDS = ("feet", "foot", "metres", "meters", "chains", "links", "rods", "poles", "perches", "varas", "yards")


def _broken_at(plain: str, at: int) -> Item | None:
    """Digits that are no number, with the unit behind them."""
    found = _TOKEN.match(plain, at)
    if found is None:
        return None
    unit = _UNIT.match(plain, found.end())
    word = found[0].rstrip("'\"")
    why = "it is no number"
    if re.search("[a-z]", word):
        why = "letters stand among its digits: was 0 read as O, 1 as l or I, 5 as S?"
    elif "," in word:
        why = "its comma can mark thousands or decimals"
    kind = "refused" if unit or word != found[0] else "number"
    return Item(kind, at, (unit or found).end(), "length" if kind == "refused" else "", why, _TYPED_AGAIN)
