"""Factors by height, ground systems on the earth, and what is refused."""

from __future__ import annotations

import json
import re

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import InputError
from staking.exports.geojson import layout_geojson
from staking.layout.factors import factors_of
from staking.sheets.grid_and_ground import scale_lines
from staking.survey.ground_systems import ORIGIN, GroundSystem
from staking.survey.points import Point, Vector

NAMES = {"A": (0, 0), "B": (0, 100), "C": (120, 100), "D": (120, 0)}


def _site(keys: str, move: GroundSystem | None = None, unit: str = "m") -> str:
    """The rectangle at the NCAT sample place of PA South, in metres."""
    text = PLACED_RECTANGLE.replace('unit = "ft"', f'unit = "{unit}"')
    for name, (north, east) in NAMES.items():
        at = Point(407886.482 + east - 50, 76470.584 + north - 60)
        shown = move.to_ground(at) if move else at
        text = text.replace(f"{name} = [{north}, {east}]", f"{name} = [{shown.north!r}, {shown.east!r}]")
    return text.replace("[points]", f'[coordinates]\ncrs = "EPSG:32129"\n{keys}\n[points]')


@pytest.mark.parametrize("height", ["ellipsoid_height = 100", "elevation = 130\ngeoid_height = -30"])
def test_the_factor_is_computed_by_a_height(height: str) -> None:
    """The published combined factor comes out at 8 decimals, and the layout is solved with it."""
    layout = layout_of(_site(f'values = "grid"\n{height}'))
    found = factors_of(layout)
    assert found is not None
    assert (
        layout.frame.factor == found.combined == pytest.approx(0.99997455, abs=2e-8)
    )  # NCAT; up to half a metre off its point


def test_parts_and_their_height_are_printed() -> None:
    """Grid scale, elevation factor, combined factor, by which height, and what it comes to over the slab."""
    factors, over = scale_lines(layout_of(_site('values = "grid"\nelevation = 100')))
    assert re.match(r"grid scale 0\.99999\d+ x elevation factor 0\.99998\d+ = combined factor 0\.99997\d+", factors)
    assert "3 to 5 ppm" in factors
    assert "mm shorter on the grid" in over  # 43.3 m, 25 ppm: about 1 mm


@pytest.mark.parametrize(
    ("about", "move"),
    [
        ('"origin"', GroundSystem(ORIGIN, 0.9998, Vector(400000.0, 70000.0))),
        ("{ north = 76000, east = 407000 }", GroundSystem(Point(407000, 76000), 0.9998, Vector(400000.0, 70000.0))),
        ('"A"', GroundSystem(Point(407836.482, 76410.584), 0.9998, Vector(400000.0, 70000.0))),
    ],
)
def test_ground_values_lie_where_the_grid_has_them(about: str, move: GroundSystem) -> None:
    """Scaled about the origin, a place or a point, and truncated: the map shows the same point A."""
    keys = f'values = "ground"\ncombined_factor = 0.9998\nscaled_about = {about}\n'
    keys += "truncated = { north = 70000, east = 400000 }"
    ground, grid = (
        json.loads(layout_geojson(layout_of(text)))["features"][0]["geometry"]["coordinates"]
        for text in (_site(keys, move), _site('values = "grid"\ncombined_factor = 0.9998'))
    )
    assert ground == pytest.approx(grid, abs=1e-9)


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        ("ellipsoid_height = 1\nelevation = 2", "two heights"),
        ("geoid_height = -30", "belongs to an elevation"),
        ("truncated = { north = 5 }", "belongs to scaled_about"),
        ('scaled_about = "origin"', "has no factor"),
        ('scaled_about = "Z"\ncombined_factor = 0.9998', "no point"),
        ("scaled_about = { north = 5 }\ncombined_factor = 0.9998", "go together"),
        ("scaled_about = { }\ncombined_factor = 0.9998", "one way"),
    ],
)
def test_keys_that_do_not_fit_together(keys: str, says: str) -> None:
    """Each gets its sentence."""
    with pytest.raises(InputError, match=says):
        layout_of(_site(keys))


@pytest.mark.parametrize("key", ["ellipsoid_height = 5", 'scaled_about = "origin"\ncombined_factor = 1.0001'])
def test_without_a_system_there_is_no_factor(key: str) -> None:
    """A height or a ground system needs a code."""
    with pytest.raises(InputError, match=r"without a system|from a projected one"):
        layout_of(PLACED_RECTANGLE.replace("[points]", f"[coordinates]\n{key}\n[points]"))


def test_no_factor_far_from_the_zone() -> None:
    """A factor is not computed outside the area of use; the sentence says why."""
    text = PLACED_RECTANGLE.replace("[points]", '[coordinates]\ncrs = "EPSG:2269"\nvalues = "grid"\n[points]')
    with pytest.raises(InputError, match="no combined factor"):
        layout_of(text.replace('values = "grid"', 'values = "grid"\nellipsoid_height = 5'))
    assert not list(scale_lines(layout_of(text.replace('values = "grid"', 'values = "grid"\ncombined_factor = 1.0'))))
    assert factors_of(layout_of(PLACED_RECTANGLE)) is None
