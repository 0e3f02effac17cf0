"""The sheet of checks: does the slab clear everything, what was found, and are stakes given out?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.drawing.draw import overview
from staking.findings import Finding, Severity
from staking.layout.computed import Layout, Margin
from staking.sheets.cautions import ALWAYS
from staking.sheets.columns import cells, heads, shares
from staking.sheets.grid_and_ground import scale_lines
from staking.sheets.heads import facts, finding_lines, foot, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Picture, Sheet, Signatures, Table
from staking.sheets.record import record_blocks
from staking.survey.points import distance

_VERDICTS = ("clears", "thin", "very thin", "TOO NEAR")


def checks_sheet(
    layout: Layout, findings: Sequence[Finding], *, withheld: Sequence[str] = (), despite: Sequence[str] = ()
) -> Sheet:
    """The sheet. withheld: codes of the stops that keep the stake files back; despite: those that were overruled."""
    blocks: list[Block] = [
        Cautions(ALWAYS),
        Heading("Result"),
        Paragraph(_result(findings, withheld, despite), strong=True),
        *_margins(layout),
        Picture(
            overview(layout), "The slab on its lot; dashed: the edge of the buildable area. North is up.", height=290
        ),
        *record_blocks(layout),
        *_found(findings),
        Signatures(("Checked by", "Owner", "Inspector")),
    ]
    warning = f"STAKE FILES WITHHELD: {', '.join(withheld)}" if withheld else overruled(despite)
    return Sheet("Checks before staking", facts(layout), tuple(blocks), foot(layout), warning=warning)


def _result(findings: Sequence[Finding], withheld: Sequence[str], despite: Sequence[str]) -> str:
    if withheld:
        return f"Stopped ({', '.join(withheld)}). No stake files were written; see the findings."
    if despite:
        return f"Stake files were written despite {', '.join(despite)}, as asked on the command line."
    warnings = sum(finding.severity >= Severity.WARNING for finding in findings)
    found = f"{warnings} warning{'s' if warnings != 1 else ''}" if warnings else "no warning"
    return (
        f"Nothing stops the staking; {found}. This is no approval: the authority and the surveyor have the last word."
    )


def _margins(layout: Layout) -> Iterator[Block]:
    yield Heading("Room to every line and area")
    if not layout.margins:
        yield Paragraph("The site file gives no lot and no area to keep clear, so nothing could be checked.")
        return
    yield Paragraph(
        "Least distance from the formed outline, with the parts that count, to the line or area itself. A "
        "setback has no "
        "plus tolerance."
    )
    yield Table(
        ("to", "rule", *heads(layout, "distance"), "foot on the line", "required", "to spare", "verdict"),
        tuple(_row(layout, margin) for margin in layout.margins),
        (1.4, 1.0, *shares(layout), 1.9, 1.1, 1.2, 1.0),
    )
    areas = f"Slab, formed outline without parts: {layout.notation.area(layout.slab.area)}."
    if layout.lot is not None and layout.buildable is not None:
        areas += (
            f" Lot: {layout.notation.area(layout.lot.area)}. Buildable area, less setbacks and keep-clear areas: "
            f"{layout.notation.area(layout.buildable.area)}."
        )
    yield Paragraph(areas)
    for line in scale_lines(layout):
        yield Paragraph(f"{line[0].upper()}{line[1:]}.")


def _row(layout: Layout, margin: Margin) -> tuple[str, ...]:
    write = layout.notation.length
    required = "not given" if margin.rule == "lot line" and margin.what == "outline" else write(margin.required)
    return (
        margin.of if margin.what == "outline" else f"{margin.of} ({margin.what})",
        margin.rule,
        *cells(layout, margin.distance),
        _foot(layout, margin),
        required,
        write(margin.room) + _uncertain(layout, margin),
        _VERDICTS[margin.severity],
    )


def _uncertain(layout: Layout, margin: Margin) -> str:
    return "" if margin.uncertainty is None else f" (line \u00b1 {layout.notation.length(margin.uncertainty)})"


def _foot(layout: Layout, margin: Margin) -> str:
    """Where on a lot side the least distance ends: so far from the beginning of its piece."""
    pieces = [side for side in layout.lot.sides if side.name == margin.of] if layout.lot else []
    if margin.rule == "keep clear" or not pieces:
        return "-"
    piece = min(pieces, key=lambda side: distance(side.line.foot(margin.foot), margin.foot))
    return f"{layout.notation.length(max(0.0, piece.line.along(margin.foot)))} from {piece.start_name}"


def _found(findings: Sequence[Finding]) -> Iterator[Block]:
    yield Heading("Findings")
    lines = finding_lines(findings, Severity.NOTE)
    yield Bullets(lines) if lines else Paragraph("None.")
