"""What does each finding mean? The checks' own words, and those for what cannot be read or solved."""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Iterator, Mapping
from itertools import pairwise
from types import MappingProxyType

from staking.checks import CHECKS, Check
from staking.field.levels_doubts import CODES as DOUBTED
from staking.field.tape_findings import CODES as TAPING
from staking.findings import Severity
from staking.layout import changes_found
from staking.sitefile.descriptions.reading import CODES as DESCRIBING

HEAD = """# Findings

Every finding has a code in square brackets, a severity, and, where it is about a line of the site file, the place:

```text
site.toml:54:10: warning: placement.corner: corner 4 (back-left) stands nearer ... [other-corner-nearer]
file:line:column severity  key              message                                code
```

The line begins the same way for every finding, so that editors can jump to it. Below it stands the line of the file
with a mark, and after `->` what to write or do instead.

| severity | what it does |
| --- | --- |
| note | Worth knowing. Nothing else happens. |
| warning | Settle it before the first stake. Files are written; warnings stand on the sheets. |
| strong warning | As a warning, and graver. |
| stop | From a check: stake files are withheld and the status is 1; see [after a stop](../tasks/after_a_stop.md). \
From reading or solving: nothing is written and the status is 2. From the description of a lot: no call of it is \
taken, and the status of `staking lot` is 1. |

No finding is an approval. A check knows only what the site file says.
"""

# severities that the program decides as it runs, so that they cannot be read off its text
DECIDED: Mapping[str, str] = MappingProxyType(
    {
        "setback-crossed": Severity.STOP.words,
        "lot-line-crossed": Severity.STOP.words,
        "keep-clear-crossed": Severity.STOP.words,
        "separation-short": Severity.STOP.words,
        **dict.fromkeys(("outside-area", "north-east-swapped", "unit-mistaken"), Severity.STOP.words),
        "slab-across-line": f"{Severity.STRONG.words} or {Severity.STOP.words}",
        "lot-misclosed": f"{Severity.NOTE.words} or {Severity.STOP.words}",
        **dict.fromkeys(
            ("fit-mirror-hidden", "fit-odd-pair", "fit-poor", "fit-wrong-foot"),
            f"{Severity.STRONG.words}; {Severity.STOP.words} in the measured system",
        ),
        "stake-on-arc": f"{Severity.NOTE.words} or {Severity.WARNING.words}",
        "floor-flat": f"{Severity.NOTE.words} or {Severity.WARNING.words}",
        "fit-scale": f"{Severity.NOTE.words} or {Severity.WARNING.words}",
        "earth-differs": f"{Severity.WARNING.words} or {Severity.STRONG.words}",
        "room-thin": f"{Severity.WARNING.words} or {Severity.STRONG.words}",
    }
)

