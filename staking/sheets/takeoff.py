"""What must be ordered and cut: boards, stakes, base, sheet, steel and concrete, each with its arithmetic."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from types import MappingProxyType

from staking.findings import Finding, Severity
from staking.kinds.lumber import SOURCE
from staking.layout.computed import Layout
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import facts, finding_lines, foot, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Sheet, Signatures, Table
from staking.sheets.takeoff_rows import Row, rows_of

CAUTIONS = (
    "Wet concrete burns skin and eyes: gloves, boots, goggles, and water at hand.",
    "Guard bars and stakes that stick up and that somebody could fall on (29 CFR 1926.701(b), for bars).",
    "Thickness, reinforcement, joints and footings belong to licensed design and to the local code. "
    "Here they are counted as declared, not designed.",
)
SPLIT = (
    "The concrete is split where its height or depth changes, so that no piece lies over another. A rectangle is "
    "length by width, any other piece its area. Every figure is computed before it is rounded: sums "
    "done by hand from printed figures may differ in the last digit."
)


def takeoff_sheet(layout: Layout, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet. What is not declared is named, with what to add."""
    blocks: list[Block] = [Cautions((*CAUTIONS, *ALWAYS))]
    for group, rows in groupby(rows_of(layout), key=lambda row: row.group):
        blocks += _group(layout, group, list(rows))
    if notes := tuple(_missing(layout)):
        blocks += [Heading("Not counted"), Bullets(notes)]
    own = tuple(each for each in findings if each.code.startswith(("forms-", "joints-", "load-")))
    if lines := finding_lines(own, Severity.NOTE):
        blocks += [Heading("Findings about quantities"), Bullets(lines)]
    blocks.append(Signatures(("Counted by", "Checked by")))
    return Sheet("Forms and quantities", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite))


def _group(layout: Layout, group: str, rows: list[Row]) -> Iterator[Block]:
    yield Heading(group)
    shown = tuple((row.item, row.quantity, row.how) for row in rows)
    yield Table(("what", "quantity", "how"), shown, (1.6, 1.8, 3.8))
    if words := _words(layout).get(group):
        yield Paragraph(words)


def _words(layout: Layout) -> dict[str, str]:
    return {
        "Forms": _form_words(layout),
        "Stakes and braces": "Spacing and a stake at every joint of boards: Masonry and Concrete (2004), p. 47, which "
        "has 3 to 4 ft.",
        "Base course": "As compacted; what is delivered loose is more, by the supplier's figure.",
        "Vapour sheet": "Strips lie along the longer extent of the slab, over all of it; laps at the ends of rolls and "
        "what is turned up at edges come on top. Parts are not counted.",
        "Reinforcement (schedule only)": "Counted over the whole extent of the slab, without its parts"
        + ("." if layout.takeoff and layout.takeoff.whole else ", so that where it is set back there is some left."),
        "Concrete": SPLIT,
    }


def _form_words(layout: Layout) -> str:
    forms, write = layout.site.declared.forms, layout.notation.length
    if forms is None:
        return ""
    thick, high = (write(each) for each in forms.size)
    board = f"{forms.board}: actual {thick} x {high} ({SOURCE})" if forms.board else f"Actual {thick} x {high}"
    return (
        f"{board}. Boards stand outside the concrete. Strings are set the board's thickness outside the marks "
        "(Masonry and Concrete (2004), p. 46), and boards kept just off the string. At a square "
        "outside corner a board runs past the next one, which butts against it; at an inside corner the next "
        "one begins beyond its thickness; other corners are mitred. The boards of a part butt against the main form."
    )


def _missing(layout: Layout) -> Iterator[str]:
    declared, takeoff = layout.site.declared, layout.takeoff
    tables = {
        "[forms]": declared.forms,
        "[concrete]": declared.concrete,
        "[base]": declared.base,
        "[vapour_sheet]": declared.vapour_sheet,
        "[[reinforcement]]": declared.reinforcement or None,
    }
    if absent := [name for name, table in tables.items() if table is None]:
        yield f"Not declared: {', '.join(absent)}. Add them to the site file to have them counted."
    if forms := declared.forms:
        keys = (
            ("lengths", forms.lengths),
            ("stake_spacing", forms.stake_spacing),
            ("brace_spacing", forms.brace_spacing),
        )
        for key, value in keys:
            if not value:
                yield f"[forms] has no {key}: add it to have {_COUNTED[key]} counted."
    if declared.concrete and takeoff and not takeoff.solids:
        yield "No volume of concrete: add thickness to [slab]."
    if declared.concrete and declared.concrete.waste is None:
        yield (
            "[concrete] has no waste, and nothing is added. Published allowances: 3 % on earth and 5 % for "
            "foundations (estimating books quoted in Concrete Construction), 10 % for a small slab (trade magazine)."
        )
    if declared.concrete and declared.concrete.truck is None:
        yield "[concrete] has no truck: add what one load holds to have loads counted."


_COUNTED: Mapping[str, str] = MappingProxyType(
    {"lengths": "boards", "stake_spacing": "stakes", "brace_spacing": "braces"}
)
