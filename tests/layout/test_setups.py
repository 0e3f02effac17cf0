"""Figures of a setup against a simulated instrument; turned sites; free stations; what cannot be solved."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from making import PLACED_RECTANGLE, RandomSite, Turn, layout_of, random_sites, sample, turns

from staking.layout.computed import Layout
from staking.layout.setups import SetUp, Target, Unsolved, setup_of, targets
from staking.survey.angles import direction, parse_direction
from staking.survey.points import Point, azimuth, distance, moved

OVER = '\n[setup]\nstation = "L1"\nbacksight = "L3"\ncheck = "L2"\n'
FREE = PLACED_RECTANGLE + '[[stakes]]\nkind = "corners"\n[setup]\ncheck = "D"\n'


def _setup(layout: Layout) -> SetUp:
    found = setup_of(layout)
    assert isinstance(found, SetUp)
    return found


def _set_out(setup: SetUp, angle: str, length: str) -> Point:
    """Where somebody ends up who turns the printed angle from the backsight and goes the printed distance."""
    way = azimuth(setup.station, setup.backsight) + parse_direction(angle)
    return moved(setup.station, direction(way), float(length))


def _printed(layout: Layout, aim: Target) -> tuple[str, str]:
    return layout.notation.azimuth(aim.right), layout.notation.decimal(aim.level)


@given(random_sites)
@settings(max_examples=25)
def test_printed_figures_lead_to_the_stakes(site: RandomSite) -> None:
    """A simulated instrument that follows the printed figures finds every stake to the printed digits."""
    layout = layout_of(site.text(extra=OVER))
    setup = _setup(layout)
    aims = targets(layout, setup)
    assert {aim.name for aim in aims} == {stake.name for stake in layout.stakes}
    for aim in aims:
        least = math.hypot(0.0005, math.radians(0.5 / 3600) * aim.level)
        assert distance(_set_out(setup, *_printed(layout, aim)), aim.at) <= least + 1e-9


@given(random_sites, turns)
@settings(max_examples=25)
def test_turning_the_site_changes_no_angle_and_no_distance(site: RandomSite, turn: Turn) -> None:
    """Angles right and distances belong to the ground, wherever north lies."""
    here, there = (layout_of(site.text(how, extra=OVER)) for how in (Turn(), turn))
    ours = {aim.name: aim for aim in targets(here, _setup(here))}
    for aim in targets(there, _setup(there)):
        assert aim.level == pytest.approx(ours[aim.name].level, abs=1e-6)
        assert math.remainder(aim.right - ours[aim.name].right, 360) == pytest.approx(0, abs=1e-5)


def test_distances_are_on_the_ground() -> None:
    """On a site in grid values the distance to read is the grid distance by the combined factor."""
    layout = sample("metric_hall")
    setup = _setup(layout)
    grid = math.hypot(83.190, 35.420)  # G1 to G3 by the site file
    assert distance(setup.station, setup.backsight) == pytest.approx(grid / 0.99935, abs=1e-6)


def test_free_station_is_found() -> None:
    """Shots computed from a place lead to it; the first point shot is the backsight."""
    shots = "".join(
        f'[[setup.shots]]\nto = "{name}"\nangle = {azimuth(Point(50, 20), at) % 360!r}\n'
        for name, at in (("A", Point(0, 0)), ("D", Point(0, 120)), ("C", Point(100, 120)))
    )
    layout = layout_of(FREE.replace('check = "D"', "") + shots)
    setup = _setup(layout)
    place = layout.frame.to_file(setup.station)
    assert (place.east / 0.3048, place.north / 0.3048) == pytest.approx((50, 20), abs=1e-6)
    assert setup.backsight_name == "A"


@pytest.mark.parametrize(
    ("lengths", "hand", "said"),
    [((10, 20), "", "meet in no place"), ((70, 70), "", "fit 2 places"), ((10, 20), "left", "on the left of the line")],
)
def test_shots_that_fix_no_station(lengths: tuple[int, int], hand: str, said: str) -> None:
    """What is wrong is said, and what to read or write."""
    shots = "".join(
        f'[[setup.shots]]\nto = "{to}"\ndistance = {length}\n' for to, length in zip("AB", lengths, strict=True)
    )
    found = setup_of(layout_of(FREE + (f'hand = "{hand}"\n' if hand else "") + shots))
    assert isinstance(found, Unsolved)
    assert said in found.reason
    assert found.remedy


@pytest.mark.parametrize(("hand", "north"), [("left", True), ("right", False)])
def test_hand_chooses_between_two_places(hand: str, north: bool) -> None:
    """Left of the line from A east to B is north of it."""
    shots = '[[setup.shots]]\nto = "A"\ndistance = 70\n[[setup.shots]]\nto = "B"\ndistance = 70\n'
    layout = layout_of(FREE + f'hand = "{hand}"\n' + shots)
    assert (layout.frame.to_file(_setup(layout).station).north > 0) == north


def test_station_and_backsight_in_one_place() -> None:
    """Two names for one place leave nothing to aim at."""
    text = PLACED_RECTANGLE.replace("[lot]", "Z = [0, 0]\n[lot]") + '[setup]\nstation = "A"\nbacksight = "Z"\n'
    found = setup_of(layout_of(text))
    assert isinstance(found, Unsolved)
    assert "in one place" in found.reason


def test_floor_elevation_gives_heights() -> None:
    """Prism at the floor: rise = floor + prism - station - instrument."""
    text = PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 100]") + '[[stakes]]\nkind = "corners"\n'
    text += '[plan]\nfloor_elevation = 101\n[setup]\nstation = "A"\nbacksight = "C"\n'
    layout = layout_of(text + "instrument_height = 5\nprism_height = 4.5\n")
    for aim in targets(layout, _setup(layout)):
        assert aim.rise is not None
        assert aim.rise.vertical / 0.3048 == pytest.approx(0.5)
