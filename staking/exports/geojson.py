"""Where on the earth is the layout, for a map to look at (RFC 7946)?

Longitude and latitude on WGS 84 with 10 decimals (0.01 mm). It is for viewing: the datum alone may be metres off, so
stakes come from site coordinates, which every point carries as properties. Elevations are properties too, with their
unit, since the third number of a position would be metres above the ellipsoid (RFC 7946, 3.1.1).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import geojson
import shapely

from staking.errors import PositionError
from staking.exports.rows import PointRow, point_rows
from staking.layout.computed import KeptClear, Layout
from staking.layout.on_earth import Laid, laid_on_earth
from staking.layout.positions import known_position
from staking.survey.points import Point
from staking.survey.projected_systems import System
from staking.survey.projections import LonLat, Operation, to_lonlat

DECIMALS = 10  # of a degree; 6, the library's own, are 0.1 m (RFC 7946, 11.2)
CHORD_ERROR = 0.001  # metres; how far the straight pieces of a circle may leave it
USE = "for viewing only; stake from site coordinates"

_Rings = tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Thing:
    """Something to show. type: of its geometry. shells: polygons as rings in the file's frame, a line, or a point."""

    type: str
    shells: tuple[_Rings, ...]
    properties: dict[str, Any] = field(default_factory=dict)


def layout_geojson(layout: Layout, despite: Sequence[str] = ()) -> bytes:
    """Points, slab, parts, lot, areas and reference lines as a feature collection. despite: overruled stops.

    Raises PositionError, with a remedy, where the place on the earth is not known: no system, a system or place
    that `projections` refuses, or ground values. A local site that [[on_earth]] lays there is marked approximate.
    """
    return collection_of(layout, tuple(_things(layout)), {"despite": list(despite)})


