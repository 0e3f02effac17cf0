"""Are names in a site file held against one another?"""

from __future__ import annotations

from typing import Any

import pytest

from staking.sitefile.names import check_names, texts
from staking.sitefile.places import Places

LOT = {"corners": ["A", "B", "C"], "sides": ["front", "east", "west"]}


def said(data: dict[str, Any], points: tuple[str, ...] | None = ("A", "B", "C")) -> list[str]:
    """What is said of the names in data, with the remedies."""
    found = check_names(data, points, Places("site.toml", ""))
    return [f"{each.place.key if each.place else ''}: {each.message}; {each.remedy}" for each in found]


def parallel(name: str, to: str) -> dict[str, str]:
    """A line that needs another one."""
    return {"kind": "parallel", "name": name, "to": to, "toward": "A"}


def test_names_that_fit_are_not_mentioned() -> None:
    """A lot, its sides, and a line beside one of them."""
    assert said({"lot": LOT, "setbacks": {"front": 5}, "references": [parallel("wall", "lot front")]}) == []


def test_texts_are_found_by_their_pattern() -> None:
    """Every entry of a list has its number; what is of another type is passed over."""
    assert list(texts({"a": [{"b": "x"}, 5, {"b": 6}]}, ("a", "*", "b"))) == [(("a", 0, "b"), "x")]


@pytest.mark.parametrize(
    "data",
    [
        {"keep_clear": [{"around": "Q"}]},
        {"keep_clear": [{"points": ["A", "Q"]}]},
        {"references": [{"through": ["A", "Q"]}]},
        {"references": [{"toward": "Q"}]},
        {"placement": {"at": "Q"}},
        {"placement": {"toward": "Q"}},
    ],
)
def test_every_point_that_is_named_must_be_given(data: dict[str, Any]) -> None:
    """Wherever a point is named."""
    (line,) = said(data)
    assert 'there is no point "Q"' in line


@pytest.mark.parametrize(("named", "given"), [("7", "007"), ("p1", "P1"), ("P1 ", "P1"), ("pine1", "pin1")])
def test_names_like_one_another_are_offered(named: str, given: str) -> None:
    """Zeros in front, case, blanks and slips of a letter."""
    (line,) = said({"placement": {"at": named}}, (given, "zzz"))
    assert line.endswith(f'did you mean "{given}"?')


def test_points_are_not_missed_where_lists_could_not_be_read() -> None:
    """Nobody knows which points the unreadable list holds."""
    assert said({"placement": {"at": "Q"}}, None) == []


@pytest.mark.parametrize("key", ["reference", "from"])
def test_lines_are_lot_sides_and_references(key: str) -> None:
    """A bare side is not yet a line."""
    (line,) = said({"lot": LOT, "placement": {key: "front"}})
    assert line == f'placement.{key}: there is no line "front"; write "lot front"'


def test_a_line_is_wanted_though_there_is_none() -> None:
    """Without a lot and references every line is unknown."""
    (line,) = said({"placement": {"between": ["curb"]}})
    assert line.startswith('placement.between#1: there is no line "curb"; declare it')


def test_sides_are_not_missed_where_the_lot_is_wrong() -> None:
    """A lot that cannot be read has a finding of its own."""
    assert said({"lot": 5, "setbacks": {"front": 1}, "placement": {"from": "lot east"}}) == []


def test_a_strip_needs_a_side() -> None:
    """Along a side of the lot, without "lot" before it."""
    assert said({"keep_clear": [{"along": "rear"}]})[0].startswith("keep_clear#1.along: there is no lot")
    assert said({"lot": LOT, "keep_clear": [{"along": "lot east"}]})[0].endswith('write "east"')


@pytest.mark.parametrize(
    "references", [[("a", "a")], [("a", "b"), ("b", "a")], [("x", "a"), ("a", "b"), ("b", "c"), ("c", "a")]]
)
def test_a_ring_of_parallels_is_told_once(references: list[tuple[str, str]]) -> None:
    """Lines that wait for one another, and the way round; a line that only waits for the ring is not in it."""
    lines = said({"references": [parallel(*each) for each in references]})
    assert len(lines) == 1
    assert '"x"' not in lines[0]


def test_parts_have_names_of_their_own() -> None:
    """Two ramps of one name could not be told apart on the sheet."""
    (line,) = said({"slab": {"parts": [{"name": "ramp"}, {"name": "ramp"}]}})
    assert 'the part "ramp" stands twice' in line
