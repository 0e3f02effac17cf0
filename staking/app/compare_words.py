"""What `staking compare` reads and says: a line a point, then placement, shape, margins and what it comes to."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from staking.app.points_words import for_command_line
from staking.errors import InputError, TextError
from staking.field.compare import compare
from staking.field.compared import Allowed, Answer, Comparison, Deviation, HowMeasured, MarginNow
from staking.field.levels_words import raise_words, work
from staking.field.measured import error_of_instrument, read_measured
from staking.field.words import figure_words, up_words, wall_words
from staking.findings import Finding, Place
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.sitefile.places import mistake
from staking.sitefile.pointlists.opening import Asked
from staking.survey.points import Vector
from staking.units import parse_length

_PART = "part only"  # of the corners were measured, and these are within
_MARKS: Mapping[Answer, str] = {"within": "ok", "out": "OUT", "not judged": "not judged"}


def compared(layout: Layout, measured: Path, options: Mapping[str, Any]) -> Comparison:
    """A measured list held against a layout. Raises InputError for a list or an option that cannot be read."""
    stated = layout.site.declared.as_built
    how = HowMeasured(
        file="",
        fingerprint="",
        method=options["method"] or stated.method,
        instrument=options["instrument"] or stated.instrument,
        by=options["by"] or "",
        date=options["date"] or "",
        error=_length(layout, options["error"], "--error") or stated.error or error_of_instrument(layout),
        error_up=_length(layout, options["error_up"], "--error-up") or stated.error_up,
    )
    limit = _length(layout, options["limit"], "--limit")
    asked = Asked(options["columns"], options["unit"] or "", options["decimal"] or "", layout.site.unit, "the command")
    try:
        points, how = read_measured(layout, measured, asked, how)
    except InputError as error:
        raise InputError(*map(for_command_line, error.findings)) from None
    return compare(layout, points, how, limit=limit, placed=options["placed"])


def _length(layout: Layout, text: str | None, option: str) -> float | None:
    """A length above 0 [m], None where it is not given."""
    if not text:
        return None
    try:
        length = float(parse_length(text, layout.site.unit))
    except TextError as error:
        raise InputError(mistake("bad-value", f"{option}: {error.message}", Place(""), error.remedy)) from None
    if length <= 0:
        raise InputError(mistake("bad-value", f"{option} must be more than 0", Place("")))
    return length


def compare_lines(found: Comparison) -> Iterator[str]:
    """Everything about a comparison but its findings, in plain lines; the overall sentence last."""
    yield from _points(found)
    if found.deviations:
        for part in (_tolerances(found), _margins(found), _raising(found)):
            if lines := list(part):
                yield from ("", *lines)
        yield ""
    for line in found.verdict:
        partly = line is found.verdict[-1] and bool(found.missing) and line.answer == "within"
        yield f"{_PART if partly else _MARKS[line.answer]:10} {line.text}"


def _raising(found: Comparison) -> Iterator[str]:
    """What to raise and lower, where heights are out; those in doubt are to be read again first."""
    levels = found.levels
    if levels is None or levels.answer != "out":
        return
    for mark in levels.marks:
        if mark.raise_by:
            again = "read it again; if it stands so, " * (mark.name == levels.odd)
            yield f"{mark.name} {mark.words}: {again}{raise_words(mark.raise_by, found.layout.notation)}"
    yield from work(found.layout, levels)


def _points(found: Comparison) -> Iterator[str]:
    named = sum(each.by_name for each in found.deviations)
    if found.deviations:
        count = len(found.deviations)
        many = "point" if count == 1 else "points"
        yield f"{count} {many} compared, {named} by name, {count - named} by their place{_record(found)}"
    for each in (*found.corners, *(each for each in found.deviations if each.design.corner is None)):
        yield _point(found, each)
    for point in found.missing if found.deviations else ():
        yield f"{point.name} {point.words}: not measured"


def _record(found: Comparison) -> str:
    """Who measured, when, with what and how, as far as it was said."""
    how = found.how
    by, on = f"by {how.by}" if how.by else "", f"on {how.date}" if how.date else ""
    said = [words for words in (by, on, how.instrument, how.method) if words]
    return f"; measured {', '.join(said)}" if said else ""


def _point(found: Comparison, each: Deviation) -> str:
    write = found.layout.notation
    taken = "" if each.by_name else f", measured as {each.measured.name}"
    words = wall_words(each, write)
    if each.up is not None:
        words += f"; {up_words(each.up, write)}"
    answer: Answer = "out" if "out" in (each.answer, each.answer_up) else each.answer
    return f"{each.design.name} {each.design.words}{taken}: {words}; {_MARKS[answer]}"


def _tolerances(found: Comparison) -> Iterator[str]:
    """Each figure that was judged by, once, with where it comes from."""
    used = [("position", each.allowed) for each in found.deviations if each.design.what != "given"]
    used += [("given points", each.allowed) for each in found.deviations if each.design.what == "given"]
    used += [("height", each.allowed_up) for each in found.deviations if each.answer_up != "not judged"]
    used += [(each.kind, each.allowed) for each in found.lengths if each.kind != "tie"]
    by_source: dict[str, dict[str, list[float]]] = {}
    for what, allowed in dict.fromkeys(used):
        figures = by_source.setdefault(allowed.source, {}).setdefault(what, [])
        figures += [allowed.plus_minus] if allowed.plus_minus is not None else []
    for source, by_kind in by_source.items():
        words = (f"{what} {_figures(figures, found.layout.notation)}" for what, figures in by_kind.items())
        yield f"allowed: {', '.join(words)} ({source})"


def _figures(figures: Sequence[float], write: Notation) -> str:
    """One figure, or the least and the largest of several that go with lengths."""
    least, most = (figure_words(end(figures), write) if figures else "no figure" for end in (min, max))
    return least if least == most else f"{least} to {most}, by its length"


def _margins(found: Comparison) -> Iterator[str]:
    for each in found.margins:
        yield _margin(found, each)


def _margin(found: Comparison, each: MarginNow) -> str:
    write, design = found.layout.notation, each.design
    what = f"{design.rule} {design.of}" + ("" if design.what == "outline" else f", {design.what}")
    if each.now is None:
        return f"{what}: drawn with {write.length(design.room)} to spare; as measured not known"
    over = "; OVER THE LINE" if each.now.room < 0 else ""
    return f"{what}: {write.length(each.now.room)} to spare as measured, {write.length(design.room)} as drawn{over}"


def compare_json(found: Comparison) -> str:
    """The same as JSON: metres on the ground, degrees clockwise, coordinates in metres as the file counts."""
    return json.dumps(
        {
            "how": {name: getattr(found.how, name) for name in HowMeasured.__dataclass_fields__},
            "unit": "m",
            "placed": found.placed,
            "points": [_point_json(found, each) for each in found.deviations],
            "missing": [point.name for point in found.missing],
            "strangers": [point.name for point in found.strangers],
            "placement": _placement_json(found),
            "lengths": [
                {
                    "kind": each.kind,
                    "start": each.start,
                    "end": each.end,
                    "design": each.design,
                    "measured": each.measured,
                    "difference": each.difference,
                    **_allowed_json(each.allowed, each.answer),
                }
                for each in found.lengths
            ],
            "angles": [
                {"corner": each.corner, "design": each.design, "measured": each.measured, "off": each.off}
                for each in found.angles
            ],
            "margins": [
                {
                    "rule": each.design.rule,
                    "of": each.design.of,
                    "what": each.design.what,
                    "room_as_drawn": each.design.room,
                    "room_as_measured": None if each.now is None else each.now.room,
                }
                for each in found.margins
            ],
            "verdict": [{"text": line.text, "answer": line.answer} for line in found.verdict],
            "findings": [_finding_json(each) for each in found.findings],
        },
        indent=2,
    )


def _point_json(found: Comparison, each: Deviation) -> dict[str, object]:
    at = found.layout.frame.to_file(each.measured.at)
    return {
        "name": each.design.name,
        "words": each.design.words,
        "measured_as": each.measured.name,
        "by_name": each.by_name,
        "north": at.north,
        "east": at.east,
        "elevation": each.measured.up,
        "off_north": each.plan.north,
        "off_east": each.plan.east,
        "off": each.plan.length,
        "off_up": each.up,
        "sides": [{"side": side.side, "out": side.out, "along": side.along} for side in each.sides],
        **_allowed_json(each.allowed, each.answer),
        "allowed_up": each.allowed_up.plus_minus,
        "answer_up": each.answer_up,
    }


def _allowed_json(allowed: Allowed, answer: Answer) -> dict[str, object]:
    return {"allowed": allowed.plus_minus, "source": allowed.source, "answer": answer}


def _placement_json(found: Comparison) -> dict[str, object] | None:
    placed = found.placement
    if placed is None:
        return None
    return {
        "shift_north": placed.shift.north,
        "shift_east": placed.shift.east,
        "turn": placed.turn,
        "scale": placed.scale,
        "largest_placed": placed.largest_placed,
        "largest_shape": placed.largest_shape,
        "shape": {name: _step_json(rest) for name, rest in placed.shape},
        "redundancy": placed.redundancy,
        "shift_error": placed.shift_error,
        "turn_error": placed.turn_error,
        "left_out": list(placed.left_out),
    }


def _step_json(step: Vector) -> dict[str, float]:
    return {"north": step.north, "east": step.east}


def _finding_json(each: Finding) -> dict[str, object]:
    line = each.place.line if each.place else 0
    return {
        "code": each.code,
        "severity": each.severity.words,
        "message": each.message,
        "remedy": each.remedy,
        "line": line or None,
    }


def is_out(found: Comparison) -> bool:
    """Whether anything is out or in doubt, or not every corner of the slab was measured, so that nobody knows."""
    return bool(found.missing) or any(line.answer == "out" for line in found.verdict)
