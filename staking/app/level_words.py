"""What does the terminal say of a level book: its page reduced both ways, its sums, how it closes, and the level?"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from staking.errors import InputError, TextError
from staking.findings import Place
from staking.notation import Notation
from staking.sheets.level_book import allowed_words, places_of
from staking.sitefile.level_book import LevelBook, read_book
from staking.sitefile.levelled import Levelled, level_run
from staking.sitefile.levels_declared import Levels
from staking.sitefile.pegs import PegTest, peg_test
from staking.sitefile.places import mistake, plain
from staking.sitefile.text import decode, read_bytes
from staking.sitefile.which_book import refuse_other_text
from staking.survey.levels import arithmetic, curvature_and_refraction, length_of, unbalance
from staking.units import Unit, parse_length

SAME = 0.0005  # metres; what curvature and refraction do below this is not worth a line; own choice


def run_of(path: Path, options: Mapping[str, Any]) -> Levelled:
    """The book in a file, reduced. Raises InputError for whatever cannot be read, in the book or the options."""
    text, file = text_of(path)
    refuse_other_text(text, file, "level book")
    rod = length_of_option(options["rod"] or "13 ft", None, "--rod")
    return reduced_as_asked(read_book(text, file, unit=options["unit"] or "", rod=rod), {}, options)


def text_of(path: Path) -> tuple[str, str]:
    """The text of a file, and its path as shown. Raises InputError where it cannot be read."""
    file = plain(str(path), 200)
    return decode(read_bytes(path, absent="name a level book, a CSV file"), file), file


def reduced_as_asked(book: LevelBook, known: Mapping[str, float], options: Mapping[str, Any]) -> Levelled:
    """The book reduced as the command line asks. known: elevations by name [m]; --start goes before them."""
    start, unit = options["start"], book.unit
    first = {book.sights[0].point: length_of_option(start, unit, "--start")} if start else {}
    limit = length_of_option(options["allowed"], unit, "--allowed") if options["allowed"] else None
    if limit is not None and limit <= 0:
        raise InputError(mistake("bad-value", "--allowed must be more than 0", Place("")))
    slope = _pegs(options["pegs"] or "", unit).slope if options["correct"] else None
    settled = Levels.model_validate({"book": book.file, "adjust": options["adjust"], "class": options["grade"] or ""})
    return level_run(book, {**known, **first}, settled.model_copy(update={"allowed": limit, "pegs": slope}))


def length_of_option(text: str, unit: Unit | None, option: str) -> float:
    """A length of the command line [m]. unit: of a bare number. Raises InputError that names the option."""
    try:
        return float(parse_length(text, unit))
    except TextError as error:
        raise InputError(mistake("bad-value", f"{option}: {error.message}", Place(""), error.remedy)) from None


def _pegs(text: str, unit: Unit) -> PegTest:
    try:
        return peg_test(text, unit)
    except TextError as error:
        raise InputError(mistake("bad-value", f"--pegs: {error.message}", Place(""), error.remedy)) from None


def level_lines(run: Levelled) -> Iterator[str]:
    """The reduced page, its sums, and how it closes."""
    write = writer(run)
    if run.asked.pegs is not None:
        yield f"readings are corrected: the line of sight {sight_words(run, run.asked.pegs)}"
    yield from _page(run)
    sums = arithmetic(run.rows)
    yield ""
    yield (
        f"backsights {write(sums.backsights)} - foresights {write(sums.foresights)}"
        f" = {write(sums.backsights - sums.foresights)}"
    )
    yield f"rises {write(sums.rises)} - falls {write(sums.falls)} = {write(sums.rises - sums.falls)}"
    yield f"last {write(sums.last)} - first {write(sums.first)} = {write(sums.last - sums.first)}"
    yield f"the arithmetic {'agrees' if sums.agrees else 'does not agree'}; it says nothing of the readings"
    yield from _closing(run)
    yield from _balance(run)


def _closing(run: Levelled) -> Iterator[str]:
    write, unit = writer(run), run.book.unit.name
    if any(row.sight.kind == "intermediate" and row.sight.second is None for row in run.rows):
        yield "intermediate sights are checked by nothing but a second reading"
    if run.misclosure is None:
        yield "misclosure: none, the run ends on no known point"
        return
    yield f"misclosure on {run.closing}, known less computed: {write(run.misclosure)} {unit}"
    yield f"allowed: {write(run.allowed)} {unit} ({allowed_words(run)})"
    if run.asked.adjust != "none":
        done = f"adjusted by {run.asked.adjust}" if run.closes else "not adjusted: it is more than allowed"
        yield f"heights are {done}"


def _balance(run: Levelled) -> Iterator[str]:
    write, unit = writer(run), run.book.unit.name
    apart = unbalance(run.rows)
    if apart is not None:
        yield f"length of the run {write(length_of(run.rows) or 0.0)} {unit}; backsights less foresights {write(apart)}"
    far = max((row.sight for row in run.rows if row.sight.distance), key=lambda s: s.distance or 0.0, default=None)
    bend = curvature_and_refraction(far.distance or 0.0) if far else 0.0
    if far and bend >= SAME:
        words = f"curvature and refraction at {far.point}, the longest sight"
        yield f"{words}: the reading is {write(bend)} {unit} too large"


def _page(run: Levelled) -> Iterator[str]:
    head = ("line", "point", "back", "inter", "fore", "rise", "fall", "sight line", "height")
    wide = run.asked.adjust != "none" and run.closes
    rows: list[tuple[str, ...]] = [(*head, "adjusted") if wide else head]
    write = writer(run)
    for row, final in zip(run.rows, run.heights, strict=True):
        sight, rise = row.sight, row.rise
        cells = [str(sight.line), sight.point]
        cells += [write(sight.reading) if sight.kind == kind else "" for kind in _KINDS]
        cells += [write(rise) if rise is not None and rise >= 0 else ""]
        cells += [write(-rise) if rise is not None and rise < 0 else ""]
        cells += [write(row.line_of_sight) if sight.kind == "backsight" else "", write(row.height)]
        rows.append((*cells, write(final)) if wide else tuple(cells))
    yield from aligned(rows)


def aligned(rows: Sequence[tuple[str, ...]], left: Collection[int] = ()) -> Iterator[str]:
    """Rows of a table in columns. left: numbers of the columns that are set flush left, from 0."""
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    for row in rows:
        cells = enumerate(zip(row, widths, strict=True))
        yield "  ".join(cell.ljust(wide) if at in left else cell.rjust(wide) for at, (cell, wide) in cells).rstrip()


_KINDS = ("backsight", "intermediate", "foresight")


def writer(run: Levelled) -> Callable[[float], str]:
    """How the terminal writes a length [m] of a book: decimals of its unit, three, or as many as its readings have."""
    notation, places = notation_of(run), places_of(run)
    return lambda metres: notation.decimal(metres, places)


def notation_of(run: Levelled) -> Notation:
    """How lengths of a book are written."""
    return Notation(run.book.unit)


def peg_lines(text: str, run: Levelled) -> Iterator[str]:
    """The two-peg test: what the line of sight does, and the correction to each sight. Raises InputError."""
    unit, write = run.book.unit, writer(run)
    test = _pegs(text, unit)
    (_, _, c, d), away, slope = test.readings, test.away, test.slope
    per = 100 * float(unit.metres)
    yield f"two pegs: the line of sight {sight_words(run, slope)}"
    yield f"  from the second place A should read {write(c - slope * away[2])}, B {write(d - slope * away[3])}"
    sign = "subtract" if slope > 0 else "add"
    yield f"  {sign} {write(abs(slope) * per)} for each 100 {unit.name} of sight, or keep sights equal"
    yield "  have the level set right"
    apart = unbalance(run.rows)
    if run.asked.pegs is not None:
        yield "  the readings of this book are corrected for it"
    elif apart is not None:
        way = "high" if slope * apart > 0 else "low"
        yield f"  on this run it makes the last height {write(abs(slope * apart))} {way}"


def sight_words(run: Levelled, slope: float) -> str:
    """What a line of sight does that rises so much a metre: rises 0.020 ft in 100 ft."""
    unit, write = run.book.unit, writer(run)
    way = "rises" if slope > 0 else "falls"
    return f"{way} {write(abs(slope) * 100 * float(unit.metres))} {unit.name} in 100 {unit.name}"
