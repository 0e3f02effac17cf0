"""Places on the earth against published ones, and systems and places that must be refused."""

from __future__ import annotations

import csv
import math
import os
import tomllib
from collections import Counter
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pyproj
import pytest
from making import published

from staking.errors import PositionError
from staking.survey.heights import elevation_factor
from staking.survey.projected_systems import System, system
from staking.survey.projections import (
    carried,
    carried_columns,
    earth_radius,
    from_lonlat,
    geodesic_end,
    grid_scale,
    to_lonlat,
)

PUBLISHED = tomllib.loads((Path(__file__).parents[1] / "published" / "projections.toml").read_text("utf-8"))["case"]
NGS_TABLES = Path(os.environ.get("STAKING_REFERENCE", "reference")) / "data"
NGS_DEGREES = 1e-8  # 1 mm on the ground; the largest difference NGS and PROJ are known to have is 0.82 mm
SURVEY_FOOT = 1200 / 3937


def metres(which: System, east: float, north: float) -> tuple[float, float]:
    """Coordinates in the system's unit as metres."""
    return east * float(which.unit_metres), north * float(which.unit_metres)


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda case: f"{case['code']}-{case['lat']}")
def test_published_places_come_out(case: dict[str, Any]) -> None:
    """Published plane coordinates lead to the published latitude and longitude, and back to themselves."""
    which = system(case["code"])
    point = metres(which, case["east"], case["north"])
    ((lon, lat),), _ = to_lonlat(which, [point])
    there = pyproj.Geod(ellps="GRS80").inv(lon, lat, case["lon"], case["lat"])[2]
    assert there <= case["within"] * float(which.unit_metres) * 2**0.5
    assert grid_scale(which, point) == pytest.approx(case["scale"], abs=case["scale_within"])


@pytest.mark.parametrize(
    ("table", "outcomes"),
    [
        ("ngs_spcs83_all_zones.csv", {"agrees": 115, "shifted": 5, "coarse": 1, "outside": 2, "no NAD83 code": 3}),
        ("ngs_utm_nad83.csv", {"agrees": 118, "shifted": 5, "coarse": 1, "no NAD83 code": 1}),
    ],
)
def test_every_zone_agrees_with_ngs(table: str, outcomes: dict[str, int]) -> None:
    """Every NAD83 zone that NGS tabulates leads to its latitude, longitude and scale factor."""
    if not (NGS_TABLES / table).is_file():
        pytest.skip(f"the table {table} is not here; STAKING_REFERENCE names the folder above data/")
    with (NGS_TABLES / table).open(encoding="utf-8", newline="") as lines:
        assert Counter(map(_against_ngs, csv.DictReader(lines))) == outcomes


def _against_ngs(row: dict[str, str]) -> str:
    """How one row comes out; the scale factor agrees in any case, the place where NAD83 becomes WGS 84 unchanged."""
    code = row["epsg_nad83_m"] if "epsg_nad83_m" in row else f"269{int(row['utm_zone']):02d}"
    if not code.isdecimal() or int(row.get("utm_zone", 1)) > 23:
        return "no NAD83 code"
    which, point = system(f"EPSG:{code}"), (float(row["E_m"]), float(row["N_m"]))
    assert grid_scale(which, point) == pytest.approx(float(row["scale_factor"]), abs=1e-8), code
    try:
        ((lon, lat),), operation = to_lonlat(which, [point])
    except PositionError as refused:
        return "coarse" if "to 8 m only" in refused.message else "outside"  # 8 m: the Aleutians
    if "NAD83 to WGS 84 (1)" not in operation.description:
        return "shifted"  # Hawaii
    assert (lon, lat) == pytest.approx((float(row["lon_deg"]), float(row["lat_deg"])), abs=2 * NGS_DEGREES), code
    return "agrees"


def test_units_are_exact() -> None:
    """The twin codes of Pennsylvania South differ by the unit alone, and each unit is exact."""
    sizes = {code: system(code).unit_metres for code in ("EPSG:32129", "EPSG:2272", "EPSG:2269")}
    assert sizes == {"EPSG:32129": 1, "EPSG:2272": Fraction(1200, 3937), "EPSG:2269": Fraction(3048, 10000)}


