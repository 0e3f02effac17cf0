"""The report of what was set: how far off it is, whether that is within what is allowed, and who measured it how."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import PurePath

from staking.drawing.as_built import MANY, as_built_drawing, drawn, enlargement
from staking.field.compared import Answer, Comparison, HowMeasured
from staking.field.words import up_words
from staking.findings import Severity
from staking.notation import Notation
from staking.sheets.as_built_doubt import doubt_blocks, error_words
from staking.sheets.as_built_nssda import nssda_blocks
from staking.sheets.as_built_tables import (
    angle_blocks,
    corner_blocks,
    length_blocks,
    level_blocks,
    margin_blocks,
    other_blocks,
    placement_blocks,
    taped_blocks,
)
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import facts, finding_lines, foot
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Picture, Sheet, Signatures, Verdict

SIGNED = ("Measured by", "Checked by", "For the owner", "Inspector: seen")
READ_FIRST = (
    "This sheet holds what was measured against what was drawn. It permits nothing: whether concrete may be placed, "
    "the authority and whoever answers for the work decide. What is out is moved before concrete, not after."
)
_WORDS: dict[Answer, str] = {"within": "within", "out": "OUT", "not judged": "not judged"}
_PICTURE, _LEAST_PICTURE = 278.0, 200.0  # points high, so that it stands on the first page below the answer
_MOST_TO_DO = 3  # remedies in the answer; all of them stand further down
_LINE, _LETTERS, _FEW = 13.0, 88, 8  # of the answer: points and letters a line, and lines that cost no picture


def as_built_sheet(comparison: Comparison, record: Sequence[str] = ()) -> Sheet:
    """The sheet: the answer first, then the drawing and the tables, then how it was measured and how sure that is.

    record: a line for each measurement file that the log beside the report names.
    """
    layout = comparison.layout
    blocks: list[Block] = [
        _verdict(comparison),
        Paragraph(READ_FIRST),
        _picture(comparison),
        *corner_blocks(comparison),
        *placement_blocks(comparison),
        *length_blocks(comparison),
        *angle_blocks(comparison),
        *margin_blocks(comparison),
        *level_blocks(comparison),
        *other_blocks(comparison),
        *_how(comparison, record),
        *taped_blocks(comparison),
        *doubt_blocks(comparison),
        *nssda_blocks(comparison),
        *_found(comparison),
        Cautions(ALWAYS),
        Signatures(SIGNED),
    ]
    return Sheet("As-built report", (*facts(layout), *_measured_facts(comparison)), tuple(blocks), foot(layout))


def _measured_facts(comparison: Comparison) -> tuple[tuple[str, str], ...]:
    how = comparison.how
    return (
        ("Measured list", f"{PurePath(how.file).name}, SHA-256 begins {how.fingerprint[:12]}"),
        ("Measured by", _who(how)),
    )


def _who(how: HowMeasured) -> str:
    if not (how.by or how.date):
        return "not stated"
    return f"{how.by or 'not stated by whom'}, {how.date or 'not stated when'}"


def overall(comparison: Comparison) -> Answer:
    """The one answer: out where anything is, else what the last sentence of the verdict comes to."""
    answers = {each.answer for each in comparison.deviations} | {each.answer_up for each in comparison.deviations}
    answers |= {each.answer for each in comparison.lengths} | {each.answer for each in comparison.verdict}
    if comparison.levels:
        answers |= {each.answer for each in comparison.levels.marks}
    if "out" in answers:
        return "out"
    return comparison.verdict[-1].answer if comparison.verdict else "not judged"


def _verdict(comparison: Comparison) -> Verdict:
    return Verdict(_large(comparison), tuple(_lines(comparison)))


def _lines(comparison: Comparison) -> Iterator[tuple[str, str]]:
    """The sentences of the verdict, and after them what to do about what is gravest."""
    yield from ((_WORDS[each.answer], each.text) for each in comparison.verdict)
    grave = [each for each in comparison.findings if each.severity >= Severity.STRONG and each.remedy]
    yield from (("do first", "; ".join(each.remedy.splitlines())) for each in grave[:_MOST_TO_DO])


def _large(comparison: Comparison) -> str:
    """The answer for someone who reads nothing else."""
    if not comparison.deviations:
        return "Nothing could be compared"
    answer, absent = overall(comparison), len(comparison.missing)
    if answer == "out":
        return f"{_worst(comparison)}: settle it before concrete"
    if answer == "not judged":
        return "Not judged: nothing says what is allowed"
    whole = len(comparison.layout.corner_names)
    return "Within what is allowed" + (f", but {absent} of {whole} corners not measured" if absent else "")


def _worst(comparison: Comparison) -> str:
    """What is farthest out, in plan before in height, points before lengths."""
    write = comparison.layout.notation
    plan = [each for each in comparison.deviations if each.answer == "out"]
    if plan:
        most = max(plan, key=lambda each: each.plan.length)
        return f"OUT by {write.small(most.plan.length)} at {most.design.name}"
    high = [each for each in comparison.deviations if each.answer_up == "out" and each.up is not None]
    if high:
        most = max(high, key=lambda each: abs(each.up or 0.0))
        return f"OUT: {most.design.name} {up_words(most.up or 0.0, write)}"
    marks = [each for each in comparison.levels.marks if each.answer == "out"] if comparison.levels else []
    if marks:
        mark = max(marks, key=lambda each: abs(each.up))
        return f"OUT: {mark.name} {up_words(mark.up, write)}"
    lengths = [each for each in comparison.lengths if each.answer == "out"]
    if lengths:
        longest = max(lengths, key=lambda each: abs(each.difference))
        return f"OUT by {write.small(abs(longest.difference))} from {longest.start} to {longest.end}"
    return "OUT" if any(each.answer == "out" for each in comparison.verdict[:-1]) else "IN DOUBT"


def _picture(comparison: Comparison) -> Picture:
    times = enlargement(comparison)
    more = " The other points are named in their table." if len(drawn(comparison)) > MANY else ""
    how = f"enlarged {times} times" if times > 1 else "drawn at their true size"
    if any(each.allowed.plus_minus for each in comparison.corners):
        more = f" Circles: how far a corner may be off.{more}"
    lines = sum(math.ceil(len(text) / _LETTERS) for _, text in _lines(comparison))
    return Picture(
        as_built_drawing(comparison),
        f"Thin and dashed: as computed. Heavy: as measured, differences {how}. Each arrow runs from a point as "
        f"computed to the same as measured, and says by how much.{more}",
        max(_LEAST_PICTURE, _PICTURE - _LINE * max(0, lines - _FEW)),
    )


def _how(comparison: Comparison, record: Sequence[str]) -> Iterator[Block]:
    how, write = comparison.how, comparison.layout.notation
    yield Heading("How it was measured")
    unknown = "not stated"
    yield Bullets(
        (
            f"Method: {how.method or unknown}. Instrument: {how.instrument or unknown}.",
            *((f"Tied to: {how.tied}.",) if how.tied else ()),
            f"Measured by: {how.by or unknown}. Date: {how.date or unknown}.",
            f"List: {PurePath(how.file).name}. SHA-256: {how.fingerprint}.",
            f"Standard error of a measured coordinate{_of_which(how)}: {error_words(how.error, write)}; of a height: "
            f"{error_words(how.error_up, write)}{_of_length(how, write)}.",
        )
    )
    if record:
        yield Paragraph("Measurement files held against this site file so far, by the log beside this report:")
        yield Bullets(tuple(record))


def _of_which(how: HowMeasured) -> str:
    return ", at the worst corner" if how.tied else ""


def _of_length(how: HowMeasured, write: Notation) -> str:
    return "" if how.error_length is None else f"; of a side or diagonal: {error_words(how.error_length, write)}"


def _found(comparison: Comparison) -> Iterator[Block]:
    lines = finding_lines(comparison.findings, Severity.NOTE)
    if lines:
        yield Heading("What else was found")
        yield Bullets(lines)
