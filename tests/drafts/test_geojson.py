"""GeoJSON files: polygons, and what is refused."""

from __future__ import annotations

import json
from typing import Any

import pytest

from staking.drafts.contents import DraftError
from staking.drafts.geojson import read_geojson

RING = [[0, 0], [4, 0], [4, 3], [0, 0]]


def _read(value: Any) -> Any:
    return read_geojson(json.dumps(value).encode())


def test_the_example_of_the_standard_is_read() -> None:
    """RFC 7946 appendix A.3, a polygon without holes: from 100, 0 over 101, 0 and 101, 1 to 100, 1."""
    ring = [[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]]
    points = _read({"type": "Polygon", "coordinates": [ring]}).strokes[0].points
    assert [(p.east, p.north) for p in points] == [(100, 0), (101, 0), (101, 1), (100, 1)]


def test_polygons_in_features_are_found() -> None:
    """A polygon in a feature of a collection is read; a feature without a place is passed over."""
    features = [
        {"type": "Feature", "geometry": {"type": "Polygon", "coordinates": [RING]}, "properties": {}},
        {"type": "Feature", "geometry": None, "properties": {}},
    ]
    assert len(_read({"type": "FeatureCollection", "features": features}).strokes) == 1


@pytest.mark.parametrize(
    ("geometry", "words"),
    [
        ({"type": "Polygon", "coordinates": [RING, RING]}, "hole"),
        ({"type": "MultiPolygon", "coordinates": [[RING]]}, "several polygons"),
    ],
)
def test_holes_and_multipolygons_are_named_and_not_read(geometry: Any, words: str) -> None:
    """A slab has one outline: what has more is listed with its reason."""
    draft = _read(geometry)
    assert not draft.strokes
    assert words in draft.unread[0].why


@pytest.mark.parametrize(
    ("ring", "words"),
    [
        ([[0, 0], [4, 0], [4, 3], [0, 3]], "does not end where it begins"),
        ([[0, 0], [4, 0], [0, 0]], "fewer than four"),
        ([[0, 0], [4, "x"], [4, 3], [0, 0]], "not two numbers"),
        ([[0, 0], [4, True], [4, 3], [0, 0]], "not two numbers"),
        ([[0, 0], [4, float("nan")], [4, 3], [0, 0]], "not two numbers"),
    ],
)
def test_rings_that_are_none_are_refused(ring: Any, words: str) -> None:
    """Open and short rings, and positions that are no numbers, get a sentence."""
    with pytest.raises(DraftError, match=words):
        _read({"type": "Polygon", "coordinates": [ring]})


@pytest.mark.parametrize("data", [b"", b"{", b"[1]", b"{}", b"\xff\xfe"])
def test_what_is_no_geojson_is_refused(data: bytes) -> None:
    """Text that is no GeoJSON object gets a sentence."""
    with pytest.raises(DraftError, match="GeoJSON"):
        read_geojson(data)
