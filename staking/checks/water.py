"""Does the concrete stand high enough above gutter and ground, all along its sides?

The ground is the finished one where [[ground]] gives it, else as it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.along import along_side
from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.earth import Earth, Section
from staking.layout.ground import INSIDE
from staking.survey.overlays import united
from staking.survey.points import distance, moved
from staking.survey.polygons import polygon
from staking.survey.triangles import Stretch

ENOUGH = 0.0005  # metres; half a millimetre less is not complained of

CODES = MappingProxyType(
    {
        "water-floor-low": "The lowest corner of the floor is not so far above the point the water runs to as [water] "
        "rise and run_fall ask: 12 in and 2 percent of the run where left out (2024 IRC R403.1.7.3, as transcribed in "
        "public; the clause does not say of what the 2 percent are, the run is the usual reading).",
        "water-concrete-low": "Somewhere along a side the top of the concrete stands less above the ground than "
        "[water] least: 6 in where left out (2015 IRC R404.1.6, as quoted in public; 4 in with masonry veneer).",
        "water-concrete-high": "The top of the concrete stands more above the ground than [water] most.",
        "water-wood-low": "Wood is nearer to the ground than [water] wood_clear, 6 in where left out, or nearer to the "
        "top of a part than wood_paved, 2 in where left out (both IRC R317.1 item 5, as quoted in public).",
        "water-outlet-unknown": "The point that the water runs to has no elevation, so that nothing can be said.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.design is None:
        return
    yield from _floor(layout)
    yield from _wood_on_parts(layout)
    if layout.earth is not None:
        for side, section in enumerate(layout.earth.sections):
            above = _above(layout, layout.earth, side, section)
            if above:
                yield from _band(layout, side, above)
                yield from _wood(layout, side, above)


def _floor(layout: Layout) -> Iterator[Finding]:
    asked, outlet = layout.site.declared.water, layout.points.get(layout.site.declared.water.discharge)
    corners = [grade for grade in layout.grades if grade.kind == "corner"]
    if outlet is None or not corners:
        return
    write, place = layout.notation.length, layout.site.place("water", "discharge")
    if outlet.at.up is None:
        words, remedy = f"the point {outlet.name} has no elevation", "give it one under [points]"
        yield Finding("water-outlet-unknown", Severity.WARNING, words, place, remedy)
        return
    low = min(corners, key=lambda grade: grade.up)
    run = min(distance(corner, outlet.at) for corner in layout.slab.form.corners)
    needed = asked.rise + asked.run_fall * run
    short = needed - (low.up - outlet.at.up)
    if short > ENOUGH:
        words = (
            f"the floor at {low.name} is {_over(layout, low.up - outlet.at.up, outlet.name)}, {write(short)} short of "
        )
        words += (
            f"{write(needed)} ({write(asked.rise)} and {layout.notation.fall(asked.run_fall)} of a run of {write(run)})"
        )
        remedy = "raise the floor, or have another way of drainage approved"
        yield Finding("water-floor-low", Severity.WARNING, words, place, remedy)


_Above = list[tuple[float, float]]  # along a side [m]: how far the top stands above the ground [m]


def _above(layout: Layout, earth: Earth, side: int, section: Section) -> _Above:
    """Wherever ground or top bends along a side, but for stretches along a part; in between it changes evenly."""
    form = layout.slab.form
    line = form.sides[side]
    start, end = (moved(at, form.outward(side).reversed(), INSIDE) for at in (line.start, line.end))
    parts = united([polygon(corners) for _, corners in form.parts])
    found = []
    for ground in earth.around.along(start, end):
        for level in section.concrete:
            low, high = max(ground.start, level.start), min(ground.end, level.end)
            for at in (low, high) if high - low > INSIDE else ():
                spot = line.at(at)
                if not parts.dwithin(shapely.Point(spot.east, spot.north), INSIDE):
                    found.append((at, _between(level.start, level.end, level.top, at) - _between_ground(ground, at)))
    return found


def _between(start: float, end: float, ups: tuple[float, float], at: float) -> float:
    return ups[0] + (ups[1] - ups[0]) * (at - start) / (end - start)


def _between_ground(ground: Stretch, at: float) -> float:
    return _between(ground.start, ground.end, (ground.start_up, ground.end_up), at)


def _over(layout: Layout, rise: float, what: str) -> str:
    """How far something lies above or below another thing; rise [m]."""
    return f"{layout.notation.length(abs(rise))} {'above' if rise >= 0 else 'below'} {what}"


def _band(layout: Layout, side: int, above: _Above) -> Iterator[Finding]:
    asked, write = layout.site.declared.water, layout.notation.length
    place = layout.site.place("ground", 0)
    (least_at, least), (most_at, most) = (pick(above, key=lambda each: each[1]) for pick in (min, max))
    if asked.least - least > ENOUGH:
        words = f"{along_side(layout, side, least_at)} the concrete is {_over(layout, least, 'the ground')}, "
        words += f"{write(asked.least - least)} short of {write(asked.least)} above it"
        remedy = "raise the floor, or grade the ground lower"
        yield Finding("water-concrete-low", Severity.WARNING, words, place, remedy)
    if asked.most is not None and most - asked.most > ENOUGH:
        words = f"{along_side(layout, side, most_at)} the concrete is {write(most)} above the ground, "
        words += f"{write(most - asked.most)} more than {write(asked.most)}"
        yield Finding("water-concrete-high", Severity.WARNING, words, place, "lower the floor, or fill beside it")


def _wood(layout: Layout, side: int, above: _Above) -> Iterator[Finding]:
    asked, write = layout.site.declared.water, layout.notation.length
    at, least = min(above, key=lambda each: each[1])
    if asked.wood is not None and asked.wood_clear - least - asked.wood > ENOUGH:
        words = f"{along_side(layout, side, at)} wood is {_over(layout, least + asked.wood, 'the ground')}, "
        words += f"{write(asked.wood_clear - least - asked.wood)} short of {write(asked.wood_clear)} above it"
        remedy = "raise the floor, grade the ground lower, or use wood that may be near the ground"
        yield Finding("water-wood-low", Severity.WARNING, words, layout.site.place("water", "wood"), remedy)


def _wood_on_parts(layout: Layout) -> Iterator[Finding]:
    asked, write = layout.site.declared.water, layout.notation.length
    for index, part in enumerate(layout.site.declared.slab.parts if asked.wood is not None else ()):
        clear = part.step + (asked.wood or 0.0)
        if asked.wood_paved - clear > ENOUGH:
            words = f"wood beside {part.name} is {write(clear)} above its top, {write(asked.wood_paved - clear)} short "
            words += f"of {write(asked.wood_paved)}"
            remedy = "a step down to the part, or wood that may be near the ground"
            yield Finding("water-wood-low", Severity.WARNING, words, layout.site.place("slab", "parts", index), remedy)


CHECK = Check("Does the concrete stand high enough above gutter and ground?", CODES, _findings)
