"""What is there to say of the form's top against design: a row a mark, and sentences, for terminal and sheet alike?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.field.compared import Allowed, Answer, LevelsSet, RaiseOrLower
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.survey.points import Vector, vector
from staking.units import UNITS

HEAD = ("mark", "what", "design", "read", "off", "do")
FLAT = 0.001  # metres: a tilt that comes to less from end to end is not worth a word; own choice


def levels_set_rows(layout: Layout, levels: LevelsSet) -> Iterator[tuple[str, ...]]:
    """One row a mark, under HEAD: name, what it is, design and read height, difference with its sign, what to do."""
    write = layout.notation.decimal
    for mark in levels.marks:
        design = next(grade.up for grade in layout.grades if grade.name == mark.name)
        yield mark.name, mark.words, write(design), write(design + mark.up), signed(layout, mark.up), _do(layout, mark)


def signed(layout: Layout, metres: float) -> str:
    """A difference with its sign, in decimals of the site's unit."""
    text = layout.notation.decimal(metres)
    return f"+{text}" if not text.startswith("-") and text.strip("0.") else text


def _do(layout: Layout, mark: RaiseOrLower) -> str:
    if mark.raise_by == 0:
        return "OUT" if mark.answer == "out" else ""
    why = "" if mark.answer == "out" else ", to be level with its neighbours"
    return f"{'raise' if mark.raise_by > 0 else 'lower'} {both(layout, abs(mark.raise_by))}{why}"


def raise_words(raise_by: float, write: Notation) -> str:
    """As raise 3/8 in, lower 10 mm; leave, where it is less than is written."""
    text = write.small(abs(raise_by))
    return "leave" if text == write.small(0.0) else f"{'raise' if raise_by > 0 else 'lower'} {text}"


def both(layout: Layout, metres: float) -> str:
    """A length in two units, so that feet are not taken for inches: 3/4" (0.062 ft), or 0.019 m (19 mm)."""
    if layout.site.unit.name == "m":
        return f"{layout.notation.length(metres)} ({Notation(UNITS['m']).decimal(1000 * metres, 0)} mm)"
    return layout.notation.both(metres)


def levels_set_sentences(layout: Layout, levels: LevelsSet) -> Iterator[str]:
    """Mean, extremes, tilt, what is allowed, how level it is, and the work that is less."""
    ends = {mark.name: mark for mark in levels.marks}
    high, low = ends[levels.high], ends[levels.low]
    yield (
        f"mean {signed(layout, levels.mean)}; highest {high.name} ({signed(layout, high.up)}), lowest {low.name} "
        f"({signed(layout, low.up)}), {both(layout, levels.range)} between them"
    )
    yield _tilt(layout, levels)
    yield _heights(layout, levels)
    for (over, much, one, other), (allowed, answer) in zip(levels.flatness, levels.flat, strict=True):
        far = layout.notation.length(over)
        if one == other:
            yield f"level over {far}: no two marks are so near"
            continue
        words = f"level over {far}: {both(layout, much)} between {one} and {other}"
        yield f"{words}{_allowed(layout, allowed, answer)}"
    yield from work(layout, levels)
    if levels.missing:
        yield f"not read: {', '.join(levels.missing)}"


def _tilt(layout: Layout, levels: LevelsSet) -> str:
    if levels.tilt is None:
        return "best plane: none, the marks lie on a line"
    way = max(levels.marks, key=lambda mark: _along(levels, mark, levels.tilt))
    back = min(levels.marks, key=lambda mark: _along(levels, mark, levels.tilt))
    rise = _along(levels, way, levels.tilt) - _along(levels, back, levels.tilt)
    without = f", without {levels.odd}" if levels.odd else ""
    if rise < FLAT:
        return f"best plane{without}: not tilted against the design"
    return f"best plane{without}: rises {both(layout, rise)} against the design from {back.name} to {way.name}"


def _along(levels: LevelsSet, mark: RaiseOrLower, tilt: Vector | None) -> float:
    return vector(levels.marks[0].at, mark.at).dot(tilt) if tilt else 0.0


def _heights(layout: Layout, levels: LevelsSet) -> str:
    out = [mark.name for mark in levels.marks if mark.answer == "out"]
    every = len(out) == len(levels.marks)
    named = f"{len(out)} of {marks(len(levels.marks))} out: {', '.join(out)}" if out else "every mark read is within"
    count = f"all {marks(len(out))} out" if every else named
    if levels.allowed.plus_minus is None:
        return "no figure says how far a mark may be off"
    allowed = layout.notation.allowance(levels.allowed.plus_minus)
    return f"{count}; allowed is plus or minus {allowed} ({levels.allowed.source})"


def _allowed(layout: Layout, allowed: Allowed, answer: Answer) -> str:
    if allowed.plus_minus is None:
        return ""
    figure = layout.notation.allowance(allowed.plus_minus)
    return f", {'OUT' if answer == 'out' else answer}; allowed is {figure} ({allowed.source})"


def work(layout: Layout, levels: LevelsSet) -> Iterator[str]:
    """The two ways to set the form right, the one with less work first."""
    raising = levels.raising
    if raising.less == "nothing":
        if levels.answer == "within":
            yield "nothing to raise or lower"
        return
    singly, whole = f"move {marks(raising.singly)}, each as listed", _whole(layout, levels)
    if raising.less == "whole":
        yield f"least work: {whole}"
        yield f"the other way: {singly}"
        return
    yield f"least work: {singly}"
    if len(raising.but) < raising.singly:
        yield f"the other way: {whole}"


def _whole(layout: Layout, levels: LevelsSet) -> str:
    raising = levels.raising
    but = ", ".join(f"{name} by {_way(layout, up)}" for name, up in raising.but)
    words = f"move all {marks(len(levels.marks))} by one figure, {_way(layout, raising.whole)}"
    return f"{words}, but {but}" if but else words


def _way(layout: Layout, up: float) -> str:
    return f"{both(layout, abs(up))} {'up' if up > 0 else 'down'}"


def marks(count: int) -> str:
    """So many marks."""
    return f"{count} mark{'' if count == 1 else 's'}"
