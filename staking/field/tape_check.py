"""What does a book of tape readings say of a slab: where its corners stand, what is out, and what cures it?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from staking.errors import RuleError, TextError, suggestion
from staking.field.compared import Allowed
from staking.field.cure import Check, Cure, cure
from staking.field.design_points import wall_lines
from staking.field.tape_adjust import Adjusted, Net, next_readings
from staking.field.tape_book import TapeBook, TapeReading
from staking.field.tape_numbering import Order, other_corners
from staking.field.tape_reliability import best_check
from staking.field.tape_suspects import Verdict, judge
from staking.field.tape_traps import Trap, traps
from staking.field.taped import Places, Span, allowed, design_places, known_places, pairs_alike, slab_spans
from staking.layout.computed import Layout
from staking.layout.tolerances import LEAST
from staking.layout.wall_lines import FromSide
from staking.survey.points import Point, distance, vector

_RIGHT = 1e-6  # cosine of a corner that counts as a right angle


@dataclass(frozen=True)
class Taped:
    """A book held against a layout. held: names of the corners that must not move.

    verdict: None where there are too few readings (`lacking` then says which to take), wild ones, or other corners.
    fallback: standard error of a reading that states none [m].
    """

    layout: Layout
    book: TapeBook
    held: tuple[str, ...] = ()
    fallback: float | None = None

    @cached_property
    def net(self) -> Net:
        """All readings of the book."""
        return Net(self.layout, self.book.readings, self.fallback)

    @cached_property
    def wild(self) -> tuple[tuple[int, float], ...]:
        """Readings that are nowhere near the drawing, by number, and what the drawing has [m]."""
        drawn = {**known_places(self.layout), **design_places(self.layout)}
        pairs = [(number, r.value, r.span.length(drawn)) for number, r in enumerate(self.book.readings)]
        return tuple((number, design) for number, value, design in pairs if abs(value - design) > _wild(design))

    @cached_property
    def other_corners(self) -> Order:
        """Corners as the book seems to count them, with what the drawing calls them; empty where it does so too."""
        return other_corners(self.layout, self.book.readings)

    @cached_property
    def verdict(self) -> Verdict | None:
        """What does not belong, and the corners by the rest; None where the readings give none."""
        if self.wild or self.other_corners or self.net.shape_open > 0:
            return None
        try:
            return judge(self.net, self.held)
        except ValueError:
            return None  # no corners come near the readings

    @property
    def fit(self) -> Adjusted | None:
        """The corners, where the readings agree."""
        return self.verdict.fit if self.verdict is not None and self.verdict.agrees else None

    @property
    def left_out(self) -> frozenset[int]:
        """The numbers of the readings that were left out, since they do not belong."""
        if self.verdict is None or len(self.verdict.fit.net.readings) == len(self.net.readings):
            return frozenset()
        return frozenset(suspect.numbers[0] for suspect in self.verdict.suspects if suspect.named)

    @cached_property
    def lacking(self) -> tuple[Span, ...]:
        """The readings that the shape still needs."""
        return next_readings(self.net)

    @cached_property
    def to_place(self) -> tuple[Span, ...]:
        """The readings that would say where the slab lies."""
        return next_readings(self.net, placed=True)

    @cached_property
    def advised(self) -> Span | None:
        """The one reading more that checks the others best."""
        return best_check(self.verdict.fit.net if self.verdict else self.net)

    @cached_property
    def traps(self) -> tuple[Trap, ...]:
        """Equal diagonals that prove nothing; not looked for before a reading that does not belong is settled."""
        if self.verdict is not None and self.verdict.suspects:
            return ()
        return tuple(traps(self.layout, self.book.readings, shape_open=self.net.shape_open > 0))

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """The sides and diagonals between the places found, and the ties that were measured."""
        if self.fit is None:
            return ()
        return tuple(checks_of(self.layout, self.fit, self.book.readings))

    @cached_property
    def cure(self) -> Cure | None:
        """What to move; None where the readings do not say where the corners are."""
        if self.fit is None:
            return None
        return cure(
            self.fit.at,
            self.layout.corner_names,
            self.checks,
            self.held,
            step=self.step,
            strings=self.fit.net.strings,
        )

    @property
    def step(self) -> float:
        """The finest that is moved [m]: a fraction of an inch, or a millimetre."""
        unit = self.layout.site.unit
        return 0.001 if unit.name == "m" else float(unit.metres) / 12 / self.layout.notation.fraction


def _wild(design: float) -> float:
    """How far a reading may be from a length of the drawing [m] before it is no longer worth adjusting; own choice."""
    return max(1.0, design / 5)


def checks_of(layout: Layout, fit: Adjusted, book: Sequence[TapeReading]) -> Iterator[Check]:
    """Sides and diagonals, pairs of diagonals that are alike, and the ties of a book, those left out too."""
    drawn = {**known_places(layout), **design_places(layout)}
    have = [span for span in slab_spans(layout) if set(span.ends) <= fit.at.keys()]
    seen = {span.key for span in have}
    for reading in book:
        corners = set(reading.span.ends) & set(layout.corner_names)
        if reading.span.kind == "tie" and corners and reading.span.key not in seen:
            seen.add(reading.span.key)
            have.append(reading.span)
    for span in have:
        design = span.length(drawn)
        yield Check(span, design, Allowed(*allowed(layout, span, design)))
    for pair in pairs_alike(layout):
        if set(pair.ends) <= fit.at.keys():
            figure, source = allowed(layout, pair.first, pair.first.length(drawn))
            yield Check(pair, 0.0, Allowed(max(figure or 0.0, 2 * LEAST), source))  # two readings, each so sure at best


def from_sides(layout: Layout, at: Places) -> Iterator[tuple[str, tuple[FromSide, ...]]]:
    """How each corner lies to the wall lines of its two sides, as the drawing has them."""
    lines = wall_lines(layout)
    for name, design in zip(layout.corner_names, layout.slab.form.corners, strict=True):
        step = vector(design, at[name])
        yield name, tuple(line.of(step) for line in lines[name])


@dataclass(frozen=True, slots=True)
class Lean:
    """How far a side leans from the square at a corner [m], at the end of that side, which is `over` long [m]."""

    corner: str
    off: float
    over: float


def lean_of(layout: Layout, at: Places) -> Lean | None:
    """The worst lean at a right angle of the drawing, of the shorter of its sides; None where there is no right angle.

    The longer side is held, as a framing square is.
    """
    names, design = layout.corner_names, layout.slab.form.corners
    found = []
    for number, name in enumerate(names):
        ends = (number - 1) % len(names), (number + 1) % len(names)
        long, short = sorted(ends, key=lambda end: -distance(design[number], design[end]))
        drawn = _along(design[number], design[long], design[short])
        if abs(drawn) < _RIGHT * distance(design[number], design[short]):
            off = _along(at[name], at[names[long]], at[names[short]]) - drawn
            found.append(Lean(name, off, distance(design[number], design[short])))
    return max(found, key=lambda lean: round(abs(lean.off), 4), default=None)


def _along(corner: Point, toward: Point, end: Point) -> float:
    """How far an end lies along another side from the corner [m]."""
    return vector(corner, end).dot(vector(corner, toward).unit())


def held_corners(layout: Layout, words: Sequence[str]) -> tuple[str, ...]:
    """The corners that must not move: corners by stake, number or name, sides by name or as 1-2.

    Raises TextError with what there is.
    """
    outline, names = layout.slab.form.outline, layout.corner_names
    found: list[str] = []
    for word in (part.strip() for each in words for part in each.split(",")):
        if not word:
            continue
        if word in names:
            found.append(word)
            continue
        found.extend(names[number] for number in _meant(layout, word))
    if len(set(found)) == len(outline.corners):
        raise TextError("every corner is held, so nothing can be moved", "leave out one that the crew can move")
    return tuple(dict.fromkeys(found))


def _meant(layout: Layout, word: str) -> tuple[int, ...]:
    outline, count = layout.slab.form.outline, len(layout.corner_names)
    bare = word.removeprefix("corner ").removesuffix(" side").removeprefix("side ").strip()
    try:
        return (outline.corner(bare),)
    except RuleError:
        pass
    try:
        side = outline.side(bare)
    except RuleError:
        known = [*layout.corner_names, *outline.corner_names, *outline.side_names]
        raise TextError(f'there is no corner or side "{word}"', suggestion(word, filter(None, known))) from None
    return side, (side + 1) % count
