"""Questions asked of every layout, one a file. A new check is a file here and a line in the tuple below."""

from __future__ import annotations

from staking.checks import (
    checklist,
    fit,
    forms,
    ground,
    heights,
    instrument,
    letters,
    levels,
    lines,
    margins,
    on_earth,
    paved,
    placement,
    plausible,
    points,
    position,
    record,
    runoff,
    second,
    stake_lists,
    stakes,
    water,
)
from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout

CHECKS: tuple[Check, ...] = (
    margins.CHECK,
    record.CHECK,
    lines.CHECK,
    placement.CHECK,
    stakes.CHECK,
    stake_lists.CHECK,
    points.CHECK,
    position.CHECK,
    fit.CHECK,
    second.CHECK,
    heights.CHECK,
    on_earth.CHECK,
    plausible.CHECK,
    forms.CHECK,
    levels.CHECK,
    ground.CHECK,
    water.CHECK,
    runoff.CHECK,
    paved.CHECK,
    letters.CHECK,
    instrument.CHECK,
    checklist.CHECK,
)


_EXPLAIN = (*position.CODES, *fit.CODES, *second.CODES)  # a wrong system or unit explains what the others find


def check(layout: Layout) -> tuple[Finding, ...]:
    """Every finding about a layout, and what its reader noted: the gravest first; alike, in the order of the checks."""
    found = [*layout.site.notes, *(finding for asked in CHECKS for finding in asked.run(layout))]
    return tuple(sorted(found, key=_rank))


def _rank(finding: Finding) -> tuple[int, bool]:
    grave = finding.severity >= Severity.STRONG
    return -finding.severity, not (grave and finding.code in _EXPLAIN)


__all__ = ["CHECKS", "Check", "check"]
