"""Can every stake be driven where it was computed?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout, Stake
from staking.survey.points import Point, distance
from staking.survey.polygons import polygon

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
        "no-stakes": "The file asks for no stakes, so nothing would be marked.",
    }
)
_IN_CONCRETE = ("offset", "post", "nail")


def _findings(layout: Layout) -> Iterator[Finding]:
    if not layout.stakes:
        yield Finding(
            "no-stakes",
            Severity.WARNING,
            "no stakes are asked for",
            layout.site.place(),
            'add [[stakes]] with kind = "corners", "offsets", "batter_boards" or "along"',
        )
        return
    yield from _off_lot(layout)
    yield from _in_slab(layout)
    yield from _in_keep_clear(layout)
    yield from _on_stake(layout)


def _place(layout: Layout, stake: Stake) -> Place:
    kinds = {"offsets": "offsets", "batter_boards": "batter_boards", "marks": "along"}
    wanted = kinds.get(stake.series, "corners")
    index = next((i for i, entry in enumerate(layout.site.declared.stakes) if entry.kind == wanted), 0)
    return layout.site.place("stakes", index)


def _shapes(points: list[Point]) -> list[shapely.Point]:
    return [shapely.Point(p.east, p.north) for p in points]


def _remedy(stake: Stake) -> str:
    return {
        "offset": "a smaller distance in [[stakes]], or set this one by hand along its string",
        "post": "a smaller back or board in [[stakes]], or a single board here",
        "nail": "a smaller back in [[stakes]], or set this one by hand along its string",
    }.get(stake.kind, "move the slab, or leave this stake out")


def _off_lot(layout: Layout) -> Iterator[Finding]:
    if layout.lot is None:
        return
    area = layout.lot.shape
    shapely.prepare(area)
    for stake, place in zip(layout.stakes, _shapes([s.at for s in layout.stakes]), strict=True):
        if not area.covers(place) and (off := float(area.distance(place))) > ON_EDGE:
            yield Finding(
                "stake-off-lot",
                Severity.WARNING,
                f"stake {stake.name} ({stake.note}) stands {layout.notation.length(off)} off the lot",
                _place(layout, stake),
                _remedy(stake),
            )


def _in_slab(layout: Layout) -> Iterator[Finding]:
    pieces = [("the slab", layout.slab.form.shape)]
    pieces += [(name, polygon(corners)) for name, corners in layout.slab.form.parts]
    for stake in layout.stakes:
        place = shapely.Point(stake.at.east, stake.at.north)
        for name, shape in pieces:
            if stake.kind in _IN_CONCRETE and shape.covers(place) and shape.boundary.distance(place) > ON_EDGE:
                yield Finding(
                    "stake-in-slab",
                    Severity.STRONG,
                    f"stake {stake.name} ({stake.note}) stands in {name}",
                    _place(layout, stake),
                    _remedy(stake),
                )


def _in_keep_clear(layout: Layout) -> Iterator[Finding]:
    for area in layout.kept_clear:
        for stake in layout.stakes:
            if area.shape.covers(shapely.Point(stake.at.east, stake.at.north)):
                yield Finding(
                    "stake-in-keep-clear",
                    Severity.WARNING,
                    f'stake {stake.name} ({stake.note}) stands in "{area.name}"',
                    _place(layout, stake),
                    f"{_remedy(stake)}; have what lies there located first",
                )


def _on_stake(layout: Layout) -> Iterator[Finding]:
    """Stakes of different purpose in one place; a tree finds the pairs so that thousands of stakes stay quick."""
    named = [(stake.name, stake.note, stake.at) for stake in layout.stakes]
    named += [(point.name, point.note or "given point", point.at) for point in layout.points.values()]
    tree = shapely.STRtree(_shapes([at for _, _, at in named]))
    first, second = tree.query(_shapes([s.at for s in layout.stakes]), predicate="dwithin", distance=TOO_NEAR)
    for a, b in sorted((int(i), int(j)) for i, j in zip(first, second, strict=True) if i < j):
        (name, note, at), (other, other_note, there) = named[a], named[b]
        yield Finding(
            "stake-on-stake",
            Severity.WARNING,
            f"stake {name} ({note}) and {other} ({other_note}) are {layout.notation.length(distance(at, there))} apart",
            _place(layout, layout.stakes[a]),
            "change a distance in [[stakes]] so that they stand clear of each other, or drive only one of them",
        )


CHECK = Check("Can every stake be driven where it was computed?", CODES, _findings)
