"""Which tables and keys may stand in a site file, and what does each of them take? Read from the records themselves."""

from __future__ import annotations

import inspect
import types
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from annotated_types import Ge, Gt, Le, Lt, MinLen
from pydantic import AfterValidator, BaseModel, BeforeValidator
from pydantic.fields import FieldInfo

from staking.kinds.fields import Record
from staking.sitefile.declared import Declared
from staking.sitefile.slips import ENTRIES
from staking.sitefile.tables import RECORDS

FOOT = 0.3048  # metres
HEAD = """# The site file

One file a job, `site.toml`, in [TOML](https://toml.io/en/v1.0.0). It is plain text in UTF-8. Unknown tables and keys
are refused, with the nearest known one. `staking schema` prints the same tables as a JSON Schema for editors.

What the keys take:

- **length**: a number in `site.unit`, or a text with its own unit, such as `"32' 6-1/2"`, `"32.54 ft"`, `"9.918 m"`.
  Every spelling is on the page [lengths and bearings](../tasks/lengths_and_bearings.md).
- **fall**: height over level run, as a text: `"1/8 in per ft"`, `"2 %"`, `"1:48"`.
- **share**: a text in per cent, 0 to 100: `"5 %"`.
- **volume**: a text: `"10 cu yd"`, `"8 cu m"`, `"20 cu ft"`.
- **bearing**: a text such as `"N 12-30-15 E"`, or an azimuth in degrees clockwise from north.
- **corner** and **side** of the slab: a number from 1, or a name such as `"front-left"`, `"front"`.
- **name of a point, line, lot side**: as declared elsewhere in the file. Each lot side is a line too: the side `front`
  is the line `"lot front"`.
- **text**: one line, at most 200 characters. A **new name** has at most 40 characters, and none of
  ``, ; " / \\ : * ? < > | % { } ^ ' ` ``.

Coordinates are in the unit and frame of the file. All other lengths are level distances on the ground.
"""

