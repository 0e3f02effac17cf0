"""Error budgets of whole sites: total station, rover, tape; sides and room."""

from __future__ import annotations

import math

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking.layout.accuracy import Accuracy, accuracy_of, tape_sigma

CORNERS = PLACED_RECTANGLE + '[[stakes]]\nkind = "corners"\n'


def _accuracy(extra: str) -> Accuracy:
    found = accuracy_of(layout_of(CORNERS + extra))
    assert found is not None
    return found


def test_rover_is_alike_everywhere() -> None:
    """The circle is 2.4477 sigma, to the polynomial's 0.2 percent; heights are 1.96 sigma times the factor."""
    found = _accuracy('[instrument]\nkind = "rover"\ndistance = "8 mm"\nppm = 0\npole = 0\nheight_factor = 1.5\n')
    assert [each.circle for each in found.stakes] == pytest.approx([2.4477 * 0.008] * 4, rel=0.002)
    assert found.height == pytest.approx(1.96 * 1.5 * 0.008)
    assert [each.doubt for each in found.sides] == pytest.approx([1.96 * math.sqrt(2) * 0.008] * 4)


def test_tape_classes() -> None:
    """Permissible errors of 30 m as the classes state them, by the root of 3."""
    errors = [tape_sigma(grade, 30.0) * math.sqrt(3) * 1000 for grade in ("I", "II", "III")]
    assert errors == pytest.approx([3.1, 6.3, 12.6])


def test_tape_is_better_near_its_points() -> None:
    """The stake nearest to a given point has the smallest circle."""
    found = _accuracy('[instrument]\nkind = "tape"\ngrade = "II"\n')
    assert max(found.stakes, key=lambda each: each.circle).circle > min(each.circle for each in found.stakes)


def test_total_station_grows_with_distance_and_control() -> None:
    """With all errors but pointing at 0 the far stake is worse; doubtful control makes all worse."""
    setup = '[setup]\nstation = "A"\nbacksight = "C"\n'
    plain = '[instrument]\nkind = "total station"\nseconds = 5\ndistance = 0\nppm = 0\ncentring = 0\npole = 0\n'
    near, unsure = _accuracy(setup + plain), _accuracy(setup + plain + 'control = "1 cm"\n')
    circles = {each.stake.name: each.circle for each in near.stakes}
    assert circles["103"] > circles["101"]
    assert all(one.circle < two.circle for one, two in zip(near.stakes, unsure.stakes, strict=True))
    assert [one.doubt for one in near.sides] == [two.doubt for two in unsure.sides]


def test_no_budget_without_an_instrument() -> None:
    """Nothing is said where the file names no instrument, or a total station without a setup."""
    assert accuracy_of(layout_of(CORNERS)) is None
    total = '[instrument]\nkind = "total station"\nseconds = 5\ndistance = "2 mm"\nppm = 2\n'
    assert accuracy_of(layout_of(CORNERS + total)) is None


def test_room_is_set_against_the_nearest_corner() -> None:
    """Every margin of the sample has a corner stake and its circle beside it."""
    layout = sample("metric_hall")
    found = accuracy_of(layout)
    assert found is not None
    assert [each.margin for each in found.margins] == list(layout.margins)
    assert all(each.doubt == found.circle(each.stake) for each in found.margins)
