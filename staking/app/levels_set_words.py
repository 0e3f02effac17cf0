"""What does the terminal say of the top of the form against design: how far off, how level, and what to raise?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from staking.app.level_words import aligned, length_of_option, level_lines, reduced_as_asked, text_of
from staking.checks.levels import level_findings
from staking.errors import InputError, suggestion
from staking.field.allowed import Tolerances
from staking.field.compared import Allowed, LevelsSet
from staking.field.levels_set import ON_FORM, levels_set
from staking.field.levels_words import HEAD, levels_set_rows, levels_set_sentences
from staking.findings import Finding, Place
from staking.layout.computed import Layout
from staking.sitefile.level_book import LevelBook, read_book
from staking.sitefile.levelled import Levelled
from staking.sitefile.places import mistake
from staking.sitefile.rod_list import RodList, is_rod_list, read_rod_list
from staking.sitefile.which_book import refuse_other_text
from staking.survey.levels import Sight

_OVER = re.compile(r"(.+?)\s+over\s+(.+)")


@dataclass(frozen=True)
class Set:
    """What was read and what it comes to. run: the level book; None where the file held elevations.

    levels: None where a book names no mark of the form.
    """

    layout: Layout
    levels: LevelsSet | None
    run: Levelled | None
    strangers: tuple[str, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """About the book, then about the form."""
        book = tuple(level_findings(self.run, self.layout.notation)) if self.run else ()
        return (*book, *(self.levels.findings if self.levels else ()))

    @property
    def out(self) -> bool:
        """Whether something is out."""
        return self.levels is not None and self.levels.answer == "out"


def set_of(path: Path, layout: Layout, options: Mapping[str, Any]) -> Set:
    """The form's top as a level book, a list of readings, or a list of elevations has it.

    Raises InputError for whatever cannot be read or used, in the file or in the options.
    """
    marks = {grade.name for grade in layout.grades if grade.kind in ON_FORM}
    if not marks:
        words = "the site has no height to hold the readings against"
        raise InputError(mistake("bad-value", words, Place(layout.site.file), "add [floor] to the site file"))
    run, heights, is_book = _measured(path, layout, options)
    sights = {sight.point: sight for sight in run.book.sights if sight.kind != "backsight"} if run else {}
    allowed, level = _judged_by(layout, options)
    found = levels_set(layout, heights, allowed=allowed, level=level, sights=sights)
    if found is None and not is_book:
        known = suggestion(next((name for name in heights if not _benchmark(name, run)), ""), marks)
        raise InputError(mistake("bad-row", "no name in it is a mark of the form", Place(str(path)), known))
    return Set(layout, found, run, tuple(name for name in heights if name not in marks and not _benchmark(name, run)))


def _benchmark(name: str, run: Levelled | None) -> bool:
    """Whether a point is there to carry the height, and so need be no mark."""
    return run is not None and (
        name in run.known or any(s.point == name and s.kind == "backsight" for s in run.book.sights)
    )


def _judged_by(layout: Layout, options: Mapping[str, Any]) -> tuple[Allowed, tuple[tuple[float, Allowed], ...]]:
    """What is allowed of a mark, and over which distances how much: as asked, else those of the layout."""
    unit = layout.site.unit
    allowed, level = Tolerances(layout).height(), Tolerances(layout).level()
    if options["within"]:
        allowed = Allowed(_above_zero(length_of_option(options["within"], unit, "--within"), "--within"), "as asked")
    if options["level_within"]:
        level = tuple(_level(text, layout) for text in options["level_within"])
    return allowed, level


def _level(text: str, layout: Layout) -> tuple[float, Allowed]:
    found = _OVER.fullmatch(text.strip())
    if not found:
        remedy = 'write so much over so far: "1/4 in over 10 ft"'
        raise InputError(mistake("bad-value", f'--level-within: "{text}" is no pair of lengths', Place(""), remedy))
    much, far = (length_of_option(part, layout.site.unit, "--level-within") for part in found.groups())
    return _above_zero(far, "--level-within"), Allowed(_above_zero(much, "--level-within"), "as asked")


def _above_zero(length: float, option: str) -> float:
    if length <= 0:
        raise InputError(mistake("bad-value", f"{option} must be more than 0", Place("")))
    return length


def _measured(
    path: Path, layout: Layout, options: Mapping[str, Any]
) -> tuple[Levelled | None, Mapping[str, float], bool]:
    """The run where there is one, heights by name [m], and whether the file is a level book."""
    text, file = text_of(path)
    unit, default = options["unit"] or "", layout.site.unit.name
    rod = length_of_option(options["rod"], None, "--rod") if options["rod"] else layout.site.declared.rod.length
    known = known_heights(layout)
    refuse_other_text(text, file, "level book", "list of rod readings", "list of points")
    if not is_rod_list(text):
        run = reduced_as_asked(read_book(text, file, unit=unit, rod=rod, default=default), known, options)
        return run, run.found, True
    rows = read_rod_list(text, file, unit=unit, rod=rod, default=default)
    if rows.what == "elevation":
        return None, {row.name: row.metres for row in rows.rows}, False
    run = reduced_as_asked(one_set_up(rows, known), known, options)
    return run, run.found, False


def known_heights(layout: Layout) -> dict[str, float]:
    """Elevations of given points and of what the level books of the site came to [m]."""
    known = {name: up for run in layout.site.levelled for name, up in run.found.items()}
    return known | {name: point.at.up for name, point in layout.points.items() if point.at.up is not None}


def one_set_up(rows: RodList, known: Mapping[str, float]) -> LevelBook:
    """Readings of one set-up as a level book: the first on a benchmark, the last ends it. Raises InputError."""
    first = rows.rows[0]
    if first.name not in known:
        words = f"the first row must be the backsight on a benchmark; {first.name} has no elevation in the site file"
        raise InputError(mistake("bad-row", words, rows.place(first.line), suggestion(first.name, known)))
    if len(rows.rows) < 2:
        words = "one reading alone gives no height"
        raise InputError(mistake("bad-row", words, rows.place(first.line), "add a row for each mark"))
    last = len(rows.rows) - 1
    sights = tuple(
        Sight(
            row.name,
            "backsight" if number == 0 else "foresight" if number == last else "intermediate",
            row.metres,
            line=row.line,
            written=row.written,
        )
        for number, row in enumerate(rows.rows)
    )
    return LevelBook(rows.file, sights, {}, rows.unit, rows.lines)


def set_lines(found: Set) -> Iterator[str]:
    """The reduced book, then the form against design."""
    layout = found.layout
    if found.run is not None:
        yield from level_lines(found.run)
        yield ""
    if found.levels is None:
        yield "no name in it is a mark of the form"
    else:
        yield f"top of the form against design, measured less design, in {layout.site.unit.name}"
        yield from aligned([HEAD, *levels_set_rows(layout, found.levels)], left={0, 1, 5})
        yield from levels_set_sentences(layout, found.levels)
    if found.strangers:
        named = ", ".join(_stranger(name, layout) for name in found.strangers)
        yield f"no marks of the form, so not held against design: {named}"


def _stranger(name: str, layout: Layout) -> str:
    """A name, and the mark that may have been meant."""
    meant = suggestion(name, [grade.name for grade in layout.grades if grade.kind in ON_FORM])
    return f"{name} ({meant})" if meant.startswith("did you mean") else name
