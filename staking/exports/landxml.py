"""What is the job in LandXML 1.2, for the programs of the surveyor?

Points, the lot as a parcel, everything drawn as plan features and the ground as a surface of triangles, in the site's
unit and the frame of the site file, with 4 decimals as in the lists of points. A point is north, east and, where it is
known, elevation: that order is fixed by the standard. Arcs stay arcs. Units, frame and factor are stated, since left
out some of them mean something else: elevations metres, even beside feet, and angles radians.

Source: LandXML 1.2 schema (landxml.org), its element rules from memory; the schema itself is not part of this program.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import count
from types import MappingProxyType
from xml.etree.ElementTree import Element, SubElement, indent, tostring

import shapely

from staking.errors import PositionError
from staking.exports.rows import PointRow, given_rows, stake_rows
from staking.layout.computed import KeptClear, Layout, LotSide
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece, pieces_of
from staking.survey.points import Point
from staking.survey.polygons import sides_of
from staking.version import VERSION

NAMESPACE = "http://www.landxml.org/schema/LandXML-1.2"
NO_DATE = "2000-01-01"  # the standard wants a date; this one where the site file gives none

_SCHEMA = f"{NAMESPACE} {NAMESPACE}/LandXML-1.2.xsd"
_ANGLES: Mapping[str, str] = MappingProxyType(dict.fromkeys(("angularUnit", "directionUnit"), "decimal degrees"))
_METRIC: Mapping[str, str] = MappingProxyType(
    {
        "areaUnit": "squareMeter",
        "linearUnit": "meter",
        "volumeUnit": "cubicMeter",
        "temperatureUnit": "celsius",
        "pressureUnit": "milliBars",
        **_ANGLES,
        "elevationUnit": "meter",
    }
)
_IMPERIAL: Mapping[str, str] = MappingProxyType(
    {
        "areaUnit": "squareFoot",
        "linearUnit": "foot",
        "volumeUnit": "cubicYard",
        "temperatureUnit": "fahrenheit",
        "pressureUnit": "inHG",
        **_ANGLES,
        "elevationUnit": "feet",
    }
)
_UNITS: Mapping[str, tuple[str, Mapping[str, str]]] = MappingProxyType(
    {
        "m": ("Metric", _METRIC),
        "ft": ("Imperial", _IMPERIAL),
        "ftUS": ("Imperial", MappingProxyType({**_IMPERIAL, "linearUnit": "USSurveyFoot"})),
    }
)

_Shape = tuple[str, str, tuple[Piece, ...]]  # name, what it is, its pieces on the ground


def landxml(layout: Layout, despite: Sequence[str] = ()) -> bytes:
    """The layout as a LandXML 1.2 file in UTF-8. despite: codes of findings that were overruled."""
    about = layout.site.declared.site
    root = Element("LandXML", {"xmlns": NAMESPACE, "xmlns:xsi": "http://www.w3.org/2001/XMLSchema-instance"})
    root.set("xsi:schemaLocation", _SCHEMA)
    root.set("version", "1.2")
    root.set("date", about.date.isoformat() if about.date else NO_DATE)
    root.set("time", "00:00:00")
    root.set("language", "English")
    element, units = _UNITS[layout.site.unit.name]
    SubElement(SubElement(root, "Units"), element, dict(units))
    SubElement(root, "CoordinateSystem", _system(layout))
    SubElement(root, "Project", name=about.name, desc=_words(layout, despite))
    SubElement(root, "Application", name="staking", version=VERSION)
    _points(layout, root, "given", "existing", given_rows(layout))
    _points(layout, root, "staked", "proposed", stake_rows(layout))
    _parcel(layout, root)
    _features(layout, root)
    _surface(layout, root)
    indent(root)
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True)) + b"\n"


def _system(layout: Layout) -> dict[str, str]:
    """The coordinate system. Ground values bear no EPSG code: a program would put them on the earth, far away."""
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        return {"name": "local", "desc": "local coordinates on the ground; no coordinate system is stated"}
    vertical = {"verticalDatum": stated.vertical} if stated.vertical else {}
    known = "combined_factor" in stated.model_fields_set
    factor = f"combined factor (grid distance / ground distance) {stated.combined_factor!r}"
    factor = factor if known else "the combined factor is not stated"
    if stated.values == "ground":
        words = f"ground values, not those of the system {stated.crs}; {factor}"
        return {"name": "ground", "desc": words, **vertical}
    code = stated.crs.partition(":")[2].strip()
    return {"name": _system_name(stated.crs), "epsgCode": code, "desc": f"grid values; {factor}", **vertical}


def _system_name(crs: str) -> str:
    from staking.survey.projected_systems import system  # noqa: PLC0415 - slow to import: only sites that name a system

    try:
        return system(crs).name
    except PositionError:
        return crs


def _words(layout: Layout, despite: Sequence[str]) -> str:
    site, unit = layout.site, layout.site.unit
    dated = "dated as the revision" if site.declared.site.date else f"no date is stated, {NO_DATE} stands for none"
    parts = [
        f"revision {site.revision}",
        f"coordinates and elevations in {unit.words} ({unit.name}, {unit.metres} m)",
        dated,
        f"site file SHA-256 {site.fingerprint}",
        *(f"made despite the stop {code}" for code in despite),
    ]
    return "; ".join(parts)


def _points(layout: Layout, root: Element, name: str, state: str, rows: Sequence[PointRow]) -> None:
    if not rows:
        return
    group = SubElement(root, "CgPoints", name=name)
    for row in rows:
        point = SubElement(group, "CgPoint", name=row.name, state=state, code=row.kind)
        if row.note:
            point.set("desc", row.note)
        heights = () if row.elevation is None else (row.elevation,)
        point.text = " ".join(map(layout.notation.coordinate, (row.north, row.east, *heights)))


def _parcel(layout: Layout, root: Element) -> None:
    lot = layout.lot
    if lot is None:
        return
    about, size = layout.site.declared.site, float(layout.site.unit.metres)
    area = lot.area * (layout.frame.factor / size) ** 2  # of the figure that stands here, as a program would compute it
    words = f"area on the ground: {layout.notation.areas(lot.area)}; given by: {lot.given_by or 'not stated'}"
    parcel = SubElement(
        SubElement(root, "Parcels"), "Parcel", name=about.lot or "lot", area=f"{area:.4f}", state="existing", desc=words
    )
    geometry = SubElement(parcel, "CoordGeom")
    for side in lot.sides:
        _named(_piece(layout, geometry, side.piece), side)


def _named(element: Element, side: LotSide) -> None:
    element.set("name", side.name)
    for tag, name in (("Start", side.start_name), ("End", side.end_name)):
        end = element.find(tag)
        if end is not None:
            end.set("name", name)


def _features(layout: Layout, root: Element) -> None:
    group = SubElement(root, "PlanFeatures", name="layout")
    used: set[str] = set()
    for name, words, pieces in _shapes(layout):
        unique = next(each for each in _numbered(name) if each not in used)
        used.add(unique)
        geometry = SubElement(SubElement(group, "PlanFeature", name=unique, desc=words), "CoordGeom")
        for piece in pieces:
            _piece(layout, geometry, piece)


def _surface(layout: Layout, root: Element) -> None:
    """The triangles of the ground. Every corner is written once, in the order in which triangles first need it."""
    if layout.earth is None:
        return
    words = f"ground as measured, {layout.earth.points} points on file; flat triangles between them"
    surface = SubElement(SubElement(root, "Surfaces", name="ground"), "Surface", name="ground", desc=words)
    definition = SubElement(surface, "Definition", surfType="TIN")
    points, faces = SubElement(definition, "Pnts"), SubElement(definition, "Faces")
    numbers: dict[tuple[float, float, float], int] = {}
    for corners in layout.earth.triangles.corners.tolist():
        at = [numbers.setdefault((east, north, up), len(numbers) + 1) for east, north, up in corners]
        SubElement(faces, "F").text = " ".join(map(str, at))
    write = layout.notation.coordinate
    for (east, north, up), number in numbers.items():
        at_file = layout.frame.to_file(Point(east, north))
        SubElement(points, "P", id=str(number)).text = f"{write(at_file.north)} {write(at_file.east)} {write(up)}"


def _numbered(name: str) -> Iterator[str]:
    yield name
    yield from (f"{name} ({number})" for number in count(2))


def _shapes(layout: Layout) -> Iterator[_Shape]:
    """Slab, building line, parts, reference lines, areas to keep clear."""
    slab = layout.slab
    yield "slab", "formed outline", slab.form.pieces
    if slab.ledge:
        yield "building line", "inside the ledge", pieces_of(slab.building, slab.form.outline.bulges)
    for name, corners in slab.form.parts:
        yield name, "part of the slab", sides_of(corners)
    for line in layout.lines.values():
        if line.inside is None:  # the sides of the lot are its parcel already
            yield line.name, "reference line", (line.line,)
    for area in layout.kept_clear:
        for ring in _rings(area):
            yield area.name, "keep clear", ring


def _rings(area: KeptClear) -> Iterator[tuple[Piece, ...]]:
    """The edges of an area; a circle as two halves, the edge of a strip beside an arc as chords."""
    if area.centre is not None:
        east, north = area.centre.east, area.centre.north
        right, left = Point(east + area.radius, north), Point(east - area.radius, north)
        yield Arc(right, left, area.centre, left=True), Arc(left, right, area.centre, left=True)
        return
    for part in shapely.get_parts(area.shape):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            for ring in (part.exterior, *part.interiors):
                yield sides_of([Point(at[0], at[1]) for at in ring.coords[:-1]])


def _piece(layout: Layout, geometry: Element, piece: Piece) -> Element:
    """A line or curve; cw turns to the right as it runs, ccw to the left."""
    write, factor = layout.notation.coordinate, layout.frame.factor
    length = write(piece.length * factor)
    if isinstance(piece, Line):
        element = SubElement(geometry, "Line", length=length)
        places = {"Start": piece.start, "End": piece.end}
    else:
        rot, radius = "ccw" if piece.left else "cw", write(piece.radius * factor)
        element = SubElement(geometry, "Curve", rot=rot, crvType="arc", radius=radius, length=length)
        places = {"Start": piece.start, "Center": piece.centre, "End": piece.end}
    for tag, ground in places.items():
        at = layout.frame.to_file(ground)
        SubElement(element, tag).text = f"{write(at.north)} {write(at.east)}"
    return element