# what is said while a site file or a list of points is read; all of them stop but those of OF_READING
READING: Mapping[str, str] = MappingProxyType(
    {
        "unreadable-file": "The file is not there, may not be opened, is a folder, a pipe or a device, or is far too "
        "large for a site file.",
        "encoding": "The file is not plain text in UTF-8. The finding names the first byte that does not fit and, "
        "where it can be told, the encoding the file is in. Save it again as UTF-8. A picture, an archive or another "
        "file that is no text at all is named for what it is.",
        "empty-file": "The file holds nothing, or only comments. `staking new` writes one to start from.",
        "toml": "A line is not TOML: a quote or bracket is missing, a length stands without quotes, a key or table "
        "stands twice. Feet and inches are the usual reason: an inch mark ends a text in double quotes, a feet mark "
        "one in single quotes. The finding shows how the line should look.",
        "missing-key": "A table or key that must be there is not. The finding says what to write. Without `site.unit` "
        "no number of the file can be read, so that one is said first.",
        "unknown-key": "A table or key is not known here: a slip of the pen, or it stands in the wrong table. The "
        "finding names the nearest known one, or the table in which it belongs.",
        "unknown-kind": "There is no kind of that name. The finding names those there are.",
        "bad-length": "A length cannot be read, or could mean two things. See "
        "[lengths and bearings](../tasks/lengths_and_bearings.md).",
        "bad-bearing": "A bearing or azimuth cannot be read, or could mean two things. See "
        "[lengths and bearings](../tasks/lengths_and_bearings.md).",
        "bad-value": "A value is of the wrong sort, is too large or too small, or is not among the words that may "
        "stand there. Also: a list that is too short, or two keys of which only one may stand.",
        "bad-name": "A name is empty, is too long, begins like a formula of a spreadsheet, holds a sign that a file or "
        'drawing cannot carry, or begins with "lot ", which is kept for the sides of the lot.',
        "unknown-name": "A point, line, lot side or area is named that is not declared anywhere. The finding names the "
        "nearest one that is.",
        "duplicate-name": "Two things of one sort have the same name, or a corner or file is named twice.",
        "duplicate-point": "One point name stands for two different places, in the site file and a list or in two "
        "lists.",
        "ring": "Reference lines wait for one another: each is parallel to the next, and none can be drawn first.",
        "outside-folder": "A list of points lies outside the folder of the site file. Copy it there, so that the job "
        "is in one place.",
        "bad-columns": "It is not clear which column of a list holds what, or the header says one thing and the site "
        "file another, the unit included. The two feet are never mixed up silently.",
        "bad-row": "A row of a list of points cannot be used. The finding names the row and the reason.",
        "bad-landxml": "A LandXML file cannot be used: it is cut short or no LandXML 1.0 to 1.2, has a DOCTYPE, or "
        "states no unit or another one than the site file. See [LandXML](../tasks/landxml.md).",
        "bad-parcel": "A parcel of a LandXML file cannot be the lot: it does not close, has a spiral or an irregular "
        "line, a piece taken out of it, or a curve that contradicts itself.",
        "landxml-read": "What was read from a LandXML file, in which units and system. Compare it with "
        "`[coordinates]`.",
        "parcel-read": "Which parcel is the lot, with its corners and the names of its sides.",
        "bad-drawing": "A drawing cannot give the outline of the slab: it is broken, empty or of another format, "
        "does not say its unit, or holds no closed outline, or several. "
        "See [a slab from a drawing](../tasks/drawing.md).",
        "drawing-read": "Which outline of the drawing is the slab, with its size. Compare it with the print.",
        "drawing-unit": "The drawing says another unit than the site file, which is followed.",
        "drawing-joined": "Lines of the outline did not quite meet and were joined, as `join` allows. Measure "
        "the sides.",
        "drawing-inner": "Outlines inside the one that is picked are not set out: holes, pads, rooms.",
        "too-many": "There are more mistakes than are worth printing. Correct the first ones and run again.",
        "repeated-point": "A list holds the same point twice at the same place. The first is used.",
    }
)

