"""What does a `layout.json` say of its revision? Our own file, read back with every mistake of it in words."""

from __future__ import annotations

import json
from typing import Annotated, Any, NoReturn

from pydantic import AllowInfNan, BaseModel, ConfigDict, Field, Strict, ValidationError

from staking.errors import InputError
from staking.findings import Place
from staking.layout.revision import CORNER_LABEL, SIDE_LABEL, Corner, Driven, Revision, Room, System
from staking.notation import Notation
from staking.sitefile.places import key_words, marked_line, mistake, plain
from staking.survey.points import Point
from staking.units import SITE_UNITS, UNITS, Unit

FORMAT = 1  # of the files that can be read

Number = Annotated[float, Strict(), AllowInfNan(False)]
Text = Annotated[str, Strict(), Field(max_length=400)]
CornerLabel = Annotated[Text, Field(pattern=f"^{CORNER_LABEL}$")]
SideLabel = Annotated[Text, Field(pattern=f"^{SIDE_LABEL}$")]

_AGAIN = "take the file as `staking make` wrote it, or write it again from its site file"
_MOST = 20  # mistakes that are named
_SAYS = {
    "missing": "is missing",
    "float_type": "is no number",
    "int_type": "is no whole number",
    "string_type": "is no text",
    "string_too_long": "is too long",
    "bool_type": "is neither true nor false",
    "finite_number": "is no number that could be",
    "tuple_type": "is no list",
    "model_type": "is no table",
    "string_pattern_mismatch": "names no corner or side",
    "greater_than": "must be more than 0",
}


class _Table(BaseModel):
    """A table of the file; what else stands in it is for other readers."""

    model_config = ConfigDict(frozen=True, extra="ignore")


class _Length(_Table):
    value: Number


class _Site(_Table):
    name: Text
    lot: Text = ""
    revision: Text
    date: Text | None = None
    file: Text
    fingerprint: Text


class _Place(_Table):
    north: Number
    east: Number


class _Frame(_Table):
    unit: Text
    crs: Text | None = None
    values: Text
    combined_factor: Annotated[Number, Field(gt=0)] | None = None
    system: Text = ""
    vertical: Text | None = None
    anchor: _Place


class _Said(_Table):
    code: Text
    severity: Text


class _Given(_Place):
    name: Text
    elevation: Number | None = None


class _Corner(_Place):
    name: Text
    label: CornerLabel
    bulge: Number = 0.0


class _Part(_Table):
    name: Text
    corners: tuple[_Place, ...]


class _Slab(_Table):
    area: _Length
    ledge: _Length
    thickness: _Length | None = None
    corners: tuple[_Corner, ...]
    parts: tuple[_Part, ...] = ()


class _Margin(_Table):
    rule: Text
    of: Text
    what: Text
    distance: _Length
    required: _Length
    room: _Length
    severity: Text


class _Stake(_Given):
    kind: Text
    note: Text
    side: SideLabel | None = None
    corner: CornerLabel | None = None
    part: Text | None = None


class _Heights(_Table):
    floor: Number


class _Side(_Table):
    label: SideLabel
    length: _Length


class _Diagonal(_Table):
    start: Text = Field(alias="from")
    end: Text = Field(alias="to")
    length: _Length


class _Layout(_Table):
    site: _Site
    frame: _Frame
    despite: tuple[Text, ...] = ()
    findings: tuple[_Said, ...] = ()
    points: tuple[_Given, ...]
    slab: _Slab
    margins: tuple[_Margin, ...] = ()
    stakes: tuple[_Stake, ...]
    heights: _Heights | None = None
    sides: tuple[_Side, ...] = ()
    diagonals: tuple[_Diagonal, ...] = ()


def read_revision(text: str, file: str) -> Revision:
    """The revision in the text of a layout.json. file: its name, for messages.

    Raises InputError, with every mistake at once: no JSON, or cut short; not ours; of a newer version; a value that
    cannot be; stakes withheld after a stop.
    """
    content = _parsed(text, file)
    if not isinstance(content, dict) or not {"format", "site", "frame", "stakes"} <= content.keys():
        _refuse(file, "this is JSON, but no layout that staking wrote", "name a layout.json, or a site file")
    if content["format"] != FORMAT:
        say = f"the layout is of format {plain(content['format'])}; this version of the program reads format {FORMAT}"
        _refuse(file, say, "write it again from its site file with this version")
    if content.get("stakes_withheld"):
        because = ", ".join(map(plain, content.get("withheld_because") or ())) or "a stop"
        say = f"the stakes of this revision were withheld ({because}), so nothing was staked from it"
        _refuse(file, say, "name the revision that the stakes in the ground were set from")
    try:
        found = _Layout.model_validate(content)
    except ValidationError as error:
        raise InputError(*_mistakes(error, file)) from None
    if found.frame.unit not in SITE_UNITS:
        _refuse(file, f"the unit is {plain(found.frame.unit)}; sites are in {', '.join(SITE_UNITS)}", _AGAIN)
    return _revision(found, file)


