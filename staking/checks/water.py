"""Does water run away from the slab, and does the concrete stand high enough above ground and gutter?

The ground is that of [[ground]]: where it is graded later, give its finished heights there.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.earth import Spot
from staking.layout.surfaces import part_slope
from staking.survey.points import Point, distance, moved

ENOUGH = 0.0005  # metres; half a millimetre less is not complained of

CODES = MappingProxyType(
    {
        "water-floor-low": "The lowest corner of the floor is not so far above the point the water runs to as [water] "
        "rise and run_fall ask: 12 in and 2 percent of the run where left out (2024 IRC R403.1.7.3, as transcribed in "
        "public; the clause does not say of what the 2 percent are, the run is the usual reading).",
        "water-ground-fall": "Beside a side of the slab the ground falls less than [water] away within the distance "
        "`within`: 6 in in 10 ft where left out (2024 IRC R401.3, as transcribed in public).",
        "water-ground-high": "The ground rises again between the slab and the end of that distance.",
        "water-unknown": "The ground points end before that distance, so that the fall is not known.",
        "water-paved-fall": "A part of the slab falls away less than [water] paved: 2 percent where left out (2024 IRC "
        "R401.3, exception, as transcribed in public).",
        "water-concrete-low": "The top of the concrete stands less above the ground than [water] least: 6 in where "
        "left out (2015 IRC R404.1.6, as quoted in public; 4 in with masonry veneer).",
        "water-concrete-high": "The top of the concrete stands more above the ground than [water] most.",
        "water-wood-low": "Wood is nearer to the ground than [water] wood_clear: 6 in where left out (IRC R317.1 item "
        "5, as quoted in public).",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.design is None:
        return
    yield from _floor(layout)
    yield from _paved(layout)
    if layout.earth is not None:
        yield from _fall(layout)
        yield from _band(layout)
        yield from _wood(layout)


def _floor(layout: Layout) -> Iterator[Finding]:
    asked, outlet = layout.site.declared.water, layout.points.get(layout.site.declared.water.discharge)
    corners = [grade for grade in layout.grades if grade.kind == "corner"]
    if outlet is None or not corners:
        return
    write, place = layout.notation.length, layout.site.place("water", "discharge")
    if outlet.at.up is None:
        words, remedy = f"the point {outlet.name} has no elevation", "give it one under [points]"
        yield Finding("water-unknown", Severity.WARNING, words, place, remedy)
        return
    low = min(corners, key=lambda grade: grade.up)
    run = min(distance(corner, outlet.at) for corner in layout.slab.form.corners)
    needed = asked.rise + asked.run_fall * run
    short = needed - (low.up - outlet.at.up)
    if short > ENOUGH:
        words = (
            f"the floor at {low.name} is {write(low.up - outlet.at.up)} above {outlet.name}, {write(short)} short of "
        )
        words += (
            f"{write(needed)} ({write(asked.rise)} and {layout.notation.fall(asked.run_fall)} of a run of {write(run)})"
        )
        remedy = "raise the floor, or have another way of drainage approved"
        yield Finding("water-floor-low", Severity.WARNING, words, place, remedy)


def _paved(layout: Layout) -> Iterator[Finding]:
    asked = layout.site.declared.water.paved
    if "water" not in layout.site.declared.model_fields_set:
        return
    for index, (part, (_, corners)) in enumerate(
        zip(layout.site.declared.slab.parts, layout.slab.form.parts, strict=True)
    ):
        slope = part_slope(part, corners)
        if slope < asked - 1e-9:
            short = layout.notation.length((asked - slope) * distance(corners[1], corners[2]))
            words = f"{part.name} falls away {layout.notation.fall(slope)}, less than {layout.notation.fall(asked)}: "
            words += f"its outer edge is {short} too high"
            place = layout.site.place("slab", "parts", index)
            yield Finding("water-paved-fall", Severity.WARNING, words, place, "a larger drop")


def _fall(layout: Layout) -> Iterator[Finding]:
    """Each side once, with the worst of the rays square to it from both ends and the middle."""
    asked, form, write = layout.site.declared.water, layout.slab.form, layout.notation.length
    unknown = []
    for index, side in enumerate(form.sides):
        starts = [(side.at(side.length * share), words) for share, words in _SHARES]
        seen = [(_ray(layout, start, index), words) for start, words in starts if not _paved_at(layout, start)]
        known = [(ray, words) for ray, words in seen if ray is not None]
        label = form.outline.side_label(index)
        if len(known) < len(seen):
            unknown.append(label)
        if not known:
            continue
        (least, _), words = min(known, key=lambda each: each[0][0])
        (_, hump), there = max(known, key=lambda each: each[0][1])
        if asked.away - least > ENOUGH:
            way = f"falls {write(least)}" if least >= 0 else f"rises {write(-least)}"
            text = f"from {words} of {label} the ground {way} in {write(asked.within)}, {write(asked.away - least)} "
            remedy = "grade it; where a wall or the lot line is in the way, a drain or swale, as the authority allows"
            text += f"short of a fall of {write(asked.away)}"
            yield Finding("water-ground-fall", Severity.WARNING, text, layout.site.place("ground", 0), remedy)
        if hump > max(ENOUGH, -least):
            text = f"from {there} of {label} the ground rises again by {write(hump)}"
            remedy = "grade it evenly, so that no water stands"
            yield Finding("water-ground-high", Severity.WARNING, text, layout.site.place("ground", 0), remedy)
    if unknown:
        text = f"the fall of the ground is not known in all of {write(asked.within)} from {', '.join(unknown)}"
        remedy = "measure points farther out"
        yield Finding("water-unknown", Severity.NOTE, text, layout.site.place("ground", 0), remedy)


_SHARES = ((0.0, "the first end"), (0.5, "the middle"), (1.0, "the second end"))


def _paved_at(layout: Layout, start: Point) -> bool:
    spot = shapely.Point(start.east, start.north)
    return any(shapely.Polygon([(c.east, c.north) for c in part]).dwithin(spot, 0.01) for _, part in _parts(layout))


def _parts(layout: Layout) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    return layout.slab.form.parts


def _ray(layout: Layout, start: Point, side: int) -> tuple[float, float] | None:
    """How far the ground falls square away from a side, and how far it rises again on the way; None where unknown."""
    assert layout.earth is not None  # noqa: S101 - asked only where there is ground
    triangles, within = layout.earth.triangles, layout.site.declared.water.within
    end = moved(start, layout.slab.form.outward(side), within)
    near, far = triangles.height(start), triangles.height(end)
    if near is None or far is None:
        return None
    lowest, hump = near, 0.0
    for each in triangles.along(start, end):
        for up in (each.start_up, each.end_up):
            lowest = min(lowest, up)
            hump = max(hump, up - lowest)
    return near - far, hump


def _band(layout: Layout) -> Iterator[Finding]:
    asked, write = layout.site.declared.water, layout.notation.length
    place = layout.site.place("ground", 0)
    known = [(height, spot.name) for spot in _corners(layout) if (height := spot.form_height) is not None]
    for height, name in known:
        if asked.least - height > ENOUGH:
            words = (
                f"the concrete at {name} is {write(height)} above the ground, {write(asked.least - height)} short of "
            )
            words += write(asked.least)
            remedy = "raise the floor, or grade the ground lower"
            yield Finding("water-concrete-low", Severity.WARNING, words, place, remedy)
        if asked.most is not None and height - asked.most > ENOUGH:
            words = (
                f"the concrete at {name} is {write(height)} above the ground, {write(height - asked.most)} more than "
            )
            words += write(asked.most)
            yield Finding("water-concrete-high", Severity.WARNING, words, place, "lower the floor, or fill beside it")


def _wood(layout: Layout) -> Iterator[Finding]:
    asked, write = layout.site.declared.water, layout.notation.length
    for spot in _corners(layout):
        height = spot.form_height
        if asked.wood is not None and height is not None and asked.wood_clear - height - asked.wood > ENOUGH:
            words = f"wood at {spot.name} is {write(height + asked.wood)} above the ground, "
            words += f"{write(asked.wood_clear - height - asked.wood)} short of {write(asked.wood_clear)}"
            remedy = "raise the floor, grade the ground lower, or use wood that may be near the ground"
            yield Finding("water-wood-low", Severity.WARNING, words, layout.site.place("water", "wood"), remedy)


def _corners(layout: Layout) -> list[Spot]:
    return [spot for spot in layout.earth.spots if spot.kind == "corner"] if layout.earth else []


CHECK = Check("Does water run away from the slab, and does it stand high enough?", CODES, _findings)
