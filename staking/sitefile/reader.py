"""What does a site file declare, and if it cannot be used, what is wrong with it, all of it at once?"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path
from types import MappingProxyType
from typing import Any

from pydantic import TypeAdapter, ValidationError

from staking.errors import InputError
from staking.findings import Finding, Place
from staking.sitefile.complaints import plain_findings
from staking.sitefile.declared import Declared, Given, GivenPoint, PointFile, Site
from staking.sitefile.degrees import degrees
from staking.sitefile.drawing_files import Drawing, drawing_of
from staking.sitefile.ground_points import ground_points
from staking.sitefile.landxml import is_landxml, read_landxml
from staking.sitefile.names import check_names
from staking.sitefile.parcels import Parcel, parcel_of
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.point_files import PointList, apart, looks_like_points, read_points
from staking.sitefile.site_levels import SiteLevels, site_levels
from staking.sitefile.starter import NAME
from staking.sitefile.syntax import Parsed, parse
from staking.sitefile.text import decode, read_bytes
from staking.sitefile.tops_files import Tops, with_tops
from staking.units import SITE_UNITS, UNITS

MOST = 200  # findings of one file; what comes after is the fault of the first ones

_ABSENT = "name a site file, or a folder that holds site.toml\n`staking new FOLDER` writes one to start from"
_Known = tuple[dict[str, GivenPoint], dict[str, Place], list[Finding]]  # points, where each stands, clashes
_POINT: TypeAdapter[GivenPoint] = TypeAdapter(Given)


def read_site(path: str | Path) -> Site:
    """The site that a file declares, with the points of the files it names.

    Raises InputError with every mistake of the file, in file order; a missing unit comes first.
    """
    data = read_bytes(path, inside=NAME, absent=_ABSENT)
    file = plain(str(path), 200)
    text = decode(data, file)
    parsed = parse(text, Places(file, text))
    _check_sort(text, parsed, file)
    if parsed.data is None:
        raise InputError(*_few(list(parsed.findings), file))
    places = Places(file, parsed.mended, text)
    _check_filled(parsed.data, places)
    lists = _point_lists(parsed.data, Path(path).parent, places)
    given, where, clashes = _given(parsed.data, lists, places)
    parcel = _parcel(parsed.data, Path(path).parent, places, lists, (given, where, clashes))
    drawing = _drawing(parsed.data, Path(path).parent, places, lists)
    ground = ground_points(parsed.data, folder=Path(path).parent, places=places, given=given)
    whole = parcel.within(parsed.data) if parcel else parsed.data
    declared, wrong = _declared(whole, places)
    names = islice(check_names(whole, None if lists.findings else given, places), MOST + 1)
    findings = [*wrong, *lists.findings, *ground.findings, *clashes, *names, *degrees(given, _unit(parsed.data), where)]
    if findings or parsed.findings or declared is None:
        raise InputError(*_in_order(findings, parsed, file))
    tops, levels = _heights(declared, given, Path(path).parent, places)
    taken = {other.path: other.fingerprint for other in (parcel, drawing) if other}
    read = lists.fingerprints | ground.fingerprints | dict(levels.fingerprints) | taken | tops.fingerprints
    return Site(
        tops.declared,
        given=MappingProxyType(dict(levels.given)),
        file=file,
        fingerprint=hashlib.sha256(data).hexdigest(),
        sources=MappingProxyType(read),
        locate=places.locate,
        notes=(*lists.notes, *ground.notes) + ((parcel.note,) if parcel else ()) + (drawing.notes if drawing else ()),
        bulges=parcel.bulges if parcel else (),
        drawn=drawing.outline if drawing else None,
        levelled=levels.runs,
        ground=MappingProxyType(ground.existing.points),
        finished=MappingProxyType(ground.finished.points),
    )


def _heights(
    declared: Declared, given: Mapping[str, GivenPoint], folder: Path, places: Places
) -> tuple[Tops, SiteLevels]:
    """What lists of tops and level books hold. Raises InputError with the mistakes of all of them."""
    tops = with_tops(declared, folder, places)
    try:
        levels = site_levels(declared, given, folder, places)
    except InputError as error:
        raise InputError(*tops.findings, *error.findings) from None
    if tops.findings:
        raise InputError(*tops.findings)
    return tops, levels


def _check_sort(text: str, parsed: Parsed, file: str) -> None:
    """Raise InputError, once and not line by line, for a list of points where a site file is meant."""
    if parsed.findings and looks_like_points(text):
        remedy = f'name the site file; in it the list is named as\n[[point_files]]\npath = "{plain(Path(file).name)}"'
        raise InputError(mistake("toml", "this is a list of points, not a site file", Place(file), remedy))


def _check_filled(data: Mapping[str, Any], places: Places) -> None:
    if not data:
        message = "the file is empty, or holds nothing but comments"
        raise InputError(mistake("empty-file", message, places.whole(), "`staking new` makes a file to start from"))


def _unit(data: Mapping[str, Any]) -> str | None:
    """The unit of bare numbers; None where the file does not say, or says one that is none."""
    site = data.get("site")
    unit = site.get("unit") if isinstance(site, Mapping) else None
    return unit if isinstance(unit, str) and unit in SITE_UNITS else None


def _declared(data: dict[str, Any], places: Places) -> tuple[Declared | None, list[Finding]]:
    try:
        return Declared.model_validate(data, context={"unit": _unit(data)}), []
    except ValidationError as error:
        errors = error.errors(include_url=False, include_input=False)[: 5 * MOST]
        return None, list(plain_findings(errors, data, places))


@dataclass
class _Lists:
    """The point lists read, by the path the site file gives, and the findings about them."""

    lists: dict[str, PointList] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    @property
    def fingerprints(self) -> dict[str, str]:
        return {name: points.fingerprint for name, points in self.lists.items()}

    @property
    def notes(self) -> Iterator[Finding]:
        return (note for points in self.lists.values() for note in points.notes)


def _point_lists(data: Mapping[str, Any], folder: Path, places: Places) -> _Lists:
    result = _Lists()
    entries = data.get("point_files")
    for number, raw in enumerate(entries if isinstance(entries, list) else ()):
        place = places.value(("point_files", number, "path"))
        try:
            entry = PointFile.model_validate(raw)
            if entry.path in result.lists:
                raise InputError(mistake("duplicate-name", "this file is named twice", place, "name it once"))
            unit = UNITS[_unit(data) or "m"]
            reads = read_landxml if is_landxml(entry.path) else read_points
            points = reads(entry, folder=folder, unit=unit, place=place)
            result.lists[entry.path] = points
            result.findings.extend(points.findings)
        except ValidationError:
            continue  # said with the other mistakes of the site file
        except InputError as error:
            result.findings.extend(error.findings)
    return result


def _given(data: Mapping[str, Any], lists: _Lists, places: Places) -> _Known:
    """Every given point by name, those of the site file first; where each stands; names at different places."""
    given: dict[str, GivenPoint] = {}
    where: dict[str, Place] = {}
    for name, point in _own_points(data):
        given[name], where[name] = point, places.key(("points", name))
    clashes: list[Finding] = []
    for points in lists.lists.values():
        _take_in(points, (given, where, clashes))
    return given, where, clashes


def _take_in(points: PointList | Parcel, known: _Known) -> None:
    """Points of another file beside those known so far; of one name the first stays."""
    given, where, clashes = known
    for name, point in points.points.items():
        if name in given and apart(given[name], point):
            clashes.append(_clash(name, points.places[name], where[name]))
        given.setdefault(name, point)
        where.setdefault(name, points.places[name])


def _parcel(data: Mapping[str, Any], folder: Path, places: Places, lists: _Lists, known: _Known) -> Parcel | None:
    """The parcel that is the lot, its corners taken in among the points; None where none is named or can be read."""
    unit = UNITS[_unit(data) or "m"]
    try:
        parcel = parcel_of(data, folder=folder, unit=unit, places=places, taken=known[0])
    except InputError as error:
        lists.findings.extend(error.findings)
        return None
    if parcel is not None:
        _take_in(parcel, known)
    return parcel


def _drawing(data: Mapping[str, Any], folder: Path, places: Places, lists: _Lists) -> Drawing | None:
    """The slab's outline out of a drawing; None where no drawing is named, or it cannot be read."""
    try:
        return drawing_of(data, folder=folder, unit=UNITS[_unit(data) or "m"], places=places)
    except InputError as error:
        lists.findings.extend(error.findings)
        return None


