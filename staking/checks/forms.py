"""Do boards, stakes, joints and loads fit the slab?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.joints import LONGEST, joint_spacing
from staking.kinds.lumber import DRESSED, nominal
from staking.layout.computed import Layout
from staking.layout.covering import panels
from staking.layout.form_heights import tiers_of
from staking.layout.quantities import loads_of

STAKES_APART = 4 * 0.3048  # metres; Masonry and Concrete (2004), p. 47: 3 to 4 ft
BASE = 4 * 0.0254  # metres; 2022 CRC R506.2.2, as paraphrased in public
SHORT_LOAD = 0.5  # of a truck; own choice
TWO_BOARDS = 2 * max(width for _, width in DRESSED.values())  # metres; the widest boards there are
NOISE = 1e-6

CODES = MappingProxyType(
    {
        "forms-nominal": "The actual size typed for a board is that of a nominal size: a 2x6 measures 1-1/2 in x "
        "5-1/2 in (PS 20, as tabulated in public).",
        "forms-low": "The form is lower than it must be along a side, so that concrete runs out below it. It must "
        "reach from the top of the concrete down to the ground beside it, or to the underside where the ground lies "
        "lower, or where [overdig] has it dug away. Where no ground is known, only the thickness of the slab is "
        "looked at.",
        "forms-high": "A form is more than two boards high. The published spacing of stakes is for one or two (Masonry "
        "and Concrete, 2004, p. 47); the pressure of fresh concrete grows with its depth.",
        "forms-stakes-apart": "Stakes stand farther apart than 4 ft (Masonry and Concrete, 2004, p. 47: 3 to 4 ft).",
        "joints-apart": "Contraction joints lie farther apart than 24 times the thickness (PCA floor booklet, 2nd ed. "
        "1983, table as reproduced in public: slump 4 to 6 in, aggregate under 3/4 in; other mixes have more).",
        "joints-long": "The panels between joints are more than 1.5 times as long as wide (K. Basham, a trade article "
        "on joints, as mirrored in public; 1.25 is better).",
        "base-thin": "The base course is thinner than 4 in (2022 CRC R506.2.2, as paraphrased in public; where the "
        "soil itself is clean sand or gravel none may be asked for, from memory).",
        "load-short": "The last load is less than half a truck (own choice). Short loads cost extra; common "
        "practice, no source.",
        "concrete-gap": "Between a footing and the edge of the slab above it there is room, and no wall is declared to "
        "fill it. What stands there is in no volume.",
        "steel-no-lap": "Bars, sheets or rolls follow one another, and no lap is declared. How long a lap must be "
        "belongs to the design.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _nominal(layout)
    yield from _low(layout)
    yield from _high(layout)
    yield from _stakes(layout)
    yield from _joints(layout)
    yield from _long(layout)
    yield from _base(layout)
    yield from _loads(layout)
    yield from _gaps(layout)
    yield from _laps(layout)


def _nominal(layout: Layout) -> Iterator[Finding]:
    forms = layout.site.declared.forms
    name = nominal(*forms.size) if forms and not forms.board else ""
    if name:
        yield Finding(
            "forms-nominal",
            Severity.WARNING,
            f"the board is typed with the nominal size of a {name}",
            layout.site.place("forms", "thickness"),
            f'write board = "{name}", or the size as measured',
        )


def _low(layout: Layout) -> Iterator[Finding]:
    forms, takeoff, write = layout.site.declared.forms, layout.takeoff, layout.notation.length
    if forms is None or takeoff is None:
        return
    low = [(each.need - sum(tiers_of(forms, each)), each) for each in takeoff.heights]
    short = sorted((pair for pair in low if pair[0] > NOISE), key=lambda pair: -round(pair[0], 6))
    if short:
        least, worst = short[0]
        boards = math.ceil((worst.need - NOISE) / forms.size[1])
        more = f"; too low at {', '.join(each.label for _, each in short[1:])} as well" if len(short) > 1 else ""
        below = "down to the ground" if worst.ground else "down to the underside"
        words = f"the form is {write(sum(tiers_of(forms, worst)))} high, {write(least)} too low at {worst.label}: "
        words += f"{write(worst.along)} along, the concrete needs {write(worst.need)}, {below}{more}"
        remedy = f"tiers = {boards}, a higher board, or close the gap below it"
        yield Finding("forms-low", Severity.WARNING, words, layout.site.place("forms"), remedy)


def _high(layout: Layout) -> Iterator[Finding]:
    forms, takeoff, write = layout.site.declared.forms, layout.takeoff, layout.notation.length
    if forms is None or takeoff is None:
        return
    high = [(sum(tiers), each.label) for each in takeoff.heights if len(tiers := tiers_of(forms, each)) > 1]
    tallest = max(high, default=(0.0, ""))
    if tallest[0] > TWO_BOARDS + NOISE:
        words = f"the form is {write(tallest[0])} high at {tallest[1]}, more than two boards of 12 in"
        remedy = "have it braced as its designer says; the spacing of stakes in [forms] is not enough to go by"
        yield Finding("forms-high", Severity.WARNING, words, layout.site.place("forms"), remedy)


def _stakes(layout: Layout) -> Iterator[Finding]:
    forms, write = layout.site.declared.forms, layout.notation.length
    if forms and forms.stake_spacing is not None and forms.stake_spacing > STAKES_APART + NOISE:
        yield Finding(
            "forms-stakes-apart",
            Severity.WARNING,
            f"stakes are {write(forms.stake_spacing)} apart, more than {write(STAKES_APART)}",
            layout.site.place("forms", "stake_spacing"),
            "set them nearer, so that the boards do not bow",
        )


def _joints(layout: Layout) -> Iterator[Finding]:
    concrete, thickness, write = layout.site.declared.concrete, layout.slab.thickness, layout.notation.length
    figure = joint_spacing(thickness) if thickness is not None else None
    apart = concrete.joint_spacing if concrete else None
    if apart is not None and figure is not None and apart > figure + NOISE:
        yield Finding(
            "joints-apart",
            Severity.WARNING,
            f"joints are {write(apart)} apart, more than 24 times the thickness, {write(figure)}",
            layout.site.place("concrete", "joint_spacing"),
            "set them nearer, or ask who designs the slab",
        )


def _long(layout: Layout) -> Iterator[Finding]:
    concrete, write = layout.site.declared.concrete, layout.notation.length
    if concrete is None or concrete.joint_spacing is None or layout.takeoff is None:
        return
    parted = panels(layout.takeoff.extent, concrete.joint_spacing)
    if parted.ratio > LONGEST + NOISE:
        size, ratio = " x ".join(map(write, parted.size)), layout.notation.times(parted.ratio)
        words = f"panels between joints are {size}, {ratio} to 1"
        remedy = f"joints nearer to one another, at most {write(LONGEST * min(parted.size))} apart"
        yield Finding("joints-long", Severity.NOTE, words, layout.site.place("concrete", "joint_spacing"), remedy)


def _base(layout: Layout) -> Iterator[Finding]:
    base, write = layout.site.declared.base, layout.notation.length
    if base is not None and base.thickness < BASE - NOISE:
        words, remedy = (
            f"the base course is {write(base.thickness)} thick, less than {write(BASE)}",
            "ask the authority",
        )
        yield Finding("base-thin", Severity.NOTE, words, layout.site.place("base", "thickness"), remedy)


def _loads(layout: Layout) -> Iterator[Finding]:
    concrete, takeoff = layout.site.declared.concrete, layout.takeoff
    if concrete is None or concrete.truck is None or takeoff is None or not takeoff.solids:
        return
    loads, last = loads_of(takeoff.volume * (1 + (concrete.waste or 0.0)), concrete.truck)
    if last < SHORT_LOAD * concrete.truck:
        holds = " ".join(layout.notation.volumes(last)[0])
        words = f"the last of {loads} loads holds {holds}" if loads > 1 else f"the only load holds {holds}"
        remedy = "ask the supplier what a short load costs"
        yield Finding("load-short", Severity.NOTE, words, layout.site.place("concrete", "truck"), remedy)


def _gaps(layout: Layout) -> Iterator[Finding]:
    for index, room in layout.takeoff.gaps if layout.takeoff else ():
        name = layout.site.declared.slab.footings[index].name
        words = (
            f"between the footing {name} and the edge of the slab there is {layout.notation.length(room)} of nothing"
        )
        remedy = 'write wall = "8 in" in its [[slab.footings]], or a thickened edge that reaches it'
        yield Finding("concrete-gap", Severity.WARNING, words, layout.site.place("slab", "footings", index), remedy)


def _laps(layout: Layout) -> Iterator[Finding]:
    for index, steel in enumerate(layout.site.declared.reinforcement):
        along = max(layout.takeoff.extent) - 2 * steel.cover if layout.takeoff else 0.0
        if steel.kind != "dowels" and not steel.lap and along > steel.length + NOISE:
            words = (
                f"{steel.name}: {layout.notation.length(steel.length)} long, so that two follow one another without lap"
            )
            remedy = "write lap, as the design has it"
            yield Finding("steel-no-lap", Severity.WARNING, words, layout.site.place("reinforcement", index), remedy)


CHECK = Check("Do boards, stakes, joints and loads fit the slab?", CODES, _findings)
