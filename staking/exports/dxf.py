"""How does a drawing go into a DXF that any reader takes, in site coordinates?

Only what every one of ten independent readers was seen to take: POINT, small CIRCLE and ASCII TEXT for a point,
closed LWPOLYLINE (POLYLINE in R12), LINE, CIRCLE, dimensions as LINE and TEXT, one layer a kind, extents and paper
limits set. Coordinates are in the file's frame and the site's unit. A POINT stands for what `points.csv` lists and
for nothing else; Z is its elevation, and 0 where none is known.

$INSUNITS says feet (2) for both kinds of feet, since readers take the code of the survey foot (21) for millimetres;
a note in the drawing and a comment at the head say which foot it is. The same layout gives the same bytes.
"""

from __future__ import annotations

import io
import logging
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import shapely

from staking.drawing.layers import LAYERS, OF_LAYOUT
from staking.drawing.marks import Drawing
from staking.errors import OutputError, suggestion
from staking.exports.dxf_marks import Sheet, draw_mark, draw_points, reaches
from staking.exports.dxf_text import check_distinct
from staking.exports.rows import PointRow, point_rows
from staking.layout.computed import Layout
from staking.layout.other_system import ground_words, system_words

logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # its font cache and R12 remarks are nobody's business

from ezdxf._options import options  # noqa: E402 - it logs while it is imported
from ezdxf.filemanagement import new  # noqa: E402 - as above
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS  # noqa: E402 - as above

VERSIONS: Mapping[str, str] = MappingProxyType(
    {name: name.upper() for name in ("r12", "r2000", "r2004", "r2007", "r2010", "r2013", "r2018")}
)

_INSUNITS: Mapping[str, int] = MappingProxyType({"m": 6, "ft": 2, "ftUS": 2})  # DXF reference, $INSUNITS
_FEET_WORDS: Mapping[str, str] = MappingProxyType(
    {"m": "metres", "ft": "international feet (0.3048 m)", "ftUS": "US survey feet (1200/3937 m)"}
)
_PAPER = (0.4318, 0.2794)  # metres; 17 x 11 in, which one reader takes its page from, in drawing units
_TEXT_SHARE = 150  # the larger extent is so many text heights; own choice
_LEAST_TEXT = 0.01  # metres
_ROOM = 0.04  # of the larger extent between the drawing and its frame
_CHARACTER = 0.85  # width of a character / its height, at the most
_lock = threading.Lock()


@dataclass(frozen=True, slots=True)
class Content:
    """What a DXF holds. rows: its points; layers: names of those it has; remarks: lines added to its note."""

    rows: Sequence[PointRow]
    drawing: Drawing
    layers: Sequence[str]
    remarks: Sequence[str] = ()


def dxf(layout: Layout, drawing: Drawing, *, version: str = "r2000", remarks: Sequence[str] = ()) -> bytes:
    """The layout as a DXF: every point of the point list, and the lines and texts of the drawing.

    version: r12, r2000, r2004, r2007, r2010, r2013 or r2018. remarks: lines added to the note below the drawing.
    Raises OutputError for another version, and where two names would look the same in ASCII.
    """
    return dxf_of(layout, Content(point_rows(layout), drawing, OF_LAYOUT, remarks), version=version)


