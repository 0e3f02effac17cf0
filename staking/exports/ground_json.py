"""What is known of heights and ground, for `layout.json`: the design surface, the ground, falls and earth?

Heights and lengths are in the site's unit; slopes are ratios of heights to distances of the file, so that they can be
worked out in its coordinates.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from staking.drawing.contours import FIFTH, step_in
from staking.drawing.window import contour_window
from staking.layout.computed import Layout
from staking.layout.design import Design, Piece
from staking.layout.earth import Earth, Spot
from staking.layout.falls import falls_of
from staking.survey.points import Point
from staking.survey.polygons import ring_corners
from staking.survey.surface import Plane
from staking.survey.triangles import Volume

DECIMALS = 6  # of numbers for programs
SLOPE_DECIMALS = 9

Json = dict[str, Any]


def surface_json(layout: Layout, design: Design) -> Json:
    """The design surface as a function of east and north: the plane of the floor, and pieces with planes of their own.

    elevation = at.elevation + rise.north (north - at.north) + rise.east (east - at.east)
    """
    pieces = [_piece(layout, piece) for piece in design.pieces]
    return {"plane": _plane(layout, design.floor), "pieces": pieces, "falls": _falls(layout)}


def _plane(layout: Layout, plane: Plane) -> Json:
    factor, at = layout.frame.factor, layout.frame.to_file(plane.at)
    place = {
        "north": _number(layout, at.north),
        "east": _number(layout, at.east),
        "elevation": _number(layout, plane.up),
    }
    rises = {"north": plane.rise.north, "east": plane.rise.east}
    return {"at": place, "rise": {way: round(rise / factor, SLOPE_DECIMALS) for way, rise in rises.items()}}


def _piece(layout: Layout, piece: Piece) -> Json:
    return {
        "name": piece.name,
        "kind": piece.kind,
        "outline": _places(layout, ring_corners(piece.shape.exterior)),
        "openings": [_places(layout, ring_corners(ring)) for ring in piece.shape.interiors],
        "top": _plane(layout, piece.top),
        "subgrade": None if piece.bottom is None else _plane(layout, piece.bottom),
    }


def _places(layout: Layout, corners: Iterable[Point]) -> list[Json]:
    files = (layout.frame.to_file(corner) for corner in corners)
    return [{"north": _number(layout, at.north), "east": _number(layout, at.east)} for at in files]


def _falls(layout: Layout) -> list[Json]:
    return [
        {"of": fall.of, "kind": fall.kind, "ratio": round(fall.ratio, SLOPE_DECIMALS), "to": fall.to or None}
        for fall in falls_of(layout)
    ]


def ground_json(layout: Layout, earth: Earth, *, withheld: bool) -> Json:
    """The ground at every corner and stake, the contours' interval, high and low corner, and earth under the slab.

    withheld: only what tells nothing of where to stake and how high to form.
    """
    step = step_in(layout, earth, contour_window(layout))
    known: Json = {
        "points": earth.points,
        "triangles": len(earth.triangles.corners),
        "lowest": _number(layout, earth.triangles.lowest),
        "highest": _number(layout, earth.triangles.highest),
        "contours": None if step is None else {"interval": _number(layout, step), "heavier_every": FIFTH},
        "high_corner": _corner(layout, earth.high),
        "low_corner": _corner(layout, earth.low),
    }
    if withheld:
        return known
    return known | {"at": [_spot(layout, spot) for spot in earth.spots], "earth": _earth(layout, earth)}


def _corner(layout: Layout, spot: Spot | None) -> Json | None:
    return None if spot is None else {"name": spot.name, "ground": _maybe(layout, spot.ground)}


def _spot(layout: Layout, spot: Spot) -> Json:
    heights = {"ground": spot.ground, "top": spot.top, "subgrade": spot.subgrade}
    depths = {"form_height": spot.form_height, "cut": spot.cut}
    named = {"name": spot.name, "kind": spot.kind}
    return named | {name: _maybe(layout, metres) for name, metres in (heights | depths).items()}


def _earth(layout: Layout, earth: Earth) -> Json | None:
    """In place, neither loosened nor compacted; None where no subgrade is known."""
    if not earth.pieces:
        return None
    pieces = [{"name": it.name, "kind": it.kind, **_volume(layout, it.volume)} for it in earth.pieces]
    checks = {"by_cells": earth.grid, "by_sections": earth.ends}
    size = float(layout.site.unit.metres) ** 2
    return {
        "unit": f"cu {layout.site.unit.name}",
        "base": _number(layout, layout.site.declared.earthwork.base),
        "total": _volume(layout, earth.total),
        "pieces": pieces,
        **{name: None if volume is None else _volume(layout, volume) for name, volume in checks.items()},
        "uncovered_area": round(earth.uncovered / size, DECIMALS),
    }


def _volume(layout: Layout, volume: Volume) -> Json:
    size = float(layout.site.unit.metres) ** 3
    return {"cut": round(volume.cut / size, DECIMALS), "fill": round(volume.fill / size, DECIMALS)}


def _number(layout: Layout, metres: float) -> float:
    return float(layout.notation.decimal(metres, DECIMALS))


def _maybe(layout: Layout, metres: float | None) -> float | None:
    return None if metres is None else _number(layout, metres)
