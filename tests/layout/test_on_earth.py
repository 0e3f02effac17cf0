"""A local site laid on the map by its points' latitude and longitude."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, layout_of

from staking import InputError
from staking.exports.geojson import layout_geojson
from staking.layout.on_earth import laid_on_earth, spot
from staking.sheets.heads import frame_words
from staking.survey.projections import geodesic, geodesic_end

FIRST = '[[on_earth]]\npoint = "A"\nlatitude = 40.0\nlongitude = -80.0\n'


def _second(turn: float) -> str:
    lon, lat = geodesic_end((-80.0, 40.0), 90 + turn, 30.48)  # B is 100 ft east of A
    return f'[[on_earth]]\npoint = "B"\nlatitude = {lat!r}\nlongitude = {lon!r}\n'


@settings(max_examples=15, deadline=None)
@given(st.floats(-179, 179))
def test_two_places_and_a_bearing_say_the_same(turn: float) -> None:
    """By two places, by the bearing of a line and by that of the file's north a corner comes to one place."""
    north, line = turn % 360 % 360, (90 + turn) % 360
    ways = (_second(turn), f'bearing = {line!r}\ntoward = "B"\n', f"bearing = {north!r}\n")
    places = []
    for more in ways:
        layout = layout_of(PLACED_RECTANGLE + FIRST + more)
        laid = laid_on_earth(layout)
        assert laid is not None
        places.append(laid.lonlat(spot(layout, "C")))
    assert max(geodesic(places[0], place)[1] for place in places) < 1e-4


def test_lengths_of_the_file_are_kept() -> None:
    """From A to C on the earth is as long as in the file, also where the second place is badly read."""
    layout = layout_of(PLACED_RECTANGLE + FIRST + '[[on_earth]]\npoint = "B"\nlatitude = 40\nlongitude = -79.9995\n')
    laid = laid_on_earth(layout)
    assert laid is not None
    assert geodesic((-80.0, 40.0), laid.lonlat(spot(layout, "C")))[1] == pytest.approx(
        0.3048 * (120**2 + 100**2) ** 0.5
    )


def test_the_file_says_that_it_is_approximate() -> None:
    """At the top, on every feature and on the sheets; no system is claimed."""
    layout = layout_of(PLACED_RECTANGLE + FIRST + 'bearing = 0\nsource = "a map"\n')
    made = json.loads(layout_geojson(layout))
    assert made["staking"]["approximate"] is True
    assert made["staking"]["source_crs"] is None
    assert "(a map)" in made["staking"]["approximate_words"]
    assert all(feature["properties"]["approximate"] for feature in made["features"])
    assert "approximate" in frame_words(layout)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("latitude = 40.0", "latitude = -95.1", "swapped"),
        ("latitude = 40.0", 'latitude = "40 N W"', "cannot be read as a latitude"),
        ("longitude = -80.0", 'longitude = "-80 W"', "cannot be read as a longitude"),
        ("longitude = -80.0", "longitude = true", "a number or a text"),
        ("longitude = -80.0\n", "", "-79.9767"),
        ('point = "A"', 'point = "Q"', "no point"),
        ("longitude", "longitud", "longitude"),
    ],
)
def test_mistakes_in_a_place_get_a_sentence(old: str, new: str, says: str) -> None:
    """Swapped, doubly signed, missing, unknown and misspelled."""
    with pytest.raises(InputError) as caught:
        layout_of(PLACED_RECTANGLE + FIRST.replace(old, new) + "bearing = 0\n")
    assert any(says in f"{found.message} {found.remedy}" for found in caught.value.findings)


@pytest.mark.parametrize("key", ["scaled_about = { nort = 5, east = 6 }", "truncated = { nort = 5 }"])
def test_keys_inside_a_ground_system_get_a_hint(key: str) -> None:
    """A misspelled key of an inner table is told with the one that was meant."""
    table = f'[coordinates]\ncrs = "EPSG:6518"\ncombined_factor = 0.9996\n{key}\n[points]'
    with pytest.raises(InputError) as caught:
        layout_of(PLACED_RECTANGLE.replace("[points]", table))
    assert any("north" in found.remedy for found in caught.value.findings)


def test_geodesics_are_those_published() -> None:
    """The inverse and direct problem on the ellipsoid against published lines."""
    text = (Path(__file__).parents[1] / "published" / "geodesics.toml").read_text("utf-8")
    for case in tomllib.loads(text)["case"]:
        azimuth, length = geodesic(tuple(case["start"]), tuple(case["end"]))
        assert length == pytest.approx(case["length"], abs=case["within"])
        assert azimuth == pytest.approx(case["azimuth"], abs=case["within_deg"])
        assert geodesic_end(tuple(case["start"]), azimuth, length) == pytest.approx(tuple(case["end"]), abs=1e-9)


def test_one_bracket_too_few_is_told() -> None:
    """[on_earth] is a list of tables; the remedy shows two brackets."""
    with pytest.raises(InputError) as caught:
        layout_of(PLACED_RECTANGLE + FIRST.replace("[[on_earth]]", "[on_earth]"))
    assert "[[on_earth]] with two brackets" in caught.value.findings[0].remedy
