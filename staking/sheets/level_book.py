"""The level book reduced, as it is handed over: both ways, its sums, how it closes, what is allowed and by whom."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import PurePath

from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import FOOT_WORDS, facts, finding_lines, foot, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Sheet, Signatures, Table
from staking.sitefile.levelled import Levelled
from staking.survey.levels import Reduced, arithmetic, by_rise_and_fall, length_of, unbalance

BOOK_CAUTIONS = (
    "A run that closes proves neither its intermediate sights nor the benchmark: begin on one mark and close on "
    "another where there is one, and read what matters twice.",
    "Heights for flood zones, sewers and street grades are for the local authority and licensed practice.",
)
_DECIMALS = re.compile(r"\.([0-9]+)")
PLACES = 3  # decimals of a book in feet or metres, where its readings have no more
CODES = ("level-misclosed", "level-open", "level-contradicts", "level-read-twice")


def level_book_sheet(layout: Layout, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet; without level books it says what to add."""
    blocks: list[Block] = []
    for run in layout.site.levelled:
        blocks += [*_run(run)]
    if not blocks:
        blocks.append(Paragraph("The site file names no level book. Add [[levels]] with a book."))
    own = tuple(finding for finding in findings if finding.code in CODES)
    if lines := finding_lines(own, Severity.NOTE):
        blocks += [Heading("Findings about the level book"), Bullets(lines)]
    blocks += [Cautions((*BOOK_CAUTIONS, *ALWAYS))]
    blocks.append(Signatures(("Read by", "Rod held by", "Book kept by", "Checked by")))
    return Sheet("Level book, reduced", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite))


def places_of(run: Levelled) -> int:
    """Decimals that a book is printed with: PLACES, or as many as its readings have."""
    found = (_DECIMALS.search(row.sight.written) for row in run.rows)
    return max([PLACES, *(len(each[1]) for each in found if each)])


def allowed_words(run: Levelled) -> str:
    """Where the allowed misclosure comes from."""
    if run.asked.allowed is not None:
        return "as asked"
    if run.asked.grade == "ordinary":
        return "ordinary, common practice, no source"
    if run.asked.grade:
        return f"{run.asked.grade}, FGCC 1984 from memory"
    return "0.02 ft times the root of set-ups, own choice"


def _write(run: Levelled, metres: float) -> str:
    return Notation(run.book.unit).decimal(metres, places_of(run))


def _run(run: Levelled) -> Iterator[Block]:
    unit, first = run.book.unit.name, run.rows[0]
    last = run.rows[_end(run)]
    name = PurePath(run.book.file).name
    yield Heading(f"{name}: from {first.sight.point} to {last.sight.point}, {last.setup} set-ups")
    yield Paragraph(_result(run), strong=True)
    yield Paragraph(
        f"Readings and heights in {FOOT_WORDS[unit]}. It starts at {first.sight.point}, "
        f"{_write(run, first.height)}.{_corrected(run)}"
    )
    yield Heading("By the height of instrument")
    yield _by_instrument(run)
    yield Heading("By rise and fall")
    yield _by_rises(run)
    yield Heading("Arithmetic")
    yield from _sums(run)
    yield Heading("How it closes")
    yield Bullets(tuple(_closing(run)))


def _end(run: Levelled) -> int:
    return max(number for number, row in enumerate(run.rows) if row.sight.kind == "foresight")


def _result(run: Levelled) -> str:
    if run.misclosure is None:
        return "The run ends on no point of known height, so nothing checks its readings."
    unit = run.book.unit.name
    words = (
        f"Misclosure on {run.closing} {_write(run, run.misclosure)} {unit}, allowed {_write(run, run.allowed)} {unit}"
    )
    return f"{words}: it {'closes' if run.closes else 'DOES NOT CLOSE'}."