# what is said while the place of everything is worked out; all of them stop
SOLVING: Mapping[str, str] = MappingProxyType(
    {
        "cannot-solve": "A declared thing cannot be carried out: a corner that is not there, a point that lies on the "
        "line it should tell the side of, a cut larger than the slab, a part in the slab. The sentence says which.",
        "open-placement": "The place of the slab is left open: the second line runs along the first one, the file does "
        "not tell on which side of a line the slab lies, or it cannot be centered between two lines. The finding says "
        "what to add.",
        "outline-open": "A traced outline does not come back to its beginning. The finding says by how much, and after "
        "which step.",
        "outline-faulty": "The outline, an area to keep clear or a feature crosses or touches itself, runs back along "
        "itself, or has a side without length.",
        "lot-faulty": "The same for the lot: its corners are not named in order around it.",
    }
)
# what `staking points` says of a list, with its severity
LISTS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "list-apart": (
            Severity.STRONG.words,
            "The list, or one point of it, does not lie where the site has it: thousands were taken off, the values "
            "are stretched, or it is in another system.",
        ),
        "list-digit": (
            Severity.STRONG.words,
            "One coordinate of a point differs from the site's by one digit, or by two that changed places. The likely "
            "number is named; nothing is corrected.",
        ),
        "list-far-off": (
            Severity.STRONG.words,
            "A point lies more than five times the size of the middle half of the list away from it. Where a digit, an "
            "exchange of north and east, or feet for metres would explain it, that is said.",
        ),
        "list-gap": (Severity.NOTE.words, "Numbers are missing in a series of names. See that no point was lost."),
        "list-more-cells": (
            Severity.NOTE.words,
            "Rows have more cells than the first line, and the last are passed over: mostly a comma in a note that "
            "has no quotes around it.",
        ),
        "list-mixed-units": (
            f"{Severity.NOTE.words} or {Severity.WARNING.words}",
            "Some lengths have a unit of their own and others have not; or elevations are in another unit than "
            "coordinates.",
        ),
        "list-swapped": (
            Severity.STRONG.words,
            "North and east are exchanged: the other way round the points lie where the site has them.",
        ),
        "list-wrong-foot": (
            Severity.STRONG.words,
            "The list is in the other foot: international for US survey feet, or the other way round.",
        ),
        "list-wrong-unit": (Severity.STRONG.words, "Feet were taken for metres, or metres for feet."),
        "list-zero-elevation": (
            Severity.WARNING.words,
            "Elevations of exactly 0, which mostly mean that none is known. A blank cell is none; 0 is a height.",
        ),
    }
)
# what `staking changes` and `staking make` say of two revisions, beside what changes_found.py holds
REVISIONS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "bad-layout": (
            "stop, status 2",
            "A layout.json cannot be read back: it is empty or cut short, is of a newer version of the program or none "
            "of ours, or its stakes were withheld after a stop, so that none was set from it. Or it was changed by "
            "hand: it is not what the manifest beside it lists, or it says two things that cannot both be, such as a "
            "name twice, no given point, or a side whose length is not that between its corners.",
        ),
        "revisions-apart": (
            "stop, status 2",
            "The two revisions are in different coordinates, so that a stake of one has no place in the other: another "
            "system, local against one on the earth, the given against the measured system, or grid against ground "
            "where the site file does not say how the ground values are made.",
        ),
        "changes-older-here": (
            Severity.WARNING.words,
            "`staking make` wrote into a folder that held a revision with stakes that moved, are gone or changed name "
            "or height. Its layout is kept there under the name that the finding gives, and the command that lists "
            "the changes is printed.",
        ),
        "changes-not-compared": (
            Severity.NOTE.words,
            "The layout.json that stood in the folder cannot be compared with the new revision; the reason follows. "
            "Compare by hand which old stakes are to be pulled.",
        ),
    }
)
OF_REVISIONS = (
    "`staking changes` says these, and `staking make` the last two. See "
    "[when the drawing changes](../tasks/when_the_drawing_changes.md)."
)
# what `staking compare` says of measured points, with its severity
MEASURED: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "measured-again": (
            f"{Severity.NOTE.words} or {Severity.WARNING.words}",
            "A name stands twice in the list. The first shot is compared; how far the second is from it is said.",
        ),
        "measured-all-high": (
            Severity.STRONG.words,
            "All heights of the slab are off alike. Given points measured from the same set-up tell whether the slab "
            "stands so; without them nobody can tell it from a wrong rod height.",
        ),
        "measured-along-sight": (
            Severity.STRONG.words,
            "Every point, given points too, is off by one constant along the line of sight from the station of "
            "`[setup]`, as a wrong prism constant makes it.",
        ),
        "measured-backsight": (
            Severity.STRONG.words,
            "Every point, given points too, is turned about the station of `[setup]`, as a wrong backsight makes it.",
        ),
        "measured-corner-out": (
            Severity.WARNING.words,
            "A corner is out of tolerance, while sides, diagonals and the slab as a whole are within theirs. Where it "
            "goes is said.",
        ),
        "measured-exchanged": (
            Severity.STRONG.words,
            "Two points bear one another's name. Each is compared with the point it lies on.",
        ),
        "measured-far-off": (
            Severity.STRONG.words,
            "A point lies 10 ft and more from the place of its name while most do not. A digit, north and east "
            "exchanged, another unit or thousands taken off are named where they explain it.",
        ),
        "measured-foot": (
            Severity.STOP.words,
            "The list is in the other foot. It shows where coordinates are large: 2 feet in a million. Nothing is "
            "compared.",
        ),
        "measured-given-off": (
            Severity.WARNING.words,
            "A given point was measured more than 0.05 ft (own choice) from its coordinates: another mark, a disturbed "
            "one, or a wrong set-up.",
        ),
        "measured-odd-point": (
            Severity.STRONG.words,
            "A point does not belong with the others: by their fit, shifted and turned as they may be, its place is "
            "elsewhere. It was set wrongly or measured wrongly. Where the others cannot tell it from another point, "
            "both are named. Where several are so because the form is out of square, that is said instead.",
        ),
        "measured-order": (
            Severity.STRONG.words,
            "The corners were named in another order than the drawing has them, or the other way round. Each is "
            "compared with the point it lies on.",
        ),
        "measured-other-point": (
            Severity.STRONG.words,
            "A point lies on the place of another: an offset stake was measured for a corner, or under a wrong name.",
        ),
        "measured-out-of-shape": (
            Severity.STRONG.words,
            "A side or a diagonal is out of tolerance. What is to be moved, and how far, is said with the fewest "
            "corners moved.",
        ),
        "measured-over-line": (
            Severity.STOP.words,
            "By the outline as measured the slab is over a line or in an area that is kept clear. A setback has no "
            "tolerance.",
        ),
        "measured-placed": (
            Severity.STRONG.words,
            "The whole slab is shifted or turned and its shape is right; given points agree with their coordinates, so "
            "it stands so.",
        ),
        "measured-placed-or-set-up": (
            Severity.STRONG.words,
            "The same, but no given point was measured, or those measured disagree or lie neither on their places nor "
            "as the slab does: slab or set-up, nobody can tell. Measure two given points from the same set-up.",
        ),
        "measured-rod-height": (
            Severity.STRONG.words,
            "One height does not belong with the others, as a rod height that was not entered makes it.",
        ),
        "measured-rod-heights": (
            Severity.STRONG.words,
            "All heights are off alike, those of given points too: rod, instrument or benchmark were entered wrongly.",
        ),
        "measured-scale": (
            Severity.STRONG.words,
            "All distances are longer or shorter alike, by more than noise makes: unit, scale factor or the air "
            "correction of the instrument. Where it is what the combined factor of the site makes, that is said.",
        ),
        "measured-set-up": (
            Severity.STRONG.words,
            "Given points are shifted and turned as the slab is: the instrument was set up or oriented wrongly, and "
            "nothing is known of the slab.",
        ),
        "measured-strangers": (
            Severity.NOTE.words,
            "Points that bear no name of the layout and lie near none of its points.",
        ),
        "measured-one-place": (
            Severity.STOP.words,
            "Most points of the list have one and the same place, as where a row was copied down. Nothing is compared.",
        ),
        "measured-swapped": (
            Severity.STOP.words,
            "North and east of the list are exchanged, or an axis is counted backwards. Nothing is compared.",
        ),
        "measured-system": (
            Severity.STOP.words,
            "The list is in the measured system of the site's fit, and the site file in the given one, or the other "
            "way round. Nothing is compared before `--in measured` is said, or left out. A list of which every point "
            "lies more than 2 km from the site is in some other system, or its figures were cut off.",
        ),
        "measured-unit": (Severity.STOP.words, "The list is in another unit. Nothing is compared."),
        "measured-unsure": (
            Severity.WARNING.words,
            "A point of unknown name was taken for the nearest one, and another is nearly as near.",
        ),
    }
)
OF_MEASURED = (
    "`staking compare` says these. See [check what was set](../tasks/check_what_was_set.md). Its status is 1 where "
    "anything is out or one of these is a strong warning or a stop."
)
OF_LISTS = (
    "`staking points` says these, and `duplicate-point` and `repeated-point`, with the line of the list. See "
    "[a list of points from anybody](../tasks/point_lists.md)."
)
OF_TAPING = "`staking tape` says these. See [check with the tape](../tasks/check_with_the_tape.md)."
OF_LOT = (
    "`staking lot` says these, with the line of the text. See [a lot from its record](../tasks/lot_from_a_record.md)."
)
OF_FORM = (
    "`staking levels --site` says these of the marks that were read. See [is the form level?](../tasks/form_levels.md)."
)
OF_DOUBTS = {
    "levels-shifted": Severity.STRONG.words,
    "levels-odd": Severity.STRONG.words,
    "levels-many": Severity.NOTE.words,
}
OF_READING = dict.fromkeys(
    ("repeated-point", "landxml-read", "parcel-read", "drawing-read"), Severity.NOTE.words
) | dict.fromkeys(("drawing-unit", "drawing-joined", "drawing-inner"), Severity.WARNING.words)
OF_DESCRIBING = {
    "description-long": Severity.STOP.words,
    "description-empty": Severity.STOP.words,
    "description-parcels": Severity.STOP.words,
    "description-exception": Severity.STOP.words,
    "description-incomplete": Severity.STRONG.words,
    "description-open": Severity.WARNING.words,
    "description-commencing": Severity.STRONG.words,
    "description-magnetic": Severity.WARNING.words,
    "description-taken": Severity.NOTE.words,
}


