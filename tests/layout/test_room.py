"""Where the slab may stand: answers by hand on square lots, and the exact margins as the oracle everywhere else."""

from __future__ import annotations

import math
from functools import cache

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, RandomSite, layout_of, random_sites, sample
from shapely.geometry.base import BaseGeometry

from staking import Layout
from staking.layout.places import ERROR
from staking.layout.replaced import replaced
from staking.layout.room import Room, room_of
from staking.layout.shifted import least, margins_at, shifted
from staking.layout.ways import Way
from staking.survey.points import Point, Vector, vector

FOOT = 0.3048
WELL = '[[keep_clear]]\nname = "well"\naround = "W"\nradius = {radius}\n[slab]'
SMALL = PLACED_RECTANGLE.replace("width = 36", "width = 20").replace("depth = 24", "depth = 15")
ELL = 'kind = "ell"\nmissing = "back-right"\ncut_width = 16\ncut_depth = 10\nwidth = 36'
# A bar across the lot, from one side line to the other but for 8 ft: two places that no sliding joins.
BAR = """
E = [50, 0]
F = [50, 100]
G = [60, 100]
H = [60, 0]
[lot]"""
ROUNDED = """
[site]
name = "lot round a bulb"
unit = "m"
[points]
P = [0, 0]
[lot]
given_by = "surveyor"
start = "P"
[[lot.courses]]
side = "front"
bearing = "N 90 E"
length = 10
[[lot.courses]]
kind = "curve"
side = "street"
turn = "right"
radius = 12
arc = 23.6431
chord_bearing = "N 90 E"
[[lot.courses]]
side = "front"
bearing = "N 90 E"
length = 10
[[lot.courses]]
side = "right"
bearing = "N 0 E"
length = 45
[[lot.courses]]
side = "rear"
bearing = "N 90 W"
length = 40
[[lot.courses]]
side = "left"
bearing = "S 0 W"
length = 45
[setbacks]
front = 3
street = 6
rear = 4
left = 2
right = 2
[slab]
width = 14
depth = 9
[placement]
kind = "at_point"
corner = 1
at = "P"
side = "front"
bearing = "N 90 E"
shift = [12, 18]
"""


def _well(text: str, radius: float, at: str = "[62.5, 50]") -> str:
    return text.replace("[lot]", f"W = {at}\n[lot]").replace("[slab]", WELL.format(radius=radius))


def _way(room: Room, name: str) -> Way:
    return next(way for way in room.ways if way.name == name)


def _corner_by(layout: Layout, x: float, y: float) -> Vector:
    """The step that brings corner 1 to a place."""
    return vector(layout.slab.form.corners[0], Point(x, y))


def _clears(layout: Layout, x: float, y: float) -> bool:
    return least(margins_at(layout, _corner_by(layout, x, y))).room >= 0


def test_a_shifted_slab_is_the_slab_elsewhere() -> None:
    """Every corner, part and counted shape is moved, and margins are those of a site file with the slab there."""
    layout, there = layout_of(PLACED_RECTANGLE), layout_of(PLACED_RECTANGLE.replace("clear = 30", "clear = 35"))
    by = Vector(5 * FOOT, 0.0)
    slab = shifted(layout.slab, by)
    assert slab.counted.equals_exact(there.slab.counted, 1e-9)
    assert [m.room for m in margins_at(layout, by)] == pytest.approx([m.room for m in there.margins])


def test_a_rectangle_on_a_square_lot() -> None:
    """Corner 1 may stand 7.5 to 100 - 7.5 - 36 ft from the left and 25 to 120 - 20 - 24 ft from the front."""
    room = room_of(layout_of(PLACED_RECTANGLE))
    assert [bound / FOOT for bound in room.region.bounds] == pytest.approx(
        [
            room.corner.east / FOOT - 22.5,
            room.corner.north / FOOT - 15.0,
            room.corner.east / FOOT + 26.5,
            room.corner.north / FOOT + 36.0,
        ]
    )
    assert room.area / FOOT**2 == pytest.approx(49 * 51)
    assert (room.clears, room.fits, room.pieces, room.collisions) == (True, True, 1, ())


