"""What changed as a table for a spreadsheet (RFC 4180): one row for each place at which something is to be done or not.

A stake that moved has two rows: the old place, to find and pull it, and the new one, to set it. The name of an old
place ends in -old, so that no list holds one name twice.
"""

from __future__ import annotations

from collections.abc import Iterator

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.layout.changed import Changes, Followed
from staking.layout.revision import Driven
from staking.survey.points import azimuth_of

COLUMNS = ("name", "north", "east", "elevation", "kind", "do", "old_name", "moved", "toward", "raised", "note")


def changes_csv(changes: Changes) -> bytes:
    """In the unit and frame of the new revision, four decimals. do: pull, set, rename, regrade or keep.

    moved, raised: how far, and how much higher the concrete is; toward: degrees clockwise from north.
    """
    return csv_text(COLUMNS, _rows(changes))


def _rows(changes: Changes) -> Iterator[tuple[str, ...]]:
    names = {stake.name.casefold() for stake in changes.after.stakes}
    for stake in changes.to_pull:
        name = f"{stake.name}-old"
        while name.casefold() in names:
            name += "-old"
        names.add(name.casefold())
        yield *_place(changes, stake, name), "pull", harmless(stake.name), "", "", "", harmless(stake.note)
    for each in changes.followed:
        yield (*_place(changes, each.new, each.new.name), _do(each), *_change(changes, each), harmless(each.new.note))
    for stake in changes.fresh:
        yield *_place(changes, stake, stake.name), "set", "", "", "", "", harmless(stake.note)


def _do(each: Followed) -> str:
    if each.moved:
        return "set"
    if each.renamed:
        return "rename"
    return "regrade" if each.other_height else "keep"


def _change(changes: Changes, each: Followed) -> tuple[str, ...]:
    write = changes.new.notation.coordinate
    toward = f"{azimuth_of(each.move):.6f}" if each.moved else ""
    return harmless(each.old.name), write(each.move.length), toward, "" if each.rise is None else write(each.rise)


def _place(changes: Changes, stake: Driven, name: str) -> tuple[str, ...]:
    write = changes.new.notation.coordinate
    at = changes.new.system.frame.to_file(stake.at)
    up = "" if at.up is None else write(at.up)
    return harmless(name), write(at.north), write(at.east), up, stake.kind
