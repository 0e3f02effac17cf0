"""A wall fills the room between footing and slab, once; where none is declared, the room is told."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.errors import SolveError
from staking.layout.quantities import Takeoff

FOOT = 0.3048
FOOTING = '[[slab.footings]]\nname = "{name}"\nsides = {sides}\nwidth = 2\nout = 0.5\ntop = 2\ndepth = 1\n{wall}'
RING = 36 * 24 - 35 * 23  # a foot of 36 by 24
BELOW = 37 * 25 - 33 * 21  # the footing's ring: half a foot out, one and a half in


def _takeoff(slab: str, more: str = "") -> Takeoff:
    text = PLACED_RECTANGLE.replace("[placement]", f"thickness = 0.5\n{slab}[placement]")
    takeoff = layout_of(f"{text}[concrete]\n{more}").takeoff
    assert takeoff is not None
    return takeoff


def _footing(wall: str = "", sides: str = "[]", name: str = "f") -> str:
    return FOOTING.format(name=name, sides=sides, wall=wall)


def test_a_wall_reaches_from_footing_to_slab() -> None:
    """Half a foot thick, 1.5 ft high, all round: outer face on the formed edge."""
    takeoff = _takeoff(_footing("wall = 0.5\n"))
    assert takeoff.volume / FOOT**3 == pytest.approx(36 * 24 * 0.5 + BELOW + RING * 1.5)
    assert takeoff.gaps == ()
    assert [solid.name for solid in takeoff.solids][-1] == "wall f"


def test_walls_on_two_footings_share_their_corner() -> None:
    """Front and right declared apart: the corner of footing and wall counts once."""
    apart = _footing("wall = 0.5\n", '["front"]', "a") + _footing("wall = 0.5\n", '["right"]', "b")
    both = _footing("wall = 0.5\n", '["front", "right"]')
    two, one = (_takeoff(text.replace("out = 0.5\n", "")).volume for text in (apart, both))
    assert two == pytest.approx(one)


def test_under_a_falling_slab_the_wall_is_cut_by_it() -> None:
    """The floor falls 1 in 24 from back to front, a foot in all: the wall's mean height is that of the edge."""
    floor = '[floor]\nelevation = 100\nfall = "1:24"\ntoward = "front"\n'
    takeoff = _takeoff(_footing("wall = 0.5\n"), floor)
    fall = sum((24 - y) / 24 * 1.0 * area for y, area in ((0.25, 18.0), (23.75, 18.0), (12.0, 2 * 0.5 * 23)))
    assert takeoff.volume / FOOT**3 == pytest.approx(36 * 24 * 0.5 + BELOW + RING * 1.5 - fall)


def test_room_without_a_wall_is_told() -> None:
    """1.5 ft below the slab."""
    ((index, room),) = _takeoff(_footing()).gaps
    assert (index, room / FOOT) == pytest.approx((0, 1.5))


def test_an_edge_that_reaches_the_footing_leaves_no_room() -> None:
    """Even where the footing is wider than the edge."""
    edge = '[[slab.thickened]]\nname = "e"\nwidth = 1\ndepth = 2\n'
    assert _takeoff(edge + _footing()).gaps == ()


@pytest.mark.parametrize(("wall", "words"), [("wall = 1.6\n", "wider than"), ("wall = 0.5\n", "no wall")])
def test_walls_that_cannot_be_are_refused(wall: str, words: str) -> None:
    """Wider than the footing inside the edge; or below an edge that reaches the footing."""
    edge = '[[slab.thickened]]\nname = "e"\nwidth = 1\ndepth = 2\n' if words == "no wall" else ""
    with pytest.raises(SolveError, match=words):
        _takeoff(edge + _footing(wall))