def _corrected(run: Levelled) -> str:
    if run.asked.pegs is None:
        return ""
    per = 100 * float(run.book.unit.metres)
    way = "rises" if run.asked.pegs > 0 else "falls"
    slope = f"{way} {_write(run, abs(run.asked.pegs) * per)} in 100"
    return f" Readings are corrected by their distances: the line of sight {slope}, by the two-peg test."


def _cells(run: Levelled, row: Reduced) -> tuple[str, ...]:
    sight = row.sight
    kinds = ("backsight", "intermediate", "foresight")
    return sight.point, str(sight.line), *(_write(run, sight.reading) if sight.kind == kind else "" for kind in kinds)


def _by_instrument(run: Levelled) -> Table:
    corrected, adjusted = run.asked.pegs is not None, run.asked.adjust != "none" and run.closes
    head = ("point", "line", "back", "inter", "fore", "line of sight", "height")
    more = (*(("as read",) if corrected else ()), *(("adjusted",) if adjusted else ()))
    rows = []
    for row, final in zip(run.rows, run.heights, strict=True):
        line = _write(run, row.line_of_sight) if row.sight.kind == "backsight" else ""
        read = (row.sight.written,) if corrected else ()
        end = (_write(run, final),) if adjusted else ()
        rows.append((*_cells(run, row), line, _write(run, row.height), *read, *end))
    widths = (1.1, 0.5, 0.9, 0.9, 0.9, 1.2, 1.1, *(1.1 for _ in more))
    return Table((*head, *more), tuple(rows), widths, frozenset(range(1, len(widths))))


def _by_rises(run: Levelled) -> Table:
    rows = []
    for row, height in zip(run.rows, by_rise_and_fall(run.rows), strict=True):
        rise = "" if row.rise is None or row.rise < 0 else _write(run, row.rise)
        fall = "" if row.rise is None or row.rise >= 0 else _write(run, -row.rise)
        rows.append((*_cells(run, row), rise, fall, _write(run, height)))
    head = ("point", "line", "back", "inter", "fore", "rise", "fall", "height")
    return Table(head, tuple(rows), (1.1, 0.5, 0.9, 0.9, 0.9, 1, 1, 1.1), frozenset(range(1, 8)))


def _sums(run: Levelled) -> Iterator[Block]:
    sums = arithmetic(run.rows)
    pairs = (
        ("backsights less foresights", sums.backsights, sums.foresights),
        ("rises less falls", sums.rises, sums.falls),
        ("last height less first", sums.last, sums.first),
    )
    rows = tuple((what, _write(run, one), _write(run, other), _write(run, one - other)) for what, one, other in pairs)
    yield Table(("", "sum", "less", "difference"), rows, (2.4, 1, 1, 1), frozenset({1, 2, 3}))
    agrees = "The three differences agree" if sums.agrees else "THE THREE DIFFERENCES DO NOT AGREE"
    yield Paragraph(f"{agrees}. That checks the arithmetic of the page, and says nothing of the readings.")


def _closing(run: Levelled) -> Iterator[str]:
    unit = run.book.unit.name
    if run.misclosure is None:
        yield "No misclosure: carry the run back to the benchmark, or to another one."
    else:
        yield f"Misclosure on {run.closing}, known less computed: {_write(run, run.misclosure)} {unit}."
        yield f"Allowed: {_write(run, run.allowed)} {unit} ({allowed_words(run)})."
    yield _adjustment(run)
    apart = unbalance(run.rows)
    if apart is not None:
        long, more = _write(run, length_of(run.rows) or 0.0), _write(run, apart)
        yield f"Length of the run {long} {unit}; distances of backsights less those of foresights {more} {unit}."
    if any(row.sight.kind == "intermediate" and row.sight.second is None for row in run.rows):
        yield "Intermediate sights are checked by nothing but a second reading."


def _adjustment(run: Levelled) -> str:
    if run.asked.adjust == "none" or run.misclosure is None:
        return "Heights are not adjusted."
    if not run.closes:
        return "Heights are not adjusted: the misclosure is more than is allowed."
    return f"Heights are adjusted by {run.asked.adjust}."
