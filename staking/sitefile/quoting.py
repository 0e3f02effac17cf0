"""What is wrong with a value on a line that TOML cannot read, and how should the line look?

The commonest slips in files full of feet and inches are an inch mark inside a text in double quotes, a feet mark
inside one in single quotes, and a length without quotes. A quote is taken to open a text where a value may begin,
and to close it where the value may end: before a comma or bracket, a comment, or the end of the line.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

_PART = r"""(?:[A-Za-z0-9_-]+|"(?:\\.|[^"\\])*"|'[^']*')"""
DOTTED_KEY = rf"{_PART}(?:[ \t]*\.[ \t]*{_PART})*"
_INLINE_KEY = re.compile(rf"{DOTTED_KEY}[ \t]*=")
_ENDS_INSIDE = r"(?=[ \t]*(?:[,\]}#]|$))"
_ENDS_ALONE = r"(?=[ \t]*(?:#|$))"
_CURLY = "“”„‟«»‘’‚‛‹›″′`´"
_BARE_UNIT = r"(?:'|\"|′|″|’|”|ft|feet|in|inch|m|cm|mm|yd|ftUS)"

_SCALAR = re.compile(
    r"true|false|[+-]?(?:inf|nan)|0x[0-9A-Fa-f_]+|0o[0-7_]+|0b[01_]+"
    r"|[+-]?(?:0|[1-9](?:_?[0-9])*)(?:\.[0-9](?:_?[0-9])*)?(?:[eE][+-]?[0-9](?:_?[0-9])*)?"
    r"|[0-9]{4}-[0-9]{2}-[0-9]{2}(?:[Tt ][0-9:.]+(?:[Zz]|[+-][0-9:]+)?)?|[0-9]{2}:[0-9]{2}:[0-9.]+"
)
_ODD_NUMBER = re.compile(r"([+-]?)(0*)([0-9]*)(\.?)([0-9]*)")
_COMMA_NUMBER = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)+")
_LENGTH = re.compile(rf"-?[0-9.][0-9. /-]*{_BARE_UNIT}.*|-?[0-9]+(?:[ -][0-9]+)?/[0-9]+.*")
_BEARING = re.compile(r"(?i:[NS]) ?[0-9].*(?i:[EW])")
_SECONDS = re.compile(r"([0-9]+)[°d] ?([0-9]+)['′’] ?([0-9]+(?:\.[0-9]+)?)[\"″”]")
_LONE_SIGN = re.compile(r'(?<!\\)((?:\\\\)*)\\(?![btnfr"\\uU])')  # a \ that begins nothing known
_LOOSE = re.compile(r'(?<!\\)((?:\\\\)*)"')  # a double quote without a \ before it

IN_DOUBLE = "a quote or inch mark inside a text in double quotes ends the text too early"
IN_SINGLE = "a text in single quotes cannot hold a feet mark: it ends the text too early"
NO_CLOSE = "the closing quote is missing"
NO_OPEN = "the opening quote is missing"
LONE_SIGN = "in a text in double quotes \\ begins a special sign, and this one is none"
TYPOGRAPHIC = "a typographic quote does not open a text; only the plain ones \" and ' do"
LENGTH = "a length with marks, a fraction or a unit must stand in quotes"
BEARING = "a bearing must stand in quotes"
TEXT = "a text must stand in quotes"
EMPTY = "there is no value after the ="
ODD_NUMBER = "a number begins and ends with a digit, without zeros in front of it"
COMMA_NUMBER = "a comma in a number can be a decimal comma or can mark thousands"
CAPITAL = "true and false are written in small letters"
AFTER = "something stands behind the value"


@dataclass(frozen=True, slots=True)
class Fault:
    """A bad value: columns from 0, what is wrong, ways to write it instead with their reasons, the best one first."""

    start: int
    end: int
    message: str
    ways: tuple[tuple[str, str], ...] = ()