def findings_page() -> str:
    """The page: what every check can say, then what reading and solving can."""
    parts = [HEAD, "## Contents", _contents()]
    for check in CHECKS:
        parts.extend((f"## {check.question}", *_of_check(check)))
    parts.append("## Can the site file be read?")
    parts.extend(_entry(code, OF_READING.get(code, "stop, status 2"), words) for code, words in READING.items())
    parts.append("## Can it be solved?")
    parts.extend(_entry(code, "stop, status 2", words) for code, words in SOLVING.items())
    parts.append("## Can the description of a lot be read?\n\n" + OF_LOT)
    parts.extend(_entry(code, OF_DESCRIBING[code], words) for code, words in DESCRIBING.items())
    parts.append("## Is the list of points sound?\n\n" + OF_LISTS)
    parts.extend(_entry(code, severity, words) for code, (severity, words) in LISTS.items())
    parts.append("## Is the form at its heights?\n\n" + OF_FORM)
    parts.extend(_entry(code, OF_DOUBTS[code], words) for code, words in DOUBTED.items())
    parts.append("## What changed from one revision to another?\n\n" + OF_REVISIONS)
    said = dict(_read_off(ast.parse(inspect.getsource(changes_found))))
    parts.extend(_entry(code, said[code], words) for code, words in changes_found.CODES.items())
    parts.extend(_entry(code, severity, words) for code, (severity, words) in REVISIONS.items())
    parts.append("## Was it set as it was computed?\n\n" + OF_MEASURED)
    parts.extend(_entry(code, severity, words) for code, (severity, words) in MEASURED.items())
    parts.append("## Do taped readings agree, and is the form true?\n\n" + OF_TAPING)
    parts.extend(_entry(code, severity, words) for code, (severity, words) in TAPING.items())
    return "\n\n".join(parts)