def test_the_best_place_is_the_middle() -> None:
    """Of 49 ft sideways half is the least room; of the places that have it, the middle one is taken."""
    best = room_of(layout_of(PLACED_RECTANGLE)).best
    assert best is not None
    assert best.least / FOOT == pytest.approx(24.5, abs=0.003)
    assert (best.by.east / FOOT, best.by.north / FOOT) == pytest.approx((2.0, 10.5), abs=0.005)


@pytest.mark.parametrize(
    ("name", "feet", "stop"),
    [("right", 26.5, "right"), ("left", 22.5, "left"), ("away", 36.0, "rear"), ("toward", 15.0, "front")],
)
def test_how_far_it_can_still_go(name: str, feet: float, stop: str) -> None:
    """By hand: what the margins leave; the rule that stops it is the one of that side."""
    way = _way(room_of(layout_of(PLACED_RECTANGLE)), name)
    assert way.reach / FOOT == pytest.approx(feet, abs=1e-4)
    assert way.stop is not None
    assert way.stop.of == stop


def test_toward_a_turned_front_is_not_south() -> None:
    """Ways of the slab turn with it, points of the compass do not."""
    turned = PLACED_RECTANGLE.replace('side = "front"\nreference', 'side = "right"\nreference').replace(
        'corner = "front-left"', 'corner = "front-right"'
    )
    room = room_of(layout_of(turned))
    assert _way(room, "right").reach == pytest.approx(_way(room, "south").reach)
    assert _way(room, "right").reach == pytest.approx(15 * FOOT, abs=1e-4)


def test_an_ell_can_reach_round_a_well() -> None:
    """A circle in the notch of an ell forbids fewer places than it does for the box around the ell."""
    text = _well(PLACED_RECTANGLE, 5, "[60, 62]")
    ell = room_of(layout_of(text.replace("width = 36", ELL)))
    assert ell.clears
    assert not room_of(layout_of(text)).clears
    assert ell.area > room_of(layout_of(text)).area


def test_a_circle_in_the_middle_makes_a_hole() -> None:
    """The hole is the slab swept round the circle: w d + 2 (w + d) r + pi r^2, here with 20 by 15 and 6 ft."""
    layout = layout_of(_well(SMALL, 6))
    free, room = room_of(layout_of(SMALL)), room_of(layout)
    assert [len(part.interiors) for part in shapely.get_parts(room.region)] == [1]
    hole = (free.area - room.area) / FOOT**2
    assert hole == pytest.approx(20 * 15 + 2 * 35 * 6 + math.pi * 36, rel=2e-4)


def test_two_places_that_no_sliding_joins() -> None:
    """A bar across the lot leaves a place in front of it and one behind; the way from one to the other is stopped."""
    bar = '[[keep_clear]]\nname = "bar"\npoints = ["E", "F", "G", "H"]\n[slab]'
    text = SMALL.replace("[lot]", BAR).replace("[slab]", bar).replace("distance = 40", "distance = 30")
    room = room_of(layout_of(text))
    assert room.pieces == 2
    assert room.area / FOOT**2 == pytest.approx((85 - 20) * ((50 - 25 - 15) + (100 - 60 - 15)))
    assert _way(room, "away").reach / FOOT == pytest.approx(5.0, abs=1e-2)
    assert room.best is not None
    assert room.best.least / FOOT == pytest.approx(12.5, abs=0.005)


def test_front_and_rear_collide() -> None:
    """120 ft less 25 and 20 leave 75; a slab of 78 ft 6 in is 3 ft 6 in too deep, and that pair is named."""
    room = room_of(layout_of(PLACED_RECTANGLE.replace("depth = 24", 'depth = "78\'-6"')))
    assert (room.fits, room.best, room.area) == (False, None, 0.0)
    (collision,) = room.collisions
    assert {rule.of for rule in collision.rules} == {"front", "rear"}
    figures = [collision.size / FOOT, collision.left / FOOT, collision.short / FOOT]
    assert figures == pytest.approx([78.5, 75.0, 3.5], abs=1e-4)


