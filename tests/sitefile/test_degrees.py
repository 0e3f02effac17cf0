"""Are latitude and longitude told from coordinates?"""

from __future__ import annotations

import pytest

from staking.findings import Place
from staking.sitefile.declared import GivenPoint
from staking.sitefile.degrees import degrees
from staking.units import UNITS

LOT = ((40.123456, -75.123456), (40.12346, -75.12316), (40.12379, -75.12316), (40.123786, -75.123456))


def said(points: tuple[tuple[float, float], ...], unit: str | None = "ft") -> list[str]:
    """What is said of points in a unit, with the place it is said at."""
    size = float(UNITS[unit or "m"].metres)
    given = {f"P{i}": GivenPoint.model_construct(north=n * size, east=e * size) for i, (n, e) in enumerate(points)}
    places = {name: Place("site.toml", number) for number, name in enumerate(given, start=1)}
    return [f"{each.place}: {each.message}" for each in degrees(given, unit, places)]


@pytest.mark.parametrize("unit", ["ft", "ftUS", "m"])
@pytest.mark.parametrize("points", [LOT, tuple((east, north) for north, east in LOT)])
def test_degrees_are_told_in_either_order(points: tuple[tuple[float, float], ...], unit: str) -> None:
    """A lot by latitude and longitude, once, at its first point."""
    assert said(points, unit) == [
        "site.toml:1: the points look like latitude and longitude in degrees, which are not read"
    ]


@pytest.mark.parametrize(
    "points",
    [
        tuple((north * 10, east) for north, east in LOT),
        ((10.0, 10.0), (10.0, 90.0), (60.0, 90.0)),
        (*LOT, (50.0, -75.0)),
        (*LOT, (float("nan"), -75.12)),
        LOT[:2],
        tuple((north - 40.1, east + 75.1) for north, east in LOT),
        ((20.0, 10.0), (20.0, 10.05), (20.0, 10.02)),
        tuple((north + 70, east - 60) for north, east in LOT),
    ],
    ids=[
        "north too large",
        "a small site",
        "one far",
        "one unread",
        "two points",
        "at 0, 0",
        "a line",
        "no order",
    ],
)
def test_other_points_are_not(points: tuple[tuple[float, float], ...]) -> None:
    """Local coordinates below 90, a few points beside one another, numbers that cannot be degrees."""
    assert said(points) == []


def test_nothing_is_said_without_a_unit() -> None:
    """Then the unit is what is missing, and is said."""
    assert said(LOT, None) == []
