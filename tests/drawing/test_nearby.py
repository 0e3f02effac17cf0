"""What lies near a place on paper is found, however much there is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.drawing.nearby import Nearby
from staking.drawing.paper import Box, Spot, box, near

spots = st.builds(Spot, st.floats(-200, 200), st.floats(-200, 200))
boxes = st.builds(box, spots, st.floats(0, 60), st.floats(0, 20))


@given(st.lists(boxes, max_size=90), boxes, st.floats(0, 5))
def test_the_grid_finds_what_a_look_at_each_finds(areas: list[Box], one: Box, gap: float) -> None:
    """Few or many, nothing near is missed and nothing far is told."""
    assert set(Nearby(areas).near(one, gap)) == set(near(one, areas, gap))


@pytest.mark.parametrize("count", [1, 39, 40, 41, 200])
def test_what_is_added_later_is_found_too(count: int) -> None:
    """The last one put in, and the first, whether or not they are sorted into squares by then."""
    held: Nearby[Box] = Nearby()
    areas = [box(Spot(10.0 * n, 0), 3, 3) for n in range(count)]
    for area in areas:
        held.add(area)
    assert all(set(held.near(area)) == {area} for area in (areas[0], areas[-1]))
