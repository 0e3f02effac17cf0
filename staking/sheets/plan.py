"""The plan sheet with its words: what the inspector signs."""

from __future__ import annotations

from collections.abc import Sequence

from staking.drawing.paper import Fitted
from staking.drawing.plan_sheet import plan_sheet
from staking.drawing.plan_tables import PlanWords
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import facts, finding_lines, foot, overruled


def plan_pages(
    layout: Layout, findings: Sequence[Finding], *, withheld: Sequence[str] = (), despite: Sequence[str] = ()
) -> tuple[Fitted, ...]:
    """The pages. withheld: codes of the stops that keep the stake files back; despite: those that were overruled."""
    band = f"STAKE FILES WITHHELD: {', '.join(withheld)}" if withheld else overruled(despite)
    words = PlanWords(facts(layout), finding_lines(findings, Severity.WARNING), ALWAYS, band, foot(layout))
    return plan_sheet(layout, words, stakes=not withheld)