def _contents() -> str:
    checked = (code for check in CHECKS for code in check.codes)
    revised = (*changes_found.CODES, *REVISIONS)
    codes = sorted([*checked, *READING, *SOLVING, *DESCRIBING, *LISTS, *DOUBTED, *revised, *MEASURED, *TAPING])
    return ", ".join(f"[`{code}`](#{code})" for code in codes)


def _of_check(check: Check) -> Iterator[str]:
    said = severities(check)
    for code, words in check.codes.items():
        yield _entry(code, said[code], words)


def _entry(code: str, severity: str, words: str) -> str:
    return f"### {code}\n\n*{severity}.* {' '.join(words.split())}"


def severities(check: Check) -> dict[str, str]:
    """The severity of each code of a check, read off the calls that make its findings."""
    module = inspect.getmodule(check.run)
    if module is None:
        sys.exit(f"no module holds the check: {check.question}")
    found = dict(_read_off(ast.parse(inspect.getsource(module))))
    return {code: found.get(code) or DECIDED[code] for code in check.codes}


def _read_off(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Code and severity of every call with the two side by side, as Finding("code", Severity.X, ...)."""
    calls = (node for node in ast.walk(tree) if isinstance(node, ast.Call))
    for first, second in (pair for call in calls for pair in pairwise(call.args)):
        match first, second:
            case ast.Constant(value=str(code)), ast.Attribute(attr=name) if name in Severity.__members__:
                yield code, Severity[name].words
