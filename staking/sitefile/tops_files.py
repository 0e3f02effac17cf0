"""Which tops of stakes do lists beside the site file hold, as readings of a set-up or as elevations?"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from staking.errors import InputError
from staking.findings import Finding, Place
from staking.sitefile.declared import Declared
from staking.sitefile.heights_declared import LevelSetup, StakeTops
from staking.sitefile.places import Places, mistake
from staking.sitefile.point_files import read_beside
from staking.sitefile.rod_list import RodList, Row, What, read_rod_list
from staking.sitefile.text import decode

LARGEST = 2_000_000  # bytes; more than any list of stakes
TWICE = 0.003  # metres (0.01 ft): readings of one rod that differ by more are not one; own choice
_ABSENT = "copy the list into the folder of the site file, or correct the path"


@dataclass
class Tops:
    """The site file with the lists taken in, and the SHA-256 of each list by its path."""

    declared: Declared
    folder: Path
    places: Places
    fingerprints: dict[str, str] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def read(self, path: str, what: What, place: Place) -> RodList | None:
        """The list at a path; None, with findings, where it cannot be used."""
        try:
            data, shown = read_beside(path, self.folder, place, largest=LARGEST, absent=_ABSENT)
            found = read_rod_list(
                decode(data, shown), shown, rod=self.declared.rod.length, default=self.declared.site.unit
            )
        except InputError as error:
            self.findings.extend(error.findings)
            return None
        if found.what != what:
            other = "give it as path of [stake_tops]" if what == "reading" else "give it as readings_file of a set-up"
            words = f"the list holds a column {found.what}, and here a column {what} is asked for"
            self.findings.append(mistake("bad-columns", words, place, other))
            return None
        self.fingerprints[path] = hashlib.sha256(data).hexdigest()
        return found


def with_tops(declared: Declared, folder: Path, places: Places) -> Tops:
    """A site file with what its lists of tops hold, and the mistakes of all lists."""
    tops = Tops(declared, folder, places)
    setups = tuple(_set_up(tops, index, setup) for index, setup in enumerate(declared.level_setups))
    known = _stake_tops(tops, declared.stake_tops)
    tops.declared = declared.model_copy(update={"level_setups": setups, "stake_tops": known})
    return tops


def _set_up(tops: Tops, index: int, setup: LevelSetup) -> LevelSetup:
    """A set-up with the readings of its list; rows of its benchmark are its backsight."""
    if not setup.readings_file:
        return setup
    found = tops.read(setup.readings_file, "reading", tops.places.value(("level_setups", index, "readings_file")))
    if found is None:
        return setup
    on_benchmark = [row for row in found.rows if row.name == setup.benchmark]
    backsight = on_benchmark[0].metres if setup.backsight is None and on_benchmark else setup.backsight
    if backsight is None:
        words = f"the list has no row of the benchmark {setup.benchmark}, and the set-up no backsight"
        remedy = "begin the list with what the rod reads on the benchmark, or write backsight"
        tops.findings.append(mistake("bad-row", words, found.place(found.rows[0].line), remedy))
    tops.findings.extend(_apart(found, on_benchmark, backsight))
    rest = [row for row in found.rows if row.name != setup.benchmark]
    readings = _together(tops, found, rest, setup.readings)
    return setup.model_copy(update={"backsight": backsight, "readings": readings})


def _apart(found: RodList, rows: list[Row], backsight: float | None) -> Iterator[Finding]:
    """Readings on the benchmark that are not the backsight: the level was touched, or one is wrong."""
    for row in rows:
        if backsight is not None and abs(row.metres - backsight) > TWICE:
            words = f"{row.name} reads {row.written} here, and another figure as backsight"
            remedy = "the level was touched, or one reading is wrong: read the tops again"
            yield mistake("bad-row", words, found.place(row.line), remedy)


def _stake_tops(tops: Tops, known: StakeTops) -> StakeTops:
    if not known.path:
        return known
    found = tops.read(known.path, "elevation", tops.places.value(("stake_tops", "path")))
    if found is None:
        return known
    return known.model_copy(update={"elevations": _together(tops, found, found.rows, known.elevations)})


def _together(tops: Tops, found: RodList, rows: Iterable[Row], stated: Mapping[str, float]) -> dict[str, float]:
    """What the site file states and what the rows of a list hold, by name [m]; of two that differ the first."""
    known = dict(stated)
    for row in rows:
        if abs(known.setdefault(row.name, row.metres) - row.metres) > TWICE:
            words = f"{row.name} stands twice with two figures"
            tops.findings.append(mistake("bad-row", words, found.place(row.line), "keep the right one"))
    return known
