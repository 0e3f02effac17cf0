"""Which line and column of a TOML file holds which key?

The standard reader tells no positions once it has read a file. This scanner walks a text that it has accepted, so it
checks nothing: it only needs to know where strings, comments and brackets end.

    file      = { blank | "[" key "]" | "[[" key "]]" | key "=" value }
    key       = part { "." part }
    value     = string | "[" { value "," } "]" | "{" { key "=" value "," } "}" | anything else up to , ] } # or a blank
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

Path = tuple[str | int, ...]

_BLANKS = re.compile(r"[ \t]*")
_GAP = re.compile(r"(?:[ \t\r\n,]|#[^\n]*)*")  # what may stand between statements, and between values in brackets
_PART = re.compile(r"""[A-Za-z0-9_-]+|"(?:\\.|[^"\\\n])*"|'[^'\n]*'""")
_JOINT = re.compile(r"[ \t]*\.[ \t]*")
_SCALAR = re.compile(
    r'''"""(?:\\[\s\S]|[^\\])*?"{3,5}|\'\'\'[\s\S]*?'{3,5}|"(?:\\.|[^"\\\n])*"|'[^'\n]*\''''
    r"""|[0-9]{4}-[0-9]{2}-[0-9]{2}[ ][0-9][^\s,\]}#]*|[^\s,\]}#]+"""
)


@dataclass(frozen=True, slots=True)
class Position:
    """Where a key and its value begin, lines and columns counted from 1; widths end with the first line.

    An element of an array is its own key. The value of a table with a header is the name in the header.
    """

    line: int
    column: int
    key_width: int
    value_line: int
    value_column: int
    width: int


def key_positions(text: str) -> Mapping[Path, Position]:
    r"""The position of every table, key and array element of a text that tomllib reads.

    Tables that are only implied, as `a` in `a.b = 1`, have the place where they are first named.

    >>> key_positions("[slab]\nwidth = 5  # of the front").get(("slab", "width"))
    Position(line=2, column=1, key_width=5, value_line=2, value_column=9, width=1)
    """
    return MappingProxyType(_Scanner(text).scanned())


class _Scanner:
    """A cursor in the text, and the spans found so far: where a key and its value begin and end."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.keys: dict[Path, tuple[int, int]] = {}
        self.values: dict[Path, tuple[int, int]] = {}
        self.counts: dict[Path, int] = {}  # of the elements of arrays of tables
        self.starts = [0, *(found.end() for found in re.finditer("\n", text))]

    def scanned(self) -> dict[Path, Position]:
        table: Path = ()
        self._skip(_GAP)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._value(self._key_and_sign(table))
            self._skip(_GAP)
        return {path: self._position(path, key) for path, key in self.keys.items()}

    def _skip(self, pattern: re.Pattern[str]) -> int:
        """Step over what the pattern matches; where the cursor now is."""
        found = pattern.match(self.text, self.at)
        self.at = found.end() if found else self.at
        return self.at

    def _header(self) -> Path:
        twice = self.text.startswith("[[", self.at)
        self.at += 2 if twice else 1
        parts = self._parts()
        self.at += 2 if twice else 1
        path: Path = ()
        for number, (name, span) in enumerate(parts, start=1):
            path = (*path, name)
            if number < len(parts) or twice:
                self.keys.setdefault(path, span)
            if twice and number == len(parts):
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        self.keys[path] = parts[-1][1]
        return path

    def _parts(self) -> list[tuple[str, tuple[int, int]]]:
        """A dotted key: the name and the span of each of its parts, and the blanks around it."""
        parts = []
        while True:
            start = self._skip(_BLANKS)
            end = self._skip(_PART)
            parts.append((_name(self.text[start:end]), (start, end)))
            if self._skip(_JOINT) == end:
                self._skip(_BLANKS)
                return parts

    def _key_and_sign(self, table: Path) -> Path:
        for name, span in self._parts():
            table = (*table, name)
            self.keys.setdefault(table, span)
        self.at += 1  # the sign =
        self._skip(_BLANKS)
        return table

    def _value(self, path: Path) -> None:
        """One value with all that is inside it; open brackets wait in a list, so that depth costs no recursion."""
        waiting: list[tuple[Path, int]] = []
        while True:
            start = self.at
            self.keys.setdefault(path, (start, start))
            if self.text[start] in "[{":
                waiting.append((path, start))
                self.counts[path] = 0
                self.at += 1
            else:
                self.values[path] = (start, self._skip(_SCALAR))
            inner = self._next_inside(waiting)
            if inner is None:
                return
            path = inner

    def _next_inside(self, waiting: list[tuple[Path, int]]) -> Path | None:
        """Close the brackets that end here; the path of the next value inside the innermost that stays open."""
        while waiting:
            path, start = waiting[-1]
            if self.text[self._skip(_GAP)] in "]}":
                self.at += 1
                self.values[path] = (start, self.at)
                del self.counts[path]  # it is no array of tables
                waiting.pop()
            elif self.text[start] == "{":
                return self._key_and_sign(path)
            else:
                self.counts[path] += 1
                return (*path, self.counts[path] - 1)
        return None

    def _position(self, path: Path, key: tuple[int, int]) -> Position:
        value = self.values.get(path, key)
        if key[0] == key[1]:  # an element of an array
            key = value
        line, column = self._line_and_column(key[0])
        value_line, value_column = self._line_and_column(value[0])
        return Position(line, column, self._width(key), value_line, value_column, self._width(value))

    def _line_and_column(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self.starts, offset)
        return line, offset - self.starts[line - 1] + 1

    def _width(self, span: tuple[int, int]) -> int:
        first = self.text[slice(*span)].split("\n", 1)[0]
        return max(1, len(first.rstrip("\r")))


def _name(part: str) -> str:
    if part[0] == '"' and "\\" in part:
        return str(tomllib.loads(f"name = {part}")["name"])
    return part[1:-1] if part[0] in "\"'" else part
