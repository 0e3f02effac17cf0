"""Which readings does a tape book hold, and what level distance does each stand for?

One row a reading, its columns told by a header: from, to, reading; also temperature, pull, support (ground, ends, a
number of equal spans, or the spans themselves as 50' + 50' + 20'), rise (from one end to the other), tape (what the
tape really measures, where it is another one than in the site file), error, note. From and to are stakes, corners of
the slab by number or name, given points, or a line that is measured square from.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from staking.errors import InputError, RuleError, TextError, suggestion
from staking.field.taped import Kind, Span, design_places, known_places, slab_spans, square_span
from staking.findings import Finding, Place
from staking.layout.computed import Layout
from staking.physical import parse_force, parse_temperature
from staking.sitefile.books import (
    MOST_FINDINGS,
    column_words,
    delimiter_of,
    filled_rows,
    place_of,
    row_cells,
    settled_unit,
)
from staking.sitefile.places import mistake, plain
from staking.sitefile.which_book import refuse_other_text
from staking.survey.points import Point
from staking.survey.tape import Corrections, Held, Tape, corrections, hung
from staking.units import Unit, parse_length

MOST_ROWS = 2000
FIXED_BY = 2  # readings that a stake needs, from different places
LONGEST = 10_000.0  # metres; nobody tapes farther in one row
COLUMNS = ("from", "to", "reading", "temperature", "pull", "support", "rise", "tape", "error", "note")
_WORDS: Mapping[str, str] = MappingProxyType(
    {word: word for word in COLUMNS}
    | {"start": "from", "end": "to", "distance": "reading", "measured": "reading", "length": "reading"}
    | {"temp": "temperature", "tension": "pull", "spans": "support", "slope": "rise", "true length": "tape"}
    | {"notes": "note", "remarks": "note", "what": "note"}
)
_FLAT = ("", "ground", "flat", "supported", "floor")
_HUNG = ("ends", "hung", "air", "in the air")


@dataclass(frozen=True)
class TapeReading:
    """A row of the book. text: as written. read [m]: what the tape showed. error [m]: its standard error, if stated."""

    span: Span
    line: int
    text: str
    read: float
    held: Held
    corrections: Corrections
    error: float | None = None
    note: str = ""

    @property
    def value(self) -> float:
        """The level distance it stands for [m]."""
        return self.read + self.corrections.total

    @property
    def words(self) -> str:
        """Between what it was read."""
        return f"{self.span.start} - {self.span.end}"


@dataclass(frozen=True)
class TapeBook:
    """The readings of a book in order. lines: its text, for messages. uncorrected: what is not, and why."""

    file: str
    readings: tuple[TapeReading, ...]
    lines: tuple[str, ...]
    unit: Unit
    uncorrected: tuple[str, ...] = ()
    aside: tuple[TapeReading, ...] = ()  # to a place that no other reading fixes

    def place(self, line: int) -> Place:
        """Where a line of the book stands."""
        return place_of(self.file, self.lines, line)


@dataclass(frozen=True, slots=True)
class Today:
    """How the tape is held where a row does not say. support: as in the column."""

    temperature: float | None = None
    pull: float | None = None
    support: str = ""


def read_tape_book(text: str, file: str, layout: Layout, today: Today) -> TapeBook:
    """The book that a text holds. Raises InputError with every row that cannot be used, by its line."""
    refuse_other_text(text, file, "tape book")
    reading = _Reading(file, text.split("\n"), layout, today)
    reading.read()
    if not reading.findings and not reading.readings:
        reading.findings.append(
            mistake("bad-row", "the book holds no readings", Place(file), "write a row for each length that was taped")
        )
    if reading.findings:
        raise InputError(*reading.findings[:MOST_FINDINGS])
    kept, aside = _fixed(reading.readings, layout)
    book = TapeBook(file, tuple(kept), tuple(reading.lines), reading.unit, aside=tuple(aside))
    return replace(book, uncorrected=tuple(_uncorrected(book, layout.site.declared.tape.as_survey())))


def _fixed(readings: list[TapeReading], layout: Layout) -> tuple[list[TapeReading], list[TapeReading]]:
    """Readings that tell something, and those to a stake or part corner that has no second one: they fix nothing."""
    fixed = {*layout.corner_names, *known_places(layout), *(crossing.name for crossing in layout.crossings)}
    to = Counter(end for reading in readings for end in set(reading.span.ends) - fixed)
    lone = {name for name, count in to.items() if count < FIXED_BY}
    kept = [reading for reading in readings if not lone & set(reading.span.ends)]
    return kept, [reading for reading in readings if lone & set(reading.span.ends)]


def _uncorrected(book: TapeBook, tape: Tape) -> list[str]:
    """What the rows say that cannot be corrected, since the site file lacks a figure for it."""
    found = []
    held = [reading.held for reading in book.readings]
    if any(each.pull is not None for each in held) and (tape.pull is None or tape.section == 0):
        found.append("pull is not corrected: [tape] states no pull, or no section")
    if any(each.spans and each.pull is None for each in held):
        found.append("sag is not corrected where no pull was noted: write what the balance showed")
    if any(each.spans and each.pull is not None for each in held) and tape.weight == 0:
        found.append("sag is not corrected: [tape] states no weight")
    return found


class Names:
    """What the words of a book mean at a site: exact names first, then corners of the slab by number or name."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.given, self.set_out = known_places(layout), design_places(layout)
        self._kinds: dict[frozenset[str], Span] = {span.key: span for span in slab_spans(layout)}
        exact = [*self.given, *self.set_out, *layout.lines]
        self._folded = {name.casefold(): name for name in exact}
        self._exact = frozenset(exact)

    def meant(self, word: str) -> str:
        """The name of a point or line. Raises TextError with the nearest known one."""
        name = word if word in self._exact else self._folded.get(word.casefold(), "")
        if name:
            return name
        bare = re.sub(r"^corner\s+", "", word.casefold()).replace(" ", "-")
        try:
            return self.layout.corner_names[self.layout.slab.form.outline.corner(bare)]
        except RuleError:
            corners = [name for name in self.layout.slab.form.outline.corner_names if name]
            remedy = suggestion(word, [*self._exact, *corners])
            raise TextError(f'there is no stake, corner, point or line "{plain(word)}"', remedy) from None

    def at(self, name: str) -> Point:
        """Where a point lies in the drawing."""
        return self.given[name] if name in self.given else self.set_out[name]

    def span(self, start: str, end: str) -> Span:
        """What was measured, by two words. Raises TextError."""
        first, second = self.meant(start), self.meant(end)
        if first in self.layout.lines:
            first, second = second, first
        if first in self.layout.lines:
            raise TextError(f"{start} and {end} are both lines", "name the corner that was measured from the line")
        if second in self.layout.lines:
            return square_span(first, self.layout.lines[second], self.at(first))
        if first == second:
            raise TextError(f"{first} is both ends", "name the two ends of the tape")
        known = self._kinds.get(frozenset((first, second)))
        if known is not None:
            return replace(known, start=first, end=second)
        kind: Kind = "tie" if first in self.given or second in self.given else "other"
        return Span(first, second, kind, "tie" if kind == "tie" else "distance")


