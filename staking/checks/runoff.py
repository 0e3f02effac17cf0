"""Does the ground fall away from the slab, all along its sides and every way out of its corners?

The ground is the finished one where [[ground]] gives it, else as it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import MappingProxyType

from staking.checks.along import along_side
from staking.checks.question import Check
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout
from staking.layout.paved import paved_areas
from staking.layout.runoff import Beside, Ray, beside_slab
from staking.survey.points import azimuth_of

ENOUGH = 0.0005  # metres; half a millimetre less is not complained of
WHOLE = 0.01  # metres; a side but for so much is the whole of it

CODES = MappingProxyType(
    {
        "water-ground-fall": "Beside a side of the slab, or some way out of a corner, the ground falls less than "
        "[water] away within the distance `within`: 6 in in 10 ft where left out (2024 IRC R401.3, as transcribed in "
        "public). The worst place is named, and along how much of the side it falls short. Beside parts, and drives "
        "and walks given by an outline, the fall of the paving is asked instead.",
        "water-ground-high": "On its way out the ground rises again by more than [water] rise_again, so that water "
        "stands: half an inch where left out (own choice, no source).",
        "water-unknown": "The ground points end before that distance, so that the fall is not known everywhere.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.design is None or layout.earth is None:
        return
    asked = layout.site.declared.water
    around = beside_slab(layout.slab.form, layout.earth.around, asked.within, tuple(paved_areas(layout)))
    least = {side.side: side.least.drop for side in around if side.least is not None and side.side is not None}
    for each in around:
        if each.corner is None or _worse(each, least, len(layout.corner_names)):
            yield from _short(layout, each)
            yield from _dip(layout, each)
    yield from _unknown(layout, around)


def _worse(corner: Beside, least: dict[int, float], count: int) -> bool:
    """Whether a corner is worse than both its sides, which are told anyway."""
    at = corner.corner or 0
    beside = [least[side] for side in ((at - 1) % count, at) if side in least]
    return corner.least is not None and all(corner.least.drop < drop - ENOUGH for drop in beside)


def _place(layout: Layout) -> Place:
    """The first [[ground]] of the surface that water runs over."""
    states = [each.state for each in layout.site.declared.ground]
    return layout.site.place("ground", states.index("finished") if "finished" in states else 0)


def _where(layout: Layout, beside: Beside, ray: Ray) -> str:
    if beside.corner is not None:
        return f"out of {beside.name} toward {layout.notation.bearing(azimuth_of(ray.way))}"
    return along_side(layout, beside.side or 0, ray.along)


def _short(layout: Layout, beside: Beside) -> Iterator[Finding]:
    asked, write, ray = layout.site.declared.water, layout.notation.length, beside.least
    if ray is None or asked.away - ray.drop <= ENOUGH:
        return
    way = f"falls {write(ray.drop)}" if ray.drop >= 0 else f"rises {write(-ray.drop)}"
    text = f"{_where(layout, beside, ray)} the ground {way} in {write(asked.within)}, {write(asked.away - ray.drop)} "
    text += f"short of a fall of {write(asked.away)}"
    if beside.corner is None:
        short = beside.short(asked.away)
        everywhere = short > beside.length - WHOLE
        text += "; it falls short all along it" if everywhere else f"; it falls short along {write(short)} of it"
    remedy = "grade it; where a wall or the lot line is in the way, a drain or swale, as the authority allows"
    yield Finding("water-ground-fall", Severity.WARNING, text, _place(layout), remedy)


def _dip(layout: Layout, beside: Beside) -> Iterator[Finding]:
    ray = beside.dip
    if ray is not None and ray.climb > layout.site.declared.water.rise_again + ENOUGH:
        text = f"{_where(layout, beside, ray)} the ground rises again by {layout.notation.length(ray.climb)} on its way"
        remedy = "grade it evenly, so that no water stands"
        yield Finding("water-ground-high", Severity.WARNING, text, _place(layout), remedy)


def _unknown(layout: Layout, around: Sequence[Beside]) -> Iterator[Finding]:
    write = layout.notation.length
    names = [_extent(layout, each) for each in around if each.unknown > ENOUGH]
    if names:
        text = f"the fall of the ground is not known in all of {write(layout.site.declared.water.within)}: the points "
        text += f"end beside {', '.join(names)}"
        yield Finding("water-unknown", Severity.NOTE, text, _place(layout), "measure points farther out")


def _extent(layout: Layout, beside: Beside) -> str:
    if beside.corner is not None:
        return beside.name
    return f"{layout.notation.length(beside.unknown)} of {beside.name}"


CHECK = Check("Does the ground fall away from the slab on every side?", CODES, _findings)