def dxf_of(layout: Layout, content: Content, *, version: str) -> bytes:
    """Points and a drawing of a layout's site as a DXF, with a note that says unit, system and fingerprint."""
    if version not in VERSIONS:
        raise OutputError(f'there is no DXF version "{version}"', suggestion(version, VERSIONS))
    check_distinct(row.name for row in content.rows)
    with _fixed_metadata():
        document = new(VERSIONS[version], setup=False)
        _set_up(document, layout, content.layers)
        extents = _draw(document, layout, content)
        _set_extents(document, extents, layout)
        return _written(document, layout)


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Dates and identifiers that are the same each time; the option is put back as it was."""
    with _lock:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def _set_up(document: Any, layout: Layout, layers: Sequence[str]) -> None:
    unit = layout.site.unit.name
    document.header["$INSUNITS"] = _INSUNITS[unit]
    document.header["$MEASUREMENT"] = int(unit == "m")
    document.header["$LUNITS"] = 2  # decimal
    document.header["$LUPREC"] = 4
    for layer in map(LAYERS.__getitem__, layers):
        weight = layer.width * 2540 / 72  # hundredths of a millimetre
        nearest = min(VALID_DXF_LINEWEIGHTS, key=lambda known: abs(known - weight))
        document.layers.add(layer.name, color=layer.dxf_colour, lineweight=nearest)


def _draw(document: Any, layout: Layout, content: Content) -> tuple[float, float, float, float]:
    """Everything, and the box around it in drawing units: west, south, east, north."""
    rows, drawing = content.rows, content.drawing
    r12 = document.dxfversion == "AC1009"
    bare = Sheet(layout, document.modelspace(), r12, 0.0)
    size = float(layout.site.unit.metres)
    reach = [(row.east / size, row.north / size) for row in rows]
    reach += [bare.place(point) for mark in drawing.marks for point in reaches(mark)]
    west, south, east, north = shapely.MultiPoint(reach).bounds if reach else (0.0, 0.0, 1.0, 1.0)
    larger = max(east - west, north - south, _LEAST_TEXT)
    sheet = Sheet(layout, bare.space, r12, max(larger / _TEXT_SHARE, bare.size(_LEAST_TEXT)))
    draw_points(sheet, rows)
    named = {row.name for row in rows}
    for mark in drawing.marks:
        draw_mark(sheet, mark, named)
    lines = _note(layout, content.remarks)
    wide = max(east - west, max(map(len, lines)) * _CHARACTER * sheet.height)
    room = max(_ROOM * larger, 4 * sheet.height)
    bottom = _write_note(sheet, lines, west, south - room)
    box = (west - room, bottom - room, west + wide + room, north + room)
    _frame(sheet, box)
    return box


def _note(layout: Layout, remarks: Sequence[str]) -> tuple[str, ...]:
    about, coordinates = layout.site.declared.site, layout.site.declared.coordinates
    system = coordinates.crs if coordinates and coordinates.crs else "local, assumed coordinates"
    values = coordinates.values if coordinates else "ground"
    which = f"{words}; " if (words := system_words(layout)) else ""
    factor = f", combined factor {layout.frame.factor!r}" if layout.frame.factor != 1 else ""
    made = f"; {words}" if (words := ground_words(layout)) else ""
    return (
        f"SITE: {about.name}",
        f"REVISION: {layout.site.revision}",
        f"UNIT: {_FEET_WORDS[about.unit]}",
        f"SYSTEM: {which}{system}; {values} values{factor}{made}",
        f"SITE-FILE: {layout.site.fingerprint}",
        "CAUTION: this is not a boundary survey. Z is 0 where no elevation is known.",
        *(f"REMARK: {remark}" for remark in remarks),
    )


def _write_note(sheet: Sheet, lines: Sequence[str], left: float, top: float) -> float:
    """The lines below one another; returns where the last one ends."""
    step = 1.8 * sheet.height
    for number, line in enumerate(lines, 1):
        sheet.text("NOTE", (left, top - number * step), line, height=sheet.height)
    return top - len(lines) * step


def _frame(sheet: Sheet, box: tuple[float, float, float, float]) -> None:
    """Four lines round everything: readers crop what touches the edge. No closed outline, which might be staked."""
    west, south, east, north = box
    corners = ((west, south), (east, south), (east, north), (west, north))
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        sheet.line("NOTE", start, end)


def _set_extents(document: Any, box: tuple[float, float, float, float], layout: Layout) -> None:
    west, south, east, north = box
    space = document.modelspace()
    space.reset_extents((west, south, 0), (east, north, 0))
    space.reset_limits((west, south), (east, north))
    size = float(layout.site.unit.metres)
    paper = (_PAPER[0] / size, _PAPER[1] / size)
    document.header["$PLIMMIN"], document.header["$PLIMMAX"] = (0, 0), paper
    document.layout("Layout1").dxf.limmin = (0, 0)
    document.layout("Layout1").dxf.limmax = paper
    document.set_modelspace_vport(height=north - south, center=((west + east) / 2, (south + north) / 2))


def _written(document: Any, layout: Layout) -> bytes:
    text = io.StringIO()
    document.write(text)
    unit = layout.site.unit.name
    written = text.getvalue()
    if document.dxfversion == "AC1009":  # ezdxf leaves the unit out of R12, and readers then take millimetres
        code = f"  9\n$INSUNITS\n 70\n{_INSUNITS[unit]}\n"
        written = written.replace("  9\n$ACADVER\n", f"{code}  9\n$ACADVER\n", 1)
    return f"999\nUNIT: {_FEET_WORDS[unit]}\n{written}".encode("ascii")
