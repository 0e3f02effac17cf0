"""Can the floor be as high, and fall as it does, and can the rod be read?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.design import Design
from staking.layout.grades import recesses_of
from staking.layout.paved import meeting
from staking.layout.surfaces import part_slope
from staking.survey.points import distance
from staking.survey.surface import same_height

GARAGE = 0.125 / 12  # 1/8 in per ft; common practice, no source
ALIKE = 0.0016  # metres (0.005 ft): heights that print alike to a hundredth of a foot

CODES = MappingProxyType(
    {
        "floor-not-above": "The floor lies no higher than the point it is meant to lie above, or than the street. "
        "Water runs in. Building codes ask for more: 12 in and 2 percent above the gutter (2024 IRC R403.1.7.3, as "
        "transcribed in public).",
        "floor-contradicts": "[plan] floor_elevation is another height than [floor] gives. Nobody could know "
        "which one to pour.",
        "floor-steep": "The floor falls more steeply than [floor] steepest, 5 % where left out (own choice).",
        "floor-flat": "The floor falls less than [floor] least, so that water stands on it. Where a drive reaches the "
        "slab and nothing is stated, a note asks for 1/8 in per ft (common practice, no source; IRC R309.1 asks for a "
        "garage floor that slopes to a drain or to the vehicle entry, without a figure, from memory).",
        "recess-drain-fall": "A recess that falls to a drain is flatter than its least_fall from one of its corners, "
        "1/4 in per ft where left out, or steeper somewhere than its most_fall, where that is stated (IRC P2709.1 has "
        "1/4 and 1/2 in per ft, from memory).",
        "floor-not-given": "Recesses, edges or set-ups of the level are declared, but no [floor]: no height is "
        "computed.",
        "ramp-steep": "A ramp falls or rises more steeply than its key steepest, 1:12 where left out (2010 ADA "
        "Standards 405.2; homes are usually outside their scope). Other parts are held to a figure of their own only.",
        "rod-too-short": "A reading is longer than the rod ([rod] length), so that the level must stand lower.",
        "level-too-low": "A point of the floor lies above the line of sight, so that the rod cannot be read upright.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.design is None:
        yield from _no_floor(layout)
        return
    yield from _not_above(layout)
    yield from _contradicted(layout)
    yield from _steep(layout)
    yield from _flat(layout, layout.design)
    yield from _drains(layout, layout.design)
    yield from _ramps(layout)
    yield from _rod(layout)


def _no_floor(layout: Layout) -> Iterator[Finding]:
    declared = layout.site.declared
    place = layout.site.place("level_setups", 0) if declared.level_setups else layout.site.place("slab")
    slab = declared.slab
    if declared.level_setups or slab.recesses or slab.thickened or slab.footings or slab.ledge_depth:
        yield Finding(
            "floor-not-given",
            Severity.WARNING,
            "nothing says how high the floor is, so no height is computed",
            place,
            'add [floor] with elevation, or with above = "P" and by = "8 in"',
        )


def _not_above(layout: Layout) -> Iterator[Finding]:
    floor, plan = layout.site.declared.floor, layout.site.declared.plan
    low = min(grade.up for grade in layout.grades)
    point = layout.points.get(floor.above) if floor else None
    others = [(f"point {point.name}", point.at.up)] if point else []
    others.append(("street", plan.street_elevation))
    for name, up in others:
        if up is not None and low <= up:
            yield Finding(
                "floor-not-above",
                Severity.STRONG,
                f"the lowest concrete, {layout.notation.decimal(low)}, is not above the {name}, "
                f"{layout.notation.decimal(up)}",
                layout.site.place("floor"),
                "correct the height, or make sure that water is led away",
            )


def _contradicted(layout: Layout) -> Iterator[Finding]:
    stated, design = layout.site.declared.plan.floor_elevation, layout.design
    if stated is not None and design is not None and not same_height(stated, design.floor.up, ALIKE):
        write = layout.notation.decimal
        yield Finding(
            "floor-contradicts",
            Severity.STOP,
            f"plan.floor_elevation is {write(stated)}, but [floor] gives {write(design.floor.up)}",
            layout.site.place("plan", "floor_elevation"),
            "take floor_elevation out of [plan]; the plan then shows the height of [floor]",
        )


def _steep(layout: Layout) -> Iterator[Finding]:
    floor, design = layout.site.declared.floor, layout.design
    if floor is not None and design is not None and design.floor.steepness > floor.steepest + 1e-9:
        write = layout.notation.fall
        yield Finding(
            "floor-steep",
            Severity.WARNING,
            f"the floor falls {write(design.floor.steepness)}, more than {write(floor.steepest)}",
            layout.site.place("floor", "fall"),
            "correct the fall, or write the steepest one that is meant as steepest",
        )


def _flat(layout: Layout, design: Design) -> Iterator[Finding]:
    floor, write = layout.site.declared.floor, layout.notation.fall
    garage = any(layout.site.declared.features[index].kind == "drive" for index, _ in meeting(layout))
    least = floor.least if floor and floor.least is not None else GARAGE if garage else 0.0
    if floor is not None and design.floor.steepness < least - 1e-9:
        asked = floor.least is not None
        is_level = design.floor.steepness == 0
        words = "the floor is level" if is_level else f"the floor falls {write(design.floor.steepness)}"
        short = f", less than {write(least)}: {layout.notation.length(_too_little(layout, design, least))} too little "
        words += f"{short}over the slab"
        words += "" if asked else "; a drive reaches it, so it may be a garage"
        remedy = 'write fall and toward; where it may be so, least = "0 %"'
        yield Finding(
            "floor-flat", Severity.WARNING if asked else Severity.NOTE, words, layout.site.place("floor"), remedy
        )


def _too_little(layout: Layout, design: Design, least: float) -> float:
    """How much more the floor must fall over the slab [m]: along its own fall, or across the slab where level."""
    way = design.floor.downhill if design.floor.steepness else layout.slab.form.pose.right.left()
    steps = [corner.east * way.east + corner.north * way.north for corner in layout.slab.form.corners]
    return (least - design.floor.steepness) * (max(steps) - min(steps))


def _drains(layout: Layout, design: Design) -> Iterator[Finding]:
    drains, write = dict(design.drains), layout.notation.fall
    corners = dict(recesses_of(design))
    for index, recess in enumerate(layout.site.declared.slab.recesses):
        if recess.name not in drains:
            continue
        drain = drains[recess.name]
        falls = [((c.up or 0.0) - (drain.up or 0.0)) / distance(c, drain) for c in corners[recess.name]]
        steepest = max(p.top.steepness for p in design.pieces if p.kind == "recess" and p.name == recess.name)
        place = layout.site.place("slab", "recesses", index)
        if min(falls) < recess.least_fall - 1e-9:
            words = f"{recess.name} falls {write(min(falls))} from a corner to its drain, less than "
            yield Finding(
                "recess-drain-fall", Severity.WARNING, f"{words}{write(recess.least_fall)}", place, "a larger fall"
            )
        if recess.most_fall is not None and steepest > recess.most_fall + 1e-9:
            words = f"{recess.name} falls {write(steepest)} to its drain where it is steepest, more than "
            remedy = "a smaller fall, or the drain nearer to the middle"
            yield Finding("recess-drain-fall", Severity.WARNING, f"{words}{write(recess.most_fall)}", place, remedy)


def _ramps(layout: Layout) -> Iterator[Finding]:
    for index, (part, (_, corners)) in enumerate(
        zip(layout.site.declared.slab.parts, layout.slab.form.parts, strict=True)
    ):
        slope = abs(part_slope(part, corners))
        asked = part.kind == "ramp" or "steepest" in part.model_fields_set
        if asked and slope > part.steepest + 1e-9:
            write = layout.notation.fall
            yield Finding(
                "ramp-steep",
                Severity.WARNING,
                f"{part.name} slopes {write(slope)}, more than {write(part.steepest)}",
                layout.site.place("slab", "parts", index),
                "a smaller drop, a greater depth, or the steepest slope that is meant as steepest",
            )


def _rod(layout: Layout) -> Iterator[Finding]:
    rod = layout.site.declared.rod.length
    for index, setup in enumerate(layout.setups):
        if setup.sight is None:
            continue
        readings = [(setup.reads(grade.at) or 0.0, grade.name) for grade in layout.grades]
        (least, high), (most, low) = min(readings), max(readings)
        place = layout.site.place("level_setups", index)
        if most > rod:
            words = (
                f"the rod would read {layout.notation.length(most)} at {low}; it is {layout.notation.length(rod)} long"
            )
            yield Finding("rod-too-short", Severity.WARNING, words, place, "set the level lower, or use a longer rod")
        if least < 0:
            words = f"{high} lies {layout.notation.length(-least)} above the line of sight"
            remedy = "set the level higher, or read the rod upside down as the sheet says"
            yield Finding("level-too-low", Severity.NOTE, words, place, remedy)


CHECK = Check("Can the floor be as high, and fall as it does, and can the rod be read?", CODES, _findings)
