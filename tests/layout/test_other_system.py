"""The layout in the system in which its points were measured."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import RandomSite, Turn, layout_of, random_sites, sample, turns

from staking import Layout, check
from staking.errors import OutputError
from staking.layout.other_system import in_measured, system_words

BEARING = '[placement]\nkind = "at_point"\ncorner = 1\nat = "L1"\nside = "front"\nbearing = {bearing}\nshift = [5, 5]\n'


def _text(site: RandomSite, turn: Turn, extra: str = "", scale: float = 1.0) -> str:
    """The site, its corners measured after a turn, a move and a stretch."""
    text = site.text() + f"\n[fit]\n{extra}\n"
    for index, (east, north) in enumerate(site.corners, start=1):
        e, n = turn(east * scale, north * scale)
        text += f'[[pairs]]\npoint = "L{index}"\nnorth = {n!r}\neast = {e!r}\n'
    return text


def _places(layout: Layout) -> list[tuple[float, float]]:
    at = [layout.frame.to_file(stake.at) for stake in layout.stakes]
    return [(place.east, place.north) for place in at]


@settings(max_examples=25, deadline=None)
@given(random_sites, turns)
def test_every_stake_lies_where_the_turn_carries_it(site: RandomSite, turn: Turn) -> None:
    """Stakes in the measured system are the given ones turned and moved; margins stay as they are."""
    given = layout_of(_text(site, turn))
    measured = in_measured(given)
    for (east, north), place in zip(_places(given), _places(measured), strict=True):
        assert place == pytest.approx(turn(east, north), abs=2e-6)
    rooms = [margin.room for margin in measured.margins]
    assert rooms == pytest.approx([margin.room for margin in given.margins], abs=1e-6)


@settings(max_examples=10, deadline=None)
@given(random_sites, turns, st.floats(0.9995, 1.0005))
def test_distances_are_the_same_up_to_the_scale_asked_for(site: RandomSite, turn: Turn, scale: float) -> None:
    """Unasked, stakes are as far apart as on the ground; with scale = true as the measured system has them."""
    for extra, ratio in (("", 1.0), ("scale = true", scale)):
        given = layout_of(_text(site, turn, extra, scale))
        before, after = _places(given), _places(in_measured(given))
        for one, other in list(combinations(range(len(before)), 2))[:20]:
            apart = math.dist(before[one], before[other])
            assert math.dist(after[one], after[other]) == pytest.approx(ratio * apart, abs=1e-5)


@settings(max_examples=10, deadline=None)
@given(random_sites, st.floats(-170, 170), st.floats(0, 359))
def test_bearings_of_the_file_are_turned_too(site: RandomSite, angle: float, bearing: float) -> None:
    """A slab that is placed by a bearing keeps its place on the lot."""
    start, end = (_text(site, Turn(angle, 100.0, 50.0)).find(mark) for mark in ("[placement]", "[[stakes]]"))
    text = _text(site, Turn(angle, 100.0, 50.0))
    given = layout_of(text[:start] + BEARING.format(bearing=repr(bearing)) + text[end:])
    for (east, north), place in zip(_places(given), _places(in_measured(given)), strict=True):
        assert place == pytest.approx(Turn(angle, 100.0, 50.0)(east, north), abs=1e-5)


def test_a_record_is_turned_too() -> None:
    """A lot laid out from its calls keeps its shape and comes to lie where its start was measured."""
    site = RandomSite(((0, 0), (40, 0), (40, 60), (0, 60)), 14, 12, 9, 7)
    turn = Turn(30.0, 500.0, 800.0)
    calls = "".join(
        f'[[lot.courses]]\nside = "{side}"\nbearing = "{way}"\nlength = "{size} m"\n'
        for side, way, size in (("front", "E", 40), ("right", "N", 60), ("rear", "W", 40), ("left", "S", 60))
    )
    old = 'corners = ["L1", "L2", "L3", "L4"]\nsides = ["front", "right", "rear", "left"]\n'
    text = _text(site, turn).replace(old, 'start = "L1"\n').replace("[setbacks]", calls + "[setbacks]")
    given = layout_of(text)
    for (east, north), place in zip(_places(given), _places(in_measured(given)), strict=True):
        assert place == pytest.approx(turn(east, north), abs=1e-6)


def test_what_is_wrong_with_a_fit_stops_the_measured_system_alone() -> None:
    """A pair that does not belong is a strong warning in the given system, and a stop in the measured one."""
    site = RandomSite(((0, 0), (40, 0), (40, 60), (0, 60)), 14, 12, 9, 7)
    text = _text(site, Turn(30.0)).replace('point = "L3"\nnorth = ', 'point = "L3"\nnorth = 1')
    given = layout_of(text)
    grave = [[f.severity.words for f in check(one) if f.code == "fit-odd-pair"] for one in (given, in_measured(given))]
    assert grave == [["strong warning"], ["stop"]]


def test_heights_are_shifted_only_when_asked() -> None:
    """Elevations stay as given unless heights = "shift" asks for the measured ones; the words say which."""
    site = RandomSite(((0, 0), (40, 0), (40, 60), (0, 60)), 14, 12, 9, 7)
    ups = []
    for extra in ("", 'heights = "shift"'):
        text = _text(site, Turn(), extra).replace("east = 0.0 }", "east = 0.0, elevation = 10 }", 1)
        measured = in_measured(layout_of(text.replace('point = "L1"\n', 'point = "L1"\nelevation = 12.5\n')))
        ups.append((measured.points["L1"].at.up, system_words(measured).rpartition("elevations ")[2]))
    assert ups == [(10.0, "as given"), (12.5, "shifted")]


def test_the_floor_is_shifted_with_the_points() -> None:
    """A floor given by its elevation keeps its height over the points."""
    site = RandomSite(((0, 0), (40, 0), (40, 60), (0, 60)), 14, 12, 9, 7)
    text = _text(site, Turn(), 'heights = "shift"').replace("east = 0.0 }", "east = 0.0, elevation = 10 }", 1)
    text = text.replace('point = "L1"\n', 'point = "L1"\nelevation = 12.5\n') + "[floor]\nelevation = 11\n"
    measured = in_measured(layout_of(text))
    assert {round(stake.up, 9) for stake in measured.grades} == {13.5}


def test_books_and_tops_are_shifted_with_the_points() -> None:
    """Heights of a level book, and of tops of stakes, are those of the measured system."""
    site = RandomSite(((0, 0), (40, 0), (40, 60), (0, 60)), 14, 12, 9, 7)
    text = _text(site, Turn(), 'heights = "shift"').replace("east = 0.0 }", "east = 0.0, elevation = 10 }", 1)
    text = text.replace('point = "L1"\n', 'point = "L1"\nelevation = 12.5\n') + "[floor]\nelevation = 11\n"
    stake = layout_of(text).stakes[0].name
    more = f'[stake_tops]\nelevations = {{ {stake} = 11 }}\n[[levels]]\nbook = "levels.csv"\n'
    book = "point,backsight (m),foresight\nL1,1,\nT,2,1.5\nL1,,1.5\n"
    measured = in_measured(layout_of(text + more, book))
    assert measured.stake_tops == {stake: 13.5}
    (run,) = measured.site.levelled
    assert run.found == pytest.approx({"L1": 12.5, "T": 12.0})
    assert run.misclosure == pytest.approx(0)


def test_a_site_without_a_fit_has_no_second_system() -> None:
    """It is refused with what to do, and nothing is said of systems."""
    layout = sample("corner_lot")
    assert system_words(layout) == ""
    with pytest.raises(OutputError, match="holds no fit"):
        in_measured(layout)
