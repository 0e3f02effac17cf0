"""What does the terminal say of taped readings: each corrected, the corners, what is out, and what to move?"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from textwrap import wrap
from typing import Any

from staking.errors import InputError, TextError
from staking.field.by_tape import compared_by_tape
from staking.field.compared import Comparison, HowMeasured
from staking.field.cure import Check, Cure, Move
from staking.field.tape_book import Today, read_tape_book, spans_of
from staking.field.tape_check import Taped, from_sides, held_corners, lean_of
from staking.field.tape_reliability import unchecked
from staking.field.taped import Apart, slab_spans, tie_spans
from staking.field.verdict import as_a_whole
from staking.field.words import side_words, stay_words
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout
from staking.physical import parse_force, parse_temperature
from staking.sitefile.places import mistake, plain
from staking.sitefile.text import decode, read_bytes
from staking.survey.points import Point
from staking.survey.tape import Corrections, Held, Tape, corrections, reading_for
from staking.units import parse_length

_ODD = 1e-9  # metres; a correction below this is none
WIDE = 100  # characters of a line
BLANK = ("from", "to", "reading", "temperature", "pull", "support", "note")


def taped_of(layout: Layout, path: Path, asked: Mapping[str, Any]) -> Taped:
    """The book in a file, held against a layout. Raises InputError for whatever cannot be read in book or options."""
    file = plain(str(path), 200)
    held = _asked("--hold", lambda: held_corners(layout, asked["hold"]))
    error = _asked("--error", lambda: _length(layout, asked["error"])) if asked["error"] else None
    if error is not None and not error > 0:
        raise InputError(mistake("bad-value", "--error must be more than 0", Place("")))
    text = decode(read_bytes(path, absent="write one with `staking tape SITE --blank`"), file)
    return Taped(layout, read_tape_book(text, file, layout, today_of(asked)), held, error)


def how_taped(taped: Taped, path: Path, asked: Mapping[str, Any]) -> HowMeasured:
    """Who taped, when and with what, as the options and the site file say. The error is that of the readings."""
    stated = taped.layout.site.declared.as_built
    return HowMeasured(
        file=taped.book.file,
        fingerprint=hashlib.sha256(read_bytes(path)).hexdigest(),
        method=asked["method"] or "",
        instrument=asked["instrument"] or stated.instrument,
        by=asked["by"] or "",
        date=asked["date"] or "",
    )


def today_of(asked: Mapping[str, Any]) -> Today:
    """How the tape is held, by the options."""
    warm, pull = asked["temperature"], asked["pull"]
    return Today(
        _asked("--temperature", lambda: parse_temperature(warm)) if warm else None,
        _asked("--pull", lambda: parse_force(pull)) if pull else None,
        asked["support"] or "",
    )


def _asked(option: str, read: Any) -> Any:
    try:
        return read()
    except TextError as error:
        raise InputError(mistake("bad-value", f"{option}: {error.message}", Place(""), error.remedy)) from None


def _length(layout: Layout, text: str) -> float:
    return float(parse_length(text, layout.site.unit))


def blank_lines(layout: Layout) -> Iterator[str]:
    """A book to fill in: the sides, diagonals and ties of this site. What is left empty is not read."""
    yield f"# tape book of {plain(layout.site.declared.site.name)}, revision {layout.site.revision}"
    yield "# temperature as 68 F or 20 C, pull as 12 lb or 50 N, support: ground, ends, or a number of equal spans"
    yield ",".join(BLANK)
    for span in (*slab_spans(layout), *tie_spans(layout)):
        words = span.words if span.kind != "tie" else span.words.replace(",", " ")
        yield f"{span.start},{span.end},,,,,{words}"


def whole_of(taped: Taped) -> Comparison | None:
    """The corners held against the layout, where ties place them."""
    tied = taped.fit is not None and taped.fit.tied
    return compared_by_tape(taped, HowMeasured(taped.book.file, "")) if tied else None


def to_settle(whole: Comparison | None) -> tuple[Finding, ...]:
    """What the corners found say against the drawing and its lines; the readings' own findings are told already."""
    found = whole.findings if whole else ()
    return tuple(each for each in found if each.code.startswith("measured-") and each.severity >= Severity.STRONG)