def says_withheld(content: bytes) -> bool:
    """Whether a file is a layout whose stakes were withheld after a stop."""
    try:
        found = json.loads(content)
    except (ValueError, RecursionError):
        return False
    return isinstance(found, dict) and bool(found.get("stakes_withheld"))


def _refuse(file: str, words: str, remedy: str) -> NoReturn:
    raise InputError(mistake("bad-layout", words, Place(file), remedy))


def _parsed(text: str, file: str) -> Any:
    def no_number(word: str) -> NoReturn:
        _refuse(file, f"{word} is no number that could be", _AGAIN)

    try:
        return json.loads(text, parse_constant=no_number)
    except json.JSONDecodeError as error:
        lines = text.split("\n")
        short = error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated")
        words = "the file is cut short" if short else "this is no JSON, or it was changed by hand"
        shown = marked_line(lines[error.lineno - 1], error.colno)
        place = Place(file, error.lineno, 0 if short else error.colno, source="" if short else shown)
        raise InputError(mistake("bad-layout", words, place, _AGAIN)) from None
    except (RecursionError, ValueError):  # nested too deep; more digits than a number has
        _refuse(file, "this is no layout that staking wrote", _AGAIN)


def _mistakes(error: ValidationError, file: str) -> list[Any]:
    said = []
    for each in error.errors()[:_MOST]:
        key = key_words(tuple(each["loc"]))
        words = _SAYS.get(each["type"], each["msg"].lower())
        said.append(mistake("bad-layout", words, Place(file, key=key), _AGAIN))
    return said


def _revision(found: _Layout, file: str) -> Revision:
    unit = UNITS[found.frame.unit]
    size = float(unit.metres)
    site, slab = found.site, found.slab

    def at(place: _Place, up: float | None = None) -> Point:
        return Point(place.east * size, place.north * size, None if up is None else up * size)

    def metres(length: _Length | None) -> float | None:
        return None if length is None else length.value * size

    return Revision(
        source=file,
        job=site.name,
        lot_words=site.lot,
        revision=site.revision,
        date=site.date or "",
        site_file=site.file,
        fingerprint=site.fingerprint,
        system=_system(found.frame, unit, at(found.frame.anchor)),
        notation=Notation(unit),
        given=tuple((each.name, at(each, each.elevation)) for each in found.points),
        outline=tuple(Corner(each.name, each.label, at(each), each.bulge) for each in slab.corners),
        parts=tuple((part.name, tuple(map(at, part.corners))) for part in slab.parts),
        stakes=tuple(
            Driven(it.name, at(it, it.elevation), it.kind, it.note, it.corner or "", it.side or "", it.part or "")
            for it in found.stakes
        ),
        sides=tuple((side.label, side.length.value * size) for side in found.sides),
        diagonals=tuple((f"{line.start} to {line.end}", line.length.value * size) for line in found.diagonals),
        rooms=tuple(_room(each, size) for each in found.margins),
        area=slab.area.value * size**2,
        sizes={"thickness": metres(slab.thickness), "ledge": metres(slab.ledge)},
        floor=None if found.heights is None else found.heights.floor * size,
        stops=tuple(sorted({it.code for it in found.findings if it.severity == "stop"} - set(found.despite))),
        despite=found.despite,
    )


def _system(frame: _Frame, unit: Unit, anchor: Point) -> System:
    factor = frame.combined_factor if frame.values == "grid" else None
    vertical, crs = frame.vertical or "", frame.crs or ""
    return System(unit, crs, frame.values, factor or 1.0, frame.system, vertical, anchor)


def _room(margin: _Margin, size: float) -> Room:
    distance, required, room = (each.value * size for each in (margin.distance, margin.required, margin.room))
    return Room(margin.rule, margin.of, margin.what, distance, required, room, margin.severity)
