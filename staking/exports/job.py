"""A whole job written into a folder: which files are given out, which are withheld, and what is put on record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePath
from types import MappingProxyType

from staking.drawing.draw import plan
from staking.errors import PositionError
from staking.exports import EXPORTS, Made, Options
from staking.exports.bundle import write_bundle
from staking.exports.layout_json import frame_facts
from staking.exports.stake_lists import check_files, stake_list_facts, stake_list_files
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.other_system import file_name
from staking.version import VERSION


@dataclass(frozen=True, slots=True)
class Written:
    """What a run wrote. files: their names. withheld: codes of the stops that kept the stake files back."""

    folder: Path
    files: tuple[str, ...]
    withheld: tuple[str, ...]


def export(
    layout: Layout,
    findings: Sequence[Finding],
    folder: Path,
    *,
    options: Options | None = None,
    despite: Sequence[str] = (),
    kept: Mapping[str, bytes] = MappingProxyType({}),
) -> Written:
    """Write every file of a job, complete or not at all.

    findings: of `check`. despite: codes of stops to overrule; they are printed on every sheet. Where a stop is left,
    files that say where stakes stand are withheld. kept: of an older set, to stay beside the new one. Raises
    OutputError where the folder cannot be written.
    """
    stops = sorted({finding.code for finding in findings if finding.severity == Severity.STOP})
    withheld = tuple(code for code in stops if code not in despite)
    overruled = tuple(code for code in stops if code in despite)
    made = Made(layout, tuple(findings), plan(layout), options or Options(), withheld, overruled)
    files = _files(made)
    write_bundle(folder, files, _record(made), kept=kept)
    return Written(folder, tuple(files), withheld)


def _files(made: Made) -> dict[str, bytes]:
    files = {}
    for asked in EXPORTS:
        if (asked.stakes and made.withheld) or not asked.wanted(made.layout):
            continue
        try:
            files[file_name(asked.name, made.layout)] = asked.make(made)
        except PositionError:
            if not asked.positioned:
                raise
    files |= stake_list_files(made)
    check_files(made, files)
    return files


def _record(made: Made) -> dict[str, object]:
    """What the manifest says beside the files: enough to know later what they were made from."""
    layout = made.layout
    return {
        "version": VERSION,
        "site": layout.site.declared.site.name,
        "revision": layout.site.revision,
        **frame_facts(layout),
        "site_file": {"name": PurePath(layout.site.file).name, "sha256": layout.site.fingerprint},
        "point_files": dict(layout.site.sources),
        "withheld": list(made.withheld),
        "despite": list(made.despite),
        "stakeout": stake_list_facts(made),
        "findings": {
            severity.words: sum(finding.severity == severity for finding in made.findings) for severity in Severity
        },
    }
