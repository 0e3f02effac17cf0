"""The fall of the ground all round a slab: planes, humps between rays, parts, and many samples as an oracle."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, layout_of

from staking.kinds.slab import Form
from staking.layout.runoff import Beside, beside_slab
from staking.survey.points import Point, Vector, moved
from staking.survey.triangles import Triangles, triangles_of

FOOT = 0.3048
WITHIN = 10 * FOOT
FORM = layout_of(PLACED_RECTANGLE).slab.form
LEFT, FRONT = (min(getattr(corner, axis) for corner in FORM.corners) for axis in ("east", "north"))
FAR = 40.0


def _ground(*inner: tuple[float, float, float], rise: tuple[float, float] = (0.0, 0.0)) -> Triangles:
    """Points of a plane far around, and others: right of and away from the front left corner [m], and above it."""
    outer = [(e, n, 0.0) for e in (-FAR, FAR) for n in (-FAR, FAR + 1)]
    places = [(LEFT + e, FRONT + n, up + e * rise[0] + n * rise[1]) for e, n, up in (*outer, *inner)]
    return triangles_of(np.array(places))


def _around(ground: Triangles, form: Form = FORM) -> tuple[Beside, ...]:
    return beside_slab(form, ground, WITHIN, ())


def test_a_plane_falls_alike_all_along_a_side() -> None:
    """1 in 20 toward the front: 6 in fall in 10 ft before the front side, 6 in rise behind the back one."""
    front, right, back, left, *_ = _around(_ground(rise=(0.0, 0.05)))
    drops = [side.least.drop / FOOT for side in (front, right, back, left) if side.least]
    assert drops == pytest.approx([0.5, 0, -0.5, 0], abs=1e-9)
    assert [side.short(0.5 * FOOT) / FOOT for side in (right, back)] == pytest.approx([24, 36])
    assert front.short(0.4 * FOOT) == 0


def test_out_of_a_corner_the_worst_way_is_straight_uphill() -> None:
    """Ground that rises 1 in 10 to the north-east: worst out of the back right corner, by the whole of its rise."""
    corners = _around(_ground(rise=(0.06, 0.08)))[4:]
    worst = min((corner.least for corner in corners if corner.least), key=lambda ray: ray.drop)
    assert worst.drop == pytest.approx(-0.1 * WITHIN)
    assert (worst.way.east, worst.way.north) == pytest.approx((0.6, 0.8))


def test_a_heap_between_both_ends_and_the_middle_is_found() -> None:
    """A heap 8 ft before the front, a quarter along: the ground there rises, and to its top by all its height."""
    at = FORM.sides[0].length / 4
    heap = (at, -8 * FOOT, 0.5)
    foot = [(at + e, n * FOOT, 0.0) for e, n in ((-1.0, -8), (1.0, -8), (0.0, -11), (0.0, -4))]
    front = _around(_ground(heap, *foot))[0]
    assert front.dip
    assert front.dip.climb >= 0.5 * 2 / 3 - 1e-6  # up to the top and down again to where 10 ft end
    assert abs(front.dip.along - at) < 0.5
    assert front.least
    assert front.least.drop == pytest.approx(-0.5 / 3, abs=1e-3)  # at 10 ft a third of the height is left


def test_a_heap_between_all_edges_is_found() -> None:
    """Its foot a square that no ray over its top meets in a corner: climbed to the very top."""
    at = FORM.sides[0].length / 4
    foot = [(at + e, n, 0.0) for e in (-1.0, 1.0) for n in (-0.8, -2.2)]
    front = _around(_ground((at, -1.5, 0.5), *foot))[0]
    assert front.dip
    assert (front.dip.climb, front.dip.along) == pytest.approx((0.5, at))


def test_beside_a_part_the_ground_is_not_asked() -> None:
    """An apron over 16 of 36 ft leaves 20 ft of the front."""
    part = '[[slab.parts]]\nname = "apron"\nside = "front"\nfrom = "front-left"\nstart = 4\nwidth = 16\ndepth = 4\n'
    form = layout_of(PLACED_RECTANGLE.replace("[placement]", f"{part}[placement]")).slab.form
    front = _around(_ground(rise=(0.0, 0.05)), form)[0]
    assert front.length / FOOT == pytest.approx(20, abs=0.03)


NOTCHED = 'kind = "traced"\nsteps = ["right 14", "away 9", "right {gap}", "toward 9", "right 14", "away 24", '
NOTCHED += '"left {all}", "toward 24"]\n'


@pytest.mark.parametrize(("gap", "length"), [(8, 0), (11, 9)])
def test_rays_that_run_into_concrete_again_are_left_out(gap: int, length: float) -> None:
    """In a gap of 8 ft the sides face each other and are not asked; in one of 11 ft there is room for 10 ft of ground.

    The two inside corners have no ways out.
    """
    outline = NOTCHED.replace("{gap}", str(gap)).replace("{all}", str(28 + gap))
    text = PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", outline).replace('side = "front"', 'side = "1-2"')
    form = layout_of(text.replace('corner = "front-left"', "corner = 1")).slab.form
    around = _around(_ground(rise=(0.0, 0.05)), form)
    assert len([each for each in around if each.corner is not None]) == 6
    assert [side.length / FOOT for side in around[1:4:2]] == pytest.approx([length] * 2, abs=0.02)


def test_where_the_points_end_is_said() -> None:
    """Ground that ends 2 m before the front: nothing is known along it."""
    places = [(LEFT + e, FRONT + n, 0.0) for e in (-9, 30) for n in (-2, 30)]
    front, *_ = _around(triangles_of(np.array(places)))
    assert front.least is None
    assert front.unknown == pytest.approx(FORM.sides[0].length)


# places half a metre apart and more, off any straight row
bumps = st.lists(
    st.tuples(st.integers(-8, 30), st.integers(-8, 22), st.floats(-0.5, 0.5)),
    min_size=1,
    max_size=12,
    unique_by=lambda at: at[:2],
).map(lambda found: [(e / 2 + 0.013 * n, n / 2 - 0.017 * e, up) for e, n, up in found])


@given(bumps)
@settings(max_examples=25, deadline=None)
def test_no_ray_of_many_is_worse(inner: list[tuple[float, float, float]]) -> None:
    """Fifty rays out of every side and corner: none falls less than the one that was found."""
    ground = _ground(*((round(e, 3), round(n, 3), up) for e, n, up in inner))
    for beside in _around(ground):
        assert beside.least
        for start, way in _sampled(beside):
            near, far = ground.height(start), ground.height(moved(start, way, WITHIN))
            if near is not None and far is not None:
                assert near - far >= beside.least.drop - 1e-2  # 1 mm from a side of it a steep triangle may tell


def _sampled(beside: Beside) -> list[tuple[Point, Vector]]:
    shares = np.linspace(0.001, 0.999, 50).tolist()
    if beside.side is not None:
        line = FORM.sides[beside.side]
        return [(line.at(line.length * share), FORM.outward(beside.side)) for share in shares]
    index = beside.corner or 0
    first, last = FORM.outward((index - 1) % 4), FORM.outward(index)
    turns = [share * math.pi / 2 for share in shares]
    return [
        (
            FORM.corners[index],
            Vector(
                first.east * math.cos(a) + last.east * math.sin(a), first.north * math.cos(a) + last.north * math.sin(a)
            ),
        )
        for a in turns
    ]
