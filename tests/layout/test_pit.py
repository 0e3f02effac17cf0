"""The shape of the excavation: prisms and prismoids, a fine grid as an oracle, and what turning and raising do."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, PLAIN, RandomSite, Turn, layout_of, random_sites, sample, turns

from staking import Layout
from staking.layout.pit import Pit
from staking.survey.earthwork import prismoidal_volume
from staking.survey.points import Point
from staking.survey.polygons import polygon

FOOT = 0.3048
TEXT = PLACED_RECTANGLE.replace("depth = 24\n", "depth = 24\nthickness = 1\n")
GROUND = '[floor]\nelevation = 100\n[[ground]]\npoints = ["A", "B", "C", "D"]\n'
SIDES = "[overdig]\nslope = 1.5\nroom = 2\n"
FOOTING = '[[slab.footings]]\nname = "wall"\nwidth = 2\ntop = 2\ndepth = 1\n'


def _layout(ups: tuple[float, ...] = (102,) * 4, more: str = SIDES, slab: str = "", text: str = TEXT) -> Layout:
    text = text.replace("[placement]", f"{slab}[placement]")
    for name, at, up in zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), ups, strict=True):
        text = text.replace(f"{name} = [{at}]", f"{name} = [{at}, {up}]")
    return layout_of(text + GROUND + more)


def _pit(layout: Layout) -> Pit:
    assert layout.earth
    assert layout.earth.pit
    return layout.earth.pit


def _frustum(right: float, away: float, tall: float, slope: float) -> float:
    """A pit with a rectangle as its bottom and sides that lean out by the slope."""
    areas = [(right + 2 * up * slope) * (away + 2 * up * slope) for up in (0.0, tall / 2, tall)]
    return prismoidal_volume([tall], [areas[0], areas[2]], [areas[1]])


def test_a_pit_in_level_ground_is_a_prismoid() -> None:
    """3 ft deep, 2 ft of room, 1.5 to 1: bottom 40 by 28 ft, edge 4.5 ft farther out, volume by the prismoidal rule."""
    layout = _layout()
    assert _pit(layout).volume / FOOT**3 == pytest.approx(_frustum(40, 28, 3, 1.5), rel=1e-6)
    assert layout.excavation
    around = layout.slab.form.shape.buffer(6.5 * FOOT, join_style="mitre")
    assert layout.excavation.edge.symmetric_difference(around).area == pytest.approx(0, abs=0.05)
    assert [rim.least / FOOT for rim in layout.excavation.rims] == pytest.approx([6.5] * 4, abs=0.01)


def test_sharp_corners_are_mitred() -> None:
    """A triangle of 36 by 24 ft, corners down to 33.7 degrees: a ring of width w adds P w + w^2 sum of cot(half)."""
    sides = 'kind = "traced"\nsteps = ["right 36", "left 36 away 24", "toward 24"]\n'
    text = TEXT.replace("width = 36\ndepth = 24\n", sides).replace('"front-left"', "1")
    layout = _layout(text=text.replace('side = "front"', 'side = "1-2"'), more="[overdig]\nslope = 1.5\nroom = 0\n")
    corners, around = [math.atan2(24, 36), math.atan2(36, 24), math.pi / 2], 60 + math.hypot(36, 24)
    turns = sum(1 / math.tan(corner / 2) for corner in corners)
    volume = 36 * 24 / 2 * 3 + around * 1.5 * 3**2 / 2 + turns * 1.5**2 * 3**3 / 3
    assert _pit(layout).volume / FOOT**3 == pytest.approx(volume, rel=1e-6)
    area = 36 * 24 / 2 + around * 4.5 + turns * 4.5**2
    assert _pit(layout).edge.area / FOOT**2 == pytest.approx(area, abs=0.5)


PORCH = '[[slab.parts]]\nname = "porch"\nside = "front"\nfrom = "front-left"\nwidth = 10\ndepth = 8\n'


@pytest.mark.parametrize("start", [0, 4, 10, 20, 26])
def test_a_part_as_deep_as_the_slab_has_one_pit_with_it(start: int) -> None:
    """Wherever a porch stands along its side: sections through the slab with it, moved out and mitred (no room)."""
    layout = _layout(more="[overdig]\nslope = 1.5\nroom = 0\n", slab=f"{PORCH}start = {start}\n")
    step, whole = 0.01 * FOOT, layout.slab.form.whole
    ups = [step * (at + 0.5) for at in range(300)]
    volume = step * sum(whole.buffer(1.5 * up, join_style="mitre").area for up in ups)
    assert _pit(layout).volume == pytest.approx(volume, rel=1e-4)


def test_no_slope_is_dug_under_other_concrete() -> None:
    """A pit 3 ft deeper under a porch beside the slab: three sloped sides, the one toward the slab straight down.

    Dug in all is then the porch's own pit without what lies behind the front of the slab, and the slab's without the
    rest of the porch's: sections through both together, where the slab stands none is dug below its own bottom.
    """
    layout = _layout(more="[overdig]\nslope = 1\nroom = 0\n", slab=f"{PORCH}start = 10\nstep = 3\ndrop = 3\n")
    slab, porch = layout.slab.form.shape, polygon(layout.slab.form.parts[0][1])
    step = 0.01 * FOOT
    volume = 0.0
    for up in (step * (at + 0.5) for at in range(600)):
        high = up - 3 * FOOT
        low = porch.buffer(up, join_style="mitre").difference(slab)
        volume += step * (low if high < 0 else low.union(slab.buffer(high, join_style="mitre"))).area
    assert _pit(layout).volume == pytest.approx(volume, rel=1e-4)


def test_no_slope_goes_on_beyond_other_concrete() -> None:
    """In front of a narrow porch beside an edge 2 ft deeper: its own pit, 0.1 ft beyond its room, at 1.5 to 1."""
    edge = '[[slab.thickened]]\nname = "edge"\nwidth = 2\ndepth = 3\n'
    porch = PORCH.replace("depth = 8", "depth = 1")
    layout = _layout(more="[overdig]\nslope = 1.5\nroom = 0.5\n", slab=f"{porch}start = 10\n{edge}")
    corner = layout.slab.form.corners[0]
    at = Point(corner.east + 11 * FOOT, corner.north - 1.6 * FOOT)
    over = [patch for patch in _pit(layout).slab if patch.shape.contains(shapely.Point(at.east, at.north))]
    assert min(patch.plane.height(at) for patch in over) / FOOT == pytest.approx(99 + 0.1 / 1.5)


def test_rock_is_dug_straight_down() -> None:
    """Sides without a slope: bottom area by depth."""
    pit = _pit(_layout(more="[overdig]\nsoil = 'rock'\nroom = 2\n"))
    assert pit.volume / FOOT**3 == pytest.approx(40 * 28 * 3)


def test_the_edge_lies_farther_out_where_the_ground_is_higher() -> None:
    """On ground that rises 1 in 10 to the rear the reach is depth x slope / (1 - slope / 10) there, + in front."""
    layout = _layout((96, 96, 108, 108))
    front, _, back, _ = layout.excavation.rims if layout.excavation else ()
    depths = [96 + 38 / 10 - 99, 96 + 66 / 10 - 99]  # at the rims of the bottom, 2 ft out
    reaches = [2 + depths[0] * 1.5 / 1.15, 2 + depths[1] * 1.5 / 0.85]
    assert [front.most / FOOT, back.least / FOOT] == pytest.approx(reaches, abs=0.01)


@pytest.mark.parametrize(("ups", "depth"), [((102,) * 4, 3), ((96, 96, 108, 108), 3.6), ((90,) * 4, 0)])
def test_the_depth_is_that_below_the_highest_ground(ups: tuple[float, ...], depth: float) -> None:
    """To the bottom at 99 ft: on level ground, at the rear rim of the room, and none in a fill."""
    layout = _layout(ups)
    assert layout.excavation
    assert layout.excavation.depth / FOOT == pytest.approx(depth)


def test_a_deeper_part_has_a_wider_pit() -> None:
    """A ramp that ends 1 ft lower, 1/3 ft more at the end of the room beyond it, asks for 1.5 times that in front."""
    part = '[[slab.parts]]\nname = "ramp"\nside = "front"\nfrom = "front-left"\nstart = 10\nwidth = 8\ndepth = 6\n'
    edges = [
        layout.excavation.edge.bounds[1] / FOOT
        for drop in (0, 1)
        if (layout := _layout(slab=f"{part}drop = {drop}\n")).excavation
    ]
    assert edges[0] - edges[1] == pytest.approx(1.5 * 4 / 3, abs=0.01)


def test_trenches_of_footings() -> None:
    """2 ft wide round the slab, 1 ft below a subgrade that lies on the ground, 1.5 to 1: outer less inner prismoid."""
    layout = _layout((99,) * 4, more="[overdig]\nslope = 1.5\nroom = 0\n", slab=FOOTING.replace("top = 2", "top = 1"))
    inner = prismoidal_volume([1], [32 * 20, 29 * 17], [30.5 * 18.5])  # the earth left standing leans back
    assert _pit(layout).trenches / FOOT**3 == pytest.approx(_frustum(36, 24, 1, 1.5) - inner, rel=1e-6)


def test_trenches_are_dug_from_the_subgrade_where_that_is_lower() -> None:
    """Ground 2 ft above the subgrade changes nothing of a trench below the slab that is dug straight down."""
    slab = FOOTING.replace("top = 2", "top = 1")
    volumes = [_pit(_layout((up,) * 4, more="", slab=slab)).trenches / FOOT**3 for up in (99, 101)]
    assert volumes == pytest.approx([36 * 24 - 32 * 20] * 2)


def test_earth_between_two_footings_counts_once() -> None:
    """A second footing in the place of the first adds nothing; a deeper one only what lies below."""
    slab = FOOTING.replace("top = 2", "top = 1")
    alone = _pit(_layout((99,) * 4, more="", slab=slab)).trenches
    twice = _pit(_layout((99,) * 4, more="", slab=slab + slab.replace("wall", "other"))).trenches
    deeper = slab.replace("wall", "other").replace("\ndepth = 1", "\ndepth = 1.5")
    assert twice == pytest.approx(alone)
    assert _pit(_layout((99,) * 4, more="", slab=slab + deeper)).trenches == pytest.approx(1.5 * alone)


def test_the_pit_is_that_of_many_samples() -> None:
    """On the sloping lot: the lowest surface at every node of a fine grid, summed up."""
    pit = _pit(sample("sloping_lot"))
    west, south, east, north = pit.edge.bounds
    step = 0.05
    nodes = np.meshgrid(np.arange(west - 1, east + 1, step), np.arange(south - 1, north + 1, step))
    spots = np.column_stack([each.ravel() for each in nodes])
    low = np.full(len(spots), np.inf)
    for patch in (*pit.slab, *pit.footings):
        inside = shapely.intersects_xy(patch.shape, *spots.T)
        heights = [patch.plane.height(Point(e, n)) for e, n in spots[inside].tolist()]
        low[inside] = np.minimum(low[inside], heights)
    deep = np.nan_to_num(pit.triangles.heights(spots) - low, neginf=0.0)
    assert pit.volume == pytest.approx(deep[deep > 0].sum() * step * step, rel=0.02)


UPS = '[[ground]]\npoints = ["L1", "L2", "L3", "L4"]\n[overdig]\nsoil = "B"\n'
UPS += '[[ground.break_lines]]\npoints = ["L1", "L3"]\n'  # or a lot with four square corners has two surfaces
UPS += '[floor]\nelevation = {up}\nfall = "1 %"\ntoward = "front"\n'
HERE = Turn()


def _random(site: RandomSite, turn: Turn = HERE, up: float = 100.4) -> Layout:
    slab = PLAIN.replace("depth = {depth}\n", "depth = {depth}\nthickness = 0.15\n") + UPS.replace("{up}", repr(up))
    lines = site.text(turn, slab=slab).splitlines()
    for index, height in enumerate((99.9, 100.3, 101.4, 100.8), start=1):
        at = next(i for i, line in enumerate(lines) if line.startswith(f"L{index} ="))
        lines[at] = f"{lines[at][:-2]}, elevation = {height} }}"
    return layout_of("\n".join(lines))


@given(random_sites, turns)
@settings(max_examples=6, deadline=None)
def test_turning_the_site_changes_no_earth(site: RandomSite, turn: Turn) -> None:
    """Cut, fill and what is dug with its sides are those of the same site elsewhere."""
    here, there = _random(site).earth, _random(site, turn).earth
    assert here
    assert there
    one = (here.total.cut, here.total.fill, here.beside)
    assert (there.total.cut, there.total.fill, there.beside) == pytest.approx(one, rel=1e-5, abs=1e-5)


@given(random_sites, st.floats(-0.6, 0.6))
@settings(max_examples=6, deadline=None)
def test_raising_the_floor_changes_the_excess_by_its_area(site: RandomSite, by: float) -> None:
    """Cut less fill is the mean difference of height times the area: it falls by the area for every metre."""
    low, high = _random(site), _random(site, up=100.4 + by)
    assert low.earth
    assert high.earth
    change = low.earth.total.excess - high.earth.total.excess
    assert change == pytest.approx(by * low.slab.form.shape.area, abs=1e-6)


@given(random_sites)
@settings(max_examples=6, deadline=None)
def test_stakes_stand_clear_of_the_pit_and_strings_still_cross(site: RandomSite) -> None:
    """Offsets and boards are as far outside the edge as asked, or the lot leaves no room; each on its string."""
    layout = _random(site)
    assert layout.excavation
    assert layout.lot
    for stake in layout.stakes:
        spot = shapely.Point(stake.at.east, stake.at.north)
        if stake.kind in ("offset", "nail", "post") and stake.moved:
            assert not layout.excavation.edge.contains(spot)
        if stake.kind in ("offset", "nail") and stake.side is not None:
            assert layout.slab.form.sides[stake.side].offset(stake.at) == pytest.approx(0, abs=1e-9)


def test_the_edge_at_slanted_corners_is_the_outline_moved_out() -> None:
    """An outline that turns by 18, 72 and 90 degrees in level ground: everywhere room and reach away, mitred."""
    steps = 'kind = "traced"\nsteps = ["right 30", "right 6 away 2", "away 22", "left 36", "toward 24"]\n'
    text = TEXT.replace("width = 36\ndepth = 24\n", steps).replace('"front-left"', "1")
    layout = _layout(text=text.replace('side = "front"', 'side = "1-2"'))
    assert layout.excavation
    around = layout.slab.form.shape.buffer(6.5 * FOOT, join_style="mitre")
    assert layout.excavation.edge.symmetric_difference(around).area == pytest.approx(0, abs=0.05)