def test_the_worst_collision_comes_first() -> None:
    """Larger than the lot itself both ways: 55 ft too deep and 19 ft too wide."""
    text = PLACED_RECTANGLE.replace("depth = 24", "depth = 130").replace("width = 36", "width = 104")
    collisions = room_of(layout_of(text)).collisions
    assert [{rule.of for rule in each.rules} for each in collisions] == [{"front", "rear"}, {"left", "right"}]
    assert [each.short / FOOT for each in collisions] == pytest.approx([55.0, 19.0], abs=1e-3)


def test_three_rules_that_hold_it_in_a_corner_are_named_together() -> None:
    """In a triangle no two sides push straight against each other."""
    text = PLACED_RECTANGLE.replace('"A", "B", "C", "D"', '"A", "B", "C"').replace("C = [120, 100]", "C = [100, 50]")
    text = text.replace('"right", "rear", "left"]', '"right", "left"]').replace("rear = 20\n", "")
    (collision,) = room_of(layout_of(text.replace("width = 36", "width = 60"))).collisions
    assert {rule.of for rule in collision.rules} == {"front", "right", "left"}
    assert collision.short > 0


def test_a_slab_that_fits_to_a_hair_fits() -> None:
    """As deep as the setbacks leave, wherever it stands: the exact margins have the last word, no region is left."""
    deep = PLACED_RECTANGLE.replace("depth = 24", "depth = 75")
    for text in (deep, deep.replace("distance = 40", "distance = 25")):
        room = room_of(layout_of(text))
        assert (room.fits, room.region.is_empty, room.collisions) == (True, True, ())
        assert room.best is not None
        assert room.best.least == pytest.approx(0.0, abs=1e-6)


def test_a_slab_at_a_line_can_slide_along_it() -> None:
    """With no room at the front it cannot go toward it, and goes left as far as ever."""
    room = room_of(layout_of(PLACED_RECTANGLE.replace("distance = 40", "distance = 25")))
    assert _way(room, "toward").reach == pytest.approx(0.0, abs=1e-5)
    assert _way(room, "left").reach / FOOT == pytest.approx(22.5, abs=1e-4)


def test_a_slab_that_crosses_a_line_is_told_how_far_to_go() -> None:
    """5 ft over the front setback: 5 ft away it clears, and sideways never."""
    room = room_of(layout_of(PLACED_RECTANGLE.replace("distance = 40", "distance = 20")))
    assert (room.clears, room.fits) == (False, True)
    assert _way(room, "away").clears_at == pytest.approx(5 * FOOT, abs=1e-4)
    assert (_way(room, "left").clears_at, _way(room, "left").reach) == (None, 0.0)


def test_without_a_lot_there_is_nothing_to_clear() -> None:
    """No margin, no region, no best place, and every way goes on for ever."""
    start, end = PLACED_RECTANGLE.index("[lot]"), PLACED_RECTANGLE.index("[slab]")
    lines = (
        '[[references]]\nname = "curb"\nthrough = ["A", "B"]\n[[references]]\nname = "hedge"\nthrough = ["A", "D"]\n'
    )
    text = PLACED_RECTANGLE[:start] + lines + PLACED_RECTANGLE[end:] + 'toward = "C"\n'
    room = room_of(layout_of(text.replace('"lot front"', '"curb"').replace('"lot left"', '"hedge"')))
    assert (room.fits, room.bounded, room.best, room.region.is_empty) == (True, False, None, True)
    assert all(math.isinf(way.reach) and way.stop is None for way in room.ways)


