"""Moving, turning and renumbering a whole site changes none of its distances."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import RandomSite, Turn, layout_of, random_sites, turns

from staking import Layout

SIZE = 70.0  # metres; the reach of a random site
HELD = 1e-9 * SIZE + 2e-9 * 5  # a billionth of the size, and what a coordinate of 5,000,000 m can hold


def _lengths(layout: Layout) -> list[float]:
    """Everything that a tape could read, and the areas, in the order they are given."""
    values = [side.length for side in layout.sides] + [d.length for d in layout.diagonals]
    values += [tie.distance for tie in layout.ties] + [tie.along for tie in layout.ties]
    values += [margin.distance for margin in layout.margins]
    values += [length for tie in layout.double_ties for length in (tie.first_distance, tie.second_distance)]
    return values


@given(random_sites, turns)
@settings(max_examples=40, deadline=None)
def test_turned_and_moved(site: RandomSite, turn: Turn) -> None:
    """The same site elsewhere on the grid and turned has the same lengths, margins and areas."""
    here, there = layout_of(site.text()), layout_of(site.text(turn))
    assert _lengths(there) == pytest.approx(_lengths(here), abs=HELD)
    assert there.slab.area == pytest.approx(here.slab.area, rel=1e-9)
    assert here.lot is not None
    assert there.lot is not None
    assert there.lot.area == pytest.approx(here.lot.area, rel=1e-9)


@given(random_sites, st.permutations(["L1", "L2", "L3", "L4"]))
@settings(max_examples=20, deadline=None)
def test_order_of_points_in_the_file(site: RandomSite, order: list[str]) -> None:
    """The order of the entries of [points] changes nothing but the order in which points are written."""
    text = site.text()
    lines = {name: next(line for line in text.splitlines() if line.startswith(f"{name} =")) for name in order}
    block = "\n".join(lines[name] for name in sorted(order))
    other = layout_of(text.replace(block, "\n".join(lines[name] for name in order)))
    here = layout_of(text)
    assert [stake.at for stake in other.stakes] == [stake.at for stake in here.stakes]
    assert _lengths(other) == _lengths(here)


@given(random_sites, st.integers(1, 3), st.booleans())
@settings(max_examples=25, deadline=None)
def test_where_the_lot_begins_and_which_way_it_runs(site: RandomSite, start: int, reverse: bool) -> None:
    """Naming the lot's corners from another one, or the other way round, changes no margin and no stake."""
    corners, sides = ["L1", "L2", "L3", "L4"], ["front", "right", "rear", "left"]
    turned, named = corners[start:] + corners[:start], sides[start:] + sides[:start]
    if reverse:
        turned, named = turned[::-1], named[-2::-1] + named[-1:]
    text = site.text()
    other = layout_of(
        text.replace(str(corners).replace("'", '"'), str(turned).replace("'", '"')).replace(
            str(sides).replace("'", '"'), str(named).replace("'", '"')
        )
    )
    here = layout_of(text)
    rooms = {m.of: m.distance for m in here.margins}
    assert {m.of: m.distance for m in other.margins} == pytest.approx(rooms, abs=1e-9)
    assert [(s.at.east, s.at.north) for s in other.stakes] == [
        pytest.approx((s.at.east, s.at.north), abs=1e-9) for s in here.stakes
    ]


def test_small_and_large_coordinates_give_the_same_numbers() -> None:
    """A slab near the origin and the same slab at six million print the same four decimals on the ground."""
    site = RandomSite(((0.0, 0.0), (40.0, 0.0), (40.0, 60.0), (0.0, 60.0)), 14.0, 12.0, 9.0, 7.0)
    here, there = layout_of(site.text()), layout_of(site.text(Turn(0.0, 6_000_000.0, 2_000_000.0)))
    assert [round(v, 9) for v in _lengths(here)] == [round(v, 9) for v in _lengths(there)]
