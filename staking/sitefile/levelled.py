"""Which heights does a level book give, and how well does it close on what is known?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from staking.errors import InputError
from staking.findings import Place
from staking.sitefile.level_book import LevelBook
from staking.sitefile.levels_declared import Levels
from staking.sitefile.places import mistake
from staking.survey.levels import Reduced, Sight, adjusted, allowed, corrected, last_foresight, reduced


@dataclass(frozen=True)
class Levelled:
    """A level book reduced: its rows, their heights after adjustment [m], and its misclosure.

    known: the heights that were there before, by name. closing: the point it closes on; "" for none, and the
    misclosure, known less computed, is then None. heights are unadjusted where it is more than allowed.
    """

    book: LevelBook
    asked: Levels
    known: Mapping[str, float]
    rows: tuple[Reduced, ...]
    heights: tuple[float, ...]
    closing: str
    misclosure: float | None
    allowed: float

    @property
    def closes(self) -> bool:
        """Whether it closes on a known point within what is allowed."""
        return self.misclosure is not None and abs(self.misclosure) <= self.allowed

    @property
    def found(self) -> Mapping[str, float]:
        """The height of every point of the book [m]: the known one, else where it was reached first."""
        first = {row.sight.point: up for row, up in zip(reversed(self.rows), reversed(self.heights), strict=True)}
        return MappingProxyType(first | {name: up for name, up in self.known.items() if name in first})

    def lifted(self, by: float) -> Levelled:
        """The same run in a system whose elevations are so much larger [m]."""
        rows = tuple(replace(r, height=r.height + by, line_of_sight=r.line_of_sight + by) for r in self.rows)
        known = MappingProxyType({name: up + by for name, up in self.known.items()})
        return replace(self, known=known, rows=rows, heights=tuple(up + by for up in self.heights))


def level_run(book: LevelBook, known: Mapping[str, float], asked: Levels) -> Levelled:
    """The book reduced from what is known; heights of the book itself count where nothing else is known.

    Raises InputError where its first point has no height, or distances are missing for what was asked. With a two-peg
    test every reading is corrected by its distance first.
    """
    heights = {**book.known, **known}
    first = book.sights[0]
    if first.point not in heights:
        words = f"the first point, {first.point}, has no elevation"
        remedy = "give the benchmark its elevation: in the site file, in a column elevation of the book, or --start"
        raise InputError(mistake("bad-row", words, book.place(first.line), remedy))
    rows = reduced(heights[first.point], _straightened(book, asked))
    end = rows[last_foresight(rows)]
    closing = end.sight.point if end.sight.point in heights else ""
    misclosure = heights[closing] - end.height if closing else None
    try:
        limit = asked.allowed if asked.allowed is not None else allowed(rows, asked.grade or None)
        spread = misclosure if misclosure is not None and abs(misclosure) <= limit else 0.0
        final = adjusted(rows, spread, asked.adjust)
    except ValueError as error:
        remedy = "fill in the column distance, or ask for what goes by set-ups"
        raise InputError(mistake("bad-row", str(error), Place(book.file), remedy)) from None
    stated = {name: up for name, up in heights.items() if name in {sight.point for sight in book.sights}}
    return Levelled(book, asked, MappingProxyType(stated), rows, final, closing, misclosure, limit)


def _straightened(book: LevelBook, asked: Levels) -> tuple[Sight, ...]:
    """The sights as a level line of sight would have read them, where a two-peg test is given."""
    if asked.pegs is None:
        return book.sights
    try:
        return corrected(book.sights, asked.pegs)
    except ValueError as error:
        remedy = "fill in the column distance, or leave out the two-peg test"
        line = next(sight.line for sight in book.sights if sight.distance is None)
        raise InputError(mistake("bad-row", str(error), book.place(line), remedy)) from None
