"""What must be ordered and cut: forms, stakes, base, sheet, steel and concrete, each with its arithmetic."""

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
from staking.sheets.takeoff_below import STEEL
from staking.sheets.takeoff_row import Row
from staking.sheets.takeoff_rows import bought, rows_of

CAUTIONS = (
    "Wet concrete burns skin and eyes: gloves, boots, goggles, and water at hand.",
    "Guard bars and stakes that stick up and that somebody could fall on (29 CFR 1926.701(b), for bars).",
    "Thickness, reinforcement, joints and footings belong to licensed design and to the local code. "
    "Here they are counted as declared, not designed.",
)
SPLIT = (
    "The concrete is split where its height or depth changes, so that no piece lies over another. {hand}Every figure "
    "is computed before it is rounded: sums done by hand from printed figures may differ in the last digit."
)
HAND = (
    "Plans are in feet, thicknesses in inches over 12, so that a product is cubic feet; 27 of them are a cubic yard. "
)
EARTH = (
    "In place, neither loosened nor compacted. Each place counts once, for the deepest that is dug there; the ground "
    "sheet has the ground it is counted from, and two other ways that check it."
)
JOINTS = "Joints are proposed as straight lines across the whole slab; where they lie belongs to the design."


def takeoff_sheet(layout: Layout, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet. What is not declared is named, with what to add."""
    counted = rows_of(layout)
    blocks: list[Block] = []
    if orders := bought(counted):
        words = "Its arithmetic is below; thickness, steel and joints as declared, not designed."
        blocks += [Heading("To order"), Table(("what", "quantity"), orders, (4.0, 2.6)), Paragraph(words)]
    blocks.append(Cautions((*CAUTIONS, *ALWAYS)))
    for group, rows in groupby(counted, key=lambda row: row.group):
        blocks += _group(layout, group, list(rows))
    if notes := tuple(_missing(layout)):
        blocks += [Heading("Not counted"), Bullets(notes)]
    own = tuple(each for each in findings if each.code.startswith(OWN))
    if lines := finding_lines(own, Severity.NOTE):
        blocks += [Heading("Findings about quantities"), Bullets(lines)]
    blocks.append(Signatures(("Counted by", "Checked by")))
    return Sheet("Forms and quantities", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite))


def _group(layout: Layout, group: str, rows: list[Row]) -> Iterator[Block]:
    yield Heading(group)
    shown = tuple((row.item, row.quantity, row.how) for row in rows)
    yield Table(("what", "quantity", "how"), shown, (1.7, 1.1, 4.4))
    if words := _words(layout).get(group):
        yield Paragraph(words)


def _words(layout: Layout) -> dict[str, str]:
    metric = layout.site.unit.name == "m"
    return {
        "Earth": EARTH,
        "Forms": _form_words(layout),
        "Stakes and braces": "Spacing and a stake at every joint of boards: Masonry and Concrete (2004), p. 47, which "
        "has 3 to 4 ft for forms one or two boards high; a how-to article has 32 in for a slab of 4 in "
        "and 24 in for one of 12 in. Panels are held as their maker says.",
        "Base course": _base_words(layout),
        "Vapour sheet": "Strips lie along the longer extent of the slab, over all of it. What goes down into thickened "
        "edges, and parts, are not counted.",
        STEEL: _steel_words(layout),
        "Concrete": SPLIT.format(hand="" if metric else HAND),
        "Contraction joints": JOINTS,
    }


def _base_words(layout: Layout) -> str:
    base = layout.site.declared.base
    absent = [key for key in ("loose", "waste") if base is not None and getattr(base, key) is None]
    if not absent:
        return "How much more it is when loose is the supplier's figure."
    return f"[base] has no {' and no '.join(absent)}: nothing is added for what compaction or spilling takes."


def _steel_words(layout: Layout) -> str:
    over = "" if layout.takeoff and layout.takeoff.whole else ", so that where it is set back there is some left"
    return (
        f"Counted over the whole extent of the slab, without its parts{over}. Laps, hooks and cover are as declared. "
        "For footings cast against earth one published code has 3 in of cover (2024 IRC R403.1.3.5.3, as transcribed "
        "in public). Cut-offs of one way are not used for the other."
    )


def _form_words(layout: Layout) -> str:
    forms, write = layout.site.declared.forms, layout.notation.length
    if forms is None:
        return ""
    thick, high = (write(each) for each in forms.size)
    if forms.kind == "panels":
        return (
            "Panels stand outside the concrete and stay whole: of those on hand the ones that leave the least filler, "
            "and of these the fewest. At a square outside corner both end with the concrete and an angle joins them. "
            f"{STRING.format(what='panel')} {BELOW}"
        )
    board = f"{forms.board}: actual {thick} x {high} ({SOURCE})" if forms.board else f"Actual {thick} x {high}"
    return (
        f"{board}. Boards stand outside the concrete. {STRING.format(what='board')} At a square "
        "outside corner a board runs past the next one, which butts against it; at an inside corner the next "
        "one begins beyond its thickness; other corners are mitred. "
        "Joints of boards one above another are staggered. The boards of a part butt against the main form. "
        f"Shorter pieces are sawn from as little length as there is, 1/8 in (3 mm) for each saw cut. {BELOW}"
    )


STRING = (
    "Strings are set the thickness of the {what} outside the marks (Masonry and Concrete (2004), p. 46), and the "
    "{what} kept just off the string."
)
BELOW = (
    "A form reaches from the top of the concrete down to the ground beside it, or to the underside where the ground "
    "lies lower or is dug away; where no ground is known, deeper edges are taken as cast against their trench."
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
    if takeoff and takeoff.gaps:
        names = ", ".join(declared.slab.footings[index].name for index, _ in takeoff.gaps)
        yield f"No wall between the footing and the slab: {names}. Add wall to [[slab.footings]], or deepen the edge."
    if declared.concrete and declared.concrete.waste is None:
        yield (
            "[concrete] has no waste, and nothing is added. Published allowances: 3 % on earth and 5 % for "
            "foundations (estimating books quoted in Concrete Construction), 10 % for a small slab (trade magazine)."
        )
    if declared.concrete and declared.concrete.truck is None:
        yield "[concrete] has no truck: add what one load holds to have loads counted."


OWN = ("forms-", "joints-", "base-", "load-", "concrete-", "steel-")  # how the codes of findings about quantities begin
_COUNTED: Mapping[str, str] = MappingProxyType(
    {"lengths": "boards and panels", "stake_spacing": "stakes", "brace_spacing": "braces"}
)
