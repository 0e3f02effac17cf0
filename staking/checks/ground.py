"""Is the ground known everywhere, and do boards and stakes stand outside the excavation?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout

KEPT_OUT = ("offset", "post", "nail")

CODES = MappingProxyType(
    {
        "ground-unknown": "A corner, a stake or some of the concrete lies outside the ground points. Nothing is "
        "carried on beyond them.",
        "ground-no-floor": "[[ground]] is given, but no height of the floor or no thickness, so that no volume can be "
        "told.",
        "overdig-depth": "[overdig] has no depth, and the ground and the design do not tell one.",
        "overdig-moved": "Boards or offset stakes would stand in the excavation, or too near to its edge. They were "
        "set out farther away than the site file says.",
        "overdig-stake": "A stake still stands inside the excavation: beside a part, or across an inside corner.",
        "overdig-lot": "The excavation reaches over a line of the lot. Shoring, or a neighbour's leave, is needed.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _unknown(layout)
    yield from _no_floor(layout)
    yield from _depth(layout)
    yield from _moved(layout)
    yield from _dug(layout)


def _unknown(layout: Layout) -> Iterator[Finding]:
    if layout.earth is None:
        return
    outside = [spot.name for spot in layout.earth.spots if spot.ground is None]
    place, remedy = layout.site.place("ground", 0), "measure points farther out, all round the slab and its stakes"
    if outside:
        names = ", ".join(outside[:6]) + (f" and {len(outside) - 6} more" if len(outside) > 6 else "")
        words = f"the ground is not known at {names}: outside the ground points"
        yield Finding("ground-unknown", Severity.WARNING, words, place, remedy)
    if layout.earth.pieces and layout.earth.uncovered > 0.01:
        area = layout.notation.area(layout.earth.uncovered)
        words = f"{area} of the concrete lie outside the ground points, and are in no volume"
        yield Finding("ground-unknown", Severity.WARNING, words, place, remedy)


def _no_floor(layout: Layout) -> Iterator[Finding]:
    if layout.earth is not None and not layout.earth.pieces:
        what = "[floor]" if layout.design is None else "the thickness of the slab and its edges"
        words = f"the ground is given, but not {what}, so no volume is computed"
        yield Finding("ground-no-floor", Severity.WARNING, words, layout.site.place("ground", 0), f"add {what}")


def _depth(layout: Layout) -> Iterator[Finding]:
    if layout.site.declared.overdig is not None and layout.excavation is None:
        words, remedy = "nothing says how deep the excavation is", 'write depth = "3 ft", or [[ground]] and [floor]'
        yield Finding("overdig-depth", Severity.WARNING, words, layout.site.place("overdig"), remedy)


def _moved(layout: Layout) -> Iterator[Finding]:
    asked, found = layout.site.declared.overdig, layout.excavation
    if asked is None or found is None:
        return
    least = found.reach + asked.boards
    for index, wanted in enumerate(layout.site.declared.stakes):
        given = getattr(wanted, "back", getattr(wanted, "distance", least))
        if wanted.kind in ("batter_boards", "offsets") and given < least:
            write = layout.notation.length
            words = f"{wanted.kind.replace('_', ' ')} stand {write(least)} away instead of {write(given)}"
            words += f": the excavation reaches {write(found.reach)}"
            remedy = "nothing, if that suits; else less depth, steeper sides (shored), or less room"
            yield Finding("overdig-moved", Severity.NOTE, words, layout.site.place("stakes", index), remedy)


def _dug(layout: Layout) -> Iterator[Finding]:
    if layout.excavation is None:
        return
    edge, place = layout.excavation.edge, layout.site.place("overdig")
    inside = [
        stake.name
        for stake in layout.stakes
        if stake.kind in KEPT_OUT and edge.contains(shapely.Point(stake.at.east, stake.at.north))
    ]
    if inside:
        words = f"inside the excavation stand: {', '.join(inside[:8])}"
        remedy = "set them out farther away, or after the pit is filled again"
        yield Finding("overdig-stake", Severity.WARNING, words, place, remedy)
    if layout.lot is not None and edge.difference(layout.lot.shape).area > 0.01:
        area = layout.notation.area(edge.difference(layout.lot.shape).area)
        words, remedy = f"the excavation reaches over a line of the lot, {area} beyond it", "shore it, or ask first"
        yield Finding("overdig-lot", Severity.STRONG, words, place, remedy)


CHECK = Check("Is the ground known everywhere, and do stakes stand outside the excavation?", CODES, _findings)