def tape_lines(taped: Taped, whole: Comparison | None) -> Iterator[str]:
    """Readings, corners, checks, and what to do: the last lines are what the crew is after. whole: as `whole_of`."""
    yield from _reading_lines(taped)
    if taped.fit is not None:
        yield ""
        yield from _corner_lines(taped, whole)
        yield ""
        yield from _check_lines(taped)
    yield ""
    yield from _cure_lines(taped, whole)
    yield "A setback has no plus tolerance, and nothing here approves anything."


def _reading_lines(taped: Taped) -> Iterator[str]:
    """Each reading and the level distance it stands for; where something was corrected, part by part."""
    write, readings = taped.layout.notation, taped.book.readings
    fixed = any(abs(reading.corrections.total) > _ODD for reading in readings)
    head = ("line", "from", "to", "what", "read", *(("level distance",) if fixed else ()), "residual")
    left = _residuals(taped)
    rows = [
        (
            str(reading.line),
            reading.span.start,
            reading.span.end,
            reading.span.words,
            write.length(reading.read),
            *((write.both(reading.value),) if fixed else ()),
            left[number],
        )
        for number, reading in enumerate(readings)
    ]
    yield f"Readings of {taped.book.file}"
    yield from _columns([head, *rows])
    if taped.verdict is not None:
        yield "residual: what a reading would have to change so that all agree"
    for reading in readings:
        if abs(reading.corrections.total) > _ODD:
            yield f"line {reading.line}: {write.both(reading.read)} {_parts(taped.layout, reading.corrections, 1)}"


def _residuals(taped: Taped) -> list[str]:
    """A word for each reading of the book: its residual, or that it was left out."""
    if taped.verdict is None:
        return ["-" for _ in taped.book.readings]
    left = iter(taped.verdict.fit.residuals)
    return [
        "left out" if number in taped.left_out else _signed(taped.layout, next(left))
        for number in range(len(taped.book.readings))
    ]


def _parts(layout: Layout, found: Corrections, sign: int) -> str:
    """The corrections that are not nothing, with their signs, in decimals of the site."""
    parts = {
        "tape": found.length,
        "warmth": found.temperature,
        "pull": found.pull,
        "sag": found.sag,
        "slope": found.slope,
    }
    said = [f"{name} {_decimal(layout, sign * size)}" for name, size in parts.items() if abs(size) > _ODD]
    return ", ".join(said) or "nothing to correct"


def _decimal(layout: Layout, metres: float) -> str:
    """A small length in decimals, one place more than the site writes, with its sign."""
    text = layout.notation.decimal(metres, layout.notation.decimals + 1)
    return f"{text if text.startswith('-') else '+' + text} {layout.site.unit.name}"


def _signed(layout: Layout, metres: float) -> str:
    """A small length as a tape shows it, with its sign."""
    text = layout.notation.length(abs(metres))
    return "0" if text == layout.notation.length(0.0) else f"{'-' if metres < 0 else '+'}{text}"


