"""Concrete by volume: closed forms, nothing twice, and the same wherever the site lies."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, RandomSite, Turn, layout_of, random_sites, turns

from staking.layout.design import Piece
from staking.layout.quantities import counted_twice, loads_of
from staking.survey.points import Point, Vector
from staking.survey.surface import Plane

FOOT = 0.3048
ASKED = '[concrete]\nwaste = "5 %"\n'
FOOTING = '[[slab.footings]]\nname = "wall"\nwidth = 2\ntop = {top}\ndepth = 1\n'
EDGE = '[[slab.thickened]]\nname = "edge"\nwidth = 1\ndepth = 1.5\n'


def _feet(slab: str = "", more: str = "", thickness: float = 0.5) -> float:
    """Cubic feet of the 36 x 24 slab."""
    text = PLACED_RECTANGLE.replace("[placement]", f"thickness = {thickness}\n{slab}[placement]")
    takeoff = layout_of(f"{text}{ASKED}{more}").takeoff
    assert takeoff is not None
    return takeoff.volume / FOOT**3


def test_a_level_slab_needs_no_floor() -> None:
    """Length by width by thickness."""
    assert _feet() == pytest.approx(36 * 24 * 0.5)


def test_a_thickened_edge_is_a_ring_of_its_own() -> None:
    """The ring of one foot is 1.5 ft deep, the inside half a foot."""
    inside = 34 * 22
    assert _feet(EDGE) == pytest.approx(inside * 0.5 + (36 * 24 - inside) * 1.5)


def test_a_fall_changes_no_volume_where_the_underside_falls_too() -> None:
    """Area by mean thickness."""
    fall = '[floor]\nelevation = 100\nfall = "2 %"\ntoward = "front"\n'
    assert _feet(more=fall) == pytest.approx(36 * 24 * 0.5)


@given(st.floats(0.05, 2.0), st.floats(0.01, 2.0))
@settings(max_examples=15, deadline=None)
def test_thicker_by_so_much_is_area_by_so_much(thickness: float, more: float) -> None:
    """Raising the thickness adds area times the rise."""
    assert _feet(thickness=thickness + more) - _feet(thickness=thickness) == pytest.approx(36 * 24 * more)


def test_a_footing_below_the_slab_counts_whole() -> None:
    """A ring of 2 ft, 1 ft deep."""
    ring = 36 * 24 - 32 * 20
    assert _feet(FOOTING.format(top=2)) == pytest.approx(36 * 24 * 0.5 + ring)


def test_a_footing_that_reaches_into_the_slab_counts_once() -> None:
    """Its upper quarter foot is slab already."""
    ring = 36 * 24 - 32 * 20
    assert _feet(FOOTING.format(top=0.25)) == pytest.approx(36 * 24 * 0.5 + 0.75 * ring)


def test_footings_that_cross_count_once() -> None:
    """Two of the same size are one, in either order of a larger one."""
    one = FOOTING.format(top=2)
    other = one.replace('"wall"', '"second"').replace("width = 2", "width = 3")
    ring = 36 * 24 - 30 * 18
    both = [_feet(one + other), _feet(other + one)]
    assert both == pytest.approx([36 * 24 * 0.5 + ring] * 2)


def _piece(kind: str, size: float, top: Plane, bottom: Plane) -> Piece:
    return Piece(kind, "footing" if kind == "footing" else "floor", shapely.box(0, 0, size, size), top, bottom)


def _level(up: float) -> Plane:
    return Plane(Point(0.0, 0.0), up, Vector(0.0, 0.0))


def test_a_sloping_underside_is_cut_where_it_meets_the_footing() -> None:
    """An underside that rises 1 over 1 under a footing's top at half: a wedge, half of 0.5 by 0.5 by 1."""
    slope = Plane(Point(0.0, 0.0), 0.0, Vector(1.0, 0.0))
    slab = _piece("slab", 1.0, _level(3.0), slope)
    footing = _piece("footing", 1.0, _level(0.5), _level(-2.0))
    assert counted_twice([footing], [slab]) == pytest.approx(0.125)


@given(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0), st.floats(-0.5, 1.5))
def test_what_is_shared_agrees_with_a_sum_over_small_squares(east: float, north: float, up: float) -> None:
    """The exact volume between a plane and a level, against 60 x 60 columns."""
    slab = _piece("slab", 1.0, _level(9.0), Plane(Point(0.0, 0.0), 0.0, Vector(east, north)))
    footing = _piece("footing", 1.0, _level(up), _level(-5.0))
    middles = [(i + 0.5) / 60 for i in range(60)]
    columns = math.fsum(max(0.0, up - east * x - north * y) for x in middles for y in middles) / 3600
    assert counted_twice([footing], [slab]) == pytest.approx(columns, abs=2e-3)


@given(random_sites, turns)
@settings(max_examples=15, deadline=None)
def test_the_volume_does_not_depend_on_where_the_site_lies(site: RandomSite, turn: Turn) -> None:
    """Turned and moved, the concrete is the same."""
    texts = [site.text(way).replace("[slab]", "[slab]\nthickness = 0.3") + ASKED for way in (Turn(), turn)]
    here, there = map(layout_of, texts)
    assert here.takeoff is not None
    assert there.takeoff is not None
    assert there.takeoff.volume == pytest.approx(here.takeoff.volume, rel=1e-7)
    assert here.takeoff.volume == pytest.approx(here.slab.form.shape.area * 0.3, rel=1e-7)


def test_loads_round_up() -> None:
    """28.29 in trucks of 10: three, the last holds 8.29; 20 are two whole ones."""
    assert loads_of(28.29, 10.0) == pytest.approx((3, 8.29))
    assert loads_of(20.0, 10.0) == pytest.approx((2, 10.0))