def collection_of(layout: Layout, things: Sequence[Thing], facts: Mapping[str, Any]) -> bytes:
    """Things in the file's frame as a feature collection, with the facts of the site and those given.

    Raises PositionError as `layout_geojson` does.
    """
    spots = [spot for thing in things for rings in thing.shells for ring in rings for spot in ring]
    laid = laid_on_earth(layout)
    lonlats, origin = _approximate(laid, spots) if laid else _exact(layout, spots)
    _check_range(lonlats)
    marks: dict[str, Any] = {"use": USE, "approximate": True} if laid else {"use": USE}
    places = dict(zip(spots, lonlats, strict=True))
    features: list[geojson.Feature | geojson.geometry.Geometry] = [
        geojson.Feature(geometry=_geometry(thing, places), properties=thing.properties | marks) for thing in things
    ]
    collection = geojson.FeatureCollection(features, staking=origin | _site_facts(layout) | dict(facts))
    return (geojson.dumps(collection, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def _things(layout: Layout) -> Iterator[Thing]:
    yield from (_point(layout, row) for row in point_rows(layout))
    slab = layout.slab.form
    yield area_of(layout, "slab", "formed outline", shapely.Polygon(flat(slab.drawn)))
    for name, corners in slab.parts:
        yield area_of(layout, name, "part of the slab", shapely.Polygon(flat(corners)))
    if layout.lot:
        yield area_of(layout, "lot", "lot", shapely.Polygon(flat(layout.lot.drawn)))
    if layout.buildable is not None and not layout.buildable.is_empty:
        yield area_of(layout, "buildable area", "inside all setbacks and keep-clear areas", layout.buildable)
    for area in layout.kept_clear:
        yield area_of(layout, area.name, "keep clear", _shape(area))
    for line in layout.lines.values():
        if line.inside is None:  # lot sides are the lot's outline already
            ends = tuple(map(layout.frame.to_file, (line.line.start, line.line.end)))
            yield Thing("LineString", ((ends,),), {"name": line.name, "kind": "reference line"})


def _point(layout: Layout, row: PointRow) -> Thing:
    unit, notation = layout.site.unit, layout.notation
    properties: dict[str, Any] = {
        "name": row.name,
        "kind": row.kind,
        "note": row.note,
        "north": float(notation.coordinate(row.north)),
        "east": float(notation.coordinate(row.east)),
        "unit": unit.name,
    }
    if row.elevation is not None:
        properties |= {"elevation": float(notation.coordinate(row.elevation)), "elevation_unit": unit.name}
    return Thing("Point", (((Point(row.east, row.north),),),), properties)


def flat(points: Iterable[Point]) -> list[tuple[float, float]]:
    """Places as pairs of east and north [m], as shapely wants them."""
    return [(point.east, point.north) for point in points]


def area_of(layout: Layout, name: str, kind: str, shape: shapely.Geometry) -> Thing:
    """A polygon, or several, as rings in the file's frame: outer ones counter-clockwise, closed (RFC 7946, 3.1.6)."""
    pieces = [piece for piece in shapely.get_parts(shape) if isinstance(piece, shapely.Polygon) and not piece.is_empty]
    shells = []
    for piece in pieces:
        turned = shapely.orient_polygons(piece, exterior_cw=False)
        rings = (turned.exterior, *turned.interiors)
        shells.append(tuple(tuple(_spots(layout, ring.coords)) for ring in rings))
    kind_of_shape = "Polygon" if len(shells) == 1 else "MultiPolygon"
    return Thing(kind_of_shape, tuple(shells), {"name": name, "kind": kind})


def _spots(layout: Layout, coordinates: Iterable[Sequence[float]]) -> Iterator[Point]:
    for coordinate in coordinates:
        at = layout.frame.to_file(Point(coordinate[0], coordinate[1]))
        yield Point(at.east, at.north)


def _shape(area: KeptClear) -> shapely.Geometry:
    """An area, circles anew in pieces so short that they stay within the chord error."""
    if area.centre is None or area.radius <= 0:
        return area.shape
    half = math.acos(max(0.0, 1 - CHORD_ERROR / area.radius))
    pieces = max(12, math.ceil(math.pi / half))
    turns = (2 * math.pi * number / pieces for number in range(pieces))
    centre, radius = area.centre, area.radius
    return shapely.Polygon([(centre.east + radius * math.cos(t), centre.north + radius * math.sin(t)) for t in turns])


def _geometry(thing: Thing, places: dict[Point, LonLat]) -> Any:
    shells = [[[places[spot] for spot in ring] for ring in rings] for rings in thing.shells]
    match thing.type:
        case "Point":
            return geojson.Point(shells[0][0][0], precision=DECIMALS)
        case "LineString":
            return geojson.LineString(shells[0][0], precision=DECIMALS)
        case "Polygon":
            return geojson.Polygon(shells[0], precision=DECIMALS)
    return geojson.MultiPolygon(shells, precision=DECIMALS)


def _check_range(lonlats: Sequence[LonLat]) -> None:
    """What no map shows right: places that are none, and a site cut in two (RFC 7946, 3.1.9)."""
    if not all(
        math.isfinite(lon) and math.isfinite(lat) and abs(lon) <= 180 and abs(lat) <= 90 for lon, lat in lonlats
    ):
        raise PositionError("a point of the site comes out at no longitude and latitude", "check its coordinates")
    lons = [lon for lon, _ in lonlats]
    if max(lons) - min(lons) > 180:
        raise PositionError(
            "the site lies across the meridian of 180 degrees, where maps are cut", "use the DXF instead"
        )


def _exact(layout: Layout, spots: Sequence[Point]) -> tuple[Sequence[LonLat], dict[str, Any]]:
    position = known_position(layout)
    lonlats, operation = to_lonlat(position.system, [(at.east, at.north) for at in map(position.grid, spots)])
    return lonlats, _origin(position.system, operation)


def _approximate(laid: Laid, spots: Sequence[Point]) -> tuple[Sequence[LonLat], dict[str, Any]]:
    return [laid.lonlat(spot) for spot in spots], {
        "use": USE,
        "approximate": True,
        "approximate_words": f"a local site, laid on the map by {laid.by}; it may lie many feet off",
        "source_crs": None,
        "target_crs": "WGS 84 (EPSG:4326)",
        "north_of_the_file_deg": round(laid.turn % 360, 6),
    }


def _origin(which: System, operation: Operation) -> dict[str, Any]:
    return {
        "use": USE,
        "source_crs": which.code,
        "source_crs_name": which.name,
        "source_datum": which.datum,
        "target_crs": operation.target,
        "operation": operation.description,
        "operation_accuracy_m": operation.accuracy,
    }


def _site_facts(layout: Layout) -> dict[str, Any]:
    return {
        "site_unit": layout.site.unit.name,
        "site_unit_words": layout.site.unit.words,
        "vertical": layout.site.declared.coordinates.vertical if layout.site.declared.coordinates else "",
        "chord_error_m": CHORD_ERROR,
        **({"system": layout.site.system} if layout.fitted else {}),
        "site": layout.site.declared.site.name,
        "revision": layout.site.revision,
        "site_file_sha256": layout.site.fingerprint,
    }