def test_without_a_lot_an_area_still_stops_it() -> None:
    """The way toward a well ends at it; the way from it does not end."""
    start, end = PLACED_RECTANGLE.index("[lot]"), PLACED_RECTANGLE.index("[slab]")
    lines = (
        '[[references]]\nname = "curb"\nthrough = ["A", "B"]\n[[references]]\nname = "hedge"\nthrough = ["A", "D"]\n'
    )
    text = PLACED_RECTANGLE[:start] + "W = [80, 50]\n" + lines + WELL.format(radius=5).removesuffix("[slab]")
    text += PLACED_RECTANGLE[end:].replace('"lot front"', '"curb"').replace('"lot left"', '"hedge"') + 'toward = "C"\n'
    room = room_of(layout_of(text))
    assert _way(room, "away").reach / FOOT == pytest.approx(80 - 5 - 64, abs=1e-4)
    assert (math.isinf(_way(room, "toward").reach), room.best) == (True, None)


def test_a_separation_bounds_the_places() -> None:
    """10 ft square from the right wall to the right line: 2.5 ft less than the setback leaves."""
    asked = '[[separations]]\nname = "fire"\nwall = "right"\nto = "lot right"\nleast = 10\n[slab]'
    room = room_of(layout_of(PLACED_RECTANGLE.replace("[slab]", asked)))
    assert _way(room, "right").reach / FOOT == pytest.approx(24.0, abs=1e-4)
    assert room.area / FOOT**2 == pytest.approx(46.5 * 51)
    assert room.best is not None
    assert room.best.least / FOOT == pytest.approx(23.25, abs=0.003)


LAYOUTS = ("square", "ell", "well", "rounded", "corner_lot", "cul_de_sac_lot", "ell_house_on_grid", "flag_lot")


@cache
def _case(name: str) -> tuple[Layout, Room]:
    texts = {
        "square": PLACED_RECTANGLE,
        "ell": _well(PLACED_RECTANGLE.replace("width = 36", ELL), 5, "[60, 62]"),
        "well": _well(SMALL, 6),
        "rounded": ROUNDED,
    }
    layout = layout_of(texts[name]) if name in texts else sample(name)
    return layout, room_of(layout)


def _bounds(shape: BaseGeometry) -> tuple[float, float, float, float]:
    west, south, east, north = shape.bounds
    return west, south, east, north


@pytest.mark.parametrize("name", LAYOUTS)
@settings(max_examples=40, deadline=None)
@given(st.floats(0, 1), st.floats(0, 1))
def test_every_place_of_the_region_clears(name: str, right: float, up: float) -> None:
    """Any place of the box around the region clears by the exact margins where the region holds it."""
    layout, room = _case(name)
    west, south, east, north = _bounds(room.region)
    x, y = west + right * (east - west), south + up * (north - south)
    inside = room.region.contains(shapely.Point(x, y))
    far_out = room.region.distance(shapely.Point(x, y)) > 0.002 + ERROR
    assert not (inside and not _clears(layout, x, y))
    assert not (far_out and _clears(layout, x, y))


@pytest.mark.parametrize("name", LAYOUTS)
@settings(max_examples=40, deadline=None)
@given(st.floats(0, 1))
def test_the_edge_of_the_region_is_where_it_stops_clearing(name: str, along: float) -> None:
    """A place on the edge clears; 2 mm and the error of the chords outside it, square to the edge, none does."""
    layout, room = _case(name)
    edge = room.region.boundary
    at = edge.interpolate(along, normalized=True)
    assert least(margins_at(layout, _corner_by(layout, at.x, at.y))).room > -1e-6
    grown = room.region.buffer(0.002 + ERROR)
    out = shapely.shortest_line(at, grown.boundary).coords[1]
    assert not _clears(layout, out[0], out[1])


@pytest.mark.parametrize("name", LAYOUTS)
def test_no_place_has_more_room_than_the_best(name: str) -> None:
    """Of 200 places spread over the region none has a least room greater by more than a millimetre."""
    layout, room = _case(name)
    assert room.best is not None
    west, south, east, north = _bounds(room.region)
    golden = (math.sqrt(5) - 1) / 2
    spread = [
        (west + (i + 0.5) / 200 * (east - west), south + (i * golden % 1.0) * (north - south)) for i in range(200)
    ]
    rooms = [least(margins_at(layout, _corner_by(layout, x, y))).room for x, y in spread]
    assert max(rooms) <= room.best.least + 0.001


