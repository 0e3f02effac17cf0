"""Concrete by volume, term by term, and its joints: by which arithmetic?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from staking.kinds.joints import SOURCE, joint_spacing
from staking.layout.computed import Layout
from staking.layout.covering import panels
from staking.layout.quantities import Solid, Takeoff, loads_of
from staking.notation import Notation
from staking.sheets.takeoff_row import Row, divided, length_row, more_by, volume_row

GROUP = "Concrete"
TERMS = 8  # a longer sum, or an area of more rectangles, is not written out


def concrete_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """Every piece, their sum, what is ordered, and in how many loads."""
    declared = layout.site.declared.concrete
    if declared is None or not takeoff.solids:
        return
    names = Counter(solid.name for solid in takeoff.solids)
    for solid in takeoff.solids:
        deep = f", {layout.notation.length(solid.thickness)} deep" if names[solid.name] > 1 else ""
        yield volume_row(layout, GROUP, f"{solid.name}{deep}", solid.volume, _solid_words(layout.notation, solid))
    if takeoff.twice > 1e-6:
        how = "what another footing or the slab already holds, counted once"
        yield volume_row(layout, GROUP, "less, counted twice", -takeoff.twice, how)
    how, name = _sum_words(layout, takeoff), _asked(declared.waste)
    yield volume_row(layout, GROUP, "in the forms", takeoff.volume, how, buy=name)
    whole, how = more_by(layout, takeoff.volume, declared.waste)
    if declared.waste is not None:
        how += f"; {layout.notation.share(declared.waste)} waste"
        yield volume_row(layout, GROUP, "to order", whole, how, buy="concrete")
    if declared.truck is not None:
        yield _loads(layout, whole, declared.truck)


def _asked(waste: float | None) -> str:
    """What the sum is called on the list of what to order, where nothing is added to it."""
    return "concrete, nothing added" if waste is None else ""


def _loads(layout: Layout, whole: float, truck: float) -> Row:
    loads, last = loads_of(whole, truck)
    times = layout.notation.times(whole / truck)
    full = f"{loads - 1} of {layout.notation.volume(truck)} and a last one of {layout.notation.volume(last)}"
    part = full if loads > 1 else f"one of {layout.notation.volume(last)}"
    how = f"{layout.notation.volume(whole)} / {layout.notation.volume(truck)} = {times}: {part}"
    return Row(GROUP, "loads", str(loads), "loads", how, buy=f"loads of concrete: {part}")


def _sum_words(layout: Layout, takeoff: Takeoff) -> str:
    """The pieces added up, where they are few, and divided into what is ordered."""
    terms = [layout.notation.cubic(solid.volume).split()[0] for solid in takeoff.solids]
    twice = f" - {layout.notation.cubic(takeoff.twice).split()[0]}" if takeoff.twice > 1e-6 else ""
    shown = f"{' + '.join(terms)}{twice} = " if 1 < len(terms) + bool(twice) <= TERMS else "sum: "
    if layout.site.unit.name == "m":
        return f"{shown}{layout.notation.cubic(takeoff.volume)}"
    return f"{shown}{divided(layout, takeoff.volume)}"


def _solid_words(notation: Notation, solid: Solid) -> str:
    """Length by width by thickness, as a tape has them and as a calculator takes them."""
    falls = "; top and underside fall alike" if solid.falls else ""
    thick, plan = notation.length(solid.thickness), _plan_words(notation, solid)
    if len(solid.plan) == 1:
        sides = " x ".join(map(notation.length, (solid.plan[0].long, solid.plan[0].short)))
        return f"{sides} x {thick}: {plan}{_deep(notation, solid)} = {notation.cubic(solid.volume)}{falls}"
    area = notation.area(solid.area)
    shown = f"{plan} = {area}; {area}" if plan else area
    return f"{shown} x {thick}: {area.split()[0]}{_deep(notation, solid)} = {notation.cubic(solid.volume)}{falls}"


def _deep(notation: Notation, solid: Solid) -> str:
    """Times the thickness: in inches over 12, or in metres."""
    if notation.unit.name == "m":
        return f" x {notation.for_hand(solid.thickness)}"
    return f" x {notation.inches(solid.thickness)} / 12"


def _plan_words(notation: Notation, solid: Solid) -> str:
    """The rectangles of a piece; empty where it has none, or too many to write out."""
    if not 0 < len(solid.plan) <= TERMS:
        return ""
    words = ""
    for each in solid.plan:
        sign = (" - " if each.hole else " + ") if words else ""
        words += f"{sign}{notation.for_hand(each.long)} x {notation.for_hand(each.short)}"
    return words


def joint_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """The suggested spacing, and the panels that joints part the slab into."""
    declared, thickness = layout.site.declared.concrete, layout.slab.thickness
    if declared is None or thickness is None:
        return
    write, figure = layout.notation.length, joint_spacing(thickness)
    if figure is not None:
        how = f"24 x {write(thickness)} = {write(figure)}; {SOURCE}"
        yield length_row(layout, "Contraction joints", "at most apart, suggested", figure, how)
    apart = declared.joint_spacing or figure
    if apart is not None:
        parted = panels(takeoff.extent, apart)
        along, away = parted.counts
        how = (
            f"{along} x {away}; at most {write(apart)}: panels {' x '.join(map(write, parted.size))}, long side "
            f"{layout.notation.times(parted.ratio)} times the short one (at most 1.5, better 1.25: a trade article on "
            "joints)"
        )
        yield Row("Contraction joints", "panels", str(along * away), "panels", how)
