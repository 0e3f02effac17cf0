"""Which elevations do the level books of a site file give its points?"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from staking.errors import InputError
from staking.findings import Finding, Place
from staking.sitefile.declared import Declared, GivenPoint
from staking.sitefile.level_book import LevelBook, read_book
from staking.sitefile.levelled import Levelled, level_run
from staking.sitefile.levels_declared import Levels
from staking.sitefile.places import Places
from staking.sitefile.point_files import read_beside
from staking.sitefile.text import decode

LARGEST = 2_000_000  # bytes; a book of a thousand pages is smaller
_ABSENT = "copy the level book into the folder of the site file, or correct the path"


@dataclass(frozen=True)
class SiteLevels:
    """The books reduced in order, the points with their elevations, and the SHA-256 of each book by its path."""

    runs: tuple[Levelled, ...]
    given: Mapping[str, GivenPoint]
    fingerprints: Mapping[str, str]


def site_levels(declared: Declared, given: Mapping[str, GivenPoint], folder: Path, places: Places) -> SiteLevels:
    """Every level book of a site file; a later one may begin where an earlier one came to.

    A stated elevation is kept. Raises InputError with the mistakes of all books.
    """
    known = {name: point.elevation for name, point in given.items() if point.elevation is not None}
    runs: list[Levelled] = []
    fingerprints: dict[str, str] = {}
    wrong: list[Finding] = []
    for number, asked in enumerate(declared.levels):
        try:
            place = places.value(("levels", number, "book"))
            book, fingerprints[asked.book] = site_book(asked, folder, place, rod=declared.rod.length)
            runs.append(level_run(book, known, asked))
            known = {**runs[-1].found, **known}
        except InputError as error:
            wrong.extend(error.findings)
    if wrong:
        raise InputError(*wrong)
    raised = {
        name: point.model_copy(update={"elevation": known[name]})
        if point.elevation is None and name in known
        else point
        for name, point in given.items()
    }
    return SiteLevels(tuple(runs), raised, fingerprints)


def site_book(asked: Levels, folder: Path, place: Place, *, rod: float) -> tuple[LevelBook, str]:
    """The book that a site file names, and its SHA-256. Raises InputError as `read_points` of the point lists."""
    data, shown = read_beside(asked.book, folder, place, largest=LARGEST, absent=_ABSENT)
    book = read_book(decode(data, shown), shown, unit=asked.unit, rod=rod)
    return book, hashlib.sha256(data).hexdigest()
