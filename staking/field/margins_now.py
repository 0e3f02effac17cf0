"""How much room is there to every line and area, by the outline as it was measured?

What was not measured goes with what was: a part with the side it is attached to, the edge of the roof with its corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from staking.field.compared import Deviation, MarginNow
from staking.findings import Finding, Severity
from staking.kinds.slab import SHORTEST, Form
from staking.layout.computed import Layout, Slab
from staking.layout.margins import margins_of
from staking.notation import Notation
from staking.survey.overlays import united
from staking.survey.paths import first_fault, path_area
from staking.survey.points import Point, Vector, distance, moved, vector
from staking.survey.polygons import polygon
from staking.survey.similarity import best_fit

SAME = 0.001  # metres; a measured part corner is told by its design place


def margins_now(layout: Layout, deviations: Sequence[Deviation]) -> tuple[MarginNow, ...]:
    """Every margin of the layout beside the same one by the measured outline; None where not all corners were measured.

    None too where the measured outline crosses itself, as it does when corners carry wrong names.
    """
    slab = _measured_slab(layout, deviations)
    if slab is None:
        return tuple(MarginNow(margin, None) for margin in layout.margins)
    found = margins_of(layout.site, layout.lot, layout.lines, layout.kept_clear, slab)
    return tuple(MarginNow(margin, now) for margin, now in zip(layout.margins, found, strict=True))  # in one order


def margin_findings(margins: Sequence[MarginNow], write: Notation) -> Iterator[Finding]:
    """A stop for every line that the measured outline is over; a setback has no plus tolerance."""
    for each in margins:
        now = each.now
        if now is not None and now.room < 0:
            what = "" if now.what == "outline" else f" ({now.what})"
            message = f"as measured the slab{what} is over the {now.rule} to {now.of} by {write.small(-now.room)}"
            remedy = "move the form before concrete; a setback has no tolerance"
            yield Finding("measured-over-line", Severity.STOP, message, None, remedy)


def _measured_slab(layout: Layout, deviations: Sequence[Deviation]) -> Slab | None:
    slab = layout.slab
    at = {each.design.corner: each.measured.at for each in deviations if each.design.corner is not None}
    if len(at) < len(slab.form.corners):
        return None
    corners = tuple(Point(at[index].east, at[index].north) for index in range(len(slab.form.corners)))
    form = replace(slab.form, corners=corners)
    if first_fault(form.pieces, SHORTEST) is not None or not form.shape.is_valid:
        return None
    sides = [slab.form.outline.side(part.side) for part in layout.site.declared.slab.parts]
    parts = tuple(
        (name, _part(slab.form, side, own, corners, deviations))
        for side, (name, own) in zip(sides, slab.form.parts, strict=True)
    )
    form = replace(form, parts=parts)
    now = {before: after for (_, before), (_, after) in zip(slab.form.parts, parts, strict=True)}
    counted_parts = tuple(now[own] for own in slab.counted_parts)
    steps = [vector(a, b) for a, b in zip(slab.form.corners, corners, strict=True)]
    return replace(
        slab,
        form=form,
        building=_with_corners(slab.building, steps),
        counted=united([form.shape, *(polygon(own) for own in counted_parts)]),
        counted_parts=counted_parts,
        eaves=_with_corners(slab.eaves, steps),
        area=abs(path_area(form.pieces)),
    )


def _with_corners(places: Sequence[Point], steps: Sequence[Vector]) -> tuple[Point, ...]:
    """Places, one a corner, each moved as its corner; none where there are none."""
    return tuple(moved(place, step, 1.0) for place, step in zip(places, steps, strict=False))


def _part(
    form: Form, side: int, own: Sequence[Point], corners: Sequence[Point], deviations: Sequence[Deviation]
) -> tuple[Point, ...]:
    """The corners of a part: as measured, else carried with the side of the slab that it is attached to."""
    other = (side + 1) % len(corners)
    move, _ = best_fit([(form.corners[side], corners[side]), (form.corners[other], corners[other])])
    measured = {each.design.at: each.measured.at for each in deviations if each.design.what == "part"}
    return tuple(_measured(place, measured) or move.apply(place) for place in own)


def _measured(place: Point, measured: Mapping[Point, Point]) -> Point | None:
    found = next((now for at, now in measured.items() if distance(at, place) < SAME), None)
    return None if found is None else Point(found.east, found.north)