def _own_points(data: Mapping[str, Any]) -> Iterator[tuple[str, GivenPoint]]:
    """The points of the site file itself; one that cannot be read counts with its name, and is said elsewhere."""
    points = data.get("points")
    for name, raw in points.items() if isinstance(points, Mapping) else ():
        try:
            yield name, _POINT.validate_python(raw, context={"unit": _unit(data)})
        except ValidationError:
            yield name, GivenPoint.model_construct(north=float("nan"), east=float("nan"))


def _clash(name: str, place: Place, first: Place) -> Finding:
    message = f'the point "{plain(name)}" stands twice at different places; first at {first}'
    return mistake("duplicate-point", message, place, "keep the right one, or give one of them another name")


def _in_order(findings: list[Finding], parsed: Parsed, file: str) -> list[Finding]:
    """The unit first, then as the file has it; then what is about other files."""
    first = [finding for finding in findings if finding.place and finding.place.key == "site.unit"]
    rest = [finding for finding in findings if finding not in first]
    own = [_on_mended(finding, parsed) for finding in rest if finding.place and finding.place.file == file]
    others = [finding for finding in rest if not (finding.place and finding.place.file == file)]
    own = sorted([*parsed.findings, *own], key=lambda finding: _line(finding.place))
    return _few([*(_on_mended(finding, parsed) for finding in first), *own, *others], file)


def _few(findings: list[Finding], file: str) -> list[Finding]:
    """As many findings as somebody reads, and a word that there are more."""
    if len(findings) <= MOST:
        return findings
    return [*findings[:MOST], mistake("too-many", "there are more mistakes; correct these first", Place(file))]


def _line(place: Place | None) -> tuple[int, int]:
    return (place.line, place.column or (1000 if place.line else 0)) if place else (0, 0)


def _on_mended(finding: Finding, parsed: Parsed) -> Finding:
    """On a line that was mended the columns are other ones: mark none."""
    if finding.place and finding.place.line in parsed.changed:
        return replace(finding, place=replace(finding.place, column=0))
    return finding
