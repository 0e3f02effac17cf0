"""Is the slab where its maker meant it to be?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.ground import ON_LINE, BaseLine
from staking.kinds.placements import Centered, FromLines
from staking.layout.computed import Layout
from staking.layout.ties import slab_side
from staking.survey.points import Point
from staking.survey.polygons import line_string

LARGEST = 300.0  # metres (about 1,000 ft); a slab larger than this is more likely a wrong unit
SMALLEST = 0.3  # metres (about 1 ft)
WIDE_LEDGE = 0.3048  # metres (1 ft): a brick ledge is a hand or two wide; own choice
THICK = 0.6096  # metres (2 ft): more is a foundation block, or inches without their mark; own choice

CODES = MappingProxyType(
    {
        "slab-across-line": "A line that the slab is placed from runs through the slab, or does so when it is carried "
        "on beyond its ends: the wrong corner or side was named, a distance is too small, or the slab is wider than "
        "the room between two lines. Through the line itself it stops the job; through its extension it is a strong "
        "warning. Lot sides have their own finding.",
        "other-corner-nearer": "Another corner of the formed outline is nearer to a line than the corner or side the "
        "placement measures from it, or lies beyond it: the lines are not square to each other, or the wrong corner "
        "or side was named.",
        "size-unlikely": "A side of the slab is longer than 300 m (about 1,000 ft) or shorter than 0.3 m (about 1 ft), "
        "the ledge is wider than 1 ft or the slab thicker than 2 ft: a wrong unit, inches without their mark, or a "
        "slip of the decimal point.",
    }
)


@dataclass(frozen=True, slots=True)
class _Measured:
    """A line the slab is placed from. key: of [placement] that names it; named, named_by: the corner held to it."""

    key: str
    base: BaseLine
    named: int | None = None
    named_by: str = ""


def _findings(layout: Layout) -> Iterator[Finding]:
    for measured in _measured(layout):
        across = _across(layout, measured)
        yield from across
        if not across:
            yield from _other_corner(layout, measured)
    yield from _unlikely(layout)


def _measured(layout: Layout) -> Iterator[_Measured]:
    placement, outline = layout.site.declared.placement, layout.slab.form.outline
    if isinstance(placement, FromLines | Centered):
        yield _Measured("reference", layout.lines[placement.reference], outline.side(placement.side), "side")
    if isinstance(placement, FromLines):
        yield _Measured("from", layout.lines[placement.from_], outline.corner(placement.corner), "corner")
    if isinstance(placement, Centered):
        for name in placement.between:
            yield _Measured("between", layout.lines[name])


def _across(layout: Layout, measured: _Measured) -> tuple[Finding, ...]:
    """The line through the slab or one of its parts; lot sides are the lot's own question."""
    base, whole = measured.base, layout.slab.form.whole
    if base.inside is not None:
        return ()
    offs = [base.line.offset(Point(*at)) for at in shapely.get_coordinates(whole)]
    reach = min(max(offs), -min(offs))
    if reach <= ON_LINE:
        return ()
    through = whole.buffer(-ON_LINE).intersects(line_string(base.line))
    if layout.site.declared.placement.kind == "centered" and measured.key == "between":
        remedy = "make the slab narrower, or name lines farther apart"
    else:
        remedy = "name the corner and the side that face the line, or give a larger distance"
    words = f'"{base.name}"' if through else f'"{base.name}", carried on beyond its ends'
    return (
        Finding(
            "slab-across-line",
            Severity.STOP if through else Severity.STRONG,
            f"the slab reaches {layout.notation.both(reach)} beyond {words}, which it is placed from",
            layout.site.place("placement", measured.key),
            f"{remedy}; a line on paper only, with nothing standing on it, may run through the slab",
        ),
    )


def _other_corner(layout: Layout, measured: _Measured) -> Iterator[Finding]:
    named, base, form = measured.named, measured.base, layout.slab.form
    if named is None:
        return
    way = slab_side(base, form)
    reaches = [way * base.line.offset(corner) for corner in form.corners]
    nearest = min(range(len(reaches)), key=reaches.__getitem__)
    if reaches[nearest] >= reaches[named] - ON_LINE / 10:
        return
    write = layout.notation.both
    if reaches[named] < -ON_LINE:  # all of it lies beyond the line, which other findings stop
        return
    stands = f'stands {write(reaches[nearest])} from "{base.name}", nearer than'
    if reaches[nearest] < 0:
        stands = f'lies {write(-reaches[nearest])} beyond "{base.name}", on the other side of it than'
    yield Finding(
        "other-corner-nearer",
        Severity.WARNING,
        f"{form.outline.corner_label(nearest)} {stands} {form.outline.corner_label(named)} with "
        f"{write(max(0.0, reaches[named]))}",
        layout.site.place("placement", measured.named_by),
        f"name the nearer {measured.named_by} if the distance must hold there; the margins below are from the "
        "nearest place",
    )


def _unlikely(layout: Layout) -> Iterator[Finding]:
    write, slab = layout.notation.both, layout.slab
    odd = [side for side in layout.sides if not SMALLEST <= side.length <= LARGEST]
    if odd:
        more = f", and {len(odd) - 1} more sides are as odd" if len(odd) > 1 else ""
        yield _odd(layout, f"{odd[0].label} is {write(odd[0].length)} long{more}", "slab")
    if slab.ledge > WIDE_LEDGE:
        yield _odd(layout, f"the ledge is {write(slab.ledge)} wide", "slab", "ledge")
    if slab.thickness is not None and slab.thickness > THICK:
        yield _odd(layout, f"the slab is {write(slab.thickness)} thick", "slab", "thickness")


def _odd(layout: Layout, message: str, *path: str) -> Finding:
    return Finding(
        "size-unlikely",
        Severity.WARNING,
        message,
        layout.site.place(*path),
        'check the unit and the decimal point; inches are written "5 in"',
    )


CHECK = Check("Is the slab where its maker meant it to be?", CODES, _findings)
