"""Which corners, arcs and side names does a lot have that is taken from a parcel of a LandXML file?

Corners bear the names of the points they refer to or stand on; the others are named B1, B2 ... Sides bear the names
listed in [lot], else those the file gives its lines, else north, east, south or west by the way they face. The parcel
is put into the data of the site file as corners and sides, so that all else is as for any lot.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from staking.errors import InputError, suggestion
from staking.findings import Finding, Place, Severity
from staking.kinds.fields import checked_name, checked_point_name
from staking.sitefile.declared import GivenPoint
from staking.sitefile.landxml import LandXmlFile, metres, numbers_of, opened
from staking.sitefile.landxml_declared import ParcelSource
from staking.sitefile.parcel_boundary import BoundaryError, Side, boundary_of
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.point_files import SAME_PLACE
from staking.sitefile.xml_tree import Node
from staking.survey.lines import Line
from staking.survey.paths import Arc, path_area
from staking.survey.points import Point, distance, vector
from staking.units import Unit

_OTHERS = ("corners", "courses", "start", "found")  # keys of [lot] that a parcel stands in for


@dataclass(frozen=True)
class Parcel:
    """A lot's boundary out of a file. bulges: of the sides from each corner to the next, 0 where straight."""

    path: str
    fingerprint: str
    points: Mapping[str, GivenPoint]
    places: Mapping[str, Place]
    sides: tuple[str, ...]
    bulges: tuple[float, ...]
    note: Finding

    def within(self, data: Mapping[str, Any]) -> dict[str, Any]:
        """The data of a site file with the corners and sides in its [lot]."""
        return {**data, "lot": {**data["lot"], "corners": list(self.points), "sides": list(self.sides)}}


def parcel_of(
    data: Mapping[str, Any], *, folder: Path, unit: Unit, places: Places, taken: Collection[str]
) -> Parcel | None:
    """The parcel that [lot] names; None where it names none, or so badly that the reader of the keys says so.

    taken: names of points, which no corner without a name gets. Raises InputError with what is wrong.
    """
    lot = data.get("lot")
    if not isinstance(lot, Mapping) or "parcel" not in lot:
        return None
    try:
        source = ParcelSource.model_validate(lot["parcel"])
    except ValidationError:
        return None
    place = places.value(("lot", "parcel"))
    if others := " and ".join(key for key in _OTHERS if key in lot):
        message = f"a lot is taken from a parcel or given by {others}, not both"
        raise InputError(mistake("bad-value", message, place, f"take {others} out, or parcel"))
    file = opened(source.path, folder, place)
    linear = file.units(unit, source.unit).linear
    node = _named(file, source.name, place)
    try:
        sides = boundary_of(file, node, linear)
    except BoundaryError as error:
        message = f'the parcel "{plain(source.name)}": {plain(error.message, 240)}'
        remedy = "have it exported anew as lines and curves around the lot, or write corners in [lot]"
        raise InputError(mistake("bad-parcel", message, file.at(error.node), remedy)) from None
    corners = _corner_names(file, sides, linear, taken)
    named = _side_names(lot.get("sides"), sides)
    if len(named) != len(sides):
        message = f"the parcel has {len(sides)} sides but {len(named)} are named: {_walk(corners, sides)}"
        remedy = "name each side, in this order; or take sides out, and they are named by the file or their direction"
        raise InputError(mistake("bad-value", message, places.value(("lot", "sides")), remedy))
    return _parcel(file, source, corners, named, sides)


def _parcel(
    file: LandXmlFile, source: ParcelSource, corners: Sequence[str], named: Sequence[str], sides: Sequence[Side]
) -> Parcel:
    starts = [side.piece.start for side in sides]
    return Parcel(
        source.path,
        file.fingerprint,
        {name: GivenPoint(north=at.north, east=at.east) for name, at in zip(corners, starts, strict=True)},
        {name: file.at(side.node) for name, side in zip(corners, sides, strict=True)},
        tuple(named),
        tuple(side.piece.bulge if isinstance(side.piece, Arc) else 0.0 for side in sides),
        Finding(
            "parcel-read",
            Severity.NOTE,
            f'the lot is the parcel "{plain(source.name)}": {_walk(corners, sides, named)}',
            Place(file.shown, sides[0].node.line),
            "compare the corners and the names of the sides with the plat; sides = [...] in [lot] names them anew",
        ),
    )


