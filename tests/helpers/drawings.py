"""Drawings for the tests: one outline drawn in as many ways as ezdxf can draw it."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import Any

from ezdxf.filemanagement import new
from ezdxf.math import bulge_to_arc

Vertices = Sequence[tuple[float, float, float]]  # x, y and the bulge of the way to the next

BAY: Vertices = ((0, 0, 0), (12, 0, 0), (12, 3, 0.5), (12, 6, 0), (12, 9, 0), (0, 9, 0))
SQUARE: Vertices = ((0, 0, 0), (4, 0, 0), (4, 4, 0), (0, 4, 0))


def saved(document: Any) -> bytes:
    """A drawing as the bytes of its file."""
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def blank(version: str = "R2000", units: int = 6) -> Any:
    """An empty drawing."""
    document = new(version, units=units)
    if not units:
        del document.header["$INSUNITS"]
    return document


def polyline(space: Any, vertices: Vertices, layer: str = "SLAB", **more: Any) -> None:
    """One closed light polyline."""
    space.add_lwpolyline(vertices, format="xyb", close=True, dxfattribs={"layer": layer, **more})


def heavy(space: Any, vertices: Vertices, layer: str = "SLAB") -> None:
    """One closed polyline of the older sort."""
    space.add_polyline2d(vertices, format="xyb", close=True, dxfattribs={"layer": layer})


def loose(space: Any, vertices: Vertices, order: Sequence[int], layer: str = "SLAB") -> None:
    """Lines and arcs in the order given; every other line is drawn backward."""
    for index in order:
        (x, y, bulge), (to_x, to_y, _) = vertices[index], vertices[(index + 1) % len(vertices)]
        if bulge:
            centre, start, end, radius = bulge_to_arc((x, y), (to_x, to_y), bulge)
            space.add_arc(centre, radius, math.degrees(start), math.degrees(end), dxfattribs={"layer": layer})
        else:
            ends = ((x, y), (to_x, to_y))[:: 1 if index % 2 else -1]
            space.add_line(*ends, dxfattribs={"layer": layer})


def drawn(vertices: Vertices = BAY, layer: str = "SLAB", units: int = 6, version: str = "R2000") -> bytes:
    """A drawing with one closed light polyline."""
    document = blank(version, units)
    polyline(document.modelspace(), vertices, layer)
    return saved(document)
