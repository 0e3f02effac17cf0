"""Paper and scales of the plan."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.drawing.plan_paper import FEET_TO_THE_INCH, ONE_TO, papers, scales

METRES = PLACED_RECTANGLE.replace('unit = "ft"', 'unit = "m"')


def test_a_foot_site_is_drawn_so_many_feet_to_the_inch() -> None:
    """1 in = 20 ft puts 20 ft on 72 points."""
    scale = scales(layout_of(PLACED_RECTANGLE))[FEET_TO_THE_INCH.index(20)]
    assert scale.words == "1 in = 20 ft"
    assert scale.points * 20 * 0.3048 == pytest.approx(72)


def test_a_metric_site_is_drawn_one_to_so_many() -> None:
    """1 : 200 puts a metre on 5 millimetres."""
    scale = scales(layout_of(METRES))[ONE_TO.index(200)]
    assert scale.words == "1 : 200"
    assert scale.points == pytest.approx(5 / 25.4 * 72)


def test_a_scale_that_is_asked_for_comes_first() -> None:
    """The scale of the site file is tried first, then smaller usual ones."""
    first, second, *_ = scales(layout_of(f"{PLACED_RECTANGLE}[plan]\nscale = 25\n"))
    assert (first.words, second.words) == ("1 in = 25 ft", "1 in = 30 ft")


def test_paper_follows_the_unit() -> None:
    """Letter on a site in feet, A4 on a site in metres, both ways round."""
    assert papers(layout_of(PLACED_RECTANGLE)) == ((612, 792), (792, 612))
    assert papers(layout_of(METRES))[0] == pytest.approx((595.28, 841.89), abs=0.01)


def test_paper_that_is_asked_for_is_used() -> None:
    """Paper and orientation of the site file."""
    layout = layout_of(f'{PLACED_RECTANGLE}[plan]\npaper = "tabloid"\norientation = "landscape"\n')
    assert papers(layout) == ((1224, 792),)