# what stands before the keys of each table; a table without a sentence here stops the making of this page
TABLES: Mapping[str, str] = MappingProxyType(
    {
        "site": "What the job is called, and the unit of every bare number in the file. The one table that must be "
        "there beside `[slab]` and `[placement]`.",
        "coordinates": "Which coordinate system the numbers are in. Leave the table out for local, assumed "
        "coordinates. See [with an instrument](../tasks/with_an_instrument.md).",
        "coordinates.scaled_about": "Of ground values that were made by scaling: the place that keeps its grid "
        'coordinates. Mostly short: `scaled_about = "origin"`, or the name of a point. See '
        "[coordinates that agree](../tasks/coordinates.md).",
        "coordinates.truncated": "The constants that were taken off ground coordinates after the scaling: "
        "`truncated = { north = 2000000, east = 6000000 }`.",
        "second_system": "The coordinates of a point in another system, from a data sheet or a rover. They move "
        "nothing; where they disagree, the likeliest slip is named. See "
        "[coordinates that agree](../tasks/coordinates.md).",
        "on_earth": "About where on the earth a point of a local site is, so that a map can show it: two points, or "
        "one and a bearing. For viewing only, and the map says so. See "
        "[coordinates that agree](../tasks/coordinates.md).",
        "notation": "How lengths are printed on screen and on sheets. It changes no coordinate and no computation.",
        "points": "Points as given or as measured, each under its own name: `P1 = { north = 100.0, east = 100.0 }`. "
        "The short form is `P1 = [north, east]` or `P1 = [north, east, elevation]`. A name begins with a letter or "
        "digit; one that holds a dot or blank stands in quotes.",
        "point_files": "Lists of points beside the site file, for example the surveyor's control. One point a line, "
        "with commas, semicolons or tabs between. Blank lines and lines that begin with # are passed over.",
        "lot": "The lot by its corners, or by the courses of a record. Several sides may bear one name; a setback then "
        "holds for all of them. Only a licensed surveyor locates a property line. See "
        "[a lot from its record](../tasks/lot_from_a_record.md).",
        "lot.parcel": "A parcel of a LandXML file that is the lot, as an inline table: "
        '`parcel = { path = "survey.xml", name = "LOT 7" }`. See [LandXML](../tasks/landxml.md).',
        "lot.courses": "The calls of a record in order, straight ones and curves. Lengths may be in feet of "
        "either kind, "
        "metres, chains (`ch`), rods (`rd`), links (`lk`) or `vara`. A number is taken to the precision it is printed "
        "with, so write it as the record has it.",
        "lot.vara": "Which vara the record counts in. There are many, so a length in `vara` without this table is "
        "refused.",
        "setbacks": "One key for each side of the lot, by the side's name: `front = \"25'\"`. Each takes a length of 0 "
        "or more, or a table of its own, `[setbacks.front]`, with the keys below. There are no defaults: the figures "
        "are those of the local authority. A side without a figure is a warning. See "
        "[setbacks](../tasks/setbacks_areas_parts.md).",
        "separations": "Distances square from a wall to a line, as for fire separation. They are no setbacks, and "
        "there are no defaults: ask the authority which figure applies, and say where it stands.",
        "plan": "What the plan sheet shows beside the layout, and its paper. No stake depends on it. See "
        "[the plan sheet](../tasks/plan_sheet.md).",
        "fit": "How the points of the file are fitted to those measured in another system, `[[pairs]]`. See "
        "[two systems](../tasks/two_systems.md).",
        "fit.recorded": "What the fit gave on its date. It takes no part in the fit, which is computed anew each "
        "time, and is compared with it.",
        "pairs": "Points of the file as they were measured in the other system, in `site.unit`, each with the name it "
        "has in the file. See [two systems](../tasks/two_systems.md).",
        "revisions": "The lines of the table of revisions on the plan sheet.",
        "features": "Things to show on the plan sheet: drives, walks, other buildings, utilities. They take part in no "
        "check.",
        "margins": "How little room to a line or area is worth a warning. Less room than 0 is always a stop.",
        "keep_clear": "Areas in which nothing may stand: easements, wells, trees, overhead lines. A strip along a lot "
        "side, a circle around a point, or a polygon. The keys tell which it is.",
        "references": "Lines that the slab is placed from and tied to. A line that other lines are parallel to may "
        "stand anywhere in the file.",
        "slab": "The outline of the slab, seen by somebody who stands in front of it and looks at it: right is right, "
        "and away is away from that person. Corners and sides are counted from corner 1 in the order below.",
        "slab.parts": "A ramp, apron or porch: a rectangle attached to a side of the formed outline. It counts for "
        "setbacks unless it is exempt.",
        "slab.recesses": "A place of the floor at another height: a recess, a garage behind a step, a shower that "
        "falls to its drain. A rectangle measured from a side, or by `x` and `y`, or `points`: these count from corner "
        "1 of the formed outline, x to the right and y away. See [heights](../tasks/heights.md).",
        "slab.thickened": "Edges that reach deeper than the slab. Where two lie over one another, the deeper one "
        "holds.",
        "slab.footings": "Level concrete below the edges. What carries load belongs to licensed design; here it is "
        "only measured.",
        "floor": "The height of the finished concrete. With it every corner and stake has its elevation. See "
        "[heights](../tasks/heights.md).",
        "rod": "How the rod is divided, and how long it is.",
        "forms": "The boards or panels around the slab: boards nominal or as measured, panels as they are. See "
        "[forms and quantities](../tasks/quantities.md).",
        "concrete": "How the concrete is ordered.",
        "base": "The base course below slab and parts.",
        "vapour_sheet": "The sheet below the slab.",
        "reinforcement": "A schedule of bars, mesh and dowels as the design asks for; nothing is designed here.",
        "level_setups": "Where the level stands: the benchmark, and what the rod reads on it and on stakes.",
        "stake_tops": "How high the tops of stakes were found, where they were not read from a set-up of the level. "
        "The sheet and list of heights then say cut or fill. See [heights](../tasks/heights.md).",
        "levels": "A level book beside the site file. It begins on a point with an elevation, and gives elevations to "
        "the points it names; what it calls otherwise may be the benchmark of a set-up. See "
        "[a level book](../tasks/level_book.md).",
        "ground": 'Points on the ground, of which one surface of triangles is made, and with `state = "finished"` a '
        "second one: the ground as it is to be. See [the ground](../tasks/ground.md).",
        "ground.break_lines": "Lines along which the ground bends; no triangle crosses them.",
        "earthwork": "What is dug and filled below the concrete, and how it is checked.",
        "water": "How water is led away. Every figure is asked for by the clause beside it, as transcribed in public; "
        "ask the local authority for its own.",
        "overdig": "The edge of the excavation. Boards and offset stakes are kept out of it, one by one, unless their "
        "entry is `fixed`. Classing the soil is for a competent person (29 CFR 1926.652).",
        "as_built": "How far off what was set may be, and how well it is measured. No table is needed: what is left "
        "out is judged by a handbook's figures, which are printed with their source. A setback has no tolerance. See "
        "[check what was set](../tasks/check_what_was_set.md).",
        "placement": "Where the slab goes. See [placing a slab](../tasks/placing_a_slab.md). Distances are measured "
        "from the formed outline, ledge included.",
        "stakes": "What to drive. Each kind may be asked for more than once.",
        "stakeout": "Lists of stakes, each in a file `stakeout_NAME.csv` and in the form that one instrument takes. "
        "`stakeout.csv` is written in any case. See [lists for instruments](../tasks/stakeout_lists.md).",
        "numbering": "The first number of each series of stakes. A number that a given point has is passed over.",
        "tape": "What the crew has in hand. What is not said of it is not corrected. See "
        "[check with the tape](../tasks/check_with_the_tape.md).",
        "setup": "Where an instrument stands and what it is turned from: over a known point, or on a free station with "
        "[[setup.shots]]. It moves no stake. See [at the instrument](../tasks/at_the_instrument.md).",
        "setup.shots": "What was read from a free station toward known points: angles of one set, distances, or both.",
        "instrument": "How good the instrument is. From its figures, the circle that holds each stake at 95 percent is "
        "computed and set against sides and setbacks.",
    }
)
KINDS_OF_AREA: Mapping[str, str] = MappingProxyType({"along": "a strip", "around": "a circle", "points": "a polygon"})

