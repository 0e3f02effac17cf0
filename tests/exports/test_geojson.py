"""The layout on the earth: read back by GDAL, held against the schema, and taken back to the plane."""

from __future__ import annotations

import json
import math
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pyogrio.raw
import pyproj
import pytest
import shapely

from staking.errors import PositionError
from staking.exports.geojson import CHORD_ERROR, layout_geojson
from staking.exports.rows import point_rows
from staking.layout.computed import Layout
from staking.survey.projections import LonLat, Operation

Make = Callable[..., Layout]
SCHEMA = Path(os.environ.get("STAKING_REFERENCE", "reference")) / "data" / "geojson_schema" / "FeatureCollection.json"
TENTH = 1e-4  # metres; what GeoJSON must keep
OREGON = '[coordinates]\ncrs = "EPSG:6559"\nvalues = "grid"\ncombined_factor = 0.99985\n'
GROUND = '[coordinates]\ncrs = "EPSG:6559"\nvalues = "ground"\n'


def features(layout: Layout) -> list[dict[str, Any]]:
    """The features as Python's json module reads them."""
    found: list[dict[str, Any]] = json.loads(layout_geojson(layout))["features"]
    return found


def back(code: str, lonlat: list[float]) -> tuple[float, float]:
    """A longitude and latitude taken back to the plane by pyproj alone, in the system's unit."""
    there = pyproj.Transformer.from_crs("EPSG:4326", code, always_xy=True)
    east, north = there.transform(lonlat[0], lonlat[1])
    return east, north


def test_points_come_back(oregon: Layout) -> None:
    """Every point comes back from its longitude and latitude within 0.1 mm."""
    found = [f for f in features(oregon) if f["geometry"]["type"] == "Point"]
    for row, feature in zip(point_rows(oregon), found, strict=True):
        east, north = back("EPSG:6559", feature["geometry"]["coordinates"])
        assert math.hypot(east * 0.3048 - row.east, north * 0.3048 - row.north) < TENTH


def test_north_first_systems_come_back(make_layout: Make) -> None:
    """A system whose authority writes north first is not swapped."""
    layout = make_layout("m", '[coordinates]\ncrs = "EPSG:2193"\nvalues = "grid"', north=5_400_000.0, east=1_600_000.0)
    lon, lat = features(layout)[0]["geometry"]["coordinates"]
    assert (round(lon), round(lat)) == (173, -42)


def test_gdal_reads_it(oregon: Layout, tmp_path: Path) -> None:
    """GDAL reads every feature with its name and takes the system for WGS 84."""
    path = tmp_path / "layout.geojson"
    path.write_bytes(layout_geojson(oregon))
    meta, _, shapes, fields = pyogrio.raw.read(path)
    assert meta["crs"] == "EPSG:4326"
    assert len(shapes) == len(features(oregon))
    names = list(dict(zip(meta["fields"], fields, strict=True))["name"])
    assert names[:6] == ["P1", "P2", "P3", "P4", "W1", "101"]


def test_the_schema_accepts_it(oregon: Layout) -> None:
    """The JSON Schema of GeoJSON accepts the collection."""
    if not SCHEMA.is_file():
        pytest.skip("the schema is not here; STAKING_REFERENCE names the folder above data/")
    jsonschema.validate(json.loads(layout_geojson(oregon)), json.loads(SCHEMA.read_text("utf-8")))


def test_rings_are_closed_and_run_counter_clockwise(oregon: Layout) -> None:
    """Rings are closed, outer ones run counter-clockwise and holes clockwise (RFC 7946, 3.1.6), and all are valid."""
    polygons = [f["geometry"]["coordinates"] for f in features(oregon) if f["geometry"]["type"] == "Polygon"]
    assert len(polygons) == 5
    for outer, *holes in polygons:
        assert all(ring[0] == ring[-1] for ring in (outer, *holes))
        assert [shapely.LinearRing(ring).is_ccw for ring in (outer, *holes)] == [True] + [False] * len(holes)
        assert shapely.Polygon(outer, holes).is_valid


def test_holes_run_clockwise_and_pieces_become_one_feature(oregon: Layout) -> None:
    """A buildable area in two pieces, one with a hole, is one feature with rings as RFC 7946 wants them."""
    holed = shapely.box(0, 0, 30, 30).difference(shapely.box(10, 10, 20, 20))
    area = holed.union(shapely.box(40, 0, 50, 10))
    (found,) = [f for f in features(replace(oregon, buildable=area)) if f["properties"]["name"] == "buildable area"]
    assert found["geometry"]["type"] == "MultiPolygon"
    turns = [[shapely.LinearRing(ring).is_ccw for ring in rings] for rings in found["geometry"]["coordinates"]]
    assert sorted(turns) == [[True], [True, False]]


def test_circles_stay_within_the_chord_error(oregon: Layout) -> None:
    """The circle round the well is a polygon whose area is short by no more than the stated chord error."""
    (well,) = [f for f in features(oregon) if f["properties"]["kind"] == "keep clear"]
    ring = [back("EPSG:6559", corner) for corner in well["geometry"]["coordinates"][0]]
    radius = 10 * 0.3048
    grid = shapely.Polygon(ring).area * 0.3048**2 / 0.99985**2
    assert 0 < math.pi * radius**2 - grid < 2 * math.pi * radius * CHORD_ERROR


