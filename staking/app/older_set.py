"""What must be said, and kept, of an older revision in a folder that `make` writes anew?

Its layout is kept beside the new set as superseded_REVISION_DIGITS.json, so that it can still be compared. After a stop
nothing is said yet, for the new layout is not to be staked; the next one that is will be held against what was kept.
"""

from __future__ import annotations

import hashlib
import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from staking.app.revisions import LARGEST, LAYOUT, revision_of
from staking.errors import InputError
from staking.findings import Finding, Severity
from staking.layout.changed import Changes
from staking.layout.changes import changes_of
from staking.layout.computed import Layout
from staking.layout.other_system import file_name
from staking.layout.revision_json import read_revision, says_withheld
from staking.sheets.changes_rows import how_far, verdict
from staking.sitefile.text import decode, read_bytes

KEPT = "superseded_{}_{}.json"


@dataclass(frozen=True, slots=True)
class Older:
    """said: the finding, where stakes of the older revision are to be pulled, named or marked. keep: files to keep."""

    said: Finding | None
    keep: Mapping[str, bytes]


def older_set(layout: Layout, findings: Sequence[Finding], folder: Path, site: Path, *, withheld: bool) -> Older:
    """What to say and keep. withheld: whether the new stakes are. site: as the user named it."""
    path, content = _last_staked(folder, file_name(LAYOUT, layout))
    if not content:
        return Older(None, {})
    letter = "unread"
    try:
        old = read_revision(decode(content, str(path)), str(path))
        letter = old.revision
        changes = changes_of(old, revision_of(layout, findings, str(site)))
    except InputError as error:
        name = _kept_as(letter, content)
        words = f"{path} is not compared with the new revision: {error.findings[0].message}"
        return Older(
            Finding("changes-not-compared", Severity.NOTE, words, remedy=f"it is kept as {name}"), {name: content}
        )
    name = _kept_as(letter, content) if path.name.startswith("layout") else path.name
    said = None if withheld or not changes.to_do else _said(changes, folder / name, site)
    return Older(said, {name: content} if withheld or said else {})


def _last_staked(folder: Path, name: str) -> tuple[Path, bytes]:
    """The last layout in a folder that gave its stakes out, and its bytes, which are empty where there is none."""
    try:
        kept = sorted(folder.glob(KEPT.format("*", "*")), key=lambda path: (path.stat().st_mtime, path.name))
    except OSError:  # a folder that does not let us in; what writes into it says so
        kept = []
    for path in (folder / name, *reversed(kept)):
        try:
            content = read_bytes(path, largest=LARGEST)
        except InputError:
            continue
        if not says_withheld(content):
            return path, content
    return folder / name, b""


def _kept_as(revision: str, content: bytes) -> str:
    """A file name of its own for every content."""
    letters = "".join(it if it.isascii() and it.isalnum() else "-" for it in revision)[:20].strip("-")
    return KEPT.format(letters or "unnamed", hashlib.sha256(content).hexdigest()[:8])


def _said(changes: Changes, kept: Path, site: Path) -> Finding:
    far = changes.farthest
    most = f", the farthest {far.new.name} by {how_far(changes, far)}" if far else ""
    words = f"the folder held {changes.old.words}: {verdict(changes)}{most}"
    if changes.old.revision == changes.new.revision:
        same = f"still says revision {changes.new.revision}" if changes.new.lettered else "has no letter either"
        words += f"; the new one {same}: give it a new letter"
    pull, command = len(changes.to_pull), f"staking changes {shlex.quote(str(kept))} {shlex.quote(str(site))}"
    first = f"pull {pull} old stake{'s' * (pull != 1)} before anyone strings from the new ones\n" if pull else ""
    remedy = f"{first}`{command}` lists them; the old layout is kept there"
    return Finding("changes-older-here", Severity.WARNING, words, remedy=remedy)
