"""Which points were measured so far from the place of their name that nobody set them so, and which slip is it?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.field.compared import Deviation
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout
from staking.survey.disagreements import Told, slip_of
from staking.survey.points import distance

LEAST = 3.048  # metres, 10 ft: nobody sets a stake so far off; own choice
WITHIN = 0.03  # metres: a slip explains a point that it brings so near to its place; own choice
_WORDS = {
    "swapped": "north and east are exchanged in its row",
    "survey foot": "it is in the other foot",
    "feet": "it is in feet where the others are in metres, or the other way round",
    "constant": "whole thousands are missing",
}


def far_points(found: Sequence[Deviation]) -> frozenset[str]:
    """Names of points that lie 10 ft and more from their places while most of those measured do not."""
    far = [each for each in found if each.plan.length > LEAST]
    return frozenset(each.design.name for each in far) if 2 * len(far) < len(found) or len(found) == 1 else frozenset()


def far_findings(layout: Layout, found: Sequence[Deviation], far: frozenset[str], file: str) -> Iterator[Finding]:
    """One for each, with the slip that would explain it."""
    write = layout.notation
    for each in found:
        if each.design.name in far:
            off = write.length(distance(each.design.at, each.measured.at))
            message = f"{each.design.name} was measured {off} from its place{_slip(layout, each)}"
            place = Place(file, each.measured.line)
            remedy = (
                f"look {each.design.name} up in the instrument, or measure it again; it takes no part in what follows"
            )
            yield Finding("measured-far-off", Severity.STRONG, message, place, remedy)


def _slip(layout: Layout, each: Deviation) -> str:
    """What would explain it, as a clause of the sentence; nothing where no slip does."""
    written, right = layout.frame.to_file(each.measured.at), layout.frame.to_file(each.design.at)
    told = slip_of(written, right, Told(float(layout.site.unit.metres), WITHIN))
    if told is not None and told.slip == "digit":
        wrong, well = (getattr(place, told.axis) for place in (written, right))
        write = layout.notation
        return f": in {told.axis} {write.decimal(wrong)} a digit is wrong, near {write.decimal(well)} would be right"
    return f": {_WORDS[told.slip]}" if told is not None and told.slip in _WORDS else ""
