"""What does a `layout.json` say of its revision? Our own file, read back with every mistake of it in words."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Container
from itertools import islice
from typing import Annotated, Any, Literal, NoReturn

from pydantic import AfterValidator, AllowInfNan, BaseModel, ConfigDict, Field, Strict, ValidationError
from pydantic_core import PydanticCustomError

from staking.errors import InputError
from staking.findings import Finding, Place, Severity
from staking.kinds.fields import REACH
from staking.layout.revision import CORNER_LABEL, SIDE_LABEL, Corner, Driven, Revision, Room, System
from staking.layout.revision_sense import contradictions
from staking.notation import Notation
from staking.sitefile.places import key_words, marked_line, mistake, plain
from staking.survey.points import Point
from staking.units import SITE_UNITS, UNITS, Unit

FORMAT = 1  # of the files that can be read


def _readable(text: str) -> str:
    if not text.isprintable():
        raise PydanticCustomError("unreadable", "holds a sign that cannot be seen")
    return text


Number = Annotated[float, Strict(), AllowInfNan(False), Field(ge=-REACH, le=REACH)]
Text = Annotated[str, Strict(), Field(max_length=400), AfterValidator(_readable)]
Name = Annotated[Text, Field(min_length=1)]
Date = Annotated[Text, Field(pattern=r"^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$")]
Digest = Annotated[Text, Field(pattern="^[0-9a-f]{64}$")]
CornerLabel = Annotated[Text, Field(pattern=f"^{CORNER_LABEL}$")]
SideLabel = Annotated[Text, Field(pattern=f"^{SIDE_LABEL}$")]

_AGAIN = "take the file as `staking make` wrote it, or write it again from its site file"
_NAME = "name a layout.json, or a site file"
_MOST = 20  # mistakes that are named
_BULGE = 1e4  # tan(angle/4) of an arc, far above any; a full circle has no end
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
    "too_short": "is empty",
    "string_pattern_mismatch": "is not as staking writes it",
    "literal_error": "is not as staking writes it",
    "greater_than": "is less than can be",
    "less_than": "is more than can be",
    "greater_than_equal": "is less than can be",
    "less_than_equal": "is more than can be",
}
_SEVERITIES = frozenset(severity.words for severity in Severity)


def _severity(words: str) -> str:
    if words not in _SEVERITIES:
        raise PydanticCustomError("severity", "is not as staking writes it")
    return words


Grave = Annotated[Text, AfterValidator(_severity)]


class _Table(BaseModel):
    """A table of the file; what else stands in it is for other readers."""

    model_config = ConfigDict(frozen=True, extra="ignore")


class _Length(_Table):
    value: Number


class _NotBelow(_Length):
    value: Annotated[Number, Field(ge=0)]


class _Size(_Length):
    """Of something that is there."""

    value: Annotated[Number, Field(gt=0)]


class _Site(_Table):
    name: Text
    lot: Text
    revision: Name
    date: Date | None
    file: Text
    fingerprint: Digest


class _Place(_Table):
    north: Number
    east: Number


class _Frame(_Table):
    unit: Text
    crs: Text | None
    values: Literal["grid", "ground"]
    combined_factor: Annotated[Number, Field(gt=0.9, lt=1.1)] | None
    system: Literal["", "given", "measured"] = ""
    vertical: Text | None
    anchor: _Place


class _Said(_Table):
    code: Name
    severity: Grave


class _Given(_Place):
    name: Name
    elevation: Number | None


class _Corner(_Place):
    name: Name
    label: CornerLabel
    bulge: Annotated[Number, Field(ge=-_BULGE, le=_BULGE)] = 0.0


class _Part(_Table):
    name: Name
    corners: tuple[_Place, ...]


class _Slab(_Table):
    area: _Size
    ledge: _NotBelow
    thickness: _Size | None
    corners: tuple[_Corner, ...]
    parts: tuple[_Part, ...]


class _Margin(_Table):
    rule: Name
    of: Text
    what: Name
    distance: _Length
    required: _Length
    room: _Length
    severity: Grave


class _Stake(_Given):
    kind: Name
    note: Text
    side: SideLabel | None
    corner: CornerLabel | None
    part: Name | None


class _Heights(_Table):
    floor: Number


class _Side(_Table):
    label: SideLabel
    length: _Size


class _Diagonal(_Table):
    start: Name = Field(alias="from")
    end: Name = Field(alias="to")
    length: _Size


class _Layout(_Table):
    stakes_withheld: Annotated[bool, Strict()]
    site: _Site
    frame: _Frame
    despite: tuple[Name, ...]
    findings: tuple[_Said, ...]
    points: tuple[_Given, ...]
    slab: _Slab
    margins: tuple[_Margin, ...]
    stakes: tuple[_Stake, ...]
    heights: _Heights | None
    sides: tuple[_Side, ...]
    diagonals: tuple[_Diagonal, ...]


def read_revision(text: str, file: str) -> Revision:
    """The revision in the text of a layout.json. file: its name, for messages.

    Raises InputError, with every mistake at once: no JSON, or cut short; not ours; of a newer version; a value that
    cannot be; values that contradict one another; stakes withheld after a stop.
    """
    content = _parsed(text, file)
    if not isinstance(content, dict) or not {"format", "site", "frame", "stakes"} <= content.keys():
        _refuse(file, f"this is {_other(content)}, but no layout that staking wrote", _NAME)
    if content["format"] != FORMAT or type(content["format"]) is not int:
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
    revision = _revision(found, file)
    if wrong := [_mistake(file, key, words) for key, words in islice(contradictions(revision), _MOST)]:
        raise InputError(*wrong)
    return revision


def _other(content: Any) -> str:
    """What a file of JSON is, where it is no layout."""
    geojson = isinstance(content, dict) and str(content.get("type", "")).startswith("Feature")
    return "GeoJSON" if geojson else "JSON"


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

    def table(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found = dict(pairs)
        if len(found) < len(pairs):
            counted = Counter(key for key, _ in pairs)
            again = next(key for key in counted if counted[key] > 1)
            _refuse(file, f'the key "{plain(again)}" is there twice in one table', _AGAIN)
        return found

    if not text.strip():
        _refuse(file, "the file is empty", _AGAIN)
    try:
        return json.loads(text, parse_constant=no_number, object_pairs_hook=table)
    except json.JSONDecodeError as error:
        lines = text.split("\n")
        short = error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated")
        words = "the file is cut short" if short else "this is no JSON, or it was changed by hand"
        shown = marked_line(lines[error.lineno - 1], error.colno)
        place = Place(file, error.lineno, 0 if short else error.colno, source="" if short else shown)
        raise InputError(mistake("bad-layout", words, place, _AGAIN)) from None
    except (RecursionError, ValueError):  # nested too deep; more digits than a number has
        _refuse(file, "this is no layout that staking wrote", _AGAIN)


def _mistakes(error: ValidationError, file: str) -> list[Finding]:
    said = []
    for each in error.errors()[:_MOST]:
        said.append(_mistake(file, key_words(tuple(each["loc"])), _SAYS.get(each["type"], each["msg"].lower())))
    return said


def _mistake(file: str, key: str, words: str) -> Finding:
    return mistake("bad-layout", words, Place(file, key=key), _AGAIN)


def _revision(found: _Layout, file: str) -> Revision:
    unit = UNITS[found.frame.unit]
    size = float(unit.metres)
    site, slab = found.site, found.slab

    def at(place: _Place, up: float | None = None) -> Point:
        return Point(place.east * size, place.north * size, None if up is None else up * size)

    def metres(length: _Length | None) -> float | None:
        return None if length is None else length.value * size

    corners = {each.name for each in slab.corners}
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
        diagonals=tuple((_ends(line, corners), line.length.value * size) for line in found.diagonals),
        rooms=tuple(_room(each, size) for each in found.margins),
        area=slab.area.value * size**2,
        sizes={"thickness": metres(slab.thickness), "ledge": metres(slab.ledge)},
        floor=None if found.heights is None else found.heights.floor * size,
        stops=tuple(sorted({it.code for it in found.findings if it.severity == "stop"} - set(found.despite))),
        despite=found.despite,
    )


def _ends(line: _Diagonal, corners: Container[str]) -> str:
    """Of a diagonal in words; what is no corner is a crossing of strings."""
    return " to ".join(end if end in corners else f"{end} (crossing of strings)" for end in (line.start, line.end))


def _system(frame: _Frame, unit: Unit, anchor: Point) -> System:
    factor = frame.combined_factor if frame.values == "grid" else None
    vertical, crs = frame.vertical or "", frame.crs or ""
    return System(unit, crs, frame.values, factor or 1.0, frame.system, vertical, anchor)


def _room(margin: _Margin, size: float) -> Room:
    distance, required, room = (each.value * size for each in (margin.distance, margin.required, margin.room))
    return Room(margin.rule, margin.of, margin.what, distance, required, room, margin.severity)
