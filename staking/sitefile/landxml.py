"""Which points does a LandXML file hold, and in which units and system are they?

Read are the versions 1.0, 1.1 and 1.2. The text of a point is north, east and, where there is a third number,
elevation; the standard fixes that order, so it is not asked for. Units are those that the file states, converted
exactly; the two kinds of feet are never mixed up silently. Its elevations are feet of the same kind as its lengths. An
imperial file without elevationUnit would by the standard have elevations in metres, and nearly every one means feet:
that one is asked for.

    LandXML  = Units, CoordinateSystem?, ..., CgPoints*, Parcels*
    CgPoints = CgPoint*, CgPoints*
    CgPoint  = name, desc, code; text "north east [elevation]", or pntRef to another point

Source: LandXML schema (landxml.org), its element rules and words for units from memory.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import isfinite
from pathlib import Path
from types import MappingProxyType

from pydantic import TypeAdapter, ValidationError

from staking.errors import InputError, TextError
from staking.findings import Finding, Place, Severity
from staking.kinds.fields import REACH, Words, checked_point_name
from staking.sitefile.declared import GivenPoint, PointFile
from staking.sitefile.places import mistake, plain
from staking.sitefile.point_files import LARGEST, MOST_FINDINGS, MOST_POINTS, PointList, apart, inside_folder
from staking.sitefile.text import read_bytes
from staking.sitefile.xml_tree import Node, XmlError, parse_xml
from staking.units import UNITS, Unit, nearest_metres

_SPACES = tuple(f"http://www.landxml.org/schema/LandXML-{version}" for version in ("1.0", "1.1", "1.2"))
_KEPT = frozenset({"Units", "CoordinateSystem", "Application", "CgPoints", "Parcels"})
_LINEAR: Mapping[str, str] = MappingProxyType(
    {
        "millimeter": "mm",
        "centimeter": "cm",
        "meter": "m",
        "kilometer": "km",
        "foot": "ft",
        "USSurveyFoot": "ftUS",
        "inch": "in",
    }
)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_NOTE: TypeAdapter[str] = TypeAdapter(Words)
_LONGEST = 64  # characters of a number
_FARTHEST = 1e15  # of any unit; what is larger is no coordinate, and may not even become a float in metres
_SEA_OF_NINES = ("-9999", "-99999", "-999999")  # as in lists of points
_ABSENT = "copy the file into the folder of the site file, or correct the path"
_EXPORT = "export it again as LandXML 1.2"


def is_landxml(path: str) -> bool:
    """Whether a file beside a site file is read as LandXML: by its ending."""
    return path.lower().endswith(".xml")


def read_landxml(entry: PointFile, *, folder: Path, unit: Unit, place: Place) -> PointList:
    """The points of a LandXML file, in metres, as `read_points` gives those of a list.

    folder: of the site file. unit: of the site. place: of the entry's path in the site file.
    Raises InputError for a file that is not there, may not be read, lies outside the folder, or is no such file.
    """
    if entry.columns:
        message = "a LandXML file has no columns; the order of its numbers is fixed"
        raise InputError(mistake("bad-columns", message, place, "take columns out"))
    file = opened(entry.path, folder, place)
    units = file.units(unit, entry.unit, entry.elevation_unit)
    reading = _Reading(file, units)
    for point in file.points:
        if len(reading.findings) >= MOST_FINDINGS or len(reading.points) >= MOST_POINTS:
            reading.give_up(point)
            break
        reading.take(point)
    if not file.points:
        reading.findings.append(file.refusal(file.root, "the file holds no CgPoint", "export its points as well"))
    notes = (file.note(units, f"{len(reading.points)} points"), *reading.notes)
    return PointList(reading.points, reading.places, file.fingerprint, notes, tuple(reading.findings))


@dataclass(frozen=True, slots=True)
class FileUnits:
    """linear: of north and east. elevation: of heights; None where the file leaves it open."""

    linear: Unit
    elevation: Unit | None


@dataclass(frozen=True)
class LandXmlFile:
    """A file that was read as XML. shown: its name as printed."""

    shown: str
    root: Node
    version: str
    fingerprint: str

    @cached_property
    def points(self) -> tuple[Node, ...]:
        """Every CgPoint, in the order of the file."""
        groups = list(self.root.all("CgPoints"))
        return tuple(point for group in groups for point in group.within("CgPoint"))

    @cached_property
    def by_name(self) -> Mapping[str, Node]:
        """The first point of each name."""
        return {point.get("name"): point for point in reversed(self.points)}

    def at(self, node: Node) -> Place:
        """Where an element stands."""
        return Place(self.shown, node.line)

    def refusal(self, node: Node, message: str, remedy: str = "") -> Finding:
        """A sentence about an element that cannot be used."""
        return mistake("bad-landxml", plain(message, 300), self.at(node), remedy)

    def units(self, site: Unit, asked: str, heights: str = "") -> FileUnits:
        """The units of the file. asked, heights: what the site file says of them, empty where it says nothing.

        Raises InputError where the file states none, or others than the site file.
        """
        node = self.root.first("Units")
        system = next(node.all("Metric", "Imperial"), None) if node else None
        if system is None:
            raise InputError(self.refusal(self.root, "the file does not state its units (Units)", _EXPORT))
        word = system.get("linearUnit")
        if word not in _LINEAR:
            message = f'the linearUnit "{plain(word)}" is none that is read here'
            raise InputError(self.refusal(system, message, f"one of {', '.join(_LINEAR)} is"))
        linear = UNITS[_LINEAR[word]]
        self._check_feet(system, linear.name, site.name, asked)
        return FileUnits(linear, self._elevations(system, linear, heights))

    def _check_feet(self, system: Node, said: str, site: str, asked: str) -> None:
        if asked and asked != said:
            message = f"the file states {said}; the site file says {asked}"
            raise InputError(self.refusal(system, message, "correct unit in the site file, or take it out"))
        if not asked and said != site and {said, site} == {"ft", "ftUS"}:
            message = f"the file states {said} and the site is in {site}; the two feet must not be mixed up"
            remedy = f'if the file is right, add unit = "{said}" beside its path; if not, have it exported anew'
            raise InputError(self.refusal(system, message, remedy))

    def _elevations(self, system: Node, linear: Unit, asked: str) -> Unit | None:
        word = system.get("elevationUnit")
        said = UNITS["m"] if word.lower() in ("meter", "metre") or (not word and system.tag == "Metric") else None
        if word.lower() in ("feet", "foot", "ussurveyfoot"):
            said = linear if linear.name in ("ft", "ftUS") else UNITS["ft"]
        if said is None and word:
            message = f'the elevationUnit "{plain(word)}" is none that is read here'
            raise InputError(self.refusal(system, message, "meter and feet are"))
        if said is not None and asked and asked != said.name:
            message = f"the file states elevations in {said.name}; the site file says {asked}"
            raise InputError(self.refusal(system, message, "correct elevation_unit, or take it out"))
        return UNITS[asked] if asked else said

    def note(self, units: FileUnits, what: str) -> Finding:
        """What was read, in which units and system, for everybody to see."""
        height = units.elevation.words if units.elevation else "no elevations"
        system = self.root.first("CoordinateSystem")
        names = [system.get(key) for key in ("epsgCode", "name", "desc")] if system else []
        stated = ", ".join(plain(name, 80) for name in names if name) or "none"
        message = f"LandXML {self.version}: {what}, in {units.linear.words}, elevations: {height}; its system: {stated}"
        return Finding("landxml-read", Severity.NOTE, message, Place(self.shown), "compare with [coordinates]")


def opened(path: str, folder: Path, place: Place) -> LandXmlFile:
    """A LandXML file beside the site file. Raises InputError for whatever is none."""
    full = inside_folder(path, folder, place)
    shown = plain(str(full), 200)
    try:
        data = read_bytes(full, largest=LARGEST, absent=_ABSENT)
    except InputError as error:
        raise InputError(
            *(replace(each, place=place, message=f"{shown}: {each.message}") for each in error.findings)
        ) from None
    try:
        root, space = parse_xml(data, _KEPT)
    except XmlError as error:
        raise InputError(
            mistake("bad-landxml", plain(error.message, 200), Place(shown, error.line), error.remedy)
        ) from None
    if root.tag != "LandXML" or space not in _SPACES:
        what = f"<{plain(root.tag)}> of the namespace {plain(space, 80) or '(none)'}"
        message = f"this is no LandXML 1.0, 1.1 or 1.2: it begins with {what}"
        raise InputError(mistake("bad-landxml", message, Place(shown, root.line), _EXPORT))
    return LandXmlFile(shown, root, space[-3:], hashlib.sha256(data).hexdigest())


def numbers_of(file: LandXmlFile, point: Node) -> list[float]:
    """The numbers of a point, or of the point it refers to. Raises ValueError where they cannot be told."""
    passed: set[str] = set()
    while not point.text:
        name = point.get("pntRef")
        if not name:
            raise ValueError("the point has neither numbers nor a pntRef")
        if name in passed:
            raise ValueError(f'the pntRef "{plain(name)}" leads back to itself')
        if name not in file.by_name:
            raise ValueError(f'there is no CgPoint "{plain(name)}" to refer to')
        passed.add(name)
        point = file.by_name[name]
    words = point.text.split()
    if len(words) not in (2, 3):
        raise ValueError(f"a point is two or three numbers, north east elevation; here are {len(words)}")
    return [number(word) for word in words]


def number(word: str) -> float:
    """A number as XML Schema writes doubles. Raises ValueError for anything else."""
    if len(word) > _LONGEST or not _NUMBER.fullmatch(word):
        raise ValueError(f'"{plain(word)}" is no number')
    return float(word)


def metres(value: float, unit: Unit) -> float:
    """A number of the file in metres. Raises ValueError beyond what is computed with."""
    if isfinite(value) and abs(value) > _FARTHEST:
        raise ValueError(f"{value} is too far away to compute with")
    size = value if unit.metres == 1 and isfinite(value) else nearest_metres(value, unit)
    if abs(size) > REACH:
        raise ValueError(f"{value} is too far away to compute with")
    return size


@dataclass
class _Reading:
    """The state of reading the points of one file."""

    file: LandXmlFile
    units: FileUnits
    points: dict[str, GivenPoint] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    notes: list[Finding] = field(default_factory=list)

    def give_up(self, point: Node) -> None:
        """Say why the rest is not read."""
        many = len(self.points) >= MOST_POINTS
        message = f"the file holds more than {MOST_POINTS} points" if many else "the points from here on were not read"
        remedy = "keep those that the job needs" if many else "correct those before first"
        self.findings.append(mistake("too-many", message, self.file.at(point), remedy))

    def take(self, point: Node) -> None:
        """Take a point in, or say why not."""
        try:
            self._take(point)
        except (TextError, ValueError) as error:
            remedy = error.remedy if isinstance(error, TextError) else ""
            message = f"CgPoint {plain(point.get('name')) or 'without a name'}: {plain(str(error), 200)}"
            self.findings.append(mistake("bad-row", message, self.file.at(point), remedy))

    def _take(self, node: Node) -> None:
        name = checked_point_name(node.get("name"))
        point = self._point(node)
        if name not in self.points:
            self.points[name], self.places[name] = point, self.file.at(node)
            return
        first = self.places[name].line
        if apart(point, self.points[name]):
            raise ValueError(f"the name stands twice at different places; first on line {first}")
        message = f'the point "{name}" stands twice at one place; the first, on line {first}, is used'
        if len(self.notes) < MOST_FINDINGS:
            self.notes.append(Finding("repeated-point", Severity.NOTE, message, self.file.at(node)))

    def _point(self, node: Node) -> GivenPoint:
        north, east, *heights = numbers_of(self.file, node)
        note = ", ".join(dict.fromkeys(word for word in (node.get("code"), node.get("desc")) if word))
        try:
            note = _NOTE.validate_python(note)
        except ValidationError as error:
            raise ValueError(f"code and desc: {error.errors()[0]['msg']}") from None
        return GivenPoint.model_construct(  # its lengths were made and checked here; a second time costs seconds
            north=metres(north, self.units.linear),
            east=metres(east, self.units.linear),
            elevation=next((self._height(height) for height in heights), None),
            note=note,
        )

    def _height(self, value: float) -> float:
        if str(value).split(".")[0] in _SEA_OF_NINES:
            raise ValueError(f"the elevation {value:g} looks like a mark for none; leave it out")
        if self.units.elevation is None:
            raise TextError(
                "nothing says the unit of its elevation: by the standard metres, by the lengths of the file feet",
                f'add elevation_unit = "{self.units.linear.name}", or "m", beside the path in [[point_files]]',
            )
        return metres(value, self.units.elevation)
