"""Which outline does a slab have that is taken from a drawing, and what keeps a drawing from giving one?"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from staking.drafts.contents import UNIT_NAMES, Draft, DraftError, Stroke
from staking.drafts.dxf import read_dxf
from staking.drafts.geojson import read_geojson
from staking.drafts.joining import Joined, Loop
from staking.drafts.outlines import FacingError, inside_of, outlines_of, turned
from staking.errors import InputError, PositionError, suggestion
from staking.findings import Finding, Place, Severity
from staking.kinds.outlines.drawn import Drawn
from staking.kinds.slab import Outline, names_by_direction
from staking.notation import Notation
from staking.sitefile.coordinates_declared import Coordinates
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.point_files import inside_folder
from staking.sitefile.text import read_bytes
from staking.survey.points import Point
from staking.units import SITE_UNITS, UNITS, Unit

LARGEST = 20_000_000  # bytes of a drawing
SHOWN = 5  # outlines, places or reasons that one message names

_ABSENT = "copy the drawing into the folder of the site file, or correct the path"


@dataclass(frozen=True)
class Drawing:
    """An outline out of a file, and what is worth knowing about it."""

    path: str
    fingerprint: str
    outline: Outline
    notes: tuple[Finding, ...]


def read_drawing(path: Path, absent: str = _ABSENT) -> tuple[Draft, str]:
    """A DXF or GeoJSON file and its SHA-256. Raises InputError with what is wrong with it."""
    data = read_bytes(path, largest=LARGEST, absent=absent)
    reads = read_geojson if path.suffix.lower() in (".geojson", ".json") else read_dxf
    try:
        return reads(data), hashlib.sha256(data).hexdigest()
    except DraftError as error:
        raise InputError(
            mistake("bad-drawing", plain(error.message, 240), Place(plain(str(path), 200)), error.remedy)
        ) from None


def drawing_of(data: Mapping[str, Any], *, folder: Path, unit: Unit, places: Places) -> Drawing | None:
    """The outline of a slab of kind "drawing"; None where there is none, or where its keys are wrong (said elsewhere).

    unit: of the site. Raises InputError with what is wrong.
    """
    slab = data.get("slab")
    if not isinstance(slab, Mapping) or slab.get("kind") != "drawing":
        return None
    try:
        asked = Drawn.model_validate(dict(slab), context={"unit": unit.name})
    except ValidationError:
        return None
    path = inside_folder(asked.path, folder, places.value(("slab", "path")))
    draft, fingerprint = read_drawing(path)
    if draft.form == "GeoJSON" and not asked.unit:
        draft = _projected(draft, data, places)
    choice = _Choice(draft, asked, places, plain(str(path), 200), Notation(unit))
    return Drawing(asked.path, fingerprint, choice.outline(), tuple(choice.notes()))


def _projected(draft: Draft, data: Mapping[str, Any], places: Places) -> Draft:
    """Longitude and latitude as metres on the ground, by the site's system and factor; as it is without those.

    Raises InputError for numbers that are no longitude and latitude, or are nowhere in that system.
    """
    try:
        stated = Coordinates.model_validate(data.get("coordinates"), context={"unit": "m"})
    except ValidationError:
        return draft  # what is wrong there is said elsewhere; the unit is asked for here
    if not stated.crs or not stated.factor_given or not draft.strokes:
        return draft
    try:
        strokes = tuple(replace(stroke, points=_on_ground(stroke, stated)) for stroke in draft.strokes)
    except PositionError as error:
        message = f"the polygon as longitude and latitude: {error.message}"
        remedy = f'{error.remedy}\nwrite unit = "m" or another where they are plain numbers'
        raise InputError(mistake("bad-drawing", message, places.value(("slab", "path")), remedy)) from None
    return replace(draft, strokes=strokes, unit="m", said=f"longitude and latitude, by {stated.crs}")


def _on_ground(stroke: Stroke, stated: Coordinates) -> tuple[Point, ...]:
    from staking.survey.projected_systems import system  # noqa: PLC0415 - pyproj is opened only here
    from staking.survey.projections import from_lonlat  # noqa: PLC0415 - pyproj is opened only here

    if any(abs(p.east) > 180 or abs(p.north) > 90 for p in stroke.points):
        raise PositionError("numbers beyond 180 and 90 degrees", "export it in longitude and latitude (RFC 7946)")
    places, _ = from_lonlat(system(stated.crs), [(p.east, p.north) for p in stroke.points])
    return tuple(Point(east / stated.combined_factor, north / stated.combined_factor) for east, north in places)


def sizes(strokes: Sequence[Stroke], write: Notation) -> str:
    """How large a drawing would be in each unit it may count in, a line each."""
    points = [point for stroke in strokes for point in stroke.points]
    wide = max((p.east for p in points), default=0.0) - min((p.east for p in points), default=0.0)
    deep = max((p.north for p in points), default=0.0) - min((p.north for p in points), default=0.0)
    lines = []
    for name in UNIT_NAMES:
        metres = float(UNITS[name].metres)
        own = Notation(UNITS[name]) if name in SITE_UNITS and name != "m" and write.unit.name != "m" else write
        lines.append(
            f'unit = "{name}": its points lie within {own.length(wide * metres)} by {own.length(deep * metres)}'
        )
    return "\n".join(lines)


def loop_words(loop: Loop, write: Notation) -> str:
    """A closed outline in words: size, sides, arcs, area, where it stands."""
    wide, deep = loop.size
    arcs = sum(1 for bulge in loop.bulges if bulge)
    round_ones = f", {arcs} of them arcs" if arcs else ""
    block = f', block "{plain(loop.block)}"' if loop.block else ""
    layer = f'layer "{plain(loop.layer)}"' if loop.layer else "no layer"
    size = f"{write.length(wide)} east by {write.length(deep)} north"
    return f"{size}, {len(loop.corners)} sides{round_ones}, {write.area(loop.area)}, {layer}{block} ({loop.what})"


@dataclass(frozen=True)
class _Choice:
    """What a site file asks of a drawing, and what the drawing has."""

    draft: Draft
    asked: Drawn
    places: Places
    file: str
    write: Notation

    @property
    def unit(self) -> str:
        """Of the drawing. Raises InputError where nobody says it."""
        if self.asked.unit or self.draft.unit:
            return self.asked.unit or self.draft.unit
        said = f" ({self.draft.said} is no unit known here)" if self.draft.said else ""
        if self.draft.form == "GeoJSON":
            said = "; longitude and latitude are no lengths"
        message = f"the drawing does not say in which unit it counts{said}"
        raise self._refused(message, f"find out, and write one of\n{sizes(self._strokes(), self.write)}", "path")

    def _refused(self, message: str, remedy: str, key: str) -> InputError:
        return InputError(mistake("bad-drawing", f"{self.asked.path}: {message}", self._place(key), remedy))

    def _place(self, key: str) -> Place:
        return self.places.value(("slab", key))

    def _strokes(self) -> tuple[Stroke, ...]:
        return tuple(stroke for stroke in self.draft.strokes if self._wanted(stroke.layer))

    def _wanted(self, layer: str) -> bool:
        return layer == self.asked.layer if self.asked.layer else layer not in self.draft.hidden

    def outline(self) -> Outline:
        """The outline asked for. Raises InputError where it is not there, or where several are."""
        loop = self._loop()
        try:
            own = turned(loop, self.asked.front)
        except FacingError as error:
            remedy = "write the direction in which one straight side of the outline faces in the drawing"
            raise self._refused(f"{error}: {self.asked.front}", remedy, "front") from None
        return Outline(own.corners, *names_by_direction(own.corners), own.bulges if any(own.bulges) else ())

    def _joined(self) -> Iterator[Joined]:
        layers = {stroke.layer for stroke in self.draft.strokes} | {other.layer for other in self.draft.unread}
        if self.asked.layer and self.asked.layer not in layers:
            hint = suggestion(self.asked.layer, sorted(layers)) or "the drawing has no lines"
            raise self._refused(f'there is nothing on a layer "{plain(self.asked.layer)}"', hint, "layer")
        for layer, found in outlines_of(self.draft, self.unit, self.asked.join).items():
            if self._wanted(layer):
                yield found

    def _loops(self) -> list[Loop]:
        """Closed outlines, the largest first."""
        loops = [loop for found in self._joined() for loop in found.loops]
        if not loops:
            raise self._refused("there is no closed outline in it", self._why_open(), "path")
        return sorted(loops, key=lambda loop: -loop.area)

    def _loop(self) -> Loop:
        loops = self._loops()
        if len(loops) == 1:
            return loops[0]
        if not self.asked.pick:
            listed = "\n".join(loop_words(loop, self.write) for loop in loops[:SHOWN])
            hole = "; one lies inside another: a hole?" if inside_of(loops[0], loops) else ""
            remedy = f'write layer = "...", or pick = "largest"\n{listed}'
            raise self._refused(f"there are {len(loops)} closed outlines in it{hole}", remedy, "path")
        if loops[1].area > loops[0].area * (1 - 1e-6):
            raise self._refused("two outlines are equally large", 'write layer = "..." too', "pick")
        return loops[0]

    def _why_open(self) -> str:
        found = list(self._joined())
        ends = [self.write.length(gap) for each in found for _, gap in each.ends]
        lines = [f"an end stops {gap} short of the nearest other one" for gap in ends[:SHOWN]]
        lines += [f"lines branch in {sum(len(each.branches) for each in found)} places"] * any(
            f.branches for f in found
        )
        lines += [f"{other.what}: {other.why}" for other in self.draft.unread if self._wanted(other.layer)][:SHOWN]
        head = 'join = "..." lets ends meet that are no farther apart' if ends else "draw it as a closed polyline"
        return "\n".join((head, *dict.fromkeys(lines)))

    def notes(self) -> Iterator[Finding]:
        """What was taken, and what to look at again."""
        loop, loops = self._loop(), self._loops()
        yield self._said("drawing-read", Severity.NOTE, f"the slab is the outline of {loop_words(loop, self.write)}")
        if self.draft.unit and self.draft.unit != self.unit:
            message = f"the drawing counts in {self.draft.unit} ({self.draft.said}), the site file says {self.unit}"
            yield self._said("drawing-unit", Severity.WARNING, message)
        if loop.bridged:
            gaps = ", ".join(self.write.length(gap) for gap in loop.bridged[:SHOWN])
            message = f"gaps of the outline were closed by join: {gaps}"
            yield self._said("drawing-joined", Severity.WARNING, message)
        if inner := inside_of(loop, loops):
            message = f"outlines that lie inside it are not set out: {len(inner)}"
            yield self._said("drawing-inner", Severity.WARNING, message)

    def _said(self, code: str, severity: Severity, message: str) -> Finding:
        return Finding(code, severity, message, Place(self.file), "compare the sizes with the print")
