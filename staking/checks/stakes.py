"""Can every stake be driven where it was computed?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import shapely
from numpy.typing import NDArray

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.stakes import BatterBoards, Offsets
from staking.layout.computed import Layout, Stake
from staking.survey.overlays import ALIKE
from staking.survey.points import distance
from staking.survey.polygons import polygon, spots

TOO_NEAR = 0.15  # metres (6 in): two stakes nearer than this split each other; common practice, no source
ON_EDGE = 0.003  # metres (1/8 in): a stake this near to the edge of the slab or lot stands on it

CODES = MappingProxyType(
    {
        "stake-off-lot": "A stake stands beyond the lot line, on somebody else's land or in the street.",
        "stake-in-slab": "An offset stake, post or nail stands inside the slab or one of its parts, where "
        "concrete goes.",
        "stake-in-keep-clear": "A stake stands in an area that must stay clear, such as an easement. What lies there "
        "may be what a stake must not be driven into.",
        "stake-on-stake": "Two stakes, or a stake and a given point, stand within 6 in (0.15 m) of each other: one "
        "would disturb the other, or be taken for it.",
        "stake-on-arc": "Offset stakes and batter boards hold strings over straight sides. A side that is an arc gets "
        "none, and after digging it must be found again in another way.",
        "no-stakes": "The file asks for no stakes, so nothing would be marked.",
    }
)
_IN_CONCRETE = ("offset", "post", "nail")
NAMED = 8  # stakes told by name in one finding; of more only the number


@dataclass(frozen=True, slots=True)
class _Fault:
    """What is wrong with one stake. names: as a list has it; words: the whole sentence; size: the worst is told."""

    stake: Stake
    names: str
    words: str
    about: str = ""
    size: float = 0.0


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _on_arcs(layout)
    if not layout.site.declared.stakes:
        yield Finding(
            "no-stakes",
            Severity.WARNING,
            "no stakes are asked for",
            layout.site.place(),
            'add [[stakes]] with kind = "corners", "offsets", "batter_boards" or "along"',
        )
        return
    yield from _told(layout, "stake-off-lot", Severity.WARNING, _off_lot(layout))
    yield from _told(layout, "stake-in-slab", Severity.STRONG, _in_slab(layout))
    yield from _told(layout, "stake-in-keep-clear", Severity.WARNING, _in_keep_clear(layout))
    yield from _told(layout, "stake-on-stake", Severity.WARNING, _on_stake(layout))


def _on_arcs(layout: Layout) -> Iterator[Finding]:
    """What was asked for and cannot be had: strings run straight."""
    outline = layout.slab.form.outline
    arcs = [outline.side_label(index) for index in range(len(outline.corners)) if outline.curved(index)]
    for index, entry in enumerate(layout.site.declared.stakes if arcs else ()):
        if isinstance(entry, Offsets | BatterBoards):
            what = "offset stakes" if isinstance(entry, Offsets) else "batter boards"
            arc = "is an arc and gets" if len(arcs) == 1 else "are arcs and get"
            yield Finding(
                "stake-on-arc",
                Severity.NOTE if len(arcs) < len(outline.corners) else Severity.WARNING,
                f"{what} hold strings over straight sides; {', '.join(arcs)} {arc} none",
                layout.site.place("stakes", index),
                'kind = "along" marks the arc itself; after digging its corners are found again by two tapes, as the '
                "tape sheet has it",
            )


def _told(layout: Layout, code: str, severity: Severity, faults: Iterator[_Fault]) -> Iterator[Finding]:
    """One finding for all stakes of one kind and entry with the same fault, so that nothing else is buried."""
    alike: dict[tuple[int, str, str], list[_Fault]] = {}
    for fault in faults:
        alike.setdefault((fault.stake.entry, fault.stake.kind, fault.about), []).append(fault)
    for (entry, _, _), group in alike.items():
        worst = max(group, key=lambda fault: round(fault.size, 6))
        others = [fault.names for fault in group if fault is not worst]
        yield Finding(
            code,
            severity,
            worst.words + _also(others),
            layout.site.place("stakes", entry),
            _REMEDIES[code].format(remedy=_remedy(worst.stake)),
        )


def _also(others: Sequence[str]) -> str:
    if not others:
        return ""
    more = f" and {len(others) - NAMED} more" if len(others) > NAMED else ""
    return f"; the same with {', '.join(others[:NAMED])}{more}"


_REMEDIES = MappingProxyType(
    {
        "stake-off-lot": "{remedy}",
        "stake-in-slab": "{remedy}",
        "stake-in-keep-clear": "{remedy}; have what lies there located first",
        "stake-on-stake": "change a distance in [[stakes]] so that they stand clear of each other, or drive only one "
        "of them",
    }
)


def _remedy(stake: Stake) -> str:
    return {
        "offset": "a smaller distance in [[stakes]], or set this one by hand along its string",
        "post": "a smaller back or board in [[stakes]], or a single board here",
        "nail": "a smaller back in [[stakes]], or set this one by hand along its string",
    }.get(stake.kind, "move the slab, or leave this stake out")


def _spots(layout: Layout) -> NDArray[np.object_]:
    return spots(stake.at for stake in layout.stakes)


def _off_lot(layout: Layout) -> Iterator[_Fault]:
    if layout.lot is None:
        return
    area, places = layout.lot.shape, _spots(layout)
    shapely.prepare(area)
    for index in np.flatnonzero(~shapely.covers(area, places)).tolist():
        stake, off = layout.stakes[index], float(area.distance(places[index]))
        if off > ON_EDGE:
            words = f"stake {stake.name} ({stake.note}) stands {layout.notation.length(off)} off the lot"
            yield _Fault(stake, stake.name, words, size=off)


def _in_slab(layout: Layout) -> Iterator[_Fault]:
    pieces = [("the slab", layout.slab.form.shape)]
    pieces += [(name, polygon(corners)) for name, corners in layout.slab.form.parts]
    stakes = [stake for stake in layout.stakes if stake.kind in _IN_CONCRETE]
    places = spots(stake.at for stake in stakes)
    inside = [
        shapely.covers(shape, places) & (shapely.distance(shape.boundary, places) > ON_EDGE) for _, shape in pieces
    ]
    for index, stake in enumerate(stakes):
        for (name, _), held in zip(pieces, inside, strict=True):
            if held[index]:
                yield _Fault(stake, stake.name, f"stake {stake.name} ({stake.note}) stands in {name}", name)


def _in_keep_clear(layout: Layout) -> Iterator[_Fault]:
    places = _spots(layout)
    for area in layout.kept_clear:
        for index in np.flatnonzero(shapely.dwithin(area.shape, places, ALIKE)).tolist():
            stake = layout.stakes[index]
            words = f'stake {stake.name} ({stake.note}) stands in "{area.name}"'
            yield _Fault(stake, stake.name, words, area.name)


def _on_stake(layout: Layout) -> Iterator[_Fault]:
    """Stakes of different purpose in one place; a tree finds the pairs so that thousands of stakes stay quick."""
    named = [(stake.name, stake.note, stake.at) for stake in layout.stakes]
    named += [(point.name, point.note or "given point", point.at) for point in layout.points.values()]
    tree = shapely.STRtree(spots(at for _, _, at in named))
    first, second = tree.query(_spots(layout), predicate="dwithin", distance=TOO_NEAR)
    for a, b in sorted((int(i), int(j)) for i, j in zip(first, second, strict=True) if i < j):
        (name, note, at), (other, other_note, there) = named[a], named[b]
        apart = distance(at, there)
        words = f"stake {name} ({note}) and {other} ({other_note}) are {layout.notation.length(apart)} apart"
        yield _Fault(layout.stakes[a], f"{name} and {other}", words, size=-apart)


CHECK = Check("Can every stake be driven where it was computed?", CODES, _findings)