def _columns(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    for row in rows:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()


def _corner_lines(taped: Taped, whole: Comparison | None) -> Iterator[str]:
    fit = taped.fit
    if fit is None:
        return
    if fit.tied:
        where = "to the wall lines of the drawing"
    elif fit.laid_on:
        where = f"with {', '.join(fit.laid_on)} laid on the drawing"
    else:
        where = "as near to the drawing as the ties let them"
    yield f"Corners by all readings together, {where}"
    for name, sides in from_sides(taped.layout, fit.at):
        index = taped.layout.corner_names.index(name)
        label = taped.layout.slab.form.outline.corner_label(index)
        yield f"  {name}, {label}: " + ", ".join(side_words(side, taped.layout.notation) for side in sides)
    leans = lean_of(taped.layout, fit.at)
    if leans is not None and abs(leans.off) >= taped.step:
        write = taped.layout.notation.length
        yield f"  out of square by {write(abs(leans.off))} in {write(leans.over)}, at {leans.corner}"
    elif leans is not None:
        yield f"  square at every corner within {taped.layout.notation.length(taped.step)}"
    if whole is not None:
        yield from (f"  {sentence.text}" for sentence in as_a_whole(whole))


def _check_lines(taped: Taped) -> Iterator[str]:
    fit = taped.fit
    if fit is None:
        return
    rows: list[tuple[str, ...]] = [("check", "what", "is", "must be", "off by", "may differ", "")]
    rows += [_check_row(taped, check, fit.at) for check in taped.checks]
    yield "Checks, by the corners found"
    yield from _columns(rows)
    sources = dict.fromkeys(check.allowed.source for check in taped.checks if check.allowed.plus_minus is not None)
    for source in sources:
        yield from wrap(f"may differ: {source}", WIDE)


def _check_row(taped: Taped, check: Check, at: Mapping[str, Point]) -> tuple[str, ...]:
    write, limit = taped.layout.notation, check.allowed.plus_minus
    return (
        f"{check.span.start} - {check.span.end}",
        check.span.words,
        write.length(abs(check.off(at)) if isinstance(check.span, Apart) else check.span.length(at)),
        write.length(check.design),
        _signed(taped.layout, check.off(at)),
        "no figure" if limit is None else write.allowance(limit),
        check.answer(at).upper() if check.answer(at) == "out" else check.answer(at),
    )


def _cure_lines(taped: Taped, whole: Comparison | None) -> Iterator[str]:
    found = taped.cure
    yield "What to do"
    if found is None:
        yield "  Measure first, as said above. Nothing is to be moved on these readings."
        return
    for number in sorted(taped.left_out):
        yield f"  Measure {taped.book.readings[number].words} again: it is left out here."
    if not found.moves:
        yield from _unmoved(found, whole)
        return
    yield from _first(taped)
    placed = next((each for each in whole.findings if each.code == "measured-placed"), None) if whole else None
    if placed is not None:
        yield f"  Its shape is right: {placed.remedy}."
        yield "  Or corner by corner:"
    for move in found.moves:
        yield f"  {move_words(taped, move)}"
    if found.stays:
        yield f"  {stay_words(found.stays)}."
    yield from _after_lines(taped, found)


def _unmoved(found: Cure, whole: Comparison | None) -> Iterator[str]:
    """Every length is in, and yet a corner may be off both its lines, by more than its place may differ."""
    remedies = [each.remedy for each in to_settle(whole) if each.remedy]
    if found.cures and remedies:
        yield "  Every length is within what it may differ, and yet places are out:"
        yield from (f"  {line}" for remedy in remedies for line in remedy.splitlines())
    else:
        yield f"  {'Nothing is to be moved.' if found.cures else 'Nothing that may be moved brings it in.'}"


def _first(taped: Taped) -> Iterator[str]:
    """What to measure once more before a corner is moved, since a slip there would not show."""
    weak = unchecked(taped.fit.net) if taped.fit is not None else {}
    if weak and taped.fit is not None:
        words = ", ".join(taped.fit.net.readings[number].words for number in weak)
        yield f"  First measure {words} once more: the other readings would not show a slip there."


def move_words(taped: Taped, move: Move) -> str:
    """The instruction: move 103 (corner 3) toward 104 by 3/8 in."""
    number = taped.layout.corner_names.index(move.way.corner) + 1
    who = move.way.corner if move.way.corner == str(number) else f"{move.way.corner} (corner {number})"
    amount = taped.layout.notation.allowance(abs(move.by))
    if not move.way.toward:
        return f"Move {who} square {'out of' if move.by > 0 else 'into'} the slab by {amount}."
    return f"Move {who} {'toward' if move.by > 0 else 'away from'} {move.way.toward} by {amount}."


def _after_lines(taped: Taped, found: Cure) -> Iterator[str]:
    """What the tape finds after the moves, for every check that they change."""
    write = taped.layout.notation.length
    moving = {move.way.corner for move in found.moves}
    read = [check for check in taped.checks if not isinstance(check.span, Apart)]
    changed = [check for check in read if moving & set(check.span.ends)]
    yield "  Then measure again. It should be, level:"
    for check in changed:
        answer = check.answer(found.after)
        still = ", still out" if answer == "out" else ""
        yield f"    {check.span.start} - {check.span.end}  {write(check.span.length(found.after))}{still}"


def set_lines(layout: Layout, wanted: str, asked: Mapping[str, Any]) -> Iterator[str]:
    """What to pull on this tape, today, to set a level distance. Raises InputError."""
    tape, today = layout.site.declared.tape.as_survey(), today_of(asked)
    distance = _asked("--set", lambda: _length(layout, wanted))
    if not distance > 0:
        raise InputError(mistake("bad-value", "--set must be more than 0", Place("")))
    rise = _asked("--rise", lambda: _length(layout, asked["rise"])) if asked["rise"] else 0.0
    spans = _asked("--support", lambda: spans_of(today.support, distance, tape.nominal, layout.site.unit))
    held = Held(today.temperature, today.pull, spans, rise)
    try:
        reading = reading_for(distance, tape, held)
        found = corrections(reading, tape, held)
    except ValueError as error:
        raise InputError(mistake("bad-value", f"--set: {error}", Place(""))) from None
    write = layout.notation
    yield f"To set {write.both(distance)} level, pull until this tape reads {write.both(reading)}."
    yield f"  from the distance to the reading: {_parts(layout, found, -1)}"
    yield from (f"  {words}" for words in _unsaid(tape, held))


def _unsaid(tape: Tape, held: Held) -> Iterator[str]:
    """What was not corrected, since nobody says it."""
    if tape.true == tape.nominal:
        yield "the tape is taken to be as long as it says ([tape] states no true_length)"
    if held.temperature is None:
        yield "warmth is not corrected: say how warm the tape is with --temperature"
    if held.pull is None:
        yield "pull and sag are not corrected: say what the balance shows with --pull"
    elif tape.pull is None or tape.section == 0:
        yield "pull is not corrected: [tape] states no pull, or no section"
    if held.pull is not None and held.spans and tape.weight == 0:
        yield "sag is not corrected: [tape] states no weight"


def tape_json(taped: Taped) -> str:
    """The same as JSON: metres."""
    fit, found = taped.fit, taped.cure
    readings = [
        {
            "line": r.line,
            "from": r.span.start,
            "to": r.span.end,
            "kind": r.span.kind,
            "read": r.read,
            "level_distance": r.value,
            "left_out": number in taped.left_out,
        }
        for number, r in enumerate(taped.book.readings)
    ]
    checks = [
        {
            "from": c.span.start,
            "to": c.span.end,
            "kind": c.span.kind,
            "design": c.design,
            "measured": c.span.length(fit.at),
            "allowed": c.allowed.plus_minus,
            "answer": c.answer(fit.at),
        }
        for c in taped.checks
        if fit is not None
    ]
    moves = [{"corner": m.way.corner, "toward": m.way.toward, "by": m.by} for m in (found.moves if found else ())]
    corners = [
        {"name": name, "sides": [{"side": s.side, "out": s.out, "along": s.along} for s in sides]}
        for name, sides in (from_sides(taped.layout, fit.at) if fit else ())
    ]
    return json.dumps(
        {
            "unit": "m",
            "file": taped.book.file,
            "redundancy": (taped.verdict.fit.net if taped.verdict else taped.net).redundancy,
            "readings": readings,
            "corners": corners,
            "checks": checks,
            "moves": moves,
            "cures": found.cures if found else None,
        },
        indent=2,
    )
