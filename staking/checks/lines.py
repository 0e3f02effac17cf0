"""Can the lines that everything is measured from be trusted?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.ground import BaseLine
from staking.layout.computed import Layout
from staking.survey.points import distance, moved, vector

BENT = 0.01  # metres (3/8 in) off the best line, and one part in 2500 of its length: the poor class of taping
SHORT = 3.0  # a base line this many times shorter than the reach it serves turns the slab noticeably
ODD = 10.0  # times the longest other side
_CORNERS = 4  # of lots that can be parallelograms
_FAR_OFF = 0.75  # of the longest side: lots that only narrow have corners less far from a parallelogram
_SQUARE = 0.35  # cosine; sides within 20 degrees of square
_LIKE = 0.06  # of the longest side, within which sides are alike
FEWEST = 4  # sides of a lot of which a corner can be odd: a narrow triangle is none
LANDMARKS = ("fence", "curb", "kerb", "walk", "wall", "hedge", "drive", "road edge")

CODES = MappingProxyType(
    {
        "line-not-surveyed": "A setback is measured from lot lines that no surveyor gave (`given_by` of [lot] is plat, "
        "owner, taped, or left out). Locating a property line is licensed work in most places (for example Nevada NRS "
        "625.040 and South Dakota SDCL 36-18A-4).",
        "setback-missing": "A side of the lot has no figure in [setbacks]. There are no defaults: the authority's "
        "figures are asked for, 0 included.",
        "lot-corner-odd": "Both lot sides that meet in a corner are more than ten times as long as every other side: "
        "most likely a digit too many in one of its numbers (own choice of the figure).",
        "lot-digit": "A lot of four corners would be a parallelogram, nearly, if one digit of one corner were another: "
        "the corner lies more than three quarters of the lot's longest side from there, straight north, south, east or "
        "west (own choice of the figures).",
        "landmark-not-line": "A reference line is named after a fence, curb, walk or wall. Such things may "
        "stand a foot or "
        "more off the property line; setbacks are never measured from them here.",
        "line-bent": "A reference through three or more points is not straight: a point lies off the best line by more "
        "than 3/8 in (10 mm) or by more than 1 part in 2500 of the line's length, the poor class of taping "
        "(lecture notes on taping corrections).",
        "line-short": "The slab reaches more than three times as far from a reference line as the line is long: "
        "an error in "
        "its points is enlarged by as much (common practice, no source).",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _not_surveyed(layout)
    yield from _without_setback(layout)
    yield from _odd_corner(layout)
    yield from _odd_digit(layout)
    for index, declared in enumerate(layout.site.declared.references):
        base = layout.lines[declared.name]
        yield from _landmark(layout, base, index)
        yield from _bent(layout, base, index)
    yield from _short(layout)


def _not_surveyed(layout: Layout) -> Iterator[Finding]:
    lot, site = layout.lot, layout.site
    if lot is None or not site.declared.setbacks or lot.given_by == "surveyor":
        return
    whose = {"plat": "come from a plat; nobody is said to have marked them", "owner": "are as the owner gave them"}
    words = whose.get(lot.given_by, "were taped" if lot.given_by == "taped" else "are given by nobody")
    key = ("lot", "given_by") if lot.given_by else ("lot",)
    yield Finding(
        "line-not-surveyed",
        Severity.WARNING,
        f"setbacks are measured from lot lines that {words}",
        site.place(*key),
        'have a licensed surveyor mark the corners, then write given_by = "surveyor"',
    )


def _without_setback(layout: Layout) -> Iterator[Finding]:
    if layout.lot is None:
        return
    for name in dict.fromkeys(side.name for side in layout.lot.sides):
        if name not in layout.site.declared.setbacks:
            yield Finding(
                "setback-missing",
                Severity.WARNING,
                f'no setback is given for the lot side "{name}"',
                layout.site.place("setbacks"),
                f"ask the authority and add {name} = ... to [setbacks]; 0 where none is required",
            )


def _odd_corner(layout: Layout) -> Iterator[Finding]:
    """A corner with a slip in a number drags both of its sides along; a long lot has two more that are as long."""
    if layout.lot is None or len(layout.lot.sides) < FEWEST:
        return
    sides = layout.lot.sides
    lengths = [side.line.length for side in sides]
    for index, side in enumerate(sides):
        others = max(length for at, length in enumerate(lengths) if at not in (index, (index - 1) % len(sides)))
        if min(lengths[index], lengths[index - 1]) > ODD * others:
            write = layout.notation.length
            yield Finding(
                "lot-corner-odd",
                Severity.STRONG,
                f"the lot sides at {side.start_name} are {write(lengths[index - 1])} and {write(lengths[index])} long, "
                f"no other is longer than {write(others)}",
                layout.site.place("points", side.start_name),
                f"check the digits of {side.start_name}",
            )


def _odd_digit(layout: Layout) -> Iterator[Finding]:
    """A corner far from where the other three of four want it, along one axis, by some tens or hundreds."""
    found = list(_slips(layout))
    if not found:
        return
    # Moving any of the four makes a parallelogram; the one that makes it square is the likely one.
    slant, name, axis, value, right = min(found)
    write = layout.notation.coordinate
    if slant < _SQUARE:
        yield Finding(
            "lot-digit",
            Severity.STRONG,
            f"{name} makes a long corner of the lot; with {axis} {write(right)} instead of {write(value)} it would "
            "have like sides",
            layout.site.place("points", name),
            f"compare {name} with the surveyor's list",
        )


def _slips(layout: Layout) -> Iterator[tuple[float, str, str, float, float]]:
    """How slanted the lot would be [cosine], the corner, the axis, what is written and what would be [m]."""
    lot = layout.lot
    if lot is None or lot.record is not None or len(lot.corners) != _CORNERS:
        return
    unit = float(layout.site.unit.metres)
    written = [layout.frame.to_file(corner) for corner in lot.corners]
    for index, side in enumerate(lot.sides):
        before, opposite, after = (written[(index + n) % _CORNERS] for n in (-1, 2, 1))
        long = max(distance(before, opposite), distance(after, opposite))
        slant = abs(vector(before, opposite).unit().dot(vector(opposite, after).unit()))
        off = vector(moved(before, vector(opposite, after), 1.0), written[index])
        for axis, wrong, well in (("north", off.north, off.east), ("east", off.east, off.north)):
            step = _digit_step(wrong / unit) * unit
            if abs(wrong) > _FAR_OFF * long and max(abs(well), abs(wrong - step)) < _LIKE * long:
                value = getattr(written[index], axis)
                yield slant, side.start_name, axis, value, value - step


def _digit_step(off: float) -> float:
    """The nearest difference that one digit can make: 1 to 9 of one place."""
    size = 10.0 ** math.floor(math.log10(max(abs(off), 1e-9)))
    return math.copysign(size * round(abs(off) / size), off)


def _landmark(layout: Layout, base: BaseLine, index: int) -> Iterator[Finding]:
    if any(word in base.name.lower() for word in LANDMARKS):
        yield Finding(
            "landmark-not-line",
            Severity.NOTE,
            f'the slab may be placed from "{base.name}", but it is not the property line',
            layout.site.place("references", index, "name"),
            "check the margins against marked lot corners",
        )


def _bent(layout: Layout, base: BaseLine, index: int) -> Iterator[Finding]:
    if not base.residuals:
        return
    name, off = max(base.residuals, key=lambda found: abs(found[1]))
    if abs(off) > max(BENT, base.line.length / 2500):
        hand = "left" if off > 0 else "right"
        yield Finding(
            "line-bent",
            Severity.WARNING,
            f'"{base.name}" is not straight: {name} lies {layout.notation.both(abs(off))} to the {hand} of the '
            "best line",
            layout.site.place("references", index, "through"),
            "measure that point again, or leave it out",
        )


def _short(layout: Layout) -> Iterator[Finding]:
    placement = layout.site.declared.placement
    base = layout.lines.get(getattr(placement, "reference", ""))
    if base is None:
        return
    corners = layout.slab.form.corners
    reach = max(abs(base.line.offset(c)) for c in corners) + max(abs(base.line.along(c)) for c in corners) / 2
    if reach > SHORT * base.line.length:
        yield Finding(
            "line-short",
            Severity.WARNING,
            f'"{base.name}" is {layout.notation.length(base.line.length)} long and carries a slab that reaches '
            f"{layout.notation.length(reach)} from it",
            layout.site.place("placement", "reference"),
            "find two points of the line that are farther apart",
        )


CHECK = Check("Can the lines that everything is measured from be trusted?", CODES, _findings)
