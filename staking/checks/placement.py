"""Is the slab where its maker meant it to be?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.ground import ON_LINE
from staking.kinds.placements import FromLines
from staking.layout.computed import Layout

LARGEST = 300.0  # metres (about 1,000 ft); a slab larger than this is more likely a wrong unit
SMALLEST = 0.3  # metres (about 1 ft)

CODES = MappingProxyType(
    {
        "other-corner-nearer": "Another corner of the formed outline is nearer to the second line than the corner the "
        "placement names: the lines are not square to each other, or the wrong corner was named.",
        "size-unlikely": "A side of the slab is longer than 300 m (about 1,000 ft) or shorter than 0.3 m (about 1 ft): "
        "a wrong unit, or a slip of the decimal point.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _other_corner(layout)
    yield from _unlikely(layout)


def _other_corner(layout: Layout) -> Iterator[Finding]:
    placement = layout.site.declared.placement
    if not isinstance(placement, FromLines):
        return
    form = layout.slab.form
    named = form.outline.corner(placement.corner)
    line = layout.lines[placement.from_].line
    reaches = [abs(line.offset(corner)) for corner in form.corners]
    nearest = min(range(len(reaches)), key=reaches.__getitem__)
    if reaches[nearest] < reaches[named] - ON_LINE / 10:
        write = layout.notation.both
        yield Finding(
            "other-corner-nearer",
            Severity.WARNING,
            f'{form.outline.corner_label(nearest)} stands {write(reaches[nearest])} from "{placement.from_}", '
            "nearer than "
            f"{form.outline.corner_label(named)} with {write(reaches[named])}",
            layout.site.place("placement", "corner"),
            "name the nearer corner if the distance must hold there; the margins below are from the nearest place",
        )


def _unlikely(layout: Layout) -> Iterator[Finding]:
    for side in layout.sides:
        if not SMALLEST <= side.length <= LARGEST:
            yield Finding(
                "size-unlikely",
                Severity.WARNING,
                f"{side.label} is {layout.notation.both(side.length)} long",
                layout.site.place("slab"),
                "check the unit and the decimal point",
            )


CHECK = Check("Is the slab where its maker meant it to be?", CODES, _findings)
