"""Which revision does a word of the command line mean: a site file, a folder, or what an earlier run wrote?"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from staking.app.running import site_file
from staking.checks import check
from staking.errors import InputError, OutputError
from staking.exports.bundle import is_changed
from staking.exports.layout_json import layout_json
from staking.findings import Finding, Place
from staking.layout.changed import Changes
from staking.layout.changes import changes_of
from staking.layout.computed import Layout
from staking.layout.revision import Revision
from staking.layout.revision_json import read_revision
from staking.layout.solve import solve
from staking.sitefile.places import mistake, plain
from staking.sitefile.reader import read_site
from staking.sitefile.text import decode, read_bytes

SITE = "site.toml"
LAYOUT = "layout.json"
_JSON = (".json", ".geojson")
LARGEST = 200_000_000  # bytes; of a layout with some hundred thousand stakes


@dataclass(frozen=True)
class Loaded:
    """A revision; with its layout where it was solved from a site file."""

    revision: Revision
    layout: Layout | None = None


def loaded(path: Path) -> Loaded:
    """The revision that a path means. Raises InputError for whatever cannot be read."""
    meant = _meant(path)
    if meant.suffix.lower() in _JSON:
        return Loaded(read_layout(meant))
    layout = solve(read_site(meant))
    return Loaded(revision_of(layout, check(layout), str(meant)), layout)


def _meant(path: Path) -> Path:
    """The file in a folder: its site file, else the one layout that `make` wrote there."""
    if not os.path.isdir(path) or os.path.isfile(path / SITE):
        return site_file(path)
    if not os.access(path, os.R_OK | os.X_OK):
        place = Place(plain(str(path), 200))
        raise InputError(
            mistake("unreadable-file", "the folder may not be read", place, "ask for the right to read it")
        )
    layouts = sorted(path.glob("layout*.json"))
    if len(layouts) == 1:
        return layouts[0]
    words = f"the folder holds {'several layouts' if layouts else f'neither {SITE} nor {LAYOUT}'}"
    names = ", ".join(each.name for each in layouts)
    remedy = f"name one of them: {names}" if layouts else "name a site file, a layout.json, or a folder that holds one"
    raise InputError(mistake("unreadable-file", words, Place(plain(str(path), 200)), remedy))


def read_layout(path: Path) -> Revision:
    """The revision in a layout.json. Raises InputError."""
    file = plain(str(path), 200)
    data = read_bytes(path, largest=LARGEST, absent="name a site file, a layout.json, or a folder that holds one")
    revision = read_revision(decode(data, file), file)
    if is_changed(path, data):
        words, remedy = "the file was changed after staking wrote it", "write it again from its site file"
        raise InputError(mistake("bad-layout", words, Place(file), remedy))
    return revision


def revision_of(layout: Layout, findings: Sequence[Finding], source: str) -> Revision:
    """The revision that a layout is: what its layout.json says, or would say if no stop withheld the stakes."""
    read = read_revision(layout_json(layout, findings).decode("utf-8"), source)
    return replace(read, notation=layout.notation)


def compared(old: Loaded, new: Loaded) -> Changes:
    """What changed. Of one system in grid and ground values, one is written in the values of the other, if it can be.

    Raises InputError where the two cannot be compared.
    """
    first, second = old.revision, new.revision
    if first.system.crs == second.system.crs and first.system.values != second.system.values:
        if new.layout is not None:
            second = _in_values(new.layout, first) or second
        elif old.layout is not None:
            first = _in_values(old.layout, second) or first
    return changes_of(first, second)


def _in_values(layout: Layout, like: Revision) -> Revision | None:
    """The revision of a layout in grid or ground values like another; None where they cannot be made."""
    # pyproj is slow to import, and needed only here
    from staking.layout.grid_or_ground import in_values

    try:
        other = in_values(layout, "grid" if like.system.values == "grid" else "ground")
    except OutputError:
        return None
    return revision_of(other, check(other), layout.site.file)
