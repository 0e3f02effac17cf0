"""Heights and ground in layout.json: the surface as a function, the ground at every stake, earth with its unit."""

from __future__ import annotations

import json
from typing import Any

import pytest
import shapely
from making import PLACED_RECTANGLE, layout_of, sample

from staking import check
from staking.exports.layout_json import layout_json


def _read(name: str = "sloping_lot", *, withheld: bool = False) -> dict[str, Any]:
    layout = sample(name)
    return dict(json.loads(layout_json(layout, check(layout), withheld=withheld)))


def _height(plane: dict[str, Any], north: float, east: float) -> float:
    at, rise = plane["at"], plane["rise"]
    return float(at["elevation"] + rise["north"] * (north - at["north"]) + rise["east"] * (east - at["east"]))


def test_the_surface_gives_the_height_of_every_stake() -> None:
    """Whoever reads the file works out each corner's elevation from the pieces, by the formula of the docs."""
    read = _read()
    pieces = [
        (piece, shapely.Polygon([(at["east"], at["north"]) for at in piece["outline"]]).buffer(0.001))
        for piece in read["heights"]["surface"]["pieces"]
    ]
    corners = [stake for stake in read["stakes"] if stake["kind"] in ("corner", "part corner")]
    assert len(corners) == 12
    for stake in corners:
        spot = shapely.Point(stake["east"], stake["north"])
        heights = [
            _height(piece["top"], stake["north"], stake["east"]) for piece, shape in pieces if shape.covers(spot)
        ]
        assert min(abs(height - stake["elevation"]) for height in heights) < 1e-5


def test_offset_stakes_have_the_plane_of_the_floor() -> None:
    """Strings from stake to stake lie in it."""
    read = _read()
    plane = read["heights"]["surface"]["plane"]
    for stake in read["stakes"]:
        if stake["kind"] == "offset":
            assert _height(plane, stake["north"], stake["east"]) == pytest.approx(stake["elevation"], abs=1e-5)


def test_the_ground_of_the_sample() -> None:
    """Interval, high and low corner, the ground at each stake, and the earth in cubic feet."""
    ground = _read()["ground"]
    assert (ground["points"], ground["triangles"]) == (128, 250)
    assert ground["contours"] == {"interval": 1.0, "heavier_every": 5}
    assert (ground["high_corner"]["name"], ground["low_corner"]["name"]) == ("103", "101")
    assert ground["earth"]["unit"] == "cu ft"
    assert ground["earth"]["total"]["fill"] / 27 == pytest.approx(33.67, abs=0.005)
    corner = ground["at"][0]
    assert corner["form_height"] == pytest.approx(corner["top"] - corner["ground"], abs=2e-6)


def test_what_could_set_a_form_is_withheld_with_the_stakes() -> None:
    """The ground's extremes stay, spots and surface do not."""
    read = _read(withheld=True)
    assert read["heights"] is None
    assert "at" not in read["ground"]
    assert "earth" not in read["ground"]


def test_without_ground_there_is_none() -> None:
    """A site without ground or floor says so."""
    layout = layout_of(PLACED_RECTANGLE)
    read = json.loads(layout_json(layout, ()))
    assert (read["ground"], read["heights"]) == (None, None)
