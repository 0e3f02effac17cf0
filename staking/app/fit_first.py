"""Is the fit good enough to hold a list in the measured system against it?

Every figure of such a comparison hangs on the fit, so where one of its findings says stop, nothing is compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from staking.checks.fit import CODES
from staking.field.compared import Comparison, HowMeasured, Sentence
from staking.field.design_points import design_points
from staking.findings import Finding, Severity
from staking.layout.computed import Layout


def of_fit(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """What is wrong with the fit, by the findings of a layout in the measured system; notes are left out."""
    return tuple(each for each in findings if each.code in CODES and each.severity >= Severity.WARNING)


def stopped(findings: Sequence[Finding]) -> bool:
    """Whether one of them says stop."""
    return any(each.severity == Severity.STOP for each in findings)


def not_compared(layout: Layout, measured: Path, fit: Sequence[Finding]) -> Comparison:
    """A comparison of nothing, and why."""
    corners = tuple(point for point in design_points(layout) if point.corner is not None)
    verdict = (Sentence("nothing was compared: put the fit right first", "out"),)
    how = HowMeasured(file=str(measured), fingerprint="")
    return Comparison(layout, how, (), corners, (), verdict=verdict, findings=tuple(fit))


def with_fit(found: Comparison, fit: Sequence[Finding]) -> Comparison:
    """A comparison with what is to be said of the fit before anything else."""
    return replace(found, findings=(*fit, *found.findings))