def _named(file: LandXmlFile, name: str, place: Place) -> Node:
    """The parcel of a name, at any depth. Raises InputError where there is none, or more than one."""
    parcels = [parcel for group in file.root.all("Parcels") for parcel in group.within("Parcel")]
    found = [parcel for parcel in parcels if parcel.get("name") == name.strip()]
    if len(found) == 1:
        return found[0]
    if found:
        message = f'{len(found)} parcels are named "{plain(name)}", the second on line {found[1].line}'
        remedy = "have each given a name of its own"
    else:
        message = f'{file.shown} holds no parcel "{plain(name)}"'
        remedy = suggestion(name, (parcel.get("name") for parcel in parcels)) or "have the parcel exported too"
    raise InputError(mistake("unknown-name", message, place, remedy))


def _corner_names(file: LandXmlFile, sides: Sequence[Side], unit: Unit, taken: Collection[str]) -> list[str]:
    """A name for every corner, each of its own."""
    known = list(_known(file, unit))
    given = (*taken, *(name for name, _ in known), *(side.start_name for side in sides))
    used = {name.casefold() for name in given}
    fresh = (name for number in count(1) if (name := f"B{number}").casefold() not in used)
    names: list[str] = []
    for side in sides:
        standing = (name for name, at in known if distance(at, side.piece.start) <= SAME_PLACE)
        wanted = [name for name in (side.start_name, *standing) if _usable(name) and name not in names]
        names.append(wanted[0] if wanted else next(fresh))
    return names


def _known(file: LandXmlFile, unit: Unit) -> Iterator[tuple[str, Point]]:
    """The points of the file that can be told; what is wrong with others is said where they are read."""
    for node in file.points:
        try:
            north, east, *_ = numbers_of(file, node)
            yield node.get("name"), Point(metres(east, unit), metres(north, unit))
        except ValueError:
            continue


def _usable(name: str) -> bool:
    try:
        checked_point_name(name)
    except ValueError:
        return False
    return True


def _side_names(listed: Any, sides: Sequence[Side]) -> list[str]:
    """Those of the site file; else those of the file, where every side has one; else by the way the sides face."""
    if isinstance(listed, list) and listed:
        return [str(name) for name in listed]
    own = [side.name for side in sides]
    if all(_fit_for_side(name) for name in own):
        return own
    left = path_area([side.piece for side in sides]) > 0
    return [_facing(side, inside_left=left) for side in sides]


def _fit_for_side(name: str) -> bool:
    try:
        checked_name(name)
    except ValueError:
        return False
    return True


def _facing(side: Side, *, inside_left: bool) -> str:
    """The way a side looks out of the lot, to the nearest of the four winds; a curve by its chord."""
    step = vector(side.piece.start, side.piece.end)
    out = step.right() if inside_left else step.left()
    if abs(out.north) >= abs(out.east):
        return "north" if out.north > 0 else "south"
    return "east" if out.east > 0 else "west"


def _walk(corners: Sequence[str], sides: Sequence[Side], named: Sequence[str] = ()) -> str:
    """Round the boundary in words: from corner to corner, what lies between."""
    names = [f'"{name}" ' for name in named] or [""] * len(sides)
    ends = (*corners[1:], corners[0])
    shown = [
        f"{name}{start} to {end}{'' if isinstance(side.piece, Line) else ' (arc)'}"
        for name, start, end, side in zip(names, corners, ends, sides, strict=True)
    ]
    return plain(", ".join(shown), 400)
