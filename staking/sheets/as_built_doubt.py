"""Is the measurement good enough to judge what it judges?

An error is stated as the standard error of one coordinate. In plan 95 in 100 points lie within 2.4477 times that of
where they were measured, a length between two of them within 1.9600 times the root of 2, a height within 1.9600 times
its own (factors: NSSDA, Appendix 3-A). That a measurement should know to a third of what it judges is common practice,
no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from staking.field.compared import Allowed, CheckedLength, Comparison, Deviation
from staking.field.words import figure_words
from staking.notation import Notation
from staking.sheets.page import Block, Heading, Paragraph, Table
from staking.survey.error_budget import CIRCLE_95, LINE_95

GOOD = 1 / 3  # of a tolerance, that the doubt of a measurement may be; common practice, no source
NEAR = (
    "Near: closer to the limit than the measurement is sure of, at 95 in 100; measured again it may come out the other "
    "way."
)


def point_doubt(comparison: Comparison, each: Deviation | None = None) -> float | None:
    """How far a measured point may lie from where it was measured, 95 in 100 [m]; None where no error is stated."""
    own = each.measured.error if each is not None else None
    error = comparison.how.error if own is None else own
    return None if error is None else CIRCLE_95 * error


def length_doubt(comparison: Comparison) -> float | None:
    """The same of a length between two measured points [m]; by their coordinates where nothing better is stated."""
    own, error = comparison.how.error_length, comparison.how.error
    if own is not None:
        return LINE_95 * own
    return None if error is None else LINE_95 * math.sqrt(2) * error


def height_doubt(comparison: Comparison) -> float | None:
    """The same of a measured height [m]."""
    error = comparison.how.error_up
    return None if error is None else LINE_95 * error


def near_line(comparison: Comparison, room: float) -> bool:
    """Whether a side that clears a line [m], or is over it, may be on the other side of it, as well as it is known."""
    error = comparison.how.error
    return error is not None and abs(room) < LINE_95 * error


def near(comparison: Comparison, each: Deviation | CheckedLength) -> bool:
    """Whether the answer might be the other one, as well as the measurement is known."""
    if isinstance(each, Deviation):
        off, doubt = each.plan.length, point_doubt(comparison, each)
    else:
        off, doubt = abs(each.difference), length_doubt(comparison)
    return doubt is not None and each.allowed.plus_minus is not None and abs(off - each.allowed.plus_minus) < doubt


def allowed_words(allowed: Allowed, write: Notation) -> str:
    """A tolerance as the differences beside it are written."""
    return "no figure" if allowed.plus_minus is None else figure_words(allowed.plus_minus, write)


def error_words(error: float | None, write: Notation) -> str:
    """A standard error in words; small ones are written finer than lengths."""
    return "not stated" if error is None else write.fine(error)


def doubt_blocks(comparison: Comparison) -> Iterator[Block]:
    """What the measurement is sure of, beside what is allowed."""
    yield Heading("Is the measurement good enough to judge?")
    rows = tuple(_rows(comparison))
    if not rows:
        yield Paragraph(
            "The error of the measurement is not stated, so how sure the answers are is not known. State it, as the "
            "standard error of a measured coordinate, and this sheet says so."
        )
        return
    yield Table(
        ("what is judged", "allowed", "known to, 95 in 100", "share of it", "so it"), rows, (1.5, 1, 1.3, 1, 3.2)
    )
    lengths = "2.7719 times the" if comparison.how.error_length is None else "1.9600 times its own"
    yield Paragraph(
        f"A point in plan is known to 2.4477, a height to 1.9600, a length between two points to {lengths} "
        "standard error (NSSDA, Appendix 3-A). That this should be no more than a third of what is allowed is common "
        "practice, no source. Blunders, and what all points share, as a wrong station, are in none of it."
    )


def _rows(comparison: Comparison) -> Iterator[tuple[str, ...]]:
    write = comparison.layout.notation
    for what, allowed, doubt in _judged(comparison):
        if doubt is None or allowed.plus_minus is None:
            continue
        share = doubt / allowed.plus_minus
        yield what, allowed_words(allowed, write), write.fine(doubt), write.times(share), _fitness(share)


def _judged(comparison: Comparison) -> Iterator[tuple[str, Allowed, float | None]]:
    """Each tolerance once, with the doubt of what it judges."""
    found: dict[tuple[str, float | None], tuple[Allowed, float | None]] = {}
    for each in comparison.deviations:
        what = "given points" if each.design.what == "given" else "points in plan"
        found.setdefault((what, each.allowed.plus_minus), (each.allowed, point_doubt(comparison, each)))
        if each.up is not None:
            found.setdefault(("heights", each.allowed_up.plus_minus), (each.allowed_up, height_doubt(comparison)))
    for length in comparison.lengths:
        known = length_doubt(comparison)
        found.setdefault((f"{length.kind}s", length.allowed.plus_minus), (length.allowed, known))
    yield from ((what, allowed, doubt) for (what, _), (allowed, doubt) in found.items())


def _fitness(share: float) -> str:
    if share <= GOOD:
        return "can judge it"
    return "can judge only clear cases" if share < 1 else "cannot judge it"
