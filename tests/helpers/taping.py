"""Tape books for tests: crews who set corners a little wrong and then measure between them."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence

from staking import Layout
from staking.field.tape_adjust import Net, strings_through
from staking.field.tape_book import TapeReading, Today, read_tape_book
from staking.field.tape_check import Taped
from staking.field.taped import Span, design_places, known_places, slab_spans, tie_spans
from staking.survey.intersections import crossing
from staking.survey.lines import Line
from staking.survey.points import Point
from staking.survey.tape import Corrections, Held

NOTHING = Corrections(0.0, 0.0, 0.0, 0.0, 0.0)


def taped(layout: Layout, text: str, held: Sequence[str] = ()) -> Taped:
    """A book by its text, held against a layout."""
    return Taped(layout, read_tape_book(text, "tape.csv", layout, Today()), tuple(held))


def reading(layout: Layout, span: Span, value: float) -> TapeReading:
    """A level distance that was read, written as the site writes lengths."""
    return TapeReading(span, 2, layout.notation.length(value), value, Held(), NOTHING)


def set_wrong(layout: Layout, rng: random.Random, spread: float) -> dict[str, Point]:
    """Where a crew set everything that is set out, each place wrong by chance [m]; strings cross where they then do."""
    places = {
        name: Point(at.east + rng.gauss(0, spread), at.north + rng.gauss(0, spread))
        for name, at in design_places(layout).items()
    }
    for each in layout.crossings:
        strings = [Line(places[s.first], places[s.second]) for s in strings_through(layout, each.name, each.at)]
        places[each.name] = crossing(strings[0], strings[1])
    return {**known_places(layout), **places}


def sheet_spans(layout: Layout, ties: int | None = None, rng: random.Random | None = None) -> list[Span]:
    """Sides, diagonals and ties of the sheet; or only so many of the ties, by chance."""
    found = list(tie_spans(layout))
    if ties is not None and rng is not None:
        found = rng.sample(found, ties)
    return [*slab_spans(layout), *found]


def exact(layout: Layout, spans: Sequence[Span], at: Mapping[str, Point]) -> list[TapeReading]:
    """Readings without any error."""
    return [reading(layout, span, span.length(at)) for span in spans]


def noisy(layout: Layout, clean: Sequence[TapeReading], rng: random.Random) -> list[TapeReading]:
    """The same as tapes read them: with the errors that the program expects, to a sixteenth or a millimetre."""
    net = Net(layout, tuple(clean))
    step = 0.001 if layout.site.unit.name == "m" else 0.0254 / 16
    return [reading(layout, r.span, round((r.read + rng.gauss(0, net.error(r))) / step) * step) for r in clean]
