"""Which names a crowded picture shows: by a rule that it states, with the ends of every side."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.drawing.marks import SymbolMark
from staking.drawing.paper import Spot, box
from staking.drawing.thinning import MANY, Chosen, choices
from staking.survey.points import Point

PAPER = (300.0, 300.0)


def row(count: int, layer: str = "OFFSET", side: str = "") -> list[SymbolMark]:
    """Stakes in a row."""
    return [SymbolMark(layer, Point(n, 0), f"{layer} {side} {n}", side=side) for n in range(count)]


def chosen(points: list[SymbolMark], length: float = 10.0) -> list[Chosen]:
    """The choices where every name is so long [points] and the points lie along the paper."""
    step = PAPER[0] / max(len(points), 1)
    areas = [box(Spot(step * n, 150), length / 2, 4) for n in range(len(points))]
    return list(choices(points, areas, PAPER))


def names(one: Chosen) -> list[str]:
    """The names that are shown."""
    return [point.label for point in one.points if point.label]


@pytest.mark.parametrize("count", [0, 1, MANY])
def test_few_names_are_all_shown(count: int) -> None:
    """There is one choice and nothing to say about it, however long the names are."""
    points = row(count)
    assert chosen(points, 200.0) == [Chosen(tuple(points))]


def test_every_second_then_fifth_then_tenth_is_named() -> None:
    """The first is named, every so many after it, and the last."""
    points = row(48)
    shown = {one.note.split()[1]: names(one) for one in chosen(points) if one.note}
    for word, step in (("second", 2), ("fifth", 5), ("tenth", 10)):
        assert shown[word] == [*(point.label for point in points[::step]), *([] if 47 % step == 0 else ["OFFSET  47"])]


def test_the_ends_of_each_side_are_named() -> None:
    """As long as anything is left out along the sides, both ends of every side keep their names."""
    points = [*row(40, side="1"), *row(40, side="2")]
    by_side = [one for one in chosen(points) if "each side" in one.note]
    assert len(by_side) > 2
    for one in by_side:
        assert {points[n].label for n in (0, 39, 40, 79)} <= set(names(one))


def test_where_sides_are_too_many_all_are_one_row() -> None:
    """A hundred sides of two stakes each: the ends of the sides alone would be all of them."""
    points = [point for n in range(100) for point in row(2, side=str(n))]
    first = chosen(points)[0]
    assert "each side" not in first.note
    assert len(names(first)) < 100


def test_a_layer_of_few_names_keeps_them() -> None:
    """Four given points are named beside hundreds of stakes, and so are marks of another kind in the same layer."""
    feet = [replace(point, shape="foot") for point in row(4)]
    for one in chosen([*row(300), *row(4, "GIVEN"), *feet]):
        assert one.points[300:] == (*row(4, "GIVEN"), *feet)


@pytest.mark.parametrize(
    ("layers", "noun"),
    [(["CORNER"], "corner"), (["OFFSET", "BOARD"], "stake"), (["GIVEN"], "point"), (["CORNER", "BOARD"], "point")],
)
def test_the_rule_says_what_is_named(layers: list[str], noun: str) -> None:
    """Corners, stakes or points, whichever were too many."""
    last = chosen([point for layer in layers for point in row(100, layer)])[-1]
    assert f" {noun} is named, and the first and the last; all are in the tables" in last.note


@given(st.integers(0, 1500), st.floats(1, 80))
def test_each_choice_shows_fewer(count: int, length: float) -> None:
    """The names become fewer from choice to choice, all points stay, and the last choice can be read."""
    found = chosen(row(count), length)
    assert all(one.names > other.names for one, other in pairwise(found))
    assert all(len(one.points) == count for one in found)
    assert found[-1].names <= MANY