def test_north_first_systems_are_not_swapped() -> None:
    """A system whose authority writes north first is still spoken to in east, north."""
    which = system("EPSG:2193")
    ((lon, lat),), _ = to_lonlat(which, [(1_600_000.0, 5_400_000.0)])
    assert which.north_first
    # false easting 1600000 on the central meridian 173 E: EPSG:2193's own parameters
    assert abs(lon - 173.0) < 1e-9
    assert round(lat) == -42


def test_the_operation_is_told() -> None:
    """The operation comes with its accuracy and both systems."""
    _, operation = to_lonlat(system("epsg:26917"), [(585360.462, 4428236.065)])
    assert (operation.accuracy, operation.source) == (4.0, "NAD83 / UTM zone 17N (EPSG:26917)")
    assert "NAD83 to WGS 84" in operation.description


@pytest.mark.parametrize(
    ("code", "says", "remedy"),
    [
        ("EPSG:4326", "geographic", "projected"),
        ("EPSG:5703", "vertical", "projected"),
        ("EPSG:6349", "compound", "projected"),
        ("EPSG:4978", "geocentric", "projected"),
        ("EPSG:2036", "withdrawn", "EPSG:2953"),
        ("EPSG:5800", "not in the EPSG dataset", "digits"),
        ("EPSG:10966", "not in the EPSG dataset", "2022"),
        ("EPSG:999999999", "not in the EPSG dataset", "digits"),
        ("EPSG:abc", "not the code", "EPSG:26913"),
        ("", "not the code", "EPSG:26913"),
        ("6556", "not the code", 'write "EPSG:6556"'),
        ("EPSG:2227+5703", "not the code", '"EPSG:2227"'),
        ('PROJCRS["x"]', "not the code", "EPSG:26913"),
        ("+proj=utm +zone=10", "not the code", "EPSG:26913"),
        ("EPSG:32661", "south and south", "projected"),
        ("EPSG:2314", "Clarke's foot", "projected"),
    ],
)
def test_systems_to_refuse(code: str, says: str, remedy: str) -> None:
    """Anything but a projected system of today in metres or feet is refused with what to write instead."""
    with pytest.raises(PositionError) as refused:
        system(code)
    assert says in refused.value.message
    assert remedy in refused.value.remedy


@pytest.mark.parametrize(
    ("code", "point", "says", "remedy"),
    [
        ("EPSG:2227", (2110500.0 * SURVEY_FOOT, 6051000.0 * SURVEY_FOOT), "1,571 km north-west", "swapped"),
        ("EPSG:2227", (6051000.0, 2110500.0), "4,046 km east", "read as feet"),
        ("EPSG:2227", (6051000.0 * 0.3048**2, 2110500.0 * 0.3048**2), "km west", "read as metres"),
        ("EPSG:26917", (585360.0, 1e12), "nowhere on the earth", "digits"),
        ("EPSG:26917", (float("inf"), 4e6), "nowhere on the earth", "digits"),
        ("EPSG:26917", (float("nan"), 4e6), "nowhere on the earth", "digits"),
        ("EPSG:3857", (-1e7, 4e6), "1.203 times as long", "state plane"),
        ("EPSG:32040", (2963503.91 * SURVEY_FOOT, 254759.8 * SURVEY_FOOT), "to 7 m only", "NAD83(2011)"),
        ("EPSG:6784", (40000.0, 30000.0), "no operation is known", "NAD83(2011)"),
    ],
)
def test_places_to_refuse(code: str, point: tuple[float, float], says: str, remedy: str) -> None:
    """A place outside the area of use, or carried over too coarsely, is refused with the likely slip."""
    with pytest.raises(PositionError) as refused:
        to_lonlat(system(code), [point])
    assert says in refused.value.message
    assert remedy in refused.value.remedy


def test_one_far_point_is_enough() -> None:
    """One point outside among many inside is found."""
    with pytest.raises(PositionError, match="km"):
        to_lonlat(system("EPSG:26917"), [(585360.0, 4428236.0), (585360.0, 442823.0)])


def test_no_points_no_place() -> None:
    """Nothing to carry over is refused and does not come back empty."""
    with pytest.raises(PositionError, match="no point"):
        to_lonlat(system("EPSG:26917"), [])


