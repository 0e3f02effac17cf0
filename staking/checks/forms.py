"""Do boards, stakes, joints and loads fit the slab?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.joints import joint_spacing
from staking.kinds.lumber import nominal
from staking.layout.computed import Layout
from staking.layout.quantities import loads_of

STAKES_APART = 4 * 0.3048  # metres; Masonry and Concrete (2004), p. 47: 3 to 4 ft
SHORT_LOAD = 0.5  # of a truck; own choice
NOISE = 1e-6

CODES = MappingProxyType(
    {
        "forms-nominal": "The actual size typed for a board is that of a nominal size: a 2x6 measures 1-1/2 in x "
        "5-1/2 in (PS 20, as tabulated in public).",
        "forms-low": "The form is lower than the slab is thick, so that concrete runs out below it.",
        "forms-stakes-apart": "Stakes stand farther apart than 4 ft (Masonry and Concrete, 2004, p. 47: 3 to 4 ft).",
        "joints-apart": "Contraction joints lie farther apart than 24 times the thickness (PCA floor booklet, 2nd ed. "
        "1983, table as reproduced in public: slump 4 to 6 in, aggregate under 3/4 in; other mixes have more).",
        "load-short": "The last load is less than half a truck (own choice). Short loads cost extra; common "
        "practice, no source.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    yield from _nominal(layout)
    yield from _low(layout)
    yield from _stakes(layout)
    yield from _joints(layout)
    yield from _loads(layout)


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
    forms, thickness, write = layout.site.declared.forms, layout.slab.thickness, layout.notation.length
    if forms and thickness is not None and forms.size[1] < thickness - NOISE:
        yield Finding(
            "forms-low",
            Severity.WARNING,
            f"the form is {write(forms.size[1])} high, the edge of the slab {write(thickness)}",
            layout.site.place("forms"),
            "a higher board, or close the gap below it",
        )


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


CHECK = Check("Do boards, stakes, joints and loads fit the slab?", CODES, _findings)
