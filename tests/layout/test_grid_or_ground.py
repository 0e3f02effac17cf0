"""Ground written from grid, and grid from ground, of one site."""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, layout_of, sample

from staking import Layout, check
from staking.errors import OutputError
from staking.exports.job import export
from staking.layout.grid_or_ground import in_values
from staking.layout.other_system import ground_words

NAMES = {"A": (0, 0), "B": (0, 100), "C": (120, 100), "D": (120, 0)}
PLACES = ['"origin"', '"A"', "{ north = 6500000, east = 500000 }"]
OFF = "truncated = { north = 6000000, east = 400000 }"


def _site(about: str, factor: float = 0.9996, off: str = OFF, extra: str = "") -> Layout:
    text = PLACED_RECTANGLE.replace('unit = "ft"', 'unit = "m"')
    for name, (north, east) in NAMES.items():
        text = text.replace(f"{name} = [{north}, {east}]", f"{name} = [{6411850 + north}, {499900 + east}]")
    keys = f'crs = "EPSG:6518"\nvalues = "grid"\ncombined_factor = {factor!r}\n'
    keys += f"scaled_about = {about}\n" if about else ""
    stakes = '[[stakes]]\nkind = "corners"\n'
    return layout_of(text.replace("[points]", f"[coordinates]\n{keys}{off}\n[points]") + stakes + extra)


def _places(layout: Layout) -> list[tuple[float, float]]:
    at = [layout.frame.to_file(stake.at) for stake in layout.stakes]
    return [(place.north, place.east) for place in at]


@pytest.mark.parametrize("about", PLACES)
@settings(max_examples=10, deadline=None)
@given(factor=st.floats(0.9990, 1.0010))
def test_there_and_back(about: str, factor: float) -> None:
    """Grid written as ground and as grid again is the same to a hundredth of a millimetre."""
    grid = _site(about, factor)
    back = in_values(in_values(grid, "ground"), "grid")
    for place, again in zip(_places(grid), _places(back), strict=True):
        assert again == pytest.approx(place, rel=0, abs=1e-5)


@pytest.mark.parametrize("about", PLACES)
def test_distances_of_ground_values_are_those_on_the_ground(about: str) -> None:
    """Between stakes the ground values are as far apart as the slab is long; grid values are shorter by the factor."""
    grid = _site(about)
    ground = in_values(grid, "ground")
    one, other = _places(ground)[:2]
    assert math.dist(one, other) == pytest.approx(grid.sides[0].chord, abs=1e-5)
    assert math.dist(*_places(grid)[:2]) == pytest.approx(0.9996 * grid.sides[0].chord, abs=1e-5)


def test_surface_values_by_hand() -> None:
    """Grid / factor, then the constant taken off (TxDOT practice, public surveyors' thread of 2019)."""
    point = in_values(_site('"origin"'), "ground").site.given["A"]
    assert point.north == pytest.approx(6411850 / 0.9996 - 6000000, abs=1e-6)
    assert point.east == pytest.approx(499900 / 0.9996 - 400000, abs=1e-6)


def test_the_map_does_not_move() -> None:
    """Both kinds of values lie at one place on the earth, and no check finds more in one of them."""
    from staking.exports.geojson import layout_geojson

    grid = _site('"A"')
    ground = in_values(grid, "ground")
    first, second = (json.loads(layout_geojson(each))["features"][0]["geometry"] for each in (grid, ground))
    assert first["coordinates"] == pytest.approx(second["coordinates"], abs=1e-9)
    assert {f.code for f in check(grid)} == {f.code for f in check(ground)}


def test_files_say_which_values_they_hold(tmp_path: Path) -> None:
    """Names, manifest and words name ground values, the place scaled about and what was taken off."""
    ground = in_values(_site('"A"', extra='[[stakeout]]\nname = "rover"\nheader = true\n'), "ground")
    written = export(ground, check(ground), tmp_path / "out", despite=("list-not-written",)).files
    assert {"stakeout_ground.csv", "stakeout_rover_ground.csv", "layout_ground.dxf"} <= set(written)
    facts = json.loads((tmp_path / "out" / "manifest.json").read_text("utf-8"))
    assert (facts["values"], facts["truncated"]) == ("ground", {"north": 6000000.0, "east": 400000.0})
    assert facts["scaled_about"] == {"north": 6411850.0, "east": 499900.0}
    assert {each["file"] for each in facts["stakeout"]} == {"stakeout_ground.csv", "stakeout_rover_ground.csv"}
    assert "about grid north 6411850" in ground_words(ground)
    with (tmp_path / "out" / "stakeout_rover_ground.csv").open(encoding="utf-8", newline="") as lines:
        assert float(next(csv.DictReader(lines))["north"]) == pytest.approx(_places(ground)[0][0], abs=1e-4)


def test_a_single_list_follows_the_stated_place() -> None:
    """A list that asks for ground is scaled about the stated place; with a constant taken off it is refused."""
    from staking.layout.stake_lists import obstacles, scaling_of

    asked = '[[stakeout]]\nname = "rover"\nvalues = "ground"\n'
    plain, cut = _site('"A"', off="", extra=asked), _site('"A"', extra=asked)
    scaling = scaling_of(plain, plain.site.declared.stakeout[0])
    assert scaling is not None
    assert (scaling.about.north, scaling.about.east) == (6411850.0, 499900.0)
    assert not list(obstacles(plain, plain.site.declared.stakeout[0]))
    assert "constant is taken off" in next(obstacles(cut, cut.site.declared.stakeout[0]))[0]


def test_what_cannot_be_written_the_other_way() -> None:
    """A local site, and one that does not say what it is scaled about, are refused; the same values change nothing."""
    grid = _site('"A"')
    assert in_values(grid, "grid") is grid
    for layout, words in ((sample("corner_lot"), "local site"), (_site("", off=""), "not said")):
        with pytest.raises(OutputError, match=words):
            in_values(layout, "ground")
