"""Where in a site file does a mistake stand, and how is it said?"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from staking.findings import Finding, Place, Severity
from staking.sitefile.toml_lines import Path, Position, key_positions

_LONGEST = 160  # characters of a source line that are shown
_SHORT_POINT: Mapping[str | int, int] = {"north": 0, "east": 1, "elevation": 2}


def plain(text: object, longest: int = 60) -> str:
    r"""Text of the user's on one line: cut where it is long, and nothing invisible in it.

    >>> print(plain("one\ntwo"))
    one\ntwo
    """
    whole = str(text[: longest + 1] if isinstance(text, str) else text)
    seen = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in whole)
    return seen if len(seen) <= longest else seen[: longest - 3] + "..."


def key_words(path: Path) -> str:
    """A path as people read it: a dot before each key, # before the number of an entry, counted from 1.

    >>> key_words(("stakes", 1, "distance"))
    'stakes#2.distance'
    """
    words = "".join(f"#{part + 1}" if isinstance(part, int) else f".{plain(part)}" for part in path)
    return words.removeprefix(".")


def mistake(code: str, message: str, place: Place, remedy: str = "") -> Finding:
    """A finding of the gravest kind: what the file says cannot be used."""
    return Finding(code, Severity.STOP, message, place, remedy)


class Places:
    """The places of one file's keys. The file is scanned when somebody asks for the first of them.

    source: the text that is shown where the one scanned is another, with the same lines.
    """

    def __init__(self, file: str, text: str, source: str | None = None) -> None:
        self.file = file
        self._text = text
        self._source = text if source is None else source

    @cached_property
    def _positions(self) -> Mapping[Path, Position]:
        return key_positions(self._text)

    @cached_property
    def _lines(self) -> list[str]:
        return self._source.split("\n")

    def at(self, line: int, column: int = 0, *, key: str = "", width: int = 1) -> Place:
        """A place by its line and column, counted from 1, with the line as it is written."""
        source = marked_line(self._lines[line - 1], column + width)
        return Place(self.file, line, column, key, source, width)

    def whole(self, key: str = "") -> Place:
        """The file as a whole."""
        return Place(self.file, key=key)

    def key(self, path: Path) -> Place:
        """Where a key stands, for what is wrong with the key itself."""
        position = self._nearest(path)
        if position is None:
            return self.whole(key_words(path))
        return self.at(position.line, position.column, key=key_words(path), width=position.key_width)

    def value(self, path: Path) -> Place:
        """Where the value of a key stands; for a table its header; where there is no such key, the nearest table."""
        position = self._nearest(path)
        if position is None:
            return self.whole(key_words(path))
        return self.at(position.value_line, position.value_column, key=key_words(path), width=position.width)

    def locate(self, path: Path) -> Place:
        """As `value`: for callers that keep one function."""
        return self.value(path)

    def _nearest(self, path: Path) -> Position | None:
        while path:
            if path in self._positions:
                return self._positions[path]
            if len(path) == 3 and path[0] == "points":  # the short form of a point is an array
                short = (*path[:2], _SHORT_POINT.get(path[2], 0))
                if short in self._positions:
                    return self._positions[short]
            path = path[:-1]
        return None


def marked_line(line: str, needed: int = 0) -> str:
    """A source line as it can be printed, character under character; empty where what is meant lies too far right."""
    if needed > _LONGEST + 40:
        return ""
    shown = line.rstrip("\r").replace("\t", " ")[: _LONGEST + 40]
    return shown if shown.isprintable() else "".join(c if c.isprintable() else "�" for c in shown)
