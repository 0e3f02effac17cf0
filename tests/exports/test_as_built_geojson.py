"""What was measured, on a map."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pyproj
import pytest
import shapely
from measuring import HOW, INCH, as_designed, off
from reported import measured
from shapely.geometry import shape

from staking import Layout, compare
from staking.exports.as_built_geojson import as_built_geojson
from staking.survey.projected_systems import system
from staking.survey.projections import to_lonlat

OREGON = '[coordinates]\ncrs = "EPSG:6559"\nvalues = "grid"\ncombined_factor = 0.99985\n'
OUTLINES = ("outline as computed", "outline as measured")
SCHEMA = Path(os.environ.get("STAKING_REFERENCE", "reference")) / "data" / "geojson_schema" / "FeatureCollection.json"


def features(layout: Layout) -> list[dict[str, Any]]:
    """What is on the map."""
    found: list[dict[str, Any]] = json.loads(as_built_geojson(measured(layout)))["features"]
    return found


def _of(found: list[dict[str, Any]], **wanted: str) -> list[dict[str, Any]]:
    return [each for each in found if wanted.items() <= each["properties"].items()]


@pytest.mark.skipif(not SCHEMA.exists(), reason="the reference data are not at hand")
def test_the_schema_accepts_it(oregon: Layout) -> None:
    """The schema published beside RFC 7946."""
    jsonschema.validate(json.loads(as_built_geojson(measured(oregon))), json.loads(SCHEMA.read_text("utf-8")))


def test_outlines_are_rings_and_run_counter_clockwise(oregon: Layout) -> None:
    """As computed and as measured, both closed; a corner apart."""
    found = features(oregon)
    outlines = [*_of(found, kind="outline as computed"), *_of(found, kind="outline as measured")]
    rings = [each["geometry"]["coordinates"][0] for each in outlines]
    assert [len(ring) for ring in rings] == [5, 5]
    assert all(ring[0] == ring[-1] and shapely.LinearRing(ring).is_ccw for ring in rings)
    assert rings[0] != rings[1]


def test_points_lie_where_they_were_measured(oregon: Layout) -> None:
    """Longitude and latitude are those of the measured numbers, which stand in the properties."""
    (point,) = [
        each for each in _of(features(oregon), name=oregon.corner_names[1]) if each["geometry"]["type"] == "Point"
    ]
    own = point["properties"]
    ((lonlat,), _) = to_lonlat(system("EPSG:6559"), [(own["east"] * 0.3048, own["north"] * 0.3048)])
    assert point["geometry"]["coordinates"] == pytest.approx(list(lonlat), abs=1e-8)
    assert (own["answer"], own["off_east"]) == ("out", 0.0833)


def test_a_line_leads_from_computed_to_measured(oregon: Layout) -> None:
    """At true size, one for each point that is off: the length on the ellipsoid is the inch."""
    (line,) = _of(features(oregon), kind="from computed to measured")
    (lon, lat), (lon2, lat2) = line["geometry"]["coordinates"]
    away = pyproj.Geod(ellps="GRS80").inv(lon, lat, lon2, lat2)[2]
    assert away == pytest.approx(INCH, rel=0.005)  # on the ellipsoid it is a little less than on the ground
    assert shape(line["geometry"]).is_valid


def test_who_measured_is_on_the_map(oregon: Layout) -> None:
    """File, fingerprint and who, beside system, operation and use."""
    facts = json.loads(as_built_geojson(measured(oregon)))["staking"]
    assert facts["measured_file"] == {"name": "as_set.csv", "sha256": "3fa9" * 16}
    assert facts["measured_by"] == "the crew"
    assert "viewing only" in facts["use"]


def test_part_of_an_outline_is_no_outline(oregon: Layout) -> None:
    """Three corners of four make no measured polygon."""
    found = compare(oregon, as_designed(oregon, *oregon.corner_names[:3]), HOW)
    kinds = {each["properties"]["kind"] for each in json.loads(as_built_geojson(found))["features"]}
    assert "outline as computed" in kinds
    assert "outline as measured" not in kinds


def test_arcs_bulge_as_measured(make_layout: Callable[..., Layout]) -> None:
    """A slab with a round end is larger than the polygon of its corners, as computed and as measured."""
    round_end = {"kind": "traced", "steps": ["right 36'", "away 24' curve left 15'", "left 36'", "toward 24'"]}
    layout = make_layout("ft", OREGON, north=812_345.7, east=7_654_321.0, slab=round_end)
    found = compare(layout, [off(each, INCH) for each in as_designed(layout)], HOW)
    shown = json.loads(as_built_geojson(found))["features"]
    corners = {len(_of(shown, kind=kind)[0]["geometry"]["coordinates"][0]) for kind in OUTLINES}
    assert len(corners) == 1
    assert corners.pop() > 20
