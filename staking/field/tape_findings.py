"""What is there to know of a book of tape readings: too few, one that does not belong, a trap, a form that is out?"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from staking.field.tape_adjust import Net
from staking.field.tape_check import Taped
from staking.field.tape_reliability import unchecked
from staking.field.tape_suspects import Suspect
from staking.field.tape_traps import Trap
from staking.field.taped import Apart, Span
from staking.findings import Finding, Place, Severity

# code: severity, explanation
CODES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "tape-too-few": (
            Severity.STRONG.words,
            "The readings leave the shape of the slab open. The finding names the reading to take next, which is the "
            "one that fixes most of what is open.",
        ),
        "tape-other-corners": (
            Severity.STRONG.words,
            "The readings are far from the drawing, and fit it with the corners counted the other way round or from "
            "another one. Nothing is worked out before the book has the names of the plan.",
        ),
        "tape-odd-reading": (
            Severity.STRONG.words,
            "A reading does not belong to the others: leaving it out makes them agree. Where the readings alone cannot "
            "tell it from others, the drawing may, and the finding says so; else all that it could be are named. The "
            "slip that would explain it is a guess. The reading is left out of the corners: measure it again.",
        ),
        "tape-disagree": (
            Severity.STRONG.words,
            "The readings disagree by more than taping explains, and no single one is to blame. Corners and "
            "instructions would follow the mistake, so none are printed.",
        ),
        "tape-equal-diagonals": (
            f"{Severity.WARNING.words} or {Severity.STRONG.words}",
            "The diagonals are equal, and yet that proves nothing: a form with one end wider than the other (an "
            "isosceles trapezoid) has equal diagonals too, and so has a rectangle of another size. Opposite sides must "
            "agree as well (US Army course EN0069, Carpentry, figures 1-36 and 1-39).",
        ),
        "tape-out": (
            Severity.STRONG.words,
            "Sides, diagonals or ties are not what the drawing says, by more than may be. The instruction that follows "
            "brings them in.",
        ),
        "tape-held-out": (
            Severity.STRONG.words,
            "A length between corners that must not move, or more than the others can make up for, stays out.",
        ),
        "tape-unchecked": (
            Severity.NOTE.words,
            "No other reading checks these, or so poorly that a slip of five times what the length may differ need not "
            "show. Take the reading that is named besides.",
        ),
        "tape-not-placed": (
            Severity.NOTE.words,
            "Nothing ties the slab to given points or lines, so the readings tell its shape, not where it lies.",
        ),
        "tape-aside": (
            Severity.NOTE.words,
            "The reading goes to a stake or a corner of a part that no second reading fixes, so it is left out of "
            "everything.",
        ),
        "tape-not-corrected": (
            Severity.NOTE.words,
            "The book notes a pull or a span, but the site file does not say what the tape needs for the correction.",
        ),
    }
)


def tape_findings(taped: Taped) -> Iterator[Finding]:
    """Everything to know, gravest first."""
    if taped.other_corners:
        yield _counted_otherwise(taped)
        return
    yield from _wild(taped)
    yield from _too_few(taped)
    yield from (_odd(taped, suspect) for suspect in (taped.verdict.suspects if taped.verdict else ()))
    yield from _disagree(taped)
    yield from (_equal_diagonals(taped, trap) for trap in taped.traps)
    yield from _out(taped)
    yield from _unchecked(taped)
    if taped.verdict is not None and taped.net.datum_open == 3:
        yield Finding(
            "tape-not-placed",
            Severity.NOTE,
            "nothing ties the slab to the ground: its shape is known, its place is not",
            Place(taped.book.file),
            f"three ties tell it, for example {', '.join(map(span_words, taped.to_place))}" if taped.to_place else "",
        )
    for reading in taped.book.aside:
        yield Finding(
            "tape-aside",
            Severity.NOTE,
            f"{reading.words} is not judged: one reading does not tell where both its ends are",
            taped.book.place(reading.line),
            "measure that place from another corner too",
        )
    for words in taped.book.uncorrected:
        yield Finding("tape-not-corrected", Severity.NOTE, words, Place(taped.book.file))


def span_words(span: Span | Apart) -> str:
    """What to measure, in words."""
    if isinstance(span, Apart):
        return f"{span.start} and {span.end} alike"
    if span.base is not None:
        return f"{span.start} square from {span.end}"
    kind = f" ({span.words})" if span.kind in ("side", "diagonal") else ""
    return f"{span.start} - {span.end}{kind}"


def _named(spans: tuple[Span, ...]) -> str:
    return ", then ".join(span_words(span) for span in spans)


def _counted_otherwise(taped: Taped) -> Finding:
    pairs = [f"{name} is {there} of the drawing" for name, there in taped.other_corners if name != there]
    return Finding(
        "tape-other-corners",
        Severity.STRONG,
        "the readings fit the drawing if the corners were counted the other way round, or from another corner: "
        + ", ".join(pairs),
        Place(taped.book.file),
        "see on the plan which corner is which, write the book with its names, and read it again",
    )


def _wild(taped: Taped) -> Iterator[Finding]:
    write = taped.layout.notation.length
    for number, design in taped.wild:
        reading = taped.book.readings[number]
        yield Finding(
            "tape-odd-reading",
            Severity.STRONG,
            f"{reading.words} was read as {write(reading.value)}, and the drawing has {write(design)}",
            taped.book.place(reading.line),
            "see whether both ends are named rightly and the figure is written rightly, then measure it again",
        )
    if taped.verdict is None and not taped.wild and taped.net.shape_open == 0:
        yield Finding(
            "tape-disagree",
            Severity.STRONG,
            "no corners come near the readings: they cannot all be right",
            Place(taped.book.file),
            "see whether ends are named rightly, then measure the longest ones again",
        )


def _too_few(taped: Taped) -> Iterator[Finding]:
    if taped.net.shape_open == 0:
        return
    count = taped.net.shape_open
    more = "one more reading is" if count == 1 else f"{count} more readings are"
    first, rest = taped.lacking[:1], taped.lacking[1:]
    remedy = f"take {_named(first)}" if first else "measure from each corner to two others"
    yield Finding(
        "tape-too-few",
        Severity.STRONG,
        f"the readings leave the shape of the slab open: {more} needed",
        Place(taped.book.file),
        remedy + (f"\nafter that {_named(rest)}" if rest else ""),
    )


def _odd(taped: Taped, suspect: Suspect) -> Finding:
    write = taped.layout.notation.length
    readings = [taped.book.readings[number] for number in suspect.numbers]
    first = readings[0]
    if not suspect.named:
        words = " or ".join(f"{each.words} (line {each.line})" for each in readings)
        remedy = f"measure these again, {first.words} first"
        if taped.advised is not None:
            remedy += f"; or take {span_words(taped.advised)}, which tells them apart"
        message = f"one of these readings does not belong, and the others cannot tell which: {words}"
        return Finding("tape-odd-reading", Severity.STRONG, message, Place(taped.book.file), remedy)
    off = first.value - suspect.expected
    told = "by the drawing and the other readings" if suspect.by_drawing else "by the other readings"
    message = (
        f"{first.words} does not belong: {told} it should be {write(suspect.expected)}, "
        f"{write(abs(off))} {'less' if off > 0 else 'more'} than was read"
    )
    remedy = f"as if {suspect.slip.words}\n" if suspect.slip else ""
    left = "; it is left out below" if taped.left_out else ""
    place = taped.book.place(first.line)
    return Finding("tape-odd-reading", Severity.STRONG, message, place, f"{remedy}measure it again{left}")


def _disagree(taped: Taped) -> Iterator[Finding]:
    verdict = taped.verdict
    if verdict is None or verdict.agrees or (verdict.suspects and not taped.left_out):
        return
    pairs = zip(verdict.fit.net.readings, verdict.fit.residuals, strict=True)
    worst = sorted(pairs, key=lambda pair: -abs(pair[1]))[:3]
    words = ", ".join(f"{r.words} by {taped.layout.notation.length(abs(left))}" for r, left in worst)
    yield Finding(
        "tape-disagree",
        Severity.STRONG,
        f"the readings disagree by more than taping explains: {words}",
        Place(taped.book.file),
        "look whether ends are named rightly and the tape was the same, then measure these again",
    )


def _equal_diagonals(taped: Taped, trap: Trap) -> Finding:
    write = taped.layout.notation.length
    one, other = trap.diagonals
    equal = f"{one.words} and {other.words} are equal ({write(one.value)} and {write(other.value)})"
    place = taped.book.place(max(one.line, other.line))
    if trap.unread:
        return Finding(
            "tape-equal-diagonals",
            Severity.WARNING,
            f"the diagonals {equal}, but that alone does not make the form square",
            place,
            "a form with one end wider than the other has equal diagonals too\n"
            f"measure the sides as well: {', '.join(f'{s.start} - {s.end}' for s in trap.unread)}",
        )
    if trap.unequal is None:
        return Finding(
            "tape-equal-diagonals",
            Severity.STRONG,
            f"the diagonals {equal} and opposite sides agree: it is square, but of another size than the drawing",
            place,
            "compare the sides with the drawing, corner by corner, before anything is moved",
        )
    near, far = trap.unequal
    return Finding(
        "tape-equal-diagonals",
        Severity.STRONG,
        f"the diagonals {equal}, but {near.words} is {write(near.value)} and {far.words} is {write(far.value)}: "
        "it is not square",
        place,
        "one end is wider than the other, and such a form has equal diagonals too\n"
        "bring opposite sides to their lengths first, then compare the diagonals",
    )


def _out(taped: Taped) -> Iterator[Finding]:
    fit, cure = taped.fit, taped.cure
    if fit is None:
        return
    out = [check for check in taped.checks if check.answer(fit.at) == "out"]
    if out:
        write = taped.layout.notation.length
        worst = max(out, key=lambda check: abs(check.off(fit.at)))
        off = worst.off(fit.at)
        much = "differ by " + write(abs(off)) if isinstance(worst.span, Apart) else _too(off, write)
        yield Finding(
            "tape-out",
            Severity.STRONG,
            f"{len(out)} of {len(taped.checks)} checks {'is' if len(out) == 1 else 'are'} out, the most "
            f"{span_words(worst.span)}: {much}",
            Place(taped.book.file),
        )
    if cure is not None and not cure.cures:
        words = ", ".join(span_words(check.span) for check in cure.left)
        why = "lie between what must not move" if cure.left == cure.held_out else "cannot all be brought in"
        yield Finding(
            "tape-held-out",
            Severity.STRONG,
            f"with {', '.join(taped.held) or 'the given points'} held, these {why}: {words}",
            Place(taped.book.file),
            "let one of them move, or ask who drew it whether the slab may be built so",
        )


def _too(off: float, write: Callable[[float], str]) -> str:
    return f"{write(abs(off))} too {'long' if off > 0 else 'short'}"


def _unchecked(taped: Taped) -> Iterator[Finding]:
    fit = taped.fit
    if fit is None or taped.left_out:
        return
    advice = f"take {span_words(taped.advised)} besides" if taped.advised else "measure once more from other corners"
    weak = unchecked(fit.net)
    for words in filter(None, (_lone(fit.net, weak), _weak(fit.net, weak))):
        yield Finding("tape-unchecked", Severity.NOTE, words, Place(taped.book.file), advice)


def _lone(net: Net, weak: Mapping[int, float]) -> str:
    """Of the readings that nothing checks."""
    lone = [net.readings[number].words for number, slip in weak.items() if math.isinf(slip)]
    if not lone:
        return ""
    if len(lone) == len(net.readings):
        return "no reading is checked by another"
    return f"{', '.join(lone)} {'is' if len(lone) == 1 else 'are'} checked by no other reading"


def _weak(net: Net, weak: Mapping[int, float]) -> str:
    """Of the readings in which a slip must be large to show."""
    slips = {net.readings[number].words: slip for number, slip in weak.items() if not math.isinf(slip)}
    if not slips:
        return ""
    most = net.layout.notation.length(max(slips.values()))
    return f"the others check {', '.join(slips)} poorly: a slip of less than {most} may not show"