def test_a_side_that_is_an_arc_is_no_chord(make_layout: Make) -> None:
    """The area of a slab with a round end is that of its true outline, not of the polygon of its corners."""
    round_end = {"kind": "traced", "steps": ["right 36'", "away 24' curve left 15'", "left 36'", "toward 24'"]}
    layout = make_layout("ft", OREGON, north=812_345.7, east=7_654_321.0, slab=round_end)
    (slab,) = [f for f in features(layout) if f["properties"]["kind"] == "formed outline"]
    ring = [back("EPSG:6559", corner) for corner in slab["geometry"]["coordinates"][0]]
    half = math.asin(12 / 15)  # of the central angle: 24 ft of chord on a radius of 15 ft
    area = 36 * 24 + 15**2 * (half - math.sin(2 * half) / 2)
    assert shapely.Polygon(ring).area == pytest.approx(area * 0.99985**2, rel=1e-4)


def test_what_is_shown(oregon: Layout) -> None:
    """Slab, part, lot, buildable area, keep-clear area and reference line follow the points."""
    shown = [(f["properties"]["name"], f["geometry"]["type"]) for f in features(oregon)][len(point_rows(oregon)) :]
    assert shown == [
        ("slab", "Polygon"),
        ("ramp", "Polygon"),
        ("lot", "Polygon"),
        ("buildable area", "Polygon"),
        ("well", "Polygon"),
        ("shop wall", "LineString"),
    ]


def test_points_carry_site_coordinates(oregon: Layout) -> None:
    """A point has its site coordinates and unit; an elevation only where it is known, never as third number."""
    first, second = features(oregon)[:2]
    wanted = {"north": 812345.6789, "east": 7654321.0123, "unit": "ft", "elevation": 412.07, "elevation_unit": "ft"}
    assert wanted.items() <= first["properties"].items()
    assert "elevation" not in second["properties"]
    assert {len(f["geometry"]["coordinates"]) for f in features(oregon) if f["geometry"]["type"] == "Point"} == {2}


def test_origin_and_use_are_told(oregon: Layout) -> None:
    """The collection names source, operation, accuracy, revision and fingerprint, and has no crs member."""
    collection = json.loads(layout_geojson(oregon))
    told = collection["staking"]
    assert (told["source_crs"], told["operation_accuracy_m"], told["revision"]) == ("EPSG:6559", 2.0, "B")
    assert told["site_file_sha256"] == oregon.site.fingerprint
    assert "crs" not in collection
    assert all("stake from site coordinates" in f["properties"]["use"] for f in collection["features"])


@pytest.mark.parametrize(
    ("coordinates", "says", "remedy"),
    [
        ("", "local", 'crs = "EPSG:..."'),
        ("[coordinates]\n", "local", 'crs = "EPSG:..."'),
        (GROUND, "how they differ from the grid", "grid values"),
        (GROUND + "combined_factor = 0.9999\n", "origin of their scaling", "grid values"),
        ('[coordinates]\ncrs = "EPSG:26905"\nvalues = "grid"\n', "area in which", "may be swapped"),
        ('[coordinates]\ncrs = "EPSG:4326"\nvalues = "grid"\n', "geographic", "projected"),
    ],
)
def test_places_that_are_not_known(make_layout: Make, coordinates: str, says: str, remedy: str) -> None:
    """Without a known place on the earth nothing is written, and a sentence says what is missing."""
    with pytest.raises(PositionError) as refused:
        layout_geojson(make_layout("ft", coordinates, north=812_345.7, east=7_654_321.0))
    assert says in refused.value.message
    assert remedy in refused.value.remedy


def test_ground_that_is_grid_is_known(make_layout: Make) -> None:
    """Ground values whose combined factor is said to be 1 are grid values."""
    layout = make_layout("ft", GROUND + "combined_factor = 1.0\n", north=812_345.7, east=7_654_321.0)
    assert features(layout)


def test_sites_across_180_degrees_are_refused(make_layout: Make) -> None:
    """A site that a map would cut in two is refused (RFC 7946, 3.1.9)."""
    there = pyproj.Transformer.from_crs("EPSG:4326", "EPSG:3994", always_xy=True)
    east, north = there.transform(179.9997, -41.0)
    with pytest.raises(PositionError, match="180 degrees"):
        layout_geojson(make_layout("m", '[coordinates]\ncrs = "EPSG:3994"\nvalues = "grid"', north=north, east=east))


def test_a_strip_and_no_lot(make_layout: Make) -> None:
    """A strip along a side is shown as it is; a layout without lot and area shows neither."""
    strip = [{"name": "drainage easement", "along": "rear", "width": 10}]
    layout = make_layout("ft", OREGON, north=812_345.7, east=7_654_321.0, keep_clear=strip)
    shown = features(replace(layout, lot=None, buildable=None))[len(point_rows(layout)) :]
    assert [f["properties"]["name"] for f in shown] == ["slab", "ramp", "drainage easement", "shop wall"]


@pytest.mark.parametrize("place", [(math.nan, 0.0), (math.inf, 0.0), (181.0, 0.0), (0.0, 90.1)])
def test_places_off_the_map_are_refused(oregon: Layout, monkeypatch: pytest.MonkeyPatch, place: LonLat) -> None:
    """Should a projection ever answer with no longitude and latitude, nothing is written."""
    spoiled = Operation("spoiled", 0.0, "there")
    monkeypatch.setattr(
        "staking.exports.geojson.to_lonlat", lambda _system, points: (tuple(place for _ in points), spoiled)
    )
    with pytest.raises(PositionError, match="no longitude and latitude"):
        layout_geojson(oregon)
