"""Which lines does a DXF file hold? The only door to ezdxf for reading.

Group codes and their meaning: DXF reference (open format description), from memory; files written by ezdxf are the
oracle in the tests.
"""

from __future__ import annotations

import io
import logging
import math
import re
from dataclasses import dataclass, field
from typing import Any

from staking.drafts.contents import Draft, DraftError, Stroke, Unread
from staking.survey.points import Point

# $INSUNITS. Source: DXF reference, header variables, from memory; 21, the US survey foot, is of later versions
UNIT_CODES = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 21: "ftUS"}
FLAT = 1e-3  # drawing units; a line whose heights differ more is not flat
LARGEST = 1e12  # a coordinate or bulge that is larger was never drawn
MOST = 20_000  # lines of one drawing; more is no outline of a slab
DEEPEST = 12  # blocks within blocks

_EXPORT = "have it saved anew as a plain DXF file (R12 or R2000)"
_CURVES = {
    "SPLINE": "a free curve has no radius to set out; draw it as lines and arcs",
    "ELLIPSE": "an ellipse has no radius to set out; draw it as lines and arcs",
    "HATCH": "a filling is no outline; draw its edge as a polyline",
    "REGION": "a region is no outline; explode it into lines and arcs",
    "3DSOLID": "a body is no outline; draw the edge of the slab as a polyline",
    "MESH": "a mesh is no outline; draw the edge of the slab as a polyline",
    "BODY": "a body is no outline; draw the edge of the slab as a polyline",
    "3DFACE": "a face is no outline; draw the edge of the slab as a polyline",
}


def read_dxf(data: bytes) -> Draft:
    """The lines of a DXF file's model space, blocks taken apart. Raises DraftError where there is no drawing in it."""
    _refuse_others(data)
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # its notes on handles are nothing for the screen
    from ezdxf.lldxf.const import DXFError

    try:
        return _draft(_document(data))
    except (DXFError, ValueError, LookupError, TypeError, AttributeError, *_BROKEN) as error:
        words = " ".join(str(error).split())[:120] or type(error).__name__
        raise DraftError(f"the drawing is broken: {words}", _EXPORT) from None


# what the reader stumbles with over damaged files, beside its own errors
_BROKEN = (ArithmeticError, AssertionError, RecursionError)


def _draft(document: Any) -> Draft:
    reading = _Reading()
    for entity in document.modelspace():
        reading.take(entity, "", "", 0)
    code = document.header.get("$INSUNITS", 0) or 0
    return Draft(
        form=f"DXF {document.acad_release}",
        unit=UNIT_CODES.get(code, ""),
        said=f"$INSUNITS = {code}" if code else "",
        strokes=tuple(reading.strokes),
        unread=tuple(reading.unread),
        hidden=frozenset(name.dxf.name for name in document.layers if name.is_off() or name.is_frozen()),
        others=tuple(reading.others),
    )


def _refuse_others(data: bytes) -> None:
    """The reader finds nothing, and says nothing, in what is no DXF at all; so the head and the end are asked for."""
    if not data.strip():
        raise DraftError("the drawing is empty", _EXPORT)
    if re.match(rb"AC10\d\d", data):
        raise DraftError("this is a DWG file, which is another format", _EXPORT)
    if data.startswith(b"AutoCAD Binary DXF\r\n\x1a\x00"):
        if b"\x00EOF\x00" not in data[-64:]:
            raise DraftError("the drawing is cut short: its end mark is missing", _EXPORT)
        return
    if not re.match(rb"(?:\xef\xbb\xbf)?(?:\s*999\s*\n[^\n]*\n)*\s*0\s*\r?\n\s*SECTION\s", data):
        raise DraftError("this is no DXF file: it does not begin with 0, SECTION", _EXPORT)
    if not re.search(rb"\n\s*0\s*\r?\n\s*EOF\s*(?:\n|$)", data):
        raise DraftError("the drawing is cut short: its end mark, 0 and EOF, is missing", _EXPORT)


def _document(data: bytes) -> Any:
    from ezdxf import recover
    from ezdxf.document import Drawing
    from ezdxf.lldxf.tagger import binary_tags_loader

    if data.startswith(b"AutoCAD Binary DXF"):
        return Drawing.load(binary_tags_loader(data))
    return recover.read(io.BytesIO(data))[0]


