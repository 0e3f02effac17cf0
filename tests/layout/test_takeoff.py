"""Whether quantities are counted at all, and what stops them."""

from __future__ import annotations

import math

import pytest
from making import PLACED_RECTANGLE, ROUND_PAD, layout_of, sample

from staking.errors import SolveError

FOOT = 0.3048
PART = '[[slab.parts]]\nname = "apron"\nside = "right"\nfrom = "front-right"\nwidth = 12\ndepth = 9\n[placement]'


def test_nothing_asked_nothing_counted() -> None:
    """No table, no quantities."""
    assert layout_of(PLACED_RECTANGLE).takeoff is None


def test_with_a_floor_the_volume_is_that_of_the_design() -> None:
    """The pieces of the design surface are those counted, parts too."""
    text = PLACED_RECTANGLE.replace("[placement]", f"thickness = 0.5\n{PART}")
    layout = layout_of(f'{text}[floor]\nelevation = 9\nfall = "1 %"\ntoward = "left"\n[concrete]\n')
    assert layout.takeoff is not None
    assert layout.design is not None
    assert layout.takeoff.volume == pytest.approx(layout.design.volume)


def test_without_a_thickness_there_is_no_volume() -> None:
    """No solid at all rather than some."""
    takeoff = layout_of(f"{PLACED_RECTANGLE}[concrete]\n").takeoff
    assert takeoff is not None
    assert takeoff.solids == ()


def test_the_base_reaches_past_slab_and_parts() -> None:
    """36 x 24 with a foot all round, and 9 x 12 beside it with a foot on its three sides: square corners."""
    text = PLACED_RECTANGLE.replace("[placement]", PART) + "[base]\nthickness = 0.5\nbeyond = 1\n"
    takeoff = layout_of(text).takeoff
    assert takeoff is not None
    assert takeoff.base / FOOT**2 == pytest.approx(38 * 26 + 9 * 14)


def test_a_cover_that_leaves_nothing_is_refused() -> None:
    """Twelve feet from each edge of 24."""
    steel = '[[reinforcement]]\nname = "bars"\nspacing = 1\nlength = 20\ncover = 12\n'
    with pytest.raises(SolveError, match="the cover leaves nothing"):
        layout_of(PLACED_RECTANGLE + steel)


def test_a_sample_is_a_rectangle_in_its_own_axes() -> None:
    """However it lies on its lot, 16 m by 12.5 m."""
    takeoff = sample("metric_record").takeoff
    assert takeoff is not None
    assert takeoff.extent == pytest.approx((16, 12.5))
    assert takeoff.whole


def test_a_round_pad_by_hand() -> None:
    """20 ft of radius, 3 ft thick, placed by the chord of a quarter: pi r^2 h of concrete, dug as a cone cut off.

    The ground lies on the top; 2 ft of room, sides of 1 to 1: a frustum of 22 and 25 ft.
    """
    pad = ROUND_PAD
    for name, at in zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), strict=True):
        pad = pad.replace(f"{name} = [{at}]", f"{name} = [{at}, 100]")
    rest = '[floor]\nelevation = 100\n[[ground]]\npoints = ["A", "B", "C", "D"]\n[overdig]\nslope = 1\nroom = 2\n'
    layout = layout_of(f"{pad}{rest}[concrete]\n")
    assert layout.takeoff
    assert layout.takeoff.volume / FOOT**3 == pytest.approx(math.pi * 20**2 * 3, rel=1e-9)
    first, _, third, _ = layout.slab.form.corners
    assert (third.north - first.north, third.east - first.east) == pytest.approx((40 * FOOT, 0))
    assert layout.earth
    assert layout.earth.pit
    frustum = math.pi * 3 / 3 * (22**2 + 22 * 25 + 25**2)
    assert layout.earth.pit.volume / FOOT**3 == pytest.approx(frustum, rel=1e-3)
