"""Which readings does a level book hold, in order, and which of them cannot be?

One row a point, its columns told by a header: point, backsight, intermediate, foresight; also distance, second (the
same rod read again), elevation (of a known point), note. A turning point has its foresight and the next backsight in
one row, or in two rows after one another.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from staking.errors import InputError, TextError
from staking.findings import Finding, Place
from staking.kinds.fields import checked_point_name
from staking.sitefile.books import (
    MOST_FINDINGS,
    column_words,
    delimiter_of,
    filled_rows,
    metres_of,
    place_of,
    row_cells,
    settled_unit,
)
from staking.sitefile.places import mistake, plain
from staking.survey.levels import Kind, Sight, out_of_order
from staking.units import UNITS, Unit

MOST_ROWS = 10_000
KINDS: tuple[Kind, ...] = ("foresight", "backsight", "intermediate")  # as they follow one another in a row
# words of headers, common practice, no source
_WORDS: Mapping[str, str] = MappingProxyType(
    dict.fromkeys(("point", "pt", "name", "station", "sta"), "point")
    | dict.fromkeys(("backsight", "bs", "back sight"), "backsight")
    | dict.fromkeys(("intermediate", "is", "intermediate sight", "side shot"), "intermediate")
    | dict.fromkeys(("foresight", "fs", "fore sight"), "foresight")
    | dict.fromkeys(("distance", "dist"), "distance")
    | dict.fromkeys(("backsight distance", "bs distance"), "backsight distance")
    | dict.fromkeys(("foresight distance", "fs distance"), "foresight distance")
    | dict.fromkeys(("second", "second reading", "read again"), "second")
    | dict.fromkeys(("elevation", "elev", "known elevation"), "elevation")
    | dict.fromkeys(("note", "notes", "remarks", "description"), "note")
)


@dataclass(frozen=True)
class LevelBook:
    """The sights of a book in order. known: heights [m] that it states itself. lines: its text, for messages."""

    file: str
    sights: tuple[Sight, ...]
    known: Mapping[str, float]
    unit: Unit
    lines: tuple[str, ...]

    def place(self, line: int) -> Place:
        """Where a line of the book stands."""
        return place_of(self.file, self.lines, line)


def read_book(text: str, file: str, *, unit: str, rod: float, default: str = "") -> LevelBook:
    """The book that a text holds. unit: of bare numbers, as asked; default: where nothing says. rod: its length [m].

    Raises InputError with every reading that is lost or cannot be, by its line.
    """
    reading = _Reading(file, text.split("\n"), unit, rod, default)
    reading.read()
    if not reading.findings:
        for number, words in out_of_order(reading.sights):
            reading.refuse(reading.sights[number].line, words, "write the reading that is missing, or correct the row")
    if not reading.findings and not any(sight.kind == "foresight" for sight in reading.sights):
        reading.findings.append(
            mistake("bad-row", "the book holds no foresight, so nothing to reduce", Place(file), "read one")
        )
    if reading.findings:
        raise InputError(*reading.findings[:MOST_FINDINGS])
    return LevelBook(
        file, tuple(reading.sights), MappingProxyType(reading.known), UNITS[reading.unit], tuple(reading.lines)
    )


@dataclass
class _Reading:
    """The state of reading one book."""

    file: str
    lines: list[str]
    unit: str
    rod: float
    default: str
    columns: dict[str, int] = field(default_factory=dict)
    sights: list[Sight] = field(default_factory=list)
    known: dict[str, float] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def read(self) -> None:
        """Header first, then every row; mistakes go to the findings."""
        rows = filled_rows(self.lines)
        if not rows or len(rows) > MOST_ROWS:
            words = f"the book holds more than {MOST_ROWS} rows" if rows else "the book holds no rows"
            self.findings.append(mistake("bad-columns", words, Place(self.file), "is it the right file?"))
            return
        delimiter = delimiter_of(rows[0][1])
        self._header(rows[0][0], row_cells(rows[0][1], delimiter))
        if self.findings:
            return
        for number, line in rows[1:]:
            try:
                self._row(number, row_cells(line, delimiter))
            except ValueError as error:
                self.refuse(number, plain(str(error), 200), _remedy(error))

    def refuse(self, line: int, words: str, remedy: str) -> None:
        """One row that cannot be used."""
        self.findings.append(mistake("bad-row", words, place_of(self.file, self.lines, line), remedy))

    def _header(self, line: int, cells: list[str]) -> None:
        units, place = {self.unit}, place_of(self.file, self.lines, line)
        for number, cell in enumerate(cells):
            word, unit = column_words(cell)
            units.add(unit)
            meaning = _WORDS.get(word, "")
            if meaning in self.columns:
                words = f"two columns mean the {meaning}"
                self.findings.append(mistake("bad-columns", words, place, "keep one of them"))
            if meaning:
                self.columns[meaning] = number
        missing = [word for word in ("point", "backsight", "foresight") if word not in self.columns]
        if missing:
            words = f"the header has no column {' and no '.join(missing)}"
            remedy = "begin with point,backsight (ft),intermediate,foresight,distance,note"
            self.findings.append(mistake("bad-columns", words, place, remedy))
        try:
            self.unit = settled_unit(units, self.default).name
        except TextError as error:
            self.findings.append(mistake("bad-columns", error.message, place, error.remedy))

    def _row(self, line: int, cells: list[str]) -> None:
        """The sights of a row. Raises ValueError for what cannot be used."""
        values = {word: cells[at].strip() if at < len(cells) else "" for word, at in self.columns.items()}
        if not values["point"]:
            raise ValueError("the row has no point")
        name = checked_point_name(values["point"])
        kinds = [kind for kind in KINDS if values.get(kind)]
        if not kinds:
            raise ValueError(f"{name} has no reading; a reading of 0 is written 0.00")
        if len(kinds) > 1 and "intermediate" in kinds:
            raise ValueError(f"{name} has an intermediate sight beside a {kinds[0]}; one of them is in a wrong column")
        if len(kinds) > 1 and (values.get("second") or values.get("distance")):
            raise ValueError(
                f"{name} has two sights, so second or distance belongs to neither; write them in two rows, "
                "or use backsight distance and foresight distance"
            )
        if values.get("elevation"):
            self._know(name, self._metres(values["elevation"]))
        for kind in kinds:
            self.sights.append(self._sight(name, kind, line, values))

    def _know(self, name: str, height: float) -> None:
        if abs(self.known.setdefault(name, height) - height) > 1e-6:
            raise ValueError(f"{name} has another elevation in a row above")

    def _sight(self, name: str, kind: Kind, line: int, values: Mapping[str, str]) -> Sight:
        distance = values.get(f"{kind} distance") or values.get("distance") or ""
        second = values.get("second") or ""
        away = self._metres(distance) if distance else None
        if away is not None and away <= 0:
            raise ValueError(f"the distance {distance} is not more than 0")
        return Sight(
            name,
            kind,
            self._on_rod(values[kind], kind),
            away,
            self._on_rod(second, "second reading") if second else None,
            line,
            values[kind],
        )

    def _on_rod(self, text: str, what: str) -> float:
        """A reading [m]. Raises ValueError for one that no rod of this length can show."""
        return on_rod(text, UNITS[self.unit], what=what, rod=self.rod)

    def _metres(self, text: str) -> float:
        return metres_of(text, UNITS[self.unit])


def _remedy(error: ValueError) -> str:
    """What to write instead: as the error has it, else how a row looks."""
    said = error.remedy if isinstance(error, TextError) else ""
    return said or "write a point, and under one sight what the rod shows, as 1.52"


def on_rod(text: str, unit: Unit, *, what: str, rod: float) -> float:
    """A reading [m]. unit: of bare numbers. rod: its length [m]. Raises ValueError for one that no such rod shows."""
    metres = metres_of(text, unit)
    if metres < 0:
        raise ValueError(f"the {what} {plain(text)} is negative; no upright rod reads that")
    if metres > rod + 1e-9:
        longest = rod / float(unit.metres)
        raise ValueError(f"the {what} {plain(text)} is beyond the rod, which is {longest:.10g} {unit.name} long")
    return metres
