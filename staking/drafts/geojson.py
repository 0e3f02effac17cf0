"""Which outlines does a GeoJSON file hold? Polygons, after RFC 7946."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from typing import Any

from staking.drafts.contents import Draft, DraftError, Stroke, Unread
from staking.survey.points import Point

_REMEDY = "write a FeatureCollection with one Polygon, its ring closed (RFC 7946)"


def read_geojson(data: bytes) -> Draft:
    """The polygons of a GeoJSON file. Raises DraftError for what is none.

    Holes and multipolygons are listed as unread. Source: RFC 7946, sections 3.1.6 and 3.1.7: a ring's last position
    repeats its first, and the first ring of a polygon is its outside.
    """
    try:
        whole = json.loads(data.decode("utf-8-sig"))
    except (UnicodeDecodeError, ValueError, RecursionError) as error:
        raise DraftError(f"this is no GeoJSON: {' '.join(str(error).split())[:100]}", _REMEDY) from None
    strokes: list[Stroke] = []
    unread: list[Unread] = []
    for geometry in _geometries(whole):
        kind, rings = geometry.get("type"), geometry.get("coordinates")
        if kind == "MultiPolygon":
            unread.append(Unread("", kind, "several polygons in one; write the one that is the slab as a Polygon"))
        elif kind == "Polygon" and isinstance(rings, list) and len(rings) > 1:
            unread.append(Unread("", kind, "it has a hole; a slab with a hole cannot be set out, leave the hole out"))
        elif kind == "Polygon" and isinstance(rings, list) and rings:
            strokes.append(_stroke(rings[0]))
    return Draft("GeoJSON", "", "", tuple(strokes), tuple(unread))


def _geometries(value: Any) -> Iterator[Mapping[str, Any]]:
    if not isinstance(value, dict):
        raise DraftError("this is JSON, but no GeoJSON object", _REMEDY)
    features = value.get("features")
    if value.get("type") == "FeatureCollection" and isinstance(features, list):
        for feature in features:
            yield from _geometries(feature)
    elif value.get("type") == "Feature":
        if value.get("geometry") is not None:
            yield from _geometries(value["geometry"])
    elif isinstance(value.get("type"), str):
        yield value
    else:
        raise DraftError("this is JSON, but no GeoJSON object", _REMEDY)


def _stroke(ring: Any) -> Stroke:
    points = tuple(_point(position) for position in (ring if isinstance(ring, list) else ()))
    if len(points) < 4:
        raise DraftError("the ring of a polygon has fewer than four positions", _REMEDY)
    if points[0] != points[-1]:
        raise DraftError("the ring of a polygon does not end where it begins", "repeat its first position at the end")
    return Stroke(points[:-1], (0.0,) * (len(points) - 1), closed=True, layer="", what="Polygon")


def _point(position: Any) -> Point:
    plain = isinstance(position, list) and len(position) >= 2
    if not plain or not all(type(number) in (int, float) and math.isfinite(number) for number in position[:2]):
        raise DraftError("a position is not two numbers", _REMEDY)
    return Point(float(position[0]), float(position[1]))