@pytest.mark.parametrize("name", LAYOUTS)
def test_at_a_limit_nothing_is_left_and_beyond_it_a_rule_is_crossed(name: str) -> None:
    """Each way, the rule that stops it has no room within a tenth of a millimetre; a hair further it is crossed."""
    layout, room = _case(name)
    for way in room.ways:
        assert way.stop is not None
        there = Vector(way.direction.east * way.reach, way.direction.north * way.reach)
        margins = margins_at(layout, there)
        assert 0 <= least(margins).room < 1e-4
        assert min(m.room for m in margins if (m.rule, m.of) == (way.stop.rule, way.stop.of)) < 1e-4
        assert way.stop.room < 0


@given(random_sites)
@settings(max_examples=10, deadline=None)
def test_random_lots_keep_the_laws(site: RandomSite) -> None:
    """On any lot the region, the best place and the present one tell the same tale as the exact margins."""
    layout = layout_of(site.text())
    room = room_of(layout)
    assert room.clears == all(margin.room >= 0 for margin in layout.margins)
    assert room.fits == (not room.collisions)
    if room.best is not None:
        assert room.best.least >= max(0.0, least(layout.margins).room - 0.001) - 1e-6


def _placed(layout: Layout, text: str, room: Room) -> Layout:
    """The site with its placement replaced by the one of the best place."""
    assert room.best is not None
    entries = replaced(layout, room.best.by)
    assert entries is not None
    unit = float(layout.site.unit.metres)
    lines = []
    for key, value in entries.items():
        number = [each / unit for each in value] if isinstance(value, tuple) else value
        number = value / unit if isinstance(value, float) and key != "bearing" else number
        lines.append(f"{key} = {number!r}" if not isinstance(number, str) else f'{key} = "{number}"')
    return layout_of(text[: text.index("[placement]")] + "[placement]\n" + "\n".join(lines) + "\n")


CENTERED = """
kind = "centered"
between = ["lot left", "lot right"]
side = "front"
reference = "lot front"
distance = 40
"""


@pytest.mark.parametrize(
    "text",
    [
        PLACED_RECTANGLE,
        ROUNDED,
        ROUNDED.replace('bearing = "N 90 E"\nshift', 'toward = "P2"\nshift').replace(
            "P = [0, 0]", "P = [0, 0]\nP2 = [2, 40]"
        ),
        PLACED_RECTANGLE[: PLACED_RECTANGLE.index("[placement]")] + "[placement]" + CENTERED,
    ],
    ids=["from_lines", "at_point by bearing", "at_point toward a point", "centered"],
)
def test_the_placement_to_paste_puts_the_slab_at_the_best_place(text: str) -> None:
    """Solved anew with those numbers, the slab has the room that was promised."""
    layout = layout_of(text)
    room = room_of(layout)
    there = _placed(layout, text, room)
    assert room.best is not None
    assert [m.room for m in there.margins] == pytest.approx([m.room for m in room.best.margins], abs=1e-6)


def test_lines_that_cannot_say_a_place_say_none() -> None:
    """A place beyond the line that the slab is measured from has no distance that can be written."""
    layout = layout_of(PLACED_RECTANGLE)
    assert replaced(layout, Vector(0.0, -41 * FOOT)) is None
    assert replaced(layout, Vector(-31 * FOOT, 0.0)) is None


def test_a_centered_slab_between_other_lines_is_told_a_point_to_show_its_side() -> None:
    """A fence that runs through the lot tells no side, so a given point on the slab's side of it is named."""
    entries = replaced(sample("metric_hall"), Vector(0.0, 0.0))
    assert entries is not None
    assert (entries["from"], entries["toward"]) == ("fence", "G3")