_BY_VALIDATOR: Mapping[str, str] = MappingProxyType(
    {
        "length_in_metres": "length",
        "_setback_or_length": 'length, or `"setback"`',
        "_degrees": "bearing",
        "_read_step": "step",
        "_fall": "fall",
        "_circle": "angle",
        "_angle_on_earth": 'degrees, or a text such as `"79-58-36.2 W"`',
        "_share": "share",
        "_volume": "volume",
        "_named": "new name",
        "_words": "text",
        "_file_word": "word for a file name",
        "_record_length": "length as printed",
        "_record_angle": "angle or bearing as printed",
    }
)
_BY_TYPE: Mapping[Any, str] = MappingProxyType(
    {int: "whole number", float: "number", bool: "`true` or `false`", str: "name"}
)


def site_file_page() -> str:
    """The page: a chapter a table, in the order of the records."""
    chapters = [chapter for name in Declared.model_fields for chapter in _chapters(name)]
    return "\n".join([HEAD, *chapters])


def _chapters(name: str) -> Iterator[str]:
    yield _chapter(name)
    yield from (_chapter(inner) for inner in RECORDS if inner.startswith(f"{name}.") and name)


def _chapter(name: str) -> str:
    title = f"[[{name}]]" if name in ENTRIES else f"[{name}]"
    parts = [f"## `{title}`", TABLES[name]]
    for kind, record in RECORDS.get(name, {}).items():
        parts.extend(_kind(name, kind, record))
    return "\n\n".join(parts) + "\n"


def _kind(table: str, kind: str, record: type[Record]) -> Iterator[str]:
    if table == "keep_clear":
        yield f"### {KINDS_OF_AREA[kind].capitalize()}"
    elif kind:
        yield f'### `kind = "{kind}"`'
        yield from _module_words(record)
    yield keys(record)


