"""Does every key of a TOML file have its right place?"""

from __future__ import annotations

import json
import random
import tomllib
from collections.abc import Iterator
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from staking.sitefile.slips import find_slips
from staking.sitefile.toml_lines import Path, Position, key_positions

NAMES = st.text("abAB01-_", min_size=1, max_size=4) | st.text("a .#=[]\"'\\é\t", max_size=5)
TEXTS = st.text("ab #=,[]{}'\"\\é\n", max_size=12)
SCALARS = st.integers(-99, 99) | st.booleans() | TEXTS | st.floats(-9, 9).map(lambda value: round(value, 3))


def tables(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    """Tables of such values."""
    return st.dictionaries(NAMES, inner, max_size=3)


VALUES = st.recursive(SCALARS, lambda inner: st.lists(inner, max_size=3) | tables(inner), max_leaves=8)


class Writer:
    """Writes data as TOML in one of the many ways that TOML has, at random."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.end = chance.choice(["\n", "\r\n"])

    def table(self, data: dict[str, Any], path: tuple[str, ...] = ()) -> str:
        """A table, its statements first."""
        head, below = [], []
        for name, value in data.items():
            whole = isinstance(value, list) and value and all(isinstance(each, dict) for each in value)
            if isinstance(value, dict) and self.chance.random() < 0.6:
                below.append(self.header((*path, name), "[", "]") + self.table(value, (*path, name)))
            elif whole and self.chance.random() < 0.6:
                rows = [self.header((*path, name), "[[", "]]") + self.table(each, (*path, name)) for each in value]
                below.append("".join(rows))
            else:
                head.append(self.statement(name, value))
        return "".join([*head, *below])

    def header(self, path: tuple[str, ...], opening: str, closing: str) -> str:
        """The line that begins a table."""
        return (
            f"{self.blank()}{opening}{self.blank()}{' . '.join(map(self.key, path))}{closing}{self.comment()}{self.end}"
        )

    def statement(self, name: str, value: Any) -> str:
        """A key and its value."""
        key = self.key(name)
        while isinstance(value, dict) and len(value) == 1 and self.chance.random() < 0.5:
            ((name, value),) = value.items()
            key = f"{key}{self.blank()}.{self.blank()}{self.key(name)}"
        return f"{self.blank()}{key}{self.blank()}={self.blank()}{self.value(value)}{self.comment()}{self.end}"

    def key(self, name: str) -> str:
        """A key, bare or in quotes."""
        bare = name.isascii() and name.replace("-", "a").replace("_", "a").isalnum()
        if bare and self.chance.random() < 0.7:
            return name
        literal = "'" not in name and self.chance.random() < 0.5
        return f"'{name}'" if literal else json.dumps(name, ensure_ascii=False)

    def value(self, value: Any) -> str:
        """Any value."""
        if isinstance(value, dict):
            return "{" + ", ".join(f"{self.key(k)} = {self.value(v)}" for k, v in value.items()) + "}"
        if isinstance(value, list):
            gap = self.chance.choice(["", " ", f"{self.comment()}{self.end}"])
            return f"[{gap}" + "".join(f"{self.value(each)}{gap},{gap}" for each in value) + "]"
        return self.text(value) if isinstance(value, str) else json.dumps(value)

    def text(self, value: str) -> str:
        """A text in one of its four ways."""
        ways = [json.dumps(value, ensure_ascii=False), '"""' + json.dumps(value, ensure_ascii=False)[1:-1] + '"""']
        if "'" not in value and "\n" not in value:
            ways.append(f"'{value}'")
        if "'" not in value:
            ways.append("'''" + self.end + value.replace("\n", self.end) + "'''")
        return self.chance.choice(ways)

    def blank(self) -> str:
        """What may stand between signs."""
        return self.chance.choice(["", " ", "\t "])

    def comment(self) -> str:
        """What may stand at the end of a line."""
        return self.chance.choice(["", ' # a = ["b", \'c'])


def leaves(data: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every path of the data with its value."""
    yield path, data
    items: Any = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        yield from leaves(value, (*path, key))


def source(text: str, line: int, column: int, width: int | None = None) -> str:
    """The source from a place on, or so many characters of it."""
    rest = "\n".join(text.split("\n")[line - 1 :])[column - 1 :]
    return rest if width is None else rest[:width]


def holds(text: str, position: Position, value: Any) -> bool:
    """Whether the value stands at the place."""
    if isinstance(value, (dict, list)):
        return True
    rest = source(text, position.value_line, position.value_column)
    if isinstance(value, str):
        opening = rest[:3] if rest[:3] in ('"""', "'''") else rest[:1]
        body = rest[: rest.index(opening, len(opening))] if opening == "'" else rest
        return opening in ("'", '"', "'''", '"""') and (opening != "'" or body[1:] == value)
    return rest.startswith(json.dumps(value))


@given(tables(VALUES), st.randoms(use_true_random=False))
def test_every_path_has_a_place_where_it_stands(data: dict[str, Any], chance: random.Random) -> None:
    """Whatever way data is written, each of its paths is found, with its key and value at the place told."""
    text = Writer(chance).table(data)
    positions = key_positions(text)
    for path, value in leaves(tomllib.loads(text)):
        if path:
            assert holds(text, positions[path], value)
            assert isinstance(path[-1], int) or named(text, positions[path]) == path[-1]
    assert set(positions) == {path for path, _ in leaves(tomllib.loads(text)) if path}


def named(text: str, position: Position) -> str:
    """The key at a place."""
    key = source(text, position.line, position.column, position.key_width)
    return str(tomllib.loads(f"name = {key}")["name"]) if key[0] in "\"'" else key


@given(tables(VALUES), st.randoms(use_true_random=False))
def test_sound_texts_have_no_slips(data: dict[str, Any], chance: random.Random) -> None:
    """The search for slips of the pen finds none where TOML finds none."""
    text = Writer(chance).table(data)
    tomllib.loads(text)
    assert find_slips(text) == ()


def test_headers_and_entries_are_told_apart() -> None:
    """Each [[entry]] has its number, and a table below an entry belongs to the last one."""
    found = key_positions("[[stakes]]\nkind = 'corners'\n[[stakes]]\n[stakes.more]\nx = 1\n")
    assert found["stakes", 0, "kind"] == Position(2, 1, 4, 2, 8, 9)
    assert found["stakes", 1, "more", "x"].line == 5


def test_an_explicit_table_is_found_at_its_header() -> None:
    """A table that was first only implied has the place of its own header."""
    assert key_positions("[slab.parts]\n[slab]\n")["slab",].line == 2


def test_deep_lists_cost_no_recursion() -> None:
    """Lists inside lists are followed with a list of open brackets, not by calls within calls."""
    assert len(key_positions("x = " + "[" * 3000 + "]" * 3000)) == 3000