def test_areas_across_180_degrees() -> None:
    """An area of use that crosses 180 degrees holds places on both sides of it."""
    which = system("EPSG:3994")  # Mercator 41 about 100 E; area of use 155.9 E to 166.9 W
    west, _, east, _ = which.bounds
    assert west > east
    there = pyproj.Transformer.from_crs("EPSG:4326", "EPSG:3994", always_xy=True)
    lonlats, _ = to_lonlat(which, [there.transform(lon, -41.0) for lon in (170.0, -170.0)])
    assert [round(lon, 6) for lon, _ in lonlats] == [170.0, -170.0]


def test_the_scale_of_nowhere_is_refused() -> None:
    """A point that is nowhere on the earth has no scale factor."""
    with pytest.raises(PositionError, match="has no place"):
        grid_scale(system("EPSG:26917"), (585360.0, 1e12))


def test_projections_that_cannot_be_computed_are_refused() -> None:
    """The UTM grid system of all zones in one is a projected system, but no projection."""
    with pytest.raises(PositionError, match="cannot be computed"):
        to_lonlat(system("EPSG:32600"), [(585360.0, 4428236.0)])


def test_systems_that_stretch_a_little_too_much_are_refused() -> None:
    """The map of the world at 15 degrees north shows distances 1 / cos 15 = 1.035 times as long."""
    with pytest.raises(PositionError, match=r"1\.035 times"):
        to_lonlat(system("EPSG:3857"), [(-1e7, 1_689_200.0)])


@pytest.mark.parametrize("lon", [-77.5, -84.5])
def test_half_a_degree_outside_the_area_is_outside(lon: float) -> None:
    """UTM zone 17 is made for 84 to 78 degrees west; its neighbours begin there."""
    there = pyproj.Transformer.from_crs("EPSG:4326", "EPSG:26917", always_xy=True)
    with pytest.raises(PositionError, match=r"43 km (east|west) of the area"):  # half a degree at 40 degrees north
        to_lonlat(system("EPSG:26917"), [there.transform(lon, 40.0)])


@pytest.mark.parametrize("case", published("usgs_feet"), ids=lambda case: str(case["zone"]))
def test_survey_feet_of_the_zones_come_out(case: Mapping[str, Any]) -> None:
    """Latitude and longitude lead to the feet that USGS printed."""
    ((east, north),), accuracy = from_lonlat(system(case["code"]), [(case["lon"], case["lat"])])
    assert east / SURVEY_FOOT == pytest.approx(case["east"], rel=0, abs=case["within"])
    assert north / SURVEY_FOOT == pytest.approx(case["north"], rel=0, abs=case["within"])
    assert accuracy <= 5


def test_a_geodesic_is_as_long_as_grid_and_ground_say() -> None:
    """100 m at 37 degrees from 40 N 80 W: 99.999019554 m on the grid of PA South (closed loop of our own)."""
    start = (-80.0, 40.0)
    ends, _ = from_lonlat(system("EPSG:32129"), [start, geodesic_end(start, 37.0, 100.0)])
    assert math.dist(*ends) == pytest.approx(99.999019554, abs=1e-8)
    assert 100.0 / elevation_factor(earth_radius(system("EPSG:32129"), ends[0]), 100.0) == pytest.approx(
        100.001568782, abs=1e-6
    )


def test_no_place_of_a_zone_on_the_other_side_of_the_earth() -> None:
    """A latitude and longitude that the projection has no place for is refused."""
    with pytest.raises(PositionError, match="no place"):
        from_lonlat(system("EPSG:32129"), [(float("inf"), 40.0)])


@pytest.mark.parametrize("target", ["EPSG:6342", "EPSG:26913", "EPSG:6427"])
def test_columns_are_carried_as_their_points_are(target: str) -> None:
    """To the same system of another unit, and to UTM on the same and on another realisation of the datum."""
    source, other = system("EPSG:6428"), system(target)
    east, north = np.array([960_000.0, 961_000.0]), np.array([500_000.0, 501_000.0])
    easts, norths, accuracy = carried_columns(source, other, east, north)
    for at in range(2):
        (e, n), same = carried(source, other, (float(east[at]), float(north[at])))
        assert math.hypot(easts[at] - e, norths[at] - n) < 1e-6
        assert accuracy == same


def test_columns_outside_the_area_are_refused() -> None:
    """By the corners of what they take up."""
    with pytest.raises(PositionError, match="of the area in which"):
        carried_columns(system("EPSG:6428"), system("EPSG:6342"), np.array([960_000.0]), np.array([5_000_000.0]))