def _module_words(record: type[Record]) -> Iterator[str]:
    """What the module of a kind says at its head, its sketch or grammar as it stands; or else its class."""
    module = inspect.getmodule(record)
    kinds = [each for _, each in inspect.getmembers(module, inspect.isclass) if each.__module__ == record.__module__]
    alone = sum("kind" in getattr(each, "model_fields", {}) for each in kinds) == 1
    first, _, rest = (inspect.getdoc(module if alone else record) or "").partition("\n\n")
    yield " ".join(first.split())
    if rest.strip():
        yield f"```text\n{inspect.cleandoc(chr(10) + rest)}\n```"


def keys(record: type[BaseModel]) -> str:
    """The keys of a record as rows of a table."""
    fields = sorted(record.model_fields.items(), key=lambda item: item[0] != "kind")
    rows = [_row(field.alias or name, field) for name, field in fields]
    return table(("key", "takes", "left out", "meaning"), rows)


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table in Markdown; a bar inside a cell is escaped."""
    lines = [head, ["---"] * len(head), *([cell.replace("|", "\\|") for cell in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def _row(key: str, field: FieldInfo) -> tuple[str, str, str, str]:
    meaning = field.description or ("which kind this is" if key == "kind" else "")
    return f"`{key}`", type_words(field.annotation, tuple(field.metadata)), _default(field), meaning


def type_words(kind: Any, metadata: tuple[Any, ...] = ()) -> str:
    """A type and its limits in plain words."""
    if get_origin(kind) is Annotated:
        inner, *more = get_args(kind)
        return type_words(inner, (*more, *metadata))
    named = next((words for each in metadata if (words := _by_validator(each))), "")
    return f"{named or _bare(kind)}{_limits(metadata)}"


def _by_validator(each: Any) -> str:
    return _BY_VALIDATOR.get(_function(each), "")


def _function(each: Any) -> str:
    return str(each.func.__name__) if isinstance(each, (BeforeValidator, AfterValidator)) else ""


def _bare(kind: Any) -> str:
    origin, inner = get_origin(kind), [each for each in get_args(kind) if each is not types.NoneType]
    if origin is Literal:
        return " or ".join(f'`"{each}"`' if isinstance(each, str) else f"`{each}`" for each in inner)
    if origin is tuple:
        return _list(inner)
    if origin is dict:
        return f"table; each: {type_words(inner[-1])}"
    if origin in (Union, types.UnionType):
        return _either(inner)
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return "table"
    return _BY_TYPE.get(kind, getattr(kind, "__name__", str(kind)))


def _list(inner: Sequence[Any]) -> str:
    if inner[-1] is Ellipsis:
        return f"list; each: {type_words(inner[0])}"
    return f"list of {len(inner)}; each: {type_words(inner[0])}"


def _either(inner: Sequence[Any]) -> str:
    words = list(dict.fromkeys(type_words(each) for each in inner))
    return "number or name" if words == ["whole number", "name"] else " or ".join(words)


def _limits(metadata: tuple[Any, ...]) -> str:
    known = [_limit(each) for each in metadata]
    return "".join(f", {limit}" for limit in known if limit)


def _limit(each: Any) -> str:
    match each:
        case Gt():
            return f"more than {each.gt}"
        case Ge():
            return f"{each.ge} or more"
        case Lt():
            return f"less than {each.lt}"
        case Le():
            return f"at most {each.le}"
        case MinLen():
            return f"at least {each.min_length} of them" if each.min_length > 1 else "not empty"
    return {"_above_zero": "more than 0", "_not_below_zero": "0 or more"}.get(_function(each), "")


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "must be there"
    if field.default_factory is not None:
        return "none"
    value = field.get_default()
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, float) and "length" in type_words(field.annotation, tuple(field.metadata)):
        return f"{value / FOOT:g} ft" if value else "0"
    if isinstance(value, tuple):
        return ", ".join(each if isinstance(each, str) else f"{each:g}" for each in value) or "none"
    return {None: "none", "": "empty"}.get(value, f'`"{value}"`' if isinstance(value, str) else f"`{value}`")
