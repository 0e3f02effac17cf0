"""Which files does a job write, who reads them, and what is in them?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from page_of_site_file import table

from staking.app.running import DXF_VERSIONS
from staking.app.site_verbs import DELIMITERS
from staking.drawing.layers import LAYERS, OF_LAYOUT, Layer
from staking.exports import EXPORTS, Export
from staking.exports.as_built import AS_BUILT
from staking.exports.as_built_csv import COLUMNS as AS_BUILT_COLUMNS
from staking.exports.bundle import MANIFEST
from staking.exports.changes_csv import COLUMNS as CHANGES_COLUMNS
from staking.exports.measured_log import LOG
from staking.exports.points_csv import COLUMNS, STAKEOUT_COLUMNS

HEAD = """# The files

`staking make SITE --out DIR` writes these files into a folder, all of them or none: they are written beside the folder
and put in its place by renaming. Run again, it replaces its own files and leaves yours alone. It stops, with nothing
changed, where one of its files was changed since, or where a file of yours has one of its names.

The same site file, options and version of the program give the same bytes."""

# who reads a file, and what it holds; an export without a line here stops the making of this page
FILES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "points.csv": (
            "the surveyor, a spreadsheet, a drawing program",
            "Every given point and every stake, with a header, in the site's unit and the frame of the site file, with "
            "4 decimals. An elevation that is not known is an empty cell. RFC 4180: commas, lines end with CR LF.",
        ),
        "stakeout.csv": (
            "the instrument",
            "Only what is staked. No header, commas and 4 decimals unless the command line asks for something else.",
        ),
        "layout.dxf": (
            "the instrument, a drawing program, the surveyor",
            "Everything that was computed, in site coordinates, one layer a kind. A POINT, a small CIRCLE and a TEXT "
            "for each point of `points.csv`, and a POINT for nothing else; Z is its elevation, and 0 where none is "
            "known. Lines are LINE and closed LWPOLYLINE (POLYLINE in R12); dimensions are LINE and TEXT. Contours of "
            "the ground are open polylines at their elevation; heights at the corners are TEXT and no POINT, since "
            "nobody is to stake them. All text is ASCII. A note below the drawing says site, revision, unit, system "
            "and fingerprint.",
        ),
        "landxml.xml": (
            "the programs of the surveyor",
            "LandXML 1.2: units, coordinate system and factor, every given point and every stake (CgPoints), the lot "
            "as a parcel and slab, parts, reference lines and areas as plan features, with true curves and 4 decimals, "
            "and the ground as a surface of triangles (TIN). A point is north, east and, where it is "
            "known, elevation. See [LandXML](../tasks/landxml.md).",
        ),
        "layout.geojson": (
            "a map in a browser or geographic information system",
            "The same points, the slab, its parts, the lot, the areas and reference lines, in longitude and latitude "
            "on WGS 84 (RFC 7946). For viewing only: the datum alone may be metres off. Do not stake from it. Source "
            "system, operation and its accuracy stand inside.",
        ),
        "layout.json": (
            "another program",
            "Everything computed: points, lot, lines, slab, margins, stakes, sides, diagonals, ties, findings. Each "
            "length stands there twice, as a number in the site's unit and as the text that is printed. After a stop "
            "the places of stakes and the ties are left out, and the codes that withhold them are named. What it says "
            "of heights and ground:",
        ),
        "plan.pdf": (
            "the inspector, the owner, the surveyor",
            "The plan of the lot at a standard scale: lot lines with bearing and distance, the slab with its sides and "
            "diagonals, the least distance to every line with what is required and what is to spare, and whatever the "
            "checklist of twelve building departments asks for and the site file gives. Written after a stop too, then "
            "without coordinates of the slab. See [the plan sheet](../tasks/plan_sheet.md).",
        ),
        "plan.svg": ("a browser, a drawing program", "The same plan as one picture, further pages below the first."),
        "grades.pdf": (
            "the rod man",
            "Design height of every corner, mark and offset stake, what the rod reads there from each set-up of the "
            "level, and cut or fill from the tops of stakes. Made only where the site file has `[floor]`. See "
            "[heights](../tasks/heights.md).",
        ),
        "grades.html": ("the rod man, on a telephone", "The same sheet as one page that needs no network."),
        "grades.csv": (
            "a spreadsheet",
            "The same figures in the site's unit with 4 decimals, one row a point and set-up. A fill is a negative "
            "cut; a negative reading lies above the line of sight.",
        ),
        "levels.pdf": (
            "the surveyor, the inspector, whoever checks the heights",
            "Each `[[levels]]` reduced by the height of instrument and by rise and fall, the sums that check the "
            "arithmetic, the misclosure beside what is allowed and where that figure comes from, corrections and "
            "adjustment, with lines to sign. Written after a stop too. See [a level book](../tasks/level_book.md).",
        ),
        "levels.html": ("the same people, on a telephone", "The same sheet as one page that needs no network."),
        "levels.csv": (
            "a spreadsheet",
            "The same books in the unit of each with 4 decimals, one row a sight: reading as corrected and what was "
            "taken off it, line of sight, rise or fall, height by both ways, and as adjusted.",
        ),
        "setup.csv": (
            "a spreadsheet, the person at the instrument",
            "Written where the site file has a [setup] that can be solved. Backsight and check point, then every stake "
            "in walking order: azimuth and angle right in degrees, level, slope and vertical distance, zenith angle, "
            "and the circle that holds it at 95 percent. See [at the instrument](../tasks/at_the_instrument.md).",
        ),
        "setup.pdf": (
            "the person at the instrument",
            "The same as a sheet: station, backsight, check shot, residuals of a free station, a picture with the "
            "lines of sight, stakes with boxes for what was read, and how well they are known.",
        ),
        "setup.html": ("the same person, on a telephone", "The same sheet as one page that needs no network."),
        "takeoff.pdf": (
            "the foreman",
            "What to order, in one table; then boards or panels, stakes, base course, vapour sheet, reinforcement, "
            "concrete and joints, each with its arithmetic. "
            "Made only where the site file declares any of them. See [forms and quantities](../tasks/quantities.md).",
        ),
        "takeoff.html": ("the foreman, on a telephone", "The same sheet as one page that needs no network."),
        "takeoff.csv": ("a spreadsheet", "The same quantities, one row each, volumes in two units."),
        "ground.pdf": (
            "the one who digs and fills",
            "Ground at every corner and stake, how high the form stands there, cut to the subgrade and fill under the "
            "slab, the volume by triangles, by cells and by sections, and a section along each side. Made only where "
            "the site file has `[[ground]]`. See [the ground](../tasks/ground.md).",
        ),
        "ground.html": ("the same, on a telephone", "The same sheet as one page that needs no network."),
        "ground.csv": (
            "a spreadsheet",
            "The ground at corners and stakes in the site's unit with 4 decimals, one row a point. A fill is a "
            "negative cut; `finished` is the ground as it is to be, where it is given; what is not known is empty.",
        ),
        "checks.pdf": (
            "the owner, the inspector, you before the first stake",
            "The sheet of checks on paper: cautions, the result in one sentence, a picture, the room to every line and "
            "area, how the record of the lot closes and fits the pins, and every finding with what to do. Written "
            "after a stop too.",
        ),
        "checks.html": (
            "the same people, on a telephone",
            "The sheet of checks as one page that needs no network.",
        ),
        "tape_and_string.pdf": (
            "the crew",
            "Setting out with a steel tape and string, step by step, with boxes for what was measured, permitted "
            "differences and their source, ties, and corners by two tapes.",
        ),
        "tape_and_string.html": (
            "the crew, on a telephone",
            "The same sheet as one page that needs no network.",
        ),
    }
)
COMPARED = """## What `staking compare` writes