@dataclass
class ValueScan:
    """One line from `at` on, where a value or the rest of one stands.

    open: brackets that are open, with their line number and column; it is carried from line to line.
    multi: the delimiter of a text over several lines that begins on this line and does not end on it.
    """

    line: str
    at: int
    number: int
    open: list[tuple[str, int, int]]
    multi: str = ""
    faults: list[Fault] = field(default_factory=list)
    end: int = 0  # where the comment begins, or the line ends
    values: int = 0  # values outside brackets

    def run(self) -> ValueScan:
        """Look at the whole line."""
        continued = bool(self.open)
        while self.at < len(self.line) and self.line[self.at] != "#" and not self.multi:
            self._step()
        self.end = min(self.at, len(self.line)) if not self.multi else len(self.line)
        if not self.values and not continued and not self.faults:
            self.faults.append(Fault(max(0, len(self.line[: self.end].rstrip()) - 1), self.end, EMPTY))
        return self

    def _step(self) -> None:
        sign = self.line[self.at]
        inside = bool(self.open)
        if sign in " \t" or (sign == "," and inside):
            self.at += 1
        elif sign in "[{" and (inside or not self.values):
            self.values += not inside
            self.open.append((sign, self.number, self.at))
            self.at += 1
        elif sign in "]}" and inside:
            self.open.pop()
            self.at += 1
        elif inside and self.open[-1][0] == "{" and (key := _INLINE_KEY.match(self.line, self.at)):
            self.at = key.end()
        elif not inside and self.values:
            self._fault(len(self.line[: self._comment()].rstrip()), AFTER)
        else:
            self.values += not inside
            self._piece(sign)

    def _fault(self, end: int, message: str, *ways: tuple[str, str]) -> None:
        self.faults.append(Fault(self.at, end, message, ways))
        self.at = max(end, self.at + 1)

    def _comment(self) -> int:
        found = self.line.find("#", self.at)
        return found if found >= 0 else len(self.line)

    def _piece(self, sign: str) -> None:
        if self.line.startswith(('"""', "'''"), self.at):
            self._several_lines()
        elif sign == '"':
            self._double()
        elif sign == "'":
            self._single()
        elif sign in _CURLY:
            self._curly()
        else:
            self._bare()

    def _several_lines(self) -> None:
        delimiter = self.line[self.at : self.at + 3]
        body = r"(?:\\.|[^\\])*?" if delimiter == '"""' else ".*?"
        found = re.compile(f"{delimiter}{body}{delimiter[0]}{{3,5}}").match(self.line, self.at)
        self.multi = "" if found else delimiter
        self.at = found.end() if found else len(self.line)

    def _closed(self, pattern: str) -> int | None:
        """Where a text ends that begins here, if its end can be told."""
        ends = _ENDS_INSIDE if self.open else _ENDS_ALONE
        found = re.compile(pattern + ends).match(self.line, self.at)
        return found.end() if found else None

    def _double(self) -> None:
        end = self._closed(r'"(?:\\.|[^\\])*?"')
        if end is None:
            self._unclosed()
            return
        raw = self.line[self.at : end]
        inner = raw[1:-1]
        if self.open and re.search(r',[ \t]*"', inner):
            self._fault(end, NO_CLOSE, (re.sub(r'[ \t]*,[ \t]*"', '", "', raw), ""))
        elif _LOOSE.search(inner):
            self._fault(end, IN_DOUBLE, *_ways(_LOOSE.sub(r'\1\\"', inner)))
        elif _LONE_SIGN.search(inner):
            self._fault(end, LONE_SIGN, ('"' + _LONE_SIGN.sub(r"\g<1>\\\\", inner) + '"', ""))
        else:
            self.at = end

    def _single(self) -> None:
        end = self._closed("'.*?'")
        if end is None:
            self._unclosed()
        elif "'" in (inner := self.line[self.at + 1 : end - 1]):
            self._fault(end, IN_SINGLE, *_ways(_escaped(inner)))
        else:
            self.at = end

    def _unclosed(self) -> None:
        end = self._bare_end()
        inner = self.line[self.at + 1 : end]
        if self.line[self.at] == '"' and _LOOSE.search(inner):
            self._fault(end, AFTER)
            return
        escaped = _LOOSE.sub(r'\1\\"', inner) if self.line[self.at] == '"' else _escaped(inner)
        self._fault(end, NO_CLOSE, *_ways(escaped))

    def _curly(self) -> None:
        end = self._closed(f".+?[{_CURLY}\"']") or self._bare_end()
        inner = self.line[self.at : end].strip(_CURLY + "\"'")
        self._fault(end, TYPOGRAPHIC, *_ways(_escaped(inner)))

    def _bare_end(self) -> int:
        found = re.compile(r"[^#,\]}]*" if self.open else r"[^#]*").match(self.line, self.at)
        end = found.end() if found else len(self.line)
        return max(self.at + 1, len(self.line[:end].rstrip()))

    def _bare(self) -> None:
        end = self._bare_end()
        text = self.line[self.at : end]
        if _SCALAR.fullmatch(text):
            self.at = end
        elif text.lower() in ("true", "false"):
            self._fault(end, CAPITAL, (text.lower(), ""))
        elif (odd := _ODD_NUMBER.fullmatch(text)) and (odd[2] or odd[3] or odd[5]):
            sign, _, whole, point, part = odd.groups()
            self._fault(end, ODD_NUMBER, (f"{sign}{whole or 0}{point}{part or '0' * bool(point)}", ""))
        elif _COMMA_NUMBER.fullmatch(text):
            self._fault(end, COMMA_NUMBER)
        else:
            self._fault(end, *_unquoted(text))


def _unquoted(text: str) -> tuple[str, *tuple[tuple[str, str], ...]]:
    """What a value without quotes is, and how to write it."""
    if text.endswith('"') and text.count('"') == 1 and not re.search(r"[0-9]\"$", text):
        return NO_OPEN, *_ways(text[:-1])
    if re.fullmatch(r"-?(?:[0-9]+[ -])?[0-9]+/[0-9]+", text):
        return LENGTH, (f'"{text} in"', "or another unit")
    kind = LENGTH if _LENGTH.fullmatch(text) else BEARING if _BEARING.fullmatch(text) else TEXT
    return kind, *_ways(_escaped(text))


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')


def _ways(escaped: str) -> tuple[tuple[str, str], ...]:
    """A text in double quotes, in one or two ways. escaped: as it stands between the quotes."""
    careful = f'"{escaped}"'
    plain = escaped.replace('\\"', '"')
    if plain == escaped:
        return ((careful, ""),)
    with_sign = (careful, "with \\ before a quote, the quote belongs to the text")
    if _SECONDS.search(plain):
        hyphens = _SECONDS.sub(r"\1-\2-\3", plain)
        return (f'"{hyphens}"', "degrees, minutes and seconds with hyphens"), with_sign
    if re.fullmatch(r".*[0-9]' ?-? ?[0-9][^\"]*\"", plain):
        return (f'"{plain[:-1]}"', "after feet the inch mark may be left off"), with_sign
    if re.fullmatch(r"[0-9./ -]+\"", plain):
        return (f'"{plain[:-1]} in"', "inches as a word"), with_sign
    return (with_sign,)