@dataclass
class _Reading:
    """The state of reading one book."""

    file: str
    lines: list[str]
    layout: Layout
    today: Today
    columns: dict[str, int] = field(default_factory=dict)
    width: int = 0
    readings: list[TapeReading] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.unit = self.layout.site.unit
        self.names = Names(self.layout)
        self.tape = self.layout.site.declared.tape.as_survey()

    def read(self) -> None:
        """Header first, then every row; mistakes go to the findings."""
        rows = filled_rows(self.lines)
        if not rows or len(rows) > MOST_ROWS:
            words = f"the book holds more than {MOST_ROWS} rows" if rows else "the book holds no rows"
            self.findings.append(mistake("bad-columns", words, Place(self.file), "is it the right file?"))
            return
        delimiter = delimiter_of(rows[0][1])
        self._header(rows[0][0], rows[0][1].split(delimiter))
        if self.findings:
            return
        for number, line in rows[1:]:
            try:
                self._row(number, row_cells(line, delimiter))
            except TextError as error:
                self._refuse(number, error.message, error.remedy or "correct this row")
            except ValueError as error:
                self._refuse(number, str(error), "correct this row")

    def _refuse(self, line: int, words: str, remedy: str) -> None:
        self.findings.append(mistake("bad-row", plain(words, 200), place_of(self.file, self.lines, line), remedy))

    def _header(self, line: int, cells: list[str]) -> None:
        while cells and not cells[-1].strip():
            cells = cells[:-1]  # a spreadsheet ends every line with a comma for each column that was once filled
        self.width = len(cells)
        place = place_of(self.file, self.lines, line)
        remedy = "begin with from,to,reading,temperature,pull,support,note"
        units = set[str]()
        for number, cell in enumerate(cells):
            word, unit = column_words(cell.strip().strip('"'))
            units.add(unit)
            meaning = _WORDS.get(word, "")
            if not meaning:
                hint = suggestion(word, COLUMNS) if word else remedy
                self.findings.append(mistake("bad-columns", f'no column is called "{plain(word)}"', place, hint))
            elif meaning in self.columns:
                words = f"two columns mean {meaning}"
                self.findings.append(mistake("bad-columns", words, place, "keep one of them"))
            self.columns[meaning] = number
        try:
            self.unit = settled_unit(units, self.unit.name)
        except TextError as error:
            self.findings.append(mistake("bad-columns", error.message, place, error.remedy))
        missing = [word for word in ("from", "to", "reading") if word not in self.columns]
        if missing:
            words = f"the header has no column {' and no '.join(missing)}"
            self.findings.append(mistake("bad-columns", words, place, remedy))

    def _row(self, line: int, cells: list[str]) -> None:
        """One reading; a row without a figure is not done yet. Raises TextError or ValueError for what is unusable."""
        if any(cell.strip() for cell in cells[self.width :]):
            raise TextError(
                f"the row has {len(cells)} cells for {self.width} columns",
                "put quotes around a note that holds a comma",
            )
        values = {word: cells[at].strip() if at < len(cells) else "" for word, at in self.columns.items()}
        for word in ("from", "to"):
            if not values[word]:
                raise TextError(f"nothing says {word} where it was measured", "name the two ends of the tape")
        span = self.names.span(values["from"], values["to"])
        if not values["reading"]:
            return
        read = self._length(values["reading"])
        if not 0 < read <= LONGEST:
            raise TextError(f"{values['reading']} is no reading of a tape", "write what the tape showed")
        held = self._held(values, read)
        tape = self.tape
        if values.get("tape"):
            tape = replace(tape, true=self._true_length(values["tape"]))
        error = self._length(values["error"]) if values.get("error") else None
        if error is not None and not error > 0:
            raise TextError("an error is more than 0", "leave it empty where nobody knows it")
        found = corrections(read, tape, held)
        note = plain(values.get("note", ""), 200)
        self.readings.append(TapeReading(span, line, values["reading"], read, held, found, error, note))

    def _true_length(self, text: str) -> float:
        true = self._length(text)
        if abs(true / self.tape.nominal - 1) > 0.01:
            raise TextError(
                f"a tape of {self.layout.notation.length(self.tape.nominal)} does not measure {text}",
                "write what the length of the tape in [tape] really measures, as 100.02 ft",
            )
        return true

    def _held(self, values: Mapping[str, str], read: float) -> Held:
        warm, pull = values.get("temperature") or "", values.get("pull") or ""
        rise = self._length(values["rise"]) if values.get("rise") else 0.0
        return Held(
            parse_temperature(warm) if warm else self.today.temperature,
            parse_force(pull) if pull else self.today.pull,
            spans_of(values.get("support") or self.today.support, read, self.tape.nominal, self.unit),
            rise,
        )

    def _length(self, text: str) -> float:
        return float(parse_length(text, self.unit))


def spans_of(support: str, read: float, tape: float, unit: Unit) -> tuple[float, ...]:
    """The unsupported spans of a reading [m], by the word for it. Raises TextError.

    tape [m]: a reading beyond its length is taken in tape lengths, each hung for itself.
    """
    word = support.strip().lower()
    if word in _FLAT:
        return ()
    if word in _HUNG:
        return hung(read, tape)
    if word.isdecimal() and 1 <= int(word) <= 100:
        return tuple(read / int(word) for _ in range(int(word)))
    try:
        spans = tuple(float(parse_length(each.strip(), unit)) for each in support.split("+"))
    except TextError:
        remedy = "write ground, ends, a number of equal spans, or the spans that hung, as 50' + 50' + 20'"
        raise TextError(f'"{plain(support)}" does not say how the tape was held up', remedy) from None
    if min(spans) <= 0 or sum(spans) > read * 1.01:
        raise TextError(f'the spans "{plain(support)}" are longer than the reading', "write the spans that hung")
    return spans