`staking compare SITE MEASURED --out DIR` writes these files, all of them or none, into a folder of its own: one that
`staking make` wrote is refused. `manifest.json` lies beside them and says which list was held against which site file.
`staking tape SITE READINGS --out DIR` writes the same of the corners that a tape book gives, where ties place the slab.
See [the as-built report](../tasks/as_built_report.md)."""

AS_BUILT_FILES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "as_built.pdf": (
            "the owner, the inspector, the surveyor",
            "What was set against what was computed: the answer in large words, a drawing with the differences "
            "enlarged, corners, placement against shape, sides and diagonals, angles, room to every line, how it was "
            "measured and whether that is good enough to judge, positional accuracy, cautions, lines to sign.",
        ),
        "as_built.html": ("the same people, on a telephone", "The same sheet as one page that needs no network."),
        "as_built.csv": (
            "a spreadsheet, a drawing program",
            "Every measured point, one row each, as a list of points with what it was held against. Figures are in the "
            "site's unit with 4 decimals, measured less computed; out is square from a wall line, positive away from "
            "the slab. What is not known is empty.",
        ),
        "as_built.geojson": (
            "a map in a browser or geographic information system",
            "Measured points, the outline as computed and as measured, and a line from each point as computed to the "
            "same as measured, in longitude and latitude on WGS 84 (RFC 7946). For viewing only. Left out where the "
            "place on the earth is not known.",
        ),
        "as_built.dxf": (
            "a drawing program, the surveyor",
            "Both outlines at true size on the layers DESIGN and MEASURED. A POINT, a small CIRCLE and a TEXT for each "
            "measured point, and a POINT for nothing else.",
        ),
    }
)
RECORD = (
    "Version of the program, site, revision, unit, coordinate system, values and factor, the SHA-256 of the site file "
    "and of its point files, what was withheld or written despite a stop, what each list of "
    "stakes holds (columns, unit, values, factor, changed names), how many findings of each severity, and size "
    "and SHA-256 of every file."
)

MEASURED = (
    "Beside the outputs, one line of JSON for each measurement file taken in: date and time in UTC, name, SHA-256 and "
    "size of the file, what it was taken as, revision and fingerprint of the site file, version of the program, and "
    "the SHA-256 of the line before. Lines are added at the end and never changed; a file taken in again gets another "
    "line, and a report names each content once, as it was last taken. A line that was changed, moved or taken out "
    "shows at the next one; that the last lines are missing cannot show. After a crash in the middle of a line the "
    "others are read, and the next one stands on a line of its own. It is in no manifest, and `make` leaves it alone."
)
CHANGES = (
    "`staking changes OLD NEW --out DIR` writes `changes.pdf`, `changes.html` and `changes.csv` with a manifest, "
    "complete or not at all: the sheet says what to pull, set, name and mark anew, with boxes to tick, and the table "
    f"holds the same, one row a place. Its columns are `{','.join(CHANGES_COLUMNS)}`, in the unit and frame of the new "
    "revision; `do` is pull, set, rename, regrade or keep. A stake that moved has two rows, and the name of its old "
    "place ends in -old. See [when the drawing changes](../tasks/when_the_drawing_changes.md)."
)
SUPERSEDED = (
    "The layout.json of an older revision whose stakes moved, kept as it was when `make` wrote the new one into the "
    "same folder; also the last one before a stop. REVISION is its revision, and the digits are the first of its "
    "SHA-256. It is in no manifest: delete it once its stakes are pulled. No instrument reads it."
)

COLUMN_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "name": "of the point or stake",
        "north": "in the site's unit and frame",
        "east": "in the site's unit and frame",
        "elevation": "in the site's unit; empty where it is not known",
        "kind": "given, lot corner, corner, part corner, offset, post, nail or mark",
        "note": "what it is, in words: corner 1 (front-left); for given points the note of the site file",
    }
)


# keys of layout.json about heights; all heights and depths in the site's unit, null where not known
HEIGHT_KEYS: Mapping[str, str] = MappingProxyType(
    {
        "heights": "null without `[floor]` and after a stop",
        "heights.floor": "of the floor, as stated",
        "heights.fall": "of the floor: height over run; 0 where it is level",
        "heights.points": "design height of every corner, mark, offset stake, nail and corner of a recess, by name",
        "heights.surface.plane": "the floor, carried on beyond the slab: `at` (north, east, elevation) and `rise`",
        "heights.surface.pieces": "what is poured, none over another: name, kind (floor, recess, ledge, part), "
        "`outline`, `openings`, and the planes `top` and `subgrade` (underside of the concrete)",
        "heights.surface.falls": "of floor, parts and drives: `ratio`, height over run; `to`, the point at a drive's "
        "lower end",
        "ground": "null without `[[ground]]`",
        "ground.points, triangles": "how many the surface is made of",
        "ground.lowest, highest": "of all the ground",
        "ground.contours": "`interval` between those of the plan and the DXF, and every how many are `heavier_every`; "
        "null where no ground is in sight",
        "ground.high_corner, low_corner": "corner of the slab with the highest and the lowest ground: `name`, `ground`",
        "ground.at": "every corner and stake: `ground`, `top`, `subgrade` (less the base), `form_height` above the "
        "ground, `cut` to the subgrade, a fill below 0; left out after a stop",
        "ground.earth": "volumes in `unit`, in place: `total` and `pieces` by triangles, `by_cells`, `by_sections`, "
        "each with `cut` and `fill`; `base`; `uncovered_area` of concrete over no triangle; left out after a stop",
    }
)
SURFACE = (
    "A plane is a function of north and east in the coordinates of the file: elevation = `at.elevation` + `rise.north` "
    "× (north - `at.north`) + `rise.east` × (east - `at.east`). On a piece it is that of the piece; a stake beside the "
    "concrete has that of the slab's corner it belongs to, carried on."
)


def files_page() -> str:
    """The page: every file, its columns, and the layers of the drawing."""
    parts = [
        HEAD,
        table(("file", "who reads it", "after a stop"), [_row(each) for each in EXPORTS] + [_manifest_row()]),
    ]
    for each in EXPORTS:
        parts.extend(_chapter(each.name))
    parts.extend((f"## `{MANIFEST}`", RECORD))
    parts.append(COMPARED)
    parts.append(
        table(("file", "who reads it"), [(f"`{each.name}`", AS_BUILT_FILES[each.name][0]) for each in AS_BUILT])
    )
    for file in AS_BUILT:
        parts.extend((f"## `{file.name}`", AS_BUILT_FILES[file.name][1]))
        if file.name == "as_built.csv":
            parts.append(f"Columns: `{','.join(AS_BUILT_COLUMNS)}`.")
    parts.extend(("## `superseded_REVISION_DIGITS.json`", SUPERSEDED))
    parts.extend((f"## `{LOG}`", MEASURED, "## `changes.pdf`, `changes.html`, `changes.csv`", CHANGES))
    return "\n\n".join(parts)


def _compared() -> Iterator[str]:
    """The files of a comparison."""
    yield COMPARED
    yield table(("file", "who reads it"), [(f"`{each.name}`", AS_BUILT_FILES[each.name][0]) for each in AS_BUILT])
    for each in AS_BUILT:
        yield f"## `{each.name}`"
        yield AS_BUILT_FILES[each.name][1]
        if each.name == "as_built.csv":
            yield f"Columns: `{','.join(AS_BUILT_COLUMNS)}`."


def _row(export: Export) -> tuple[str, str, str]:
    return f"`{export.name}`", FILES[export.name][0], "withheld" if export.stakes else "written"


def _manifest_row() -> tuple[str, str, str]:
    return f"`{MANIFEST}`", "whoever must know later what the files were made from", "written"


def _chapter(name: str) -> Iterator[str]:
    yield f"## `{name}`"
    yield FILES[name][1]
    if name == "points.csv":
        yield table(("column", "what"), [(f"`{column}`", COLUMN_WORDS[column]) for column in COLUMNS])
    if name == "stakeout.csv":
        yield _stakeout()
    if name == "layout.json":
        yield table(("key", "what"), [(f"`{key}`", words) for key, words in HEIGHT_KEYS.items()])
        yield SURFACE
    if name == "layout.dxf":
        yield _drawing()


def _stakeout() -> str:
    columns = ",".join(STAKEOUT_COLUMNS)
    return (
        f"Columns where nothing is said: `{columns}`. `--columns` takes any of `{','.join(COLUMNS)}`, in any order, "
        f"each once. `--delimiter` takes {', '.join(DELIMITERS)}; with space, blanks inside a note become `_`, and a "
        "name with a blank or an elevation that is not known is refused. `--decimals` takes 2 to 6. `--header` adds a "
        "line with the names of the columns. Each `[[stakeout]]` of the site file adds a file `stakeout_NAME.csv` in a "
        "form of its own; see [lists for instruments](../tasks/stakeout_lists.md)."
    )


def _drawing() -> str:
    words = (
        f"`--dxf` takes {', '.join(DXF_VERSIONS)}; r2000 where nothing is said. `$INSUNITS` is 6 (metres) or 2 (feet, "
        "for both kinds of feet); the note in the drawing says which foot it is. The layers are:"
    )
    rows = [_layer(LAYERS[name]) for name in OF_LAYOUT]
    return f"{words}\n\n{table(('layer', 'holds', 'colour number', 'line width [mm]'), rows)}"


def _layer(layer: Layer) -> tuple[str, str, str, str]:
    return f"`{layer.name}`", layer.words, str(layer.dxf_colour), f"{layer.width * 25.4 / 72:.2f}"
