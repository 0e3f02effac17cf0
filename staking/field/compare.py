"""Hold measured points against a layout: the table of contents of a comparison."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from staking.field.allowed import Tolerances
from staking.field.blunders import blunders_of
from staking.field.compared import Comparison, DesignPoint, Deviation, HowMeasured, MeasuredPoint, Sentence
from staking.field.design_points import design_points, wall_lines
from staking.field.deviations import Judge
from staking.field.levels_set import levels_set
from staking.field.list_slips import list_slip
from staking.field.margins_now import margin_findings, margins_now
from staking.field.names_mistaken import names_mistaken
from staking.field.odd_points import noise_of
from staking.field.out_of_shape import corners_finding, shape_finding
from staking.field.partners import partners_of
from staking.field.placement import error_of, placement_of
from staking.field.shape import angles_of, lengths_of
from staking.field.verdict import verdict_of
from staking.findings import Finding, Place
from staking.layout.computed import Layout

_WHOLE = ("measured-placed", "measured-set-up")  # findings that tell of every corner


def compare(
    layout: Layout,
    points: Sequence[MeasuredPoint],
    how: HowMeasured,
    *,
    limit: float | None = None,
    placed: bool = False,
    said: Sequence[Finding] = (),
) -> Comparison:
    """Measured points, on the ground and in the layout's frame, held against what was computed.

    limit [m]: how far a point without a known name may be from the one it is taken for; left out: as_built.limit.
    placed: judge placed concrete, not forms and stakes. said: what is known of the measuring beforehand. Nothing is
    corrected, and nothing here approves anything.
    """
    near = limit if limit is not None else layout.site.declared.as_built.limit
    design = design_points(layout)
    judge = Judge(Tolerances(layout, placed), wall_lines(layout))
    noise = noise_of((judge.allowed(point) for point in design if point.what != "given"), how.error)
    slip = list_slip(layout, points, design, limit=near, noise=noise)
    if slip is not None:
        return _refused(layout, how, design, points, slip)
    partners = partners_of(points, design, file=how.file, limit=near)
    mistaken = names_mistaken(judge.all(partners), design, layout.notation)
    found = tuple(judge.all((own, each.measured, each.by_name) for own, each in mistaken.put_right()))
    strangers = partners.strangers([each.measured for each in found])
    bare = Comparison(layout, how, found, _missing(design, found), strangers, placed=placed)
    return _parted(bare, judge, noise, (*said, *partners.findings(layout.notation), *mistaken.findings))


def _parted(bare: Comparison, judge: Judge, noise: float, said: Sequence[Finding]) -> Comparison:
    """The comparison with everything that follows from the points that were found."""
    layout, tolerances, blunders = bare.layout, judge.tolerances, blunders_of(bare, noise)
    corners = [each for each in bare.corners if each in blunders.near]
    lengths, margins = lengths_of(layout, corners, tolerances), margins_now(layout, blunders.near)
    told = blunders.odd or blunders.explained  # then the form is not to blame for its shape
    shape = () if told else tuple(shape_finding(layout, corners, lengths, tolerances))
    if not shape and not told and not any(each.code.startswith(_WHOLE) for each in blunders.findings):
        shape = tuple(corners_finding(layout, corners, tolerances))
    heights = {each.design.name: each.measured.up for each in bare.deviations if each.measured.up is not None}
    whole = replace(
        bare,
        placement=placement_of(corners, error=error_of(corners, bare.how.error), left_out=blunders.odd),
        lengths=lengths,
        angles=angles_of(layout, corners),
        margins=margins,
        levels=levels_set(layout, heights, allowed=tolerances.height(), level=tolerances.level()),
        findings=(*said, *blunders.findings, *shape, *margin_findings(margins, layout.notation)),
    )
    return replace(whole, verdict=verdict_of(whole))


def _refused(
    layout: Layout, how: HowMeasured, design: Sequence[DesignPoint], points: Sequence[MeasuredPoint], slip: Finding
) -> Comparison:
    """Nothing but why nothing was compared."""
    why = replace(slip, place=Place(how.file))
    verdict = (Sentence("nothing was compared: put the list right first", "out"),)
    return Comparison(layout, how, (), _missing(design, ()), tuple(points), verdict=verdict, findings=(why,))


def _missing(design: Sequence[DesignPoint], found: Sequence[Deviation]) -> tuple[DesignPoint, ...]:
    have = {each.design.corner for each in found}
    return tuple(point for point in design if point.corner is not None and point.corner not in have)
