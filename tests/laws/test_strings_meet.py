"""Strings over offset stakes or nails cross in the corners; stakes of inside corners stand clear of the slab."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from making import RandomSite, layout_of, random_sites, sample

from staking import Layout
from staking.survey.intersections import crossing
from staking.survey.lines import Line
from staking.survey.points import distance
from staking.survey.polygons import polygon

ELL = """
[slab]
kind = "ell"
width = {width}
depth = {depth}
missing = "HAND"
cut_width = 3.25
cut_depth = 4.5
ledge = LEDGE

[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = {ahead}
corner = "SIDE"
from = "lot left"
clear = {aside}

[[stakes]]
kind = "corners"
[[stakes]]
kind = "offsets"
distance = 1.5
[[stakes]]
kind = "batter_boards"
back = 2.0
"""
HANDS = ["front-left", "front-right", "back-right", "back-left"]


def _strings_meet(layout: Layout, kind: str) -> None:
    form = layout.slab.form
    ends: dict[int, list[Line]] = {}
    for side in range(len(form.sides)):
        held = [stake.at for stake in layout.stakes if stake.kind == kind and stake.side == side]
        ends[side] = [Line(held[0], held[1])]
    for corner, at in enumerate(form.corners):
        before = ends[(corner - 1) % len(form.corners)][0]
        assert distance(crossing(before, ends[corner][0]), at) < 1e-8


@given(random_sites)
@settings(max_examples=25, deadline=None)
def test_strings_of_a_rectangle_cross_in_its_corners(site: RandomSite) -> None:
    """Two strings over offset stakes, and two over nails, cross in every corner."""
    layout = layout_of(site.text())
    _strings_meet(layout, "offset")
    _strings_meet(layout, "nail")


@given(random_sites, st.sampled_from(HANDS), st.sampled_from([0.0, 0.045]))
@settings(max_examples=25, deadline=None)
def test_strings_of_an_ell_cross_in_its_corners(site: RandomSite, hand: str, ledge: float) -> None:
    """In all four hands, with and without a ledge, also in the inside corner."""
    corner = "back-left" if hand == "front-left" else "front-left"
    slab = ELL.replace("HAND", hand).replace("LEDGE", str(ledge)).replace("SIDE", corner)
    layout = layout_of(site.text(slab=slab))
    _strings_meet(layout, "offset")
    _strings_meet(layout, "nail")


@given(random_sites, st.sampled_from(HANDS))
@settings(max_examples=25, deadline=None)
def test_no_stake_stands_in_an_ell(site: RandomSite, hand: str) -> None:
    """Offset stakes, posts and nails of an ell stand outside it by at least what was asked."""
    corner = "back-left" if hand == "front-left" else "front-left"
    slab = ELL.replace("HAND", hand).replace("LEDGE", "0").replace("SIDE", corner)
    layout = layout_of(site.text(slab=slab))
    shape = polygon(layout.slab.form.corners)
    for stake in layout.stakes:
        if stake.kind in ("offset", "nail"):
            asked = 1.5 if stake.kind == "offset" else 2.0
            assert shape.distance(shapely.Point(stake.at.east, stake.at.north)) == pytest.approx(asked, abs=1e-9)


def test_strings_of_the_sample_with_a_porch() -> None:
    """A string that would run into the porch is held beyond it; it still crosses in the inside corner."""
    layout = sample("ell_house_on_grid")
    _strings_meet(layout, "offset")
    _strings_meet(layout, "nail")
    whole = layout.slab.form.whole
    held = [s for s in layout.stakes if s.kind in ("offset", "nail")]
    assert min(whole.distance(shapely.Point(s.at.east, s.at.north)) for s in held) > 1.0


def test_strings_cross_where_stakes_are_moved_out_of_an_excavation() -> None:
    """On the sloping lot every corner's stakes stand at another distance; their strings still cross in the corners."""
    layout = sample("sloping_lot")
    _strings_meet(layout, "offset")
    _strings_meet(layout, "nail")
    assert len({round(stake.moved, 6) for stake in layout.stakes if stake.kind == "nail"}) > 2
    assert layout.excavation
    held = [s for s in layout.stakes if s.kind in ("offset", "nail", "post")]
    assert min(layout.excavation.edge.distance(shapely.Point(s.at.east, s.at.north)) for s in held) >= 1.2 - 1e-5


RECESS = """
[slab]
kind = "traced"
steps = ["right {a}", "away {deep}", "right {b}", "toward {deep}", "right {a}", "away 12", "left {whole}", "toward 12"]

[placement]
kind = "from_lines"
side = "{side}"
reference = "lot front"
distance = {ahead}
corner = 1
from = "lot left"
clear = {aside}

[[stakes]]
kind = "offsets"
distance = 1.5
[[stakes]]
kind = "batter_boards"
back = 2.0
"""


@given(random_sites, st.integers(1, 4), st.integers(1, 4), st.integers(1, 9))
@settings(max_examples=25, deadline=None)
def test_sides_on_one_line_share_a_string(site: RandomSite, a: int, b: int, deep: int) -> None:
    """On both hands of a recess: one stake and one nail at each end of the line, which name both sides."""
    recess = RECESS.replace("{a}", str(a)).replace("{b}", str(b)).replace("{deep}", str(deep))
    recess = recess.replace("{whole}", str(2 * a + b)).replace("{side}", "1-2")
    layout = layout_of(site.text(slab=recess))
    for kind in ("offset", "nail"):
        own = [stake for stake in layout.stakes if stake.kind == kind and "1-2" in stake.note and "5-6" in stake.note]
        assert [stake.side for stake in own] in ([0, 4], [4, 0])
        at = [stake.at for stake in layout.stakes if stake.kind == kind]
        assert min(distance(p, q) for i, p in enumerate(at) for q in at[:i]) > 1e-3
