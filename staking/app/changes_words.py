"""What does `staking changes` say, on the screen, as JSON and in a folder; and what does `make` say of an older set?"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Literal

from staking.exports.bundle import write_bundle
from staking.exports.changes_csv import changes_csv
from staking.exports.html import html
from staking.exports.pdf import pdf
from staking.layout.changed import STAYS, Changes, Followed
from staking.layout.changes_found import listed
from staking.layout.revision import Driven, Revision
from staking.sheets.changes import changes_sheet
from staking.sheets.changes_rows import (
    by_strings,
    height_words,
    heights,
    how_far,
    room_rows,
    size_rows,
    verdict,
    which_way,
    whole_words,
)
from staking.survey.points import azimuth_of
from staking.version import VERSION

_DECIMALS = 6  # of numbers for programs
FILES = ("changes.pdf", "changes.html", "changes.csv")


def changes_lines(changes: Changes) -> Iterator[str]:
    """The answer in lines; the last one is the verdict."""
    yield f"old: {_which(changes.old)}"
    yield f"new: {_which(changes.new)}"
    yield whole_words(changes)
    yield from _together(changes)
    how = "moved otherwise" if changes.together else "moved"
    alone = (_moved(changes, each) for each in changes.otherwise)
    yield from _block(f"{how}: pull the old one, set the new one", alone)
    yield from _block("gone: pull", (f"{stake.name}  {stake.note}" for stake in changes.gone))
    yield from _block("new: set", (f"{stake.name}  {stake.note}" for stake in changes.fresh))
    yield from _block(
        "write a new name on, they stay", (f"{it.old.name} -> {it.new.name}  {it.new.note}" for it in changes.renamed)
    )
    yield from _block("strike out cut and fill on, they stay", (_regraded(changes, each) for each in changes.regraded))
    yield from _block("sizes", (f"{what}: {was} -> {now}, {more}" for what, was, now, more in size_rows(changes)))
    rooms = (f"{to}: {was} -> {now} to spare, {words}" for to, was, now, words in room_rows(changes))
    yield from _block("room", rooms)
    if changes.staying:
        yield f"as they are: {listed([each.new.name for each in changes.staying])}"
    yield f"a move of {changes.new.notation.allowance(STAYS)} or less counts as none"
    yield verdict(changes)


def _which(revision: Revision) -> str:
    return f"{revision.words}, {revision.source}, site file {revision.fingerprint[:12]}"


def _block(title: str, lines: Iterable[str]) -> Iterator[str]:
    """A title with its lines below it; nothing where there are none."""
    found = [f"  {line}" for line in lines]
    if found:
        yield f"{title} ({len(found)}):"
        yield from found


def _moved(changes: Changes, each: Followed) -> str:
    name = each.new.name if not each.renamed else f"{each.new.name} (was {each.old.name})"
    strings = by_strings(changes, each)
    way = f"{how_far(changes, each)} toward {which_way(changes, each)}"
    height = f"; concrete {height_words(changes, each)}" if each.other_height else ""
    return f"{name}  {each.new.note}: {way}{f'; {strings}' if strings else ''}{height}"


def _together(changes: Changes) -> Iterator[str]:
    """Stakes that moved with the whole slab, in a line; then what else changed on some of them."""
    found = changes.together
    if not found:
        return
    names = listed([each.new.name for each in found])
    yield f"with the whole slab: pull the old ones, set the new ones ({len(found)}): {names}"
    renamed = (f"{it.old.name} -> {it.new.name}  {it.new.note}" for it in found if it.renamed)
    yield from _block("write a new name on these of them", renamed)
    if changes.lifted is None:
        higher = (
            f"{it.new.name}  {it.new.note}: concrete {height_words(changes, it)}" for it in found if it.other_height
        )
        yield from _block("write another height on these of them", higher)


def _regraded(changes: Changes, each: Followed) -> str:
    was, now = heights(changes, each)
    return f"{each.new.name}  {each.new.note}: {was} -> {now}, {height_words(changes, each)}"


def changes_json(changes: Changes) -> str:
    """The same for a program: lengths in the unit of the new revision, directions clockwise from north."""
    content = {
        "format": 1,
        "old": _revision(changes.old),
        "new": _revision(changes.new),
        "unit": changes.new.system.unit.name,
        "unmoved_within": _number(changes, STAYS),
        "to_do": changes.to_do,
        "verdict": verdict(changes),
        "outline": whole_words(changes),
        "pull": [stake.name for stake in changes.to_pull],
        "moved": [_followed(changes, each) for each in changes.moved],
        "moved_together": _whole(changes),
        "new_stakes": [_stake(stake) for stake in changes.fresh],
        "gone": [_stake(stake) for stake in changes.gone],
        "renamed": [_followed(changes, each) for each in changes.renamed],
        "other_height": [_followed(changes, each) for each in changes.regraded],
        "unchanged": [each.new.name for each in changes.staying],
        "given_points": [
            {
                "name": point.name,
                "moved": _number(changes, point.move.length),
                "raised": None if point.rise is None else _number(changes, point.rise),
            }
            for point in changes.control_changed
        ],
        "sizes": [dict(zip(("of", "was", "is", "difference"), row, strict=True)) for row in size_rows(changes)],
        "room": [dict(zip(("to", "was", "is", "change"), row, strict=True)) for row in room_rows(changes)],
        "findings": [
            {"code": it.code, "severity": it.severity.words, "message": it.message, "remedy": it.remedy}
            for it in changes.findings
        ],
    }
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)


def _number(changes: Changes, metres: float) -> float:
    return float(changes.new.notation.decimal(metres, _DECIMALS))


def _revision(revision: Revision) -> dict[str, Any]:
    return {
        "revision": revision.revision,
        "date": revision.date or None,
        "source": revision.source,
        "site_file": revision.site_file,
        "fingerprint": revision.fingerprint,
    }


def _stake(stake: Driven) -> dict[str, Any]:
    return {"name": stake.name, "kind": stake.kind, "note": stake.note}


def _whole(changes: Changes) -> dict[str, Any] | None:
    """How the slab moved as a whole, and the stakes that moved with it; None where it did not."""
    whole = changes.whole
    if whole is None or not whole.moved:
        return None
    return {
        "moved": _number(changes, whole.shift.length),
        "toward": round(azimuth_of(whole.shift), 6) if whole.shift.length > STAYS else None,
        "turned": round(whole.turn, 6),
        "raised": None if changes.lifted is None else _number(changes, changes.lifted),
        "stakes": [each.new.name for each in changes.together],
    }


def _followed(changes: Changes, each: Followed) -> dict[str, Any]:
    walls = [
        {"side": wall.side, "out": _number(changes, wall.out), "along": _number(changes, wall.along)}
        for wall in each.walls
    ]
    return _stake(each.new) | {
        "old_name": each.old.name,
        "moved": _number(changes, each.move.length),
        "toward": round(azimuth_of(each.move), 6) if each.moved else None,
        "raised": None if each.rise is None else _number(changes, each.rise),
        "by_walls": walls,
    }


def write_changes(changes: Changes, folder: Path) -> tuple[str, ...]:
    """The sheet on paper and screen and the table, complete or not at all; their names.

    Not for a new revision that says stop: nothing then says where stakes stand. Raises OutputError where the folder
    cannot be written.
    """
    sheet = changes_sheet(changes)
    paper: Literal["letter", "a4"] = "a4" if changes.new.system.unit.name == "m" else "letter"
    files = dict(zip(FILES, (pdf(sheet, paper), html(sheet).encode("utf-8"), changes_csv(changes)), strict=True))
    record = {
        "verb": "changes",
        "version": VERSION,
        "changes": {"old": _revision(changes.old), "new": _revision(changes.new)},
        "unit": changes.new.system.unit.name,
    }
    write_bundle(folder, files, record)
    return FILES
