"""What does a text in TOML hold, and if it cannot be read, what is wrong with it?"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, replace
from typing import Any

from staking.findings import Finding, Place
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.slips import Slip, find_slips, mended

DEEPEST = 16  # tables and lists inside one another; a site file needs five

_AT = re.compile(r" \(at (?:line (?P<line>[0-9]+), column (?P<column>[0-9]+)|end of document)\)$")
_ENDLESS_KEY = re.compile(r"(?:^|[\[{,])[ \t]*(?:[^\s.=\[\]{},\"'#]+[ \t]*\.[ \t]*){20}", re.MULTILINE)
_ENDLESS_NUMBER = re.compile(r"[0-9_]{400}")

# what the standard reader's message begins with, what it means, what to write instead
_WORDS = (
    ("Invalid value", "there is no value here that TOML knows", 'write a number, or a text in quotes: "32\' 6-1/2"'),
    ("Expected '=' after a key", "after the key there is no =", "write key = value"),
    ("Unescaped", "in a text in double quotes \\ begins a special sign, and this one is none", "write \\\\ for one \\"),
    ("Unterminated string", "a text is not closed", "close it with the quote that opened it"),
    ('Expected "\'"', "a text in single quotes is not closed on its line", "write it in double quotes"),
    ("Unclosed array", "a list is not closed", "close it with ]"),
    ("Unclosed inline table", "a table in braces is not closed", "close it with } on the same line"),
    ("Cannot overwrite", "the same key stands twice", "keep one of the two"),
    ("Duplicate inline table key", "the same key stands twice in one table", "keep one of the two"),
    ("Cannot declare", "the same table stands twice", "move its keys to the first one"),
    ("Cannot mutate", "this table was finished where it was first written", "write all its keys there"),
    ("Cannot redefine", "this table was finished where it was first written", "write all its keys there"),
    ("Expected newline", "something stands behind the value", "begin a new line for the next key"),
    ("Expected ']'", "the name of a table is not closed", "write [name] on a line of its own"),
    ("Expected ']]'", "the name of an entry is not closed", "write [[name]] on a line of its own"),
    ("Invalid initial character", "there is no key here", "write key = value"),
    ("Invalid statement", "this is neither a [table] nor a key = value", "put a # before notes"),
    ("Invalid date", "there is no such day or time", "write a date as 2026-04-18"),
    ("Illegal character", "a sign stands here that a text file does not hold", "delete it"),
    ("Found invalid character", "a sign stands here that a text file does not hold", "delete it"),
    ("Invalid hex", "after \\u or \\U a code point must follow", "write the letter itself"),
    ("Escaped character", "after \\u or \\U a code point must follow", "write the letter itself"),
)


@dataclass(frozen=True)
class Parsed:
    """What a text holds. data is None where even the mended text cannot be read.

    mended: the text that data comes from, line by line the same as the text but for the lines in `changed`.
    """

    data: dict[str, Any] | None
    mended: str
    findings: tuple[Finding, ...] = ()
    changed: frozenset[int] = frozenset()


def parse(text: str, places: Places) -> Parsed:
    """The data of a TOML text; where it has slips, the findings, and the data of the text without them."""
    if found := _ENDLESS_KEY.search(text) or _ENDLESS_NUMBER.search(text):
        line, column = _line_and_column(text, found.start())
        return Parsed(None, text, (mistake("toml", "no key or number is that long", places.at(line, column)),))
    data, error = _loaded(text, places)
    if error is None:
        return Parsed(data, text)
    slips = find_slips(text)
    better = mended(text, slips)
    data, rest = _loaded(better, places)
    if rest and rest.place and any(slip.fix and slip.fix[0] == rest.place.line for slip in slips):
        slips, rest = _without_line(slips, rest.place.line), _as_written(rest, rest.place, error)
    findings = [_finding(slip, places) for slip in slips]
    # what is left may be an effect of a slip that could not be mended, and stands behind it; else it is one more
    if rest and rest.place and not any(slip.line <= rest.place.line for slip in slips if not slip.fix):
        findings.append(rest)
    changed = frozenset(slip.fix[0] for slip in slips if slip.fix)
    return Parsed(data, better, tuple(findings), changed)


def _as_written(rest: Finding, place: Place, first: Finding) -> Finding:
    """What is wrong on a line that mending did not help: as the reader said it of the line as written, if it did."""
    if first.place and first.place.line == place.line:
        return first
    return replace(rest, place=replace(place, column=0))


def _without_line(slips: tuple[Slip, ...], line: int) -> tuple[Slip, ...]:
    return tuple(slip for slip in slips if not (slip.fix and slip.fix[0] == line))


def _finding(slip: Slip, places: Places) -> Finding:
    place = places.at(slip.line, slip.start + 1, width=max(1, slip.end - slip.start))
    return mistake("toml", slip.message, place, slip.remedy)


def _loaded(text: str, places: Places) -> tuple[dict[str, Any] | None, Finding | None]:
    """The data, or the first mistake that the standard reader finds."""
    try:
        data = tomllib.loads(text, parse_float=_number)
    except tomllib.TOMLDecodeError as error:
        return None, _in_words(str(error), text, places)
    except RecursionError:
        return None, _too_deep(places)
    if _depth(data) > DEEPEST:
        return None, _too_deep(places)
    return data, None


def _number(text: str) -> float | str:
    """A float; a number too large or too small to be kept as one stays text, which no field for numbers takes."""
    value = float(text)
    vanished = value == 0 and re.search("[1-9]", re.split("[eE]", text)[0])
    return text if vanished or (value in (float("inf"), float("-inf")) and "inf" not in text) else value


def _too_deep(places: Places) -> Finding:
    return mistake("toml", f"tables or lists are nested more than {DEEPEST} deep", places.whole(), "close the brackets")


def _depth(data: Any) -> int:
    """How many containers are inside one another; counting stops soon after the deepest allowed."""
    level, depth = [data], 0
    while level and depth <= DEEPEST:
        inner = [each.values() if isinstance(each, dict) else each for each in level if isinstance(each, (dict, list))]
        level = [value for values in inner for value in values]
        depth += 1
    return depth


def _in_words(message: str, text: str, places: Places) -> Finding:
    """The standard reader's message in plain words, with its place."""
    found = _AT.search(message)
    line, column = (int(found["line"]), int(found["column"])) if found and found["line"] else _end(text)
    said = message[: found.start()] if found else message
    words, remedy = next(
        ((words, remedy) for start, words, remedy in _WORDS if said.startswith(start)),
        (f"TOML cannot be read here: {plain(said)}", ""),
    )
    return mistake("toml", words, _within(line, column, text, places), remedy)


def _within(line: int, column: int, text: str, places: Places) -> Place:
    lines = text.split("\n")
    line = min(line, len(lines))
    return places.at(line, min(column, len(lines[line - 1].rstrip("\r")) + 1))


def _end(text: str) -> tuple[int, int]:
    return _line_and_column(text, len(text.rstrip()))


def _line_and_column(text: str, offset: int) -> tuple[int, int]:
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)