@dataclass
class _Reading:
    """The lines found so far."""

    strokes: list[Stroke] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)
    others: list[tuple[str, str]] = field(default_factory=list)

    def take(self, entity: Any, layer: str, block: str, depth: int) -> None:
        """One entity; layer: that of the block reference it stands in, which content on layer 0 takes."""
        own = str(entity.dxf.layer)
        layer = layer if layer and own == "0" else own
        what = entity.dxftype()
        if what == "INSERT":
            self._block(entity, layer, depth)
        elif what in _CURVES:
            self.unread.append(Unread(layer, what, _CURVES[what]))
        elif what not in _READERS:
            self.others.append((layer, what))
        else:
            self._line(entity, layer, block)
        if len(self.strokes) > MOST:
            raise DraftError(f"the drawing holds more than {MOST} lines", "keep the outline of the slab and its layer")

    def _line(self, entity: Any, layer: str, block: str) -> None:
        what = entity.dxftype()
        found = _READERS[what](entity)
        if isinstance(found, str):
            self.unread.append(Unread(layer, what, found))
            return
        places, bulges, closed = found
        numbers = [*bulges, *(number for place in places for number in place)]
        if not all(abs(number) < LARGEST for number in numbers):  # nan is not less either
            raise DraftError(f'a {what} on layer "{layer}" has a coordinate that is no number', _EXPORT)
        heights = [z for _, _, z in places]
        if max(heights) - min(heights) > FLAT:
            self.unread.append(Unread(layer, what, "it is not flat; draw the outline in plan, all at one height"))
            return
        points = tuple(Point(x, y) for x, y, _ in places)
        self.strokes.append(Stroke(points, bulges, closed, layer, what, block))

    def _block(self, entity: Any, layer: str, depth: int) -> None:
        if depth > DEEPEST:
            raise DraftError(f"blocks stand in blocks more than {DEEPEST} deep", "explode the blocks")
        name = str(entity.dxf.name)

        def skipped(part: Any, reason: str) -> None:
            self.unread.append(Unread(layer, part.dxftype(), f"block {name} cannot be taken apart: {reason}"))

        copies = entity.multi_insert() if entity.mcount > 1 else (entity,)
        for copy in copies:
            for part in copy.virtual_entities(skipped_entity_callback=skipped):
                self.take(part, layer, name, depth + 1)


_Place = tuple[float, float, float]
_Found = tuple[list[_Place], tuple[float, ...], bool] | str


def _side_up(entity: Any) -> int:
    """1 where the entity's plane faces up, -1 where it faces down (drawn mirrored), 0 where it is tilted."""
    axis = entity.dxf.extrusion
    if math.hypot(axis.x, axis.y) > 1e-9 * abs(axis.z):
        return 0
    return 1 if axis.z > 0 else -1


_TILTED = "its plane is tilted; draw the outline in plan"


def _places(points: Any) -> list[_Place]:
    return [(float(p.x), float(p.y), float(p.z)) for p in points]


def _line(entity: Any) -> _Found:
    return _places((entity.dxf.start, entity.dxf.end)), (0.0,), False


def _arc(entity: Any) -> _Found:
    up = _side_up(entity)
    if not up:
        return _TILTED
    sweep = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0)
    if sweep == 0.0:
        return _circle(entity)
    return _places((entity.start_point, entity.end_point)), (up * math.tan(sweep / 4),), False


def _circle(entity: Any) -> _Found:
    up = _side_up(entity)
    if not up:
        return _TILTED
    centre, radius = entity.dxf.center, abs(entity.dxf.radius)
    ends = [entity.ocs().to_wcs(centre + offset) for offset in ((-radius, 0, 0), (radius, 0, 0))]
    return _places(ends), (float(up), float(up)), True


def _light(entity: Any) -> _Found:
    up = _side_up(entity)
    if not up:
        return _TILTED
    rows = [tuple(map(float, row)) for row in entity.get_points("xyb")]
    height = float(entity.dxf.elevation)
    points = list(entity.ocs().points_to_wcs([_vec(x, y, height) for x, y, _ in rows]))
    return _run(_places(points), [up * bulge for _, _, bulge in rows], bool(entity.closed))


def _vec(x: float, y: float, z: float) -> Any:
    from ezdxf.math import Vec3

    return Vec3(x, y, z)


def _heavy(entity: Any) -> _Found:
    if entity.is_polygon_mesh or entity.is_poly_face_mesh:
        return "a mesh is no outline; draw the edge of the slab as a polyline"
    if entity.dxf.flags & 6:
        return "it is smoothed to a curve without a radius; draw it as lines and arcs"
    spots = [vertex.dxf.location for vertex in entity.vertices]
    if entity.is_3d_polyline:
        return _run(_places(spots), [0.0] * len(spots), bool(entity.is_closed))
    up = _side_up(entity)
    if not up:
        return _TILTED
    bulges = [up * float(vertex.dxf.bulge) for vertex in entity.vertices]
    return _run(_places(entity.ocs().points_to_wcs(spots)), bulges, bool(entity.is_closed))


def _run(places: list[_Place], bulges: list[float], closed: bool) -> _Found:
    if len(places) < 2:
        return "it has fewer than two points"
    return places, tuple(bulges if closed else bulges[:-1]), closed


_READERS = {"LINE": _line, "ARC": _arc, "CIRCLE": _circle, "LWPOLYLINE": _light, "POLYLINE": _heavy}
