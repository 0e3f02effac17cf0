"""Does the level book close, and if not, which reading is the likeliest to be wrong?"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.sitefile.levelled import Levelled
from staking.survey.level_slips import MOST, open_rows, read_apart, single_digit, suspects

TWICE = 0.003  # metres (0.01 ft): two readings of one rod that differ by more are not one; own choice
_CLOSELY = 0.25  # of what is allowed: a slip that leaves more may fit by chance; own choice

CODES = MappingProxyType(
    {
        "level-misclosed": "A level run comes to another height than the known one by more than is allowed (by class, "
        "FGCC 1984 from memory; without one 0.02 ft times the root of set-ups, own choice). Its heights are left "
        "unadjusted. A reading is named only where one slip at it would close the run; that is no proof.",
        "level-open": "A level run ends on a point whose height nobody knows, so that nothing checks its readings.",
        "level-contradicts": "The level finds another height for a point than the file states, or reached it twice at "
        "two heights. The stated one is used, else the first.",
        "level-read-twice": "A rod was read twice and the readings differ by more than 0.01 ft (own choice). The first "
        "is used.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    for run in layout.site.levelled:
        yield from level_findings(run, layout.notation)


def level_findings(run: Levelled, notation: Notation) -> Iterator[Finding]:
    """What there is to say about one level run. notation: how its lengths are written."""

    def write(metres: float) -> str:
        return f"{notation.decimal(metres, 3)} {run.book.unit.name}"

    yield from _twice(run, write)
    if run.misclosure is None:
        yield _open(run)
    elif not run.closes:
        yield _misclosed(run, run.misclosure, write)
    yield from _contradicted(run, write)


def _twice(run: Levelled, write: Callable[[float], str]) -> Iterator[Finding]:
    for sight in read_apart(run.rows, TWICE):
        words = f"the {sight.kind} on {sight.point} was read {write(sight.reading)} and {write(sight.second or 0.0)}"
        remedy = "read it again; the first reading is used until then"
        yield Finding("level-read-twice", Severity.STRONG, words, run.book.place(sight.line), remedy)


def _open(run: Levelled) -> Finding:
    last = run.book.sights[-1]
    words = "the level run does not end on a point of known height, so nothing checks its readings"
    remedy = "carry it back to the benchmark, or to another one"
    return Finding("level-open", Severity.WARNING, words, run.book.place(last.line), remedy)


def _misclosed(run: Levelled, misclosure: float, write: Callable[[float], str]) -> Finding:
    end = next(row.sight for row in reversed(run.rows) if row.sight.kind == "foresight")
    words = (
        f"the level run misses {run.closing} by {write(abs(misclosure))}, more than the {write(run.allowed)} allowed; "
        f"it comes out {'low' if misclosure > 0 else 'high'}"
    )
    remedy = "\n".join(suspicion(run))
    return Finding("level-misclosed", Severity.STOP, words, run.book.place(end.line), remedy)


def suspicion(run: Levelled) -> Iterator[str]:
    """What can be known of the slip behind a misclosure, in sentences; the last says what to do."""
    wrong, unit = run.misclosure or 0.0, float(run.book.unit.metres)
    named = suspects(run.rows, wrong, unit, run.allowed, run.known)
    free = open_rows(run.rows, wrong, run.allowed, run.known)
    places = [row.sight.line for number, row in enumerate(run.rows) if number in free]
    if 0 < len(named) <= MOST:
        head = "most likely" if len(named) == 1 and named[0].left <= run.allowed * _CLOSELY else "possibly"
        for one in named:
            yield f"{head}: line {one.sight.line}, {one.sight.kind} {one.sight.written} on {one.sight.point}: {one.why}"
    elif (digit := single_digit(wrong, unit, run.allowed)) and places:
        yield f"it is the size of one wrong digit ({digit} {run.book.unit.name}); at which reading cannot be told"
    else:
        yield "no single reading is likelier than the others"
    if places and len(set(places)) < len({row.sight.line for row in run.rows}):
        lines = ", ".join(map(str, dict.fromkeys(places)))
        yield f"if there is one slip, it is a backsight or foresight on line {lines}"
    yield "compare the book with the page of the field; if they agree, level that part again"


def _contradicted(run: Levelled, write: Callable[[float], str]) -> Iterator[Finding]:
    """Points of known height within the run, and points reached twice; what the end says is not said again."""
    rows = [(row, up) for row, up in zip(run.rows, run.heights, strict=True) if row.sight.kind != "backsight"]
    for row, up in rows[: -1 if rows[-1][0].sight.point == run.closing else None]:
        stated = run.known.get(row.sight.point)
        if stated is not None and row.sight.point != run.closing and abs(up - stated) > run.allowed:
            words = f"the level finds {row.sight.point} at {write(up)}; it is stated as {write(stated)}"
            yield _contradiction(run, row.sight.line, words)
    for (one, up), (other, later) in combinations(rows, 2):
        point = one.sight.point
        if point == other.sight.point and point not in run.known and abs(up - later) > run.allowed:
            words = f"{point} was found at {write(up)} on line {one.sight.line}, and at {write(later)} here"
            yield _contradiction(run, other.sight.line, words)


def _contradiction(run: Levelled, line: int, words: str) -> Finding:
    remedy = "read that point again; a reading, the stated height or the name is wrong"
    return Finding("level-contradicts", Severity.STRONG, words, run.book.place(line), remedy)


CHECK = Check("Does the level book close, and which reading is the likeliest to be wrong?", CODES, _findings)
