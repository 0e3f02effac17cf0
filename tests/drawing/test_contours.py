"""Contours lie on the ground, are as far apart as asked for or as can be told apart, and turn with the site."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, RandomSite, Turn, layout_of, random_sites, sample, turns

from staking import Layout
from staking.drawing.contours import chains, contour_marks, ground_drawing, height_words, step_in
from staking.drawing.marks import PathMark
from staking.drawing.relief import ground_marks
from staking.drawing.window import contour_window
from staking.survey.points import distance
from staking.survey.triangles import triangles_of

ROUND_OFF = 1e-7  # metres; heights worked out at coordinates of millions
HERE = Turn()
ALL = shapely.box(-1e9, -1e9, 1e9, 1e9)
FOOT = 0.3048


def sloping(site: RandomSite, turn: Turn = HERE) -> Layout:
    """A random site on a ground of nine points that rises and bends, with a floor that falls."""
    names = [f"G{n}" for n in range(9)]
    shifts = (0.0, 3.1, -2.7, 1.3, -4.9, 5.2, -0.6, 2.2, 4.1)  # no four points on one circle: one triangulation only
    grid = [(east, north) for east in (-15.0, 18.0, 60.0) for north in (-15.0, 33.0, 80.0)]
    places = [(east + shift, north - shift / 2) for (east, north), shift in zip(grid, shifts, strict=True)]
    ups = [100 + 0.03 * east + 0.05 * north + 0.5 * math.sin(east) for east, north in places]
    lines = []
    for name, place, up in zip(names, places, ups, strict=True):
        east, north = turn(*place)
        lines.append(f"{name} = {{ north = {north!r}, east = {east!r}, elevation = {up!r} }}")
    text = site.text(turn).replace("[lot]", "\n".join([*lines, "[lot]"]), 1)
    ground = f"[[ground]]\npoints = {names}\n[floor]\nelevation = 104\nfall = '2 %'\ntoward = 'front'\n"
    return layout_of(f"{text}\n{ground}")


@settings(max_examples=20, deadline=None)
@given(random_sites, turns)
def test_every_place_of_a_contour_lies_on_the_ground(site: RandomSite, turn: Turn) -> None:
    """Where the plan draws a contour the triangles have its height, and it is never drawn under the concrete."""
    layout = sloping(site, turn)
    assert layout.earth
    inner = layout.slab.form.whole.buffer(-0.001)
    marks = list(ground_marks(layout))
    assert marks
    for mark in marks:
        assert mark.up is not None
        heights = [layout.earth.triangles.height(at) for at in mark.corners]
        assert heights == pytest.approx([mark.up] * len(heights), abs=ROUND_OFF)
        assert not shapely.LineString([(at.east, at.north) for at in mark.corners]).intersects(inner)


@settings(max_examples=15, deadline=None)
@given(random_sites, turns)
def test_turning_the_site_changes_no_contour(site: RandomSite, turn: Turn) -> None:
    """Each contour of the whole ground is as long, and each corner as high, wherever the site lies."""
    here, there = sloping(site), sloping(site, turn)
    assert here.earth
    assert there.earth
    for up in (100.0, 101.0, 103.0):
        long = [_length(layout, up) for layout in (here, there)]
        assert long[1] == pytest.approx(long[0], abs=1e-5)
    known = [[spot.ground for spot in layout.earth.corners if layout.earth] for layout in (here, there) if layout.earth]
    assert known[1] == pytest.approx(known[0], abs=1e-6)


def _length(layout: Layout, up: float) -> float:
    assert layout.earth
    return sum(distance(*ends) for chain in chains(layout.earth.triangles, up, ALL) for ends in pairwise(chain))


def test_every_fifth_contour_is_heavier() -> None:
    """Counted from height 0: 100 and 105 ft on the sample, and no other."""
    marks = list(ground_marks(sample("sloping_lot")))
    heavy = {mark.label for mark in marks if mark.layer == "CONTOUR-FIFTH"}
    assert heavy == {"100.0", "105.0"}
    assert {mark.label for mark in marks if mark.layer == "CONTOUR"} == {"99.0", "101.0", "102.0", "103.0", "104.0"}


@pytest.mark.parametrize(("asked", "feet"), [("", 1.0), ("contours = '6 in'\n", 0.5), ("contours = '0.01 ft'\n", 0.2)])
def test_contours_are_as_far_apart_as_asked_for(asked: str, feet: float) -> None:
    """Left out: as can be told apart; asked for: so, unless that would be more than forty."""
    layout = sloped(asked)
    assert layout.earth
    step = step_in(layout, layout.earth, contour_window(layout))
    assert step == pytest.approx(feet * FOOT)


def sloped(earthwork: str) -> Layout:
    """The square lot of 100 by 120 ft on a plane that rises 7 ft to the rear."""
    text = PLACED_RECTANGLE
    for name, at, up in zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), (94, 94, 101, 101), strict=True):
        text = text.replace(f"{name} = [{at}]", f"{name} = [{at}, {up}]")
    return layout_of(f"{text}[[ground]]\npoints = ['A', 'B', 'C', 'D']\n[earthwork]\n{earthwork}")


def test_level_ground_has_no_contour() -> None:
    """Nothing is drawn, and nothing fails."""
    text = PLACED_RECTANGLE
    for name, at in zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), strict=True):
        text = text.replace(f"{name} = [{at}]", f"{name} = [{at}, 98.03]")
    assert list(ground_marks(layout_of(f"{text}[[ground]]\npoints = ['A', 'B', 'C', 'D']\n"))) == []


def test_ground_that_lies_elsewhere_is_not_drawn() -> None:
    """Points a mile off: no contour in sight, and no interval."""
    far = "Q1 = [9000, 0, 5]\nQ2 = [9000, 50, 6]\nQ3 = [9050, 0, 9]\n[lot]"
    layout = layout_of(f"{PLACED_RECTANGLE.replace('[lot]', far, 1)}[[ground]]\npoints = ['Q1', 'Q2', 'Q3']\n")
    assert layout.earth
    assert step_in(layout, layout.earth, contour_window(layout)) is None
    assert list(contour_marks(layout, layout.earth, contour_window(layout))) == []


def test_heights_are_never_read_as_names_of_stakes() -> None:
    """At least one decimal; two where the interval needs them."""
    layout = sloped("")
    assert height_words(layout, 101 * FOOT, FOOT) == "101.0"
    assert height_words(layout, 101.25 * FOOT, 0.25 * FOOT) == "101.25"


@given(st.floats(0.0, 0.5), st.floats(0.0, 359.0))
def test_steepness_of_a_plane_is_its_slope(slope: float, azimuth: float) -> None:
    """All of a plane is as steep as it is, whichever way it falls."""
    east, north = math.sin(math.radians(azimuth)), math.cos(math.radians(azimuth))
    places = [(x, y, 100 + slope * (x * east + y * north)) for x in (0, 10, 25) for y in (0, 13, 30)]
    made = triangles_of(shapely.get_coordinates(shapely.points(places), include_z=True))
    assert made.steepness(0.9) == pytest.approx(slope, abs=1e-9)


def test_the_picture_of_the_ground_shows_what_is_under_the_slab() -> None:
    """There the contours run on below the concrete."""
    layout = sample("sloping_lot")
    assert layout.earth
    marks = ground_drawing(layout, layout.earth).marks
    inner = layout.slab.form.shape.buffer(-0.5)
    lines = [mark for mark in marks if isinstance(mark, PathMark) and mark.label]
    assert any(shapely.LineString([(p.east, p.north) for p in m.corners]).intersects(inner) for m in lines)
