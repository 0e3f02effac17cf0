"""Is the ground known everywhere, and do boards and stakes stand outside the excavation?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.stakes import BatterBoards
from staking.layout.computed import Layout
from staking.survey.overlays import without

KEPT_OUT = ("offset", "post", "nail")
NAMED = 8  # stakes told by name in one finding; of more only the number
ENOUGH = 0.0005  # metres; half a millimetre less is not complained of
FAR = 3.048  # metres (10 ft): a slab on ground lies nearer to it, and its neighbours to a ground point; own choice
ODD = 3  # points that may lie apart from all others
DEEPEST = 6.096  # metres (20 ft), 29 CFR 1926 Subpart P App. F, as quoted in public

CODES = MappingProxyType(
    {
        "ground-unknown": "A corner, a stake or some of the concrete lies outside the ground points. Nothing is "
        "carried on beyond them.",
        "ground-odd": "A ground point lies above or below all others by more than they differ among themselves, and by "
        "more than 10 ft (3.05 m; own choice): a 0 that stands for none, a slip of a digit, or another unit.",
        "ground-floor-far": "At every corner the concrete lies more than 10 ft (3.05 m) above the ground, or as much "
        "below it (own choice): a slip in the elevation of the floor, or heights in two datums.",
        "ground-no-floor": "[[ground]] is given, but no height of the floor or no thickness, so that no volume can be "
        "told.",
        "overdig-depth": "[overdig] has no depth, and the ground and the design do not tell one.",
        "overdig-deep": "The excavation is deeper than 20 ft (6.0 m). Slopes by soil class end there; a registered "
        "engineer designs its sides (29 CFR 1926 Subpart P App. F, as quoted in public).",
        "overdig-moved": "Boards or offset stakes would stand in the excavation, or nearer to its edge than [overdig] "
        "boards. They were set out farther away than the site file says, on their own strings; `fixed = true` in "
        "their entry keeps them where they are.",
        "overdig-near": "A stake stands outside the excavation, but nearer to its edge than [overdig] boards: 1.2 m "
        "where left out (Canadian Wood-Frame House Construction, placement of the house). The lot leaves no more "
        "room, or the entry is fixed.",
        "overdig-stake": "A stake stands inside the excavation and would be dug away. Its entry is fixed, or no place "
        "farther out was found.",
        "overdig-lot": "The excavation reaches over a line of the lot. Shoring, or a neighbour's leave, is needed.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _unknown(layout)
    yield from _odd(layout)
    yield from _far(layout)
    yield from _no_floor(layout)
    yield from _depth(layout)
    yield from _deep(layout)
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


def _odd(layout: Layout) -> Iterator[Finding]:
    """The highest or the lowest points, where a gap parts them from all others."""
    for state, points in (("existing", layout.site.ground), ("finished", layout.site.finished)):
        ups = sorted((point.elevation, name) for name, point in points.items() if point.elevation is not None)
        place = next((at for at, each in enumerate(layout.site.declared.ground) if each.state == state), 0)
        for apart, words in ((_below(ups), "below"), (_below([(-up, name) for up, name in reversed(ups)]), "above")):
            if apart is not None:
                names, gap = apart
                text = f"{', '.join(names)}: {layout.notation.length(gap)} {words} all other ground points"
                remedy = "correct the elevation; leave it blank, or the point out, where it was not measured"
                yield Finding("ground-odd", Severity.WARNING, text, layout.site.place("ground", place), remedy)


def _below(ups: list[tuple[float, str]]) -> tuple[list[str], float] | None:
    """The lowest of some heights, where they lie farther below the next one than all others lie apart [m]."""
    for count in range(min(ODD, len(ups) - 3), 0, -1):
        gap = ups[count][0] - ups[count - 1][0]
        if gap > max(FAR, ups[-1][0] - ups[count][0]):
            return [name for _, name in ups[:count]], gap
    return None


def _far(layout: Layout) -> Iterator[Finding]:
    heights = [spot.form_height for spot in layout.earth.corners] if layout.earth else []
    known = [height for height in heights if height is not None]
    if known and (min(known) > FAR or max(known) < -FAR):
        least = min(known, key=abs)
        side = "above" if least > 0 else "below"
        text = f"the concrete lies {layout.notation.length(abs(least))} or more {side} the ground at every corner"
        remedy = "check the elevation of the floor, and that floor, benchmark and ground are in one datum"
        yield Finding("ground-floor-far", Severity.STRONG, text, layout.site.place("ground", 0), remedy)


def _no_floor(layout: Layout) -> Iterator[Finding]:
    if layout.earth is not None and not layout.earth.pieces:
        what = "[floor]" if layout.design is None else "the thickness of the slab and its edges"
        words = f"the ground is given, but not {what}, so no volume is computed"
        yield Finding("ground-no-floor", Severity.WARNING, words, layout.site.place("ground", 0), f"add {what}")


def _depth(layout: Layout) -> Iterator[Finding]:
    if layout.site.declared.overdig is not None and layout.excavation is None:
        depth = "0.9" if layout.site.unit.name == "m" else '"3 ft"'
        words, remedy = "nothing says how deep the excavation is", f"write depth = {depth}, or [[ground]] and [floor]"
        yield Finding("overdig-depth", Severity.WARNING, words, layout.site.place("overdig"), remedy)


def _deep(layout: Layout) -> Iterator[Finding]:
    if layout.excavation is not None and layout.excavation.depth > DEEPEST:
        words = f"the excavation is {layout.notation.length(layout.excavation.depth)} deep"
        remedy = "have its sides designed; do not dig by this sheet"
        yield Finding("overdig-deep", Severity.STRONG, words, layout.site.place("overdig"), remedy)


def _moved(layout: Layout) -> Iterator[Finding]:
    """What stands farther away than asked for, one note an entry."""
    for index, wanted in enumerate(layout.site.declared.stakes):
        asked = wanted.back if isinstance(wanted, BatterBoards) else getattr(wanted, "distance", 0.0)
        moved = {s.at: s for s in layout.stakes if s.entry == index and s.moved > 0 and s.kind in ("offset", "nail")}
        if not moved:
            continue
        write = layout.notation.length
        each = [f"{stake.name} at {write(asked + stake.moved)}" for stake in moved.values()]
        what = "nails and their boards" if isinstance(wanted, BatterBoards) else "offset stakes"
        words = f"{what} stand farther out than {write(asked)}, clear of the excavation: {_listed(each)}"
        remedy = "nothing, if that suits; else less depth, steeper sides (shored), less room, or fixed = true here"
        yield Finding("overdig-moved", Severity.NOTE, words, layout.site.place("stakes", index), remedy)


def _listed(names: list[str]) -> str:
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return ", ".join(names[:NAMED]) + more


def _dug(layout: Layout) -> Iterator[Finding]:
    asked = layout.site.declared.overdig
    if layout.excavation is None or asked is None:
        return
    edge, write = layout.excavation.edge, layout.notation.length
    inside, near = [], []
    for stake in (stake for stake in layout.stakes if stake.kind in KEPT_OUT):
        spot = shapely.Point(stake.at.east, stake.at.north)
        away = float(edge.exterior.distance(spot))
        if edge.contains(spot):
            inside.append((stake.entry, f"{stake.name} by {write(away)}"))
        elif away < asked.boards - ENOUGH:
            near.append((stake.entry, f"{stake.name} at {write(away)}"))
    deep = _told("inside the edge of the excavation: ", inside)
    yield from _by_entry(layout, "overdig-stake", Severity.WARNING, deep)
    beside = _told(f"less than {write(asked.boards)} outside the edge of the excavation: ", near)
    yield from _by_entry(layout, "overdig-near", Severity.NOTE, beside)
    yield from _over_lot(layout, edge)


def _told(before: str, found: list[tuple[int, str]]) -> Iterator[tuple[int, str]]:
    """A sentence for every entry of [[stakes]] of which some are found."""
    for entry in sorted({entry for entry, _ in found}):
        yield entry, before + _listed([words for at, words in found if at == entry])


def _by_entry(layout: Layout, code: str, severity: Severity, told: Iterator[tuple[int, str]]) -> Iterator[Finding]:
    remedy = "a larger distance there without fixed, or set them when the pit is filled again"
    for entry, words in told:
        yield Finding(code, severity, words, layout.site.place("stakes", entry), remedy)


def _over_lot(layout: Layout, edge: shapely.Polygon) -> Iterator[Finding]:
    place = layout.site.place("overdig")
    if layout.lot is not None and without(edge, layout.lot.shape).area > 0.01:
        area = layout.notation.area(without(edge, layout.lot.shape).area)
        words, remedy = f"the excavation reaches over a line of the lot, {area} beyond it", "shore it, or ask first"
        yield Finding("overdig-lot", Severity.STRONG, words, place, remedy)


CHECK = Check("Is the ground known everywhere, and do stakes stand outside the excavation?", CODES, _findings)
