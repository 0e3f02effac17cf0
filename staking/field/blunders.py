"""Which blunders are among the points that were found, the gravest first: what comes later goes without them."""

from __future__ import annotations

from dataclasses import dataclass

from staking.field.compared import Comparison, Deviation
from staking.field.far_points import far_findings, far_points
from staking.field.heights_measured import height_findings
from staking.field.odd_points import odd_findings, odd_groups
from staking.field.setup_or_slab import of_measuring, of_placing
from staking.field.together import together
from staking.findings import Finding


@dataclass(frozen=True)
class Blunders:
    """near: the deviations without those far off. odd: names of points that do not belong with the others.

    explained: one slip of the measuring is where all points are from, so nothing is to be said of the form.
    """

    near: tuple[Deviation, ...]
    odd: frozenset[str]
    explained: bool
    findings: tuple[Finding, ...]


def blunders_of(bare: Comparison, noise: float) -> Blunders:
    """noise: standard error of a coordinate [m]. A slip of all points is looked for before any one is called odd."""
    layout, write = bare.layout, bare.layout.notation
    far = far_points(bare.deviations)
    near = tuple(each for each in bare.deviations if each.design.name not in far)
    slab = [each for each in near if each.design.what != "given"]
    control = [each for each in near if each.design.what == "given"]
    at_once = of_measuring(together(bare, slab, control, noise))
    groups = () if at_once else odd_groups(slab, noise)
    odd = frozenset(slab[group[0]].design.name for group in groups)
    belong = together(bare, [each for each in slab if each.design.name not in odd], control, noise)
    slip = of_measuring(belong)
    findings = (
        *far_findings(layout, bare.deviations, far, bare.how.file),
        *odd_findings(slab, groups, noise, layout.slab.form.pose.right, write),
        *(slip or of_placing(belong)),
        *height_findings(near, bare.how.error_up, write),
    )
    return Blunders(near, odd, bool(slip), findings)
