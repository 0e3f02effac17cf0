"""Rectangles that touch, turned and shifted: areas that are known beforehand, whatever the last digits are."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from staking.survey.overlays import ALIKE, shared, united, without

WIDE, DEEP = 11.0, 7.3
TURNS = 4000  # of plain overlays about one in two thousand takes one neighbour for the other

# West, south, east and north of what touches the sides of WIDE by DEEP from the origin.
TOUCHING = {
    "beside a side": (2.1, -3.0, 6.4, 0.0),
    "beside a whole side": (0.0, -3.0, WIDE, 0.0),
    "along a side within": (2.1, 0.0, 6.4, 2.0),
    "along a whole side within": (0.0, 0.0, WIDE, 2.0),
    "in a corner": (0.0, 0.0, 3.0, 2.0),
    "the same": (0.0, 0.0, WIDE, DEEP),
}

Box = tuple[float, float, float, float]


def _set_down(box: Box, angle: float, step: tuple[float, float], digits: random.Random) -> shapely.Polygon:
    """Turned, shifted, and every coordinate left as it is or moved by one last digit."""
    west, south, east, north = box
    cosine, sine = math.cos(angle), math.sin(angle)
    corners = [(west, south), (east, south), (east, north), (west, north)]
    places = [(x * cosine - y * sine + step[0], x * sine + y * cosine + step[1]) for x, y in corners]
    return shapely.Polygon(
        [tuple(math.nextafter(z, digits.choice((z, -math.inf, math.inf))) for z in at) for at in places]
    )


@pytest.mark.parametrize("name", TOUCHING)
def test_shapes_that_touch_share_what_they_share(name: str) -> None:
    """Thousands of turns: shared, left and together, to a millionth of a square metre."""
    west, south, east, north = box = TOUCHING[name]
    own, whole = (east - west) * (north - south), WIDE * DEEP
    common = own if south >= 0 else 0.0
    drawn = random.Random(5)  # noqa: S311 - the same turns each time
    for _ in range(TURNS):
        angle, step = drawn.uniform(0, 7), (drawn.uniform(-100, 100), drawn.uniform(-100, 100))
        one, other = (_set_down(each, angle, step, drawn) for each in ((0.0, 0.0, WIDE, DEEP), box))
        found = [shared(one, other), without(one, other), without(other, one), united([one, other])]
        expected = [common, whole - common, own - common, whole + own - common]
        assert [each.area for each in found] == pytest.approx(expected, abs=1e-6)


cells = st.tuples(st.integers(0, 5), st.integers(0, 5), st.integers(1, 6), st.integers(1, 6))


@given(st.lists(cells, min_size=4, max_size=4), st.floats(0, 7), st.integers(0, 1000))
@settings(max_examples=200, deadline=None)
def test_one_overlay_after_another(rectangles: list[tuple[int, int, int, int]], angle: float, seed: int) -> None:
    """Rectangles on whole metres: their squares counted one by one are the areas of what was made of them."""
    drawn = random.Random(seed)  # noqa: S311 - digits, no secrets
    step = (drawn.uniform(-100, 100), drawn.uniform(-100, 100))
    a, b, c, d = ({(x + i, y + j) for i in range(w) for j in range(h)} for x, y, w, h in rectangles)
    boxes = ((float(x), float(y), float(x + w), float(y + h)) for x, y, w, h in rectangles)
    one, two, three, four = (_set_down(box, angle, step, drawn) for box in boxes)
    both = united([one, two])
    left = without(both, three)
    assert left.area == pytest.approx(len((a | b) - c), abs=1e-6)
    assert shared(left, four).area == pytest.approx(len(((a | b) - c) & d), abs=1e-6)
    assert without(four, left).area == pytest.approx(len(d - ((a | b) - c)), abs=1e-6)


def test_sizes_stay_exact() -> None:
    """No corner moves that is farther from the other shape than ALIKE; shapes that cross are as shapely has them."""
    one, other = shapely.box(0.1, 0.1, 0.1 + math.pi, 2.2), shapely.box(1 / 3, -1.0, 2 / 3, 2.2 + 2 * ALIKE)
    assert shared(one, other).equals(one.intersection(other))
    assert without(one, other).equals(one.difference(other))


def test_nothing_and_one() -> None:
    """Nothing together is nothing; one shape is itself; what is empty takes nothing and gives no heights."""
    box = shapely.box(0, 0, 1, 1)
    assert united([]).is_empty
    assert united([box]) is box
    assert without(box, shapely.Polygon()).equals(box)
    assert not without(box, shapely.Polygon()).has_z
    assert shared(box, shapely.Polygon()).is_empty
