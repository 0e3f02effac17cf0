"""Which points lie on the ground, by their names, and which break lines run through them?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from staking.errors import InputError, suggestion
from staking.findings import Finding, Place
from staking.sitefile.declared import GivenPoint, PointFile
from staking.sitefile.ground_declared import GroundSource
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.point_files import PointList, apart, read_points
from staking.units import UNITS

_FEW = 2000  # names that are searched for one like another


@dataclass
class Surface:
    """The points of one surface by name, and where each stands."""

    points: dict[str, GivenPoint] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)


@dataclass
class GroundPoints:
    """The points of all [[ground]], what is wrong with them, and the SHA-256 of each file by its path."""

    existing: Surface = field(default_factory=Surface)
    finished: Surface = field(default_factory=Surface)
    fingerprints: dict[str, str] = field(default_factory=dict)
    notes: list[Finding] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def of(self, source: GroundSource) -> Surface:
        """The surface that an entry's points belong to."""
        return self.existing if source.state == "existing" else self.finished


def ground_points(
    data: Mapping[str, Any], *, folder: Path, places: Places, given: Mapping[str, GivenPoint]
) -> GroundPoints:
    """The points that [[ground]] names, from its files and from `given`; each must have an elevation."""
    found = GroundPoints()
    entries = data.get("ground")
    sources = list(_sources(entries if isinstance(entries, list) else []))
    for index, source in sources:
        if source.path:
            _read(found, source, (folder, str(_unit(data))), places.value(("ground", index, "path")))
        for number, name in enumerate(source.points):
            if name in given:  # one that is not there is said with the other names
                place = places.value(("ground", index, "points", number))
                _take(found, source, {name: given[name]}, {name: place})
    if not found.findings:
        for index, source in sources:
            found.findings.extend(_unknown(source, index, found.of(source), places))
    found.findings.extend(_only_finished(sources, places))
    return found


def _only_finished(sources: list[tuple[int, GroundSource]], places: Places) -> Iterator[Finding]:
    if sources and all(source.state == "finished" for _, source in sources):
        message = "the ground as it is to be is given, but not as it is"
        remedy = "add a [[ground]] without state, of points measured now; or leave state out here"
        yield mistake("bad-value", message, places.value(("ground", sources[0][0], "state")), remedy)


def _sources(entries: list[Any]) -> Iterator[tuple[int, GroundSource]]:
    for index, raw in enumerate(entries):
        try:
            yield index, GroundSource.model_validate(raw)
        except ValidationError:
            continue  # said with the other mistakes of the site file


def _unit(data: Mapping[str, Any]) -> str:
    site = data.get("site")
    unit = site.get("unit") if isinstance(site, Mapping) else None
    return unit if isinstance(unit, str) and unit in ("m", "ft", "ftUS") else "m"


def _read(found: GroundPoints, source: GroundSource, here: tuple[Path, str], place: Place) -> None:
    entry = PointFile(path=source.path, columns=source.columns, unit=source.unit)
    if source.path in found.fingerprints:
        found.findings.append(mistake("duplicate-name", "this file is named twice", place, "name it once"))
        return
    try:
        points: PointList = read_points(entry, folder=here[0], unit=UNITS[here[1]], place=place)
    except InputError as error:
        found.findings.extend(error.findings)
        return
    found.fingerprints[source.path] = points.fingerprint
    found.notes.extend(points.notes)
    found.findings.extend(points.findings)
    _take(found, source, points.points, points.places)


def _take(
    found: GroundPoints, source: GroundSource, points: Mapping[str, GivenPoint], places: Mapping[str, Place]
) -> None:
    surface = found.of(source)
    for name, point in points.items():
        if point.elevation is None:
            message = f'the ground point "{plain(name)}" has no elevation'
            found.findings.append(mistake("bad-value", message, places[name], "add it, or leave the point out"))
        elif name in surface.points and apart(surface.points[name], point):
            message = f'the ground point "{plain(name)}" stands twice; first at {surface.places[name]}'
            found.findings.append(mistake("duplicate-point", message, places[name], "keep the right one"))
        else:
            surface.points.setdefault(name, point)
            surface.places.setdefault(name, places[name])


def _unknown(source: GroundSource, index: int, surface: Surface, places: Places) -> Iterator[Finding]:
    for number, line in enumerate(source.break_lines):
        for at, name in enumerate(line.points):
            if name not in surface.points:
                place = places.value(("ground", index, "break_lines", number, "points", at))
                message = f'there is no ground point "{plain(name)}"'
                yield mistake("unknown-name", message, place, suggestion(name[:100], list(surface.points)[:_FEW]))
