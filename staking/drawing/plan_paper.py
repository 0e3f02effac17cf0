"""On which paper is a plan drawn, and at which scale?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.layout.computed import Layout
from staking.sitefile.plan_declared import PaperName

# width and height upright [points]: ANSI letter and ledger sizes, ISO 216; from memory
PAPERS: Mapping[PaperName, tuple[float, float]] = MappingProxyType(
    {
        "letter": (612.0, 792.0),
        "tabloid": (792.0, 1224.0),
        "a4": (210 / 25.4 * 72, 297 / 25.4 * 72),
        "a3": (297 / 25.4 * 72, 420 / 25.4 * 72),
    }
)
# Scales as they stand on engineers' and metric scales; common practice, no source.
FEET_TO_THE_INCH = (5, 10, 20, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 2000, 4000, 5000)
ONE_TO = (20, 25, 50, 75, 100, 125, 200, 250, 300, 400, 500, 750, 1000, 1250, 2000, 2500, 5000, 10_000, 20_000, 50_000)
_INCH = 72.0  # points


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale as stated. points: of paper a metre on the ground."""

    words: str
    points: float


def scales(layout: Layout) -> tuple[Scale, ...]:
    """The usual scales of the site, largest first, after the one that its file asks for."""
    asked = layout.site.declared.plan.scale
    usual = ONE_TO if layout.site.unit.name == "m" else FEET_TO_THE_INCH
    return tuple(
        _scale(layout, number) for number in ((asked,) if asked else ()) + usual if not asked or number >= asked
    )


def _scale(layout: Layout, number: float) -> Scale:
    if layout.site.unit.name == "m":
        return Scale(f"1 : {number:g}", _INCH / 0.0254 / number)
    return Scale(f"1 in = {number:g} ft", _INCH / (number * float(layout.site.unit.metres)))


def papers(layout: Layout) -> tuple[tuple[float, float], ...]:
    """The sizes of paper (width, height) [points] that may be used: one, or upright and lying."""
    plan = layout.site.declared.plan
    short, long = PAPERS[plan.paper or ("a4" if layout.site.unit.name == "m" else "letter")]
    sizes = {"portrait": ((short, long),), "landscape": ((long, short),), "auto": ((short, long), (long, short))}
    return sizes[plan.orientation]
