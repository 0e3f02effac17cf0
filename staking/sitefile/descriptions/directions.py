"""Which bearings, azimuths and angles does a description give, and which are spoiled?

Answers are written as the site file writes them, with the digits that were printed: `N 12-30-15 E`, `308-51`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from staking.errors import TextError
from staking.sitefile.descriptions.items import Item, one_line
from staking.sitefile.descriptions.measures import UNIT_MARK
from staking.sitefile.descriptions.number_words import NUMBER, as_decimal, read_number
from staking.survey.angles import parse_direction

_LETTERS: Mapping[str, str] = MappingProxyType({"n": "N", "s": "S", "e": "E", "w": "W"})
_OPPOSITE: Mapping[str, str] = MappingProxyType({"N": "S", "S": "N", "E": "W", "W": "E"})

_DEGREE = r"\s*(?:°|degrees?(?![a-z])|degs?(?![a-z])\.?|d(?![a-z])\.?)"
_MINUTE = r"\s*(?:'(?!')|minutes?(?![a-z])|mins?(?![a-z])\.?|m(?![a-z])\.?)"
_SECOND = r"\s*(?:\"|''|seconds?(?![a-z])|secs?(?![a-z])\.?|s(?![a-z])\.?)"
_JOINT = r"\s*[-,]?\s*(?:and\s+)?"
_SHORT = r"\d+(?:\.\d+)?"
_WHOLE = rf"{NUMBER}(?!\d|[.,]\d)"  # never half of the digits of a number
_LOST = rf"(?![\s-]*(?:°|{UNIT_MARK})|\d|[.,]\d)"  # nothing that makes it another number

_TIGHT = r"\s*-?\s*"  # in front of ' and ", which could be feet and inches behind a comma
_FEW_MINUTES = rf"(?:{_TIGHT}(?P<m>{_WHOLE})\s*'(?!')|{_JOINT}(?P<m1>{_WHOLE})\s*(?:minutes?|mins?)(?![a-z])\.?)"
_FEW_SECONDS = rf"(?:{_TIGHT}(?P<s>{_WHOLE})\s*(?:\"|'')|{_JOINT}(?P<s1>{_WHOLE})\s*(?:seconds?|secs?)(?![a-z])\.?)"
_MARKED = (
    rf"(?P<d>{_WHOLE}){_DEGREE}"
    rf"(?:{_FEW_MINUTES}(?:{_FEW_SECONDS}|\s?(?P<s2>{_SHORT}){_LOST})?|\s?(?P<m2>\d\d(?:\.\d+)?){_LOST})?"
)
_COMPACT = rf"(?P<d5>{_SHORT})d(?P<m5>{_SHORT})m(?:(?P<s5>{_SHORT})s)?(?![a-z0-9])"
_DASHED = rf"(?P<d3>\d+)\s?-\s?(?P<m3>{_SHORT})(?:\s?-\s?(?P<s3>{_SHORT}))?(?:(?=[ew](?![a-z]))|(?![\w/-]|[.,]\d))"
_ANGLE = re.compile(rf"(?:{_COMPACT}|{_MARKED}|{_DASHED})")

_FROM = r"(?<![a-z0-9])(?P<from>north|south|n\.?|s\.?)\s*,?\s*"
_TO = r"\s*-?\s*(?P<to>east|west|e|w)(?![a-z])(?:(?<=e)\.|(?<=w)\.)?"
_INSIDE = (
    rf"(?:(?P<d>{_WHOLE}){_DEGREE}"
    rf"(?:{_JOINT}(?P<m>{_WHOLE}){_MINUTE}(?:{_JOINT}(?P<s>{_WHOLE}){_SECOND}?)?|{_JOINT}(?P<m4>\d\d?(?:\.\d+)?))?(?:\s*,)?"
    rf"|(?P<d1>\d+)\s?-\s?(?P<m1>{_SHORT})(?:\s?-\s?(?P<s1>{_SHORT}))?"
    rf"|(?P<d2>\d+)\s(?P<m2>\d\d(?:\.\d+)?)(?:\s(?P<s2>\d\d(?:\.\d+)?))?"
    rf"|(?!\d+/)(?P<d3>{_WHOLE}))"  # the north 1/2 is no bearing
)
_BEARING = re.compile(_FROM + _INSIDE + _TO)
_CARDINAL = re.compile(r"due\s+(?P<to>north|south|east|west|n|s|e|w)(?![a-z])(?!\.?\s*\d+\s*(?:°|-|deg))")
_E_OR_W = r"(?:east|west|e|w)(?![a-z])"
_ATTEMPT = re.compile(
    r"(?<![a-z0-9])(?:north|south|n|s)\.?[\s,]*(?=\S*[\d°]|[oilsbz]+\s*(?:deg|d\b|-))"
    rf"(?:[\d°'\"*.:\-]|[^\S\n]|(?:,|\n(?!\s*[lc]\d))(?!\s*{_E_OR_W})|[oilsbz](?![a-z])|(?<=\d)[a-z](?![a-z])"
    r"|d[eg]+r?e?[a-z]*|m[in]+[a-z]*|se[co]+[a-z]*|and\b){1,48}?"
    r"(?:east|west|e|w)(?![a-z])"
)
_HALF = re.compile(r"(?<![a-z0-9])(?:north|south|n|s)\.?[\s,]*")
_OTHER_SIDE = re.compile(
    r"(?:east|west|e|w)\.?\s*,?\s*\d+(?:\s*°|\s*deg[a-z]*|-|(?=\s*(?:north|south|n|s)(?![a-z])))"
    r"[^;\n]{0,24}?(?:north|south|n|s)(?![a-z])"
)
_ENDS = re.compile(r"\s*(?:east|west|e|w)(?![a-z])")
_SPOILED_TAIL = re.compile(
    r"[\s-]?(?=[\d.]*[oilsbz])[\doilsbz.]+(?:\s*(?:['\"°]|min|sec|deg)|(?<=\d)|(?<=\d[oilsbz])(?![a-z]))['\"a-z]*"
)
_OF_CURVE = re.compile(r"[\s-]*curve(?![a-z])")
_FROM_NORTH = re.compile(r"\s*,?\s*(?:clockwise\s+)?from\s+(?:the\s+)?(?:true\s+|grid\s+)?north(?![a-z])")
_FROM_SOUTH = re.compile(r"\s*,?\s*(?:clockwise\s+)?from\s+(?:the\s+)?(?:true\s+|grid\s+)?south(?![a-z])")

_ORIGINAL = "look at the original, and write the bearing as N 12-30-15 E"


def direction_at(plain: str, at: int) -> Item | None:
    """A bearing, an azimuth from north, or an angle that begins here; refused with its reason where it is spoiled."""
    if found := _BEARING.match(plain, at):
        return _bearing(found)
    if found := _CARDINAL.match(plain, at):
        return Item("bearing", at, found.end(), _LETTERS[found["to"][0]])
    if found := _ATTEMPT.match(plain, at):
        return Item("refused", at, found.end(), "bearing", _why_spoiled(found[0]), _ORIGINAL)
    if found := _OTHER_SIDE.match(plain, at):
        why = "it is counted from east or west; bearings here are counted from north or south"
        return Item("refused", at, found.end(), "bearing", why, "write it as N 60 E for 30 degrees north of east")
    if (found := _HALF.match(plain, at)) and (angle := _ANGLE.match(plain, found.end())):
        why = "neither East nor West follows the angle"
        return Item("refused", at, angle.end(), "bearing", why, _ORIGINAL)
    return _angle_at(plain, at)


def cardinal(word: str) -> str:
    """The letter of north, east, south or west.

    >>> cardinal("west")
    'W'
    """
    return _LETTERS[word[0]]


def reversed_bearing(value: str) -> str:
    """The bearing the other way, digits as they are.

    >>> reversed_bearing("N 12-30-15 E"), reversed_bearing("E")
    ('S 12-30-15 W', 'W')
    """
    return re.sub("[NSEW]", lambda letter: _OPPOSITE[letter[0]], value)


def _bearing(found: re.Match[str]) -> Item:
    at, end = found.span()
    try:
        angle = _digits(found)
        value = f"{_LETTERS[found['from'][0]]} {angle} {_LETTERS[found['to'][0]]}"
        parse_direction(value)
    except TextError as refused:
        return Item("refused", at, end, "bearing", _reason(refused, found[0]), _ORIGINAL)
    return Item("bearing", at, end, value)


def _digits(found: re.Match[str]) -> str:
    """Degrees, minutes and seconds joined by dashes, each as printed."""
    groups = {name: text for name, text in found.groupdict().items() if text and name not in ("from", "to")}
    degrees, *small = (text for letter in "dms" for name, text in groups.items() if name[0] == letter)
    return "-".join([as_decimal(read_number(degrees)), *map(_below_sixty, small)])


def _below_sixty(text: str) -> str:
    """Minutes or seconds as printed; where they are in words, with two digits."""
    digits = as_decimal(read_number(text))
    in_words = not text[0].isdigit()
    return f"0{digits}" if in_words and len(digits.partition(".")[0]) == 1 else digits


def _angle_at(plain: str, at: int) -> Item | None:
    found = _ANGLE.match(plain, at)
    if found is None:
        return None
    if curve := _OF_CURVE.match(plain, found.end()):
        return Item("degree_of_curve", at, curve.end())
    for pattern, why, remedy in _BEHIND_ANGLES:
        if behind := pattern.match(plain, found.end()):
            kind = "bearing" if pattern in (_ENDS, _FROM_SOUTH) else "angle"
            return Item("refused", at, behind.end(), kind, why, remedy)
    return _whole_angle(plain, found)


_BEHIND_ANGLES = (
    (_ENDS, "neither North nor South stands in front of it", _ORIGINAL),
    (
        _FROM_SOUTH,
        "it is counted from south; azimuths here are counted clockwise from north",
        "turn it by 180 degrees",
    ),
    (_SPOILED_TAIL, "letters stand among its digits: was 0 read as O, 1 as l or I, 5 as S?", _ORIGINAL),
    (re.compile(r"\d"), "digits without a mark follow it", _ORIGINAL),
)


def _whole_angle(plain: str, found: re.Match[str]) -> Item:
    at = found.start()
    north = _FROM_NORTH.match(plain, found.end())
    try:
        value = _digits(found)
        parse_direction(value)
    except TextError as refused:
        return Item("refused", at, found.end(), "angle", _reason(refused, found[0]), "look at the original")
    return Item("azimuth" if north else "angle", at, (north or found).end(), value)


def _reason(refused: TextError, words: str) -> str:
    """Why, without the text, which is shown beside it."""
    reason = refused.message.rpartition("cannot be read as a direction: ")[2]
    if re.match(r"[a-z.]*\s*\d{2,3}0\s+\d", words) and "at most 90" in reason:
        return f"{reason}; was the degree sign read as a 0?"
    return reason


def _why_spoiled(words: str) -> str:
    number = one_line(re.sub(r"^(?:north|south|n|s)\.?|(?:east|west|e|w)$", "", words))
    number = re.sub(r"d[eg]+r?e?[a-z]*|m[in]+[a-z]*|se[co]+[a-z]*|and", "", number)
    if re.search("[a-z]", number):
        return "letters stand among its digits: was 0 read as O, 1 as l or I, 5 as S?"
    if "°" not in number and "'" in number:
        return "minutes are marked and degrees are not: was the degree sign read as a 0, or lost?"
    if re.search(r"°\s*\d+(?:\.\d+)?\s*\"", number):
        return "seconds follow the degrees, and there are no minutes"
    return "between its letters stands no angle in degrees, minutes and seconds"
