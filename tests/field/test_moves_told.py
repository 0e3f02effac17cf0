"""What a crew is told to move: followed as it is written, everything is in."""

from __future__ import annotations

import random
import re
from fractions import Fraction

import pytest
from making import layout_of
from measuring import HOW, INCH, as_designed, carried, codes, off, turned

from staking import Layout, MeasuredPoint, compare
from staking.survey.points import Vector, vector

# returns of 2'-6 have a smaller tolerance than the long sides, and their diagonals a still smaller one
DECK = """
[site]
name = "Deck"
unit = "ft"
[points]
F1 = [0, 0]
F2 = [71, 6]
H1 = [20, 14]
H2 = [17, 44]
Y = [60, 30]
[[references]]
name = "fence"
through = ["F1", "F2"]
[[references]]
name = "house wall"
through = ["H1", "H2"]
[slab]
kind = "traced"
steps = ["right 8'", "toward 2'-6", "right 12'", "away 2'-6", "right 10'", "away 16'", "left 30'", "toward 16'"]
[placement]
kind = "from_lines"
side = 7
reference = "house wall"
distance = 4
corner = 7
from = "fence"
clear = 9.5
toward = "Y"
[[stakes]]
kind = "corners"
"""


@pytest.fixture(scope="module")
def deck() -> Layout:
    """Eight corners, two of them inside corners."""
    return layout_of(DECK)


def _set(layout: Layout, drawn: random.Random, *, turn: float, slid: float) -> list[MeasuredPoint]:
    """Corners of a form that is turned [deg], or whose corners are slid by so much at its far end [m]; two pins."""
    right, first = layout.slab.form.pose.right, layout.slab.form.corners[0]
    points = carried(as_designed(layout), turned(first, turn))
    ways = [slid * right.left().dot(vector(first, each.at)) / 4.9 for each in as_designed(layout)]
    points = [off(p, right.east * way, right.north * way) for p, way in zip(points, ways, strict=True)]
    points = [off(p, drawn.gauss(0, 0.0005), drawn.gauss(0, 0.0005)) for p in points]
    return [*points, *as_designed(layout, "F1", "H2")]


def _followed(points: list[MeasuredPoint], told: str, right: Vector) -> list[MeasuredPoint]:
    steps = dict(re.findall(r"(\d{3}) ((?:\S+ in to the \w+(?:, )?)+)", told))
    assert steps
    return [_moved(each, steps.get(each.name, ""), right) for each in points]


def _moved(point: MeasuredPoint, words: str, right: Vector) -> MeasuredPoint:
    ways = {"right": right, "left": right.reversed(), "back": right.left(), "front": right.right()}
    for inches, way in re.findall(r"(\S+) in to the (\w+)", words):
        size = float(sum(Fraction(part) for part in inches.split("-"))) * INCH
        point = off(point, ways[way].east * size, ways[way].north * size)
    return point


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize(("turn", "slid"), [(0.1, 0.0), (-0.25, 0.0), (0.0, 0.03), (0.0, -0.02)])
def test_followed_as_told_everything_is_in(deck: Layout, turn: float, slid: float, seed: int) -> None:
    """A form turned or out of square: corners with a smaller figure, short sides and their diagonals too."""
    points = _set(deck, random.Random(seed), turn=turn, slid=slid)  # noqa: S311 - the same sets each time
    found = compare(deck, points, HOW)
    assert codes(found) == ["measured-placed" if turn else "measured-out-of-shape"]
    after = compare(deck, _followed(points, found.findings[0].remedy, deck.slab.form.pose.right), HOW)
    assert codes(after) == []
    assert {line.answer for line in after.verdict} == {"within"}
