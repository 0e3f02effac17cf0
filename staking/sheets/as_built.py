"""The report of what was set: how far off it is, whether that is within what is allowed, and who measured it how."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath

from staking.drawing.as_built import as_built_drawing, enlargement
from staking.field.compared import Answer, Comparison
from staking.findings import Severity
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
_PICTURE = 330.0  # points high


def as_built_sheet(comparison: Comparison) -> Sheet:
    """The sheet: the answer first, then the drawing and the tables, then how it was measured and how sure that is."""
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
        *_how(comparison),
        *doubt_blocks(comparison),
        *nssda_blocks(comparison),
        *_found(comparison),
        Cautions(ALWAYS),
        Signatures(SIGNED),
    ]
    return Sheet("As built", (*facts(layout), *_measured_facts(comparison)), tuple(blocks), foot(layout))


def _measured_facts(comparison: Comparison) -> tuple[tuple[str, str], ...]:
    how = comparison.how
    return (
        ("Measured list", f"{PurePath(how.file).name}, SHA-256 begins {how.fingerprint[:12]}"),
        ("Measured by", how.by or "not stated"),
        ("Measured on", how.date or "not stated"),
    )


def overall(comparison: Comparison) -> Answer:
    """The one answer: out where anything is, within where something was judged, else not judged."""
    answers = {each.answer for each in comparison.deviations} | {each.answer_up for each in comparison.deviations}
    answers |= {each.answer for each in comparison.lengths} | {each.answer for each in comparison.verdict}
    if comparison.levels:
        answers |= {each.answer for each in comparison.levels.marks}
    return "out" if "out" in answers else "within" if "within" in answers else "not judged"


def _verdict(comparison: Comparison) -> Verdict:
    lines = tuple((_WORDS[each.answer], each.text) for each in comparison.verdict)
    return Verdict(_large(comparison), lines)


def _large(comparison: Comparison) -> str:
    answer, absent = overall(comparison), len(comparison.missing)
    if answer == "out":
        return "OUT: move first"
    if answer == "not judged":
        return "Not judged: there is no tolerance, or nothing to hold against one"
    whole = len(comparison.layout.corner_names)
    return f"Within, but {absent} of {whole} corners not measured" if absent else "Within what is allowed"


def _picture(comparison: Comparison) -> Picture:
    times = enlargement(comparison)
    drawn = f"enlarged {times} times" if times > 1 else "drawn at their true size"
    return Picture(
        as_built_drawing(comparison),
        f"Thin and dashed: as computed. Heavy: as measured, differences {drawn}. Each arrow runs from a point as "
        "computed to the same as measured, and says by how much.",
        _PICTURE,
    )


def _how(comparison: Comparison) -> Iterator[Block]:
    how, write = comparison.how, comparison.layout.notation
    yield Heading("How it was measured")
    unknown = "not stated"
    yield Bullets(
        (
            f"Method: {how.method or unknown}. Instrument: {how.instrument or unknown}.",
            f"Measured by: {how.by or unknown}. Date: {how.date or unknown}.",
            f"List: {how.file}. SHA-256: {how.fingerprint}.",
            f"Standard error of a measured coordinate: {error_words(how.error, write)}; of a height: "
            f"{error_words(how.error_up, write)}.",
        )
    )


def _found(comparison: Comparison) -> Iterator[Block]:
    lines = finding_lines(comparison.findings, Severity.NOTE)
    if lines:
        yield Heading("What else was found")
        yield Bullets(lines)
