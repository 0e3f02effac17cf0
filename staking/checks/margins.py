"""Does the slab clear every line and area, and by how much?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout, Margin

CODES = MappingProxyType(
    {
        "setback-crossed": "The formed outline, or a part that is not exempt, comes nearer to a side of the lot than "
        "[setbacks] asks. A setback has no plus tolerance. Stake files are withheld.",
        "lot-line-crossed": "The slab lies beyond a side of the lot. Stake files are withheld.",
        "keep-clear-crossed": "The slab lies in an area that must stay clear. Stake files are withheld.",
        "room-thin": "There is less room to a line than [margins] asks: a strong warning below `strong` (0.1 ft), a "
        "warning below `warn` (0.5 ft). Cladding and trim take 0.1 to 0.4 ft after the pour, say surveyors in Texas; "
        "the building department of Atlantic Beach, Florida (Bulletin 2-18) asks for a full survey within 0.5 ft of a "
        "restriction line. Both figures can be changed.",
    }
)
_CROSSED = {"setback": "setback-crossed", "lot line": "lot-line-crossed", "keep clear": "keep-clear-crossed"}


def _findings(layout: Layout) -> Iterator[Finding]:
    for index, margin in enumerate(layout.margins):
        if margin.severity >= Severity.WARNING:
            yield _crossed(layout, margin, index) if margin.room < 0 else _thin(layout, margin, index)


def _place(layout: Layout, margin: Margin, index: int) -> Place:
    if margin.rule == "setback":
        return layout.site.place("setbacks", margin.of)
    if margin.rule == "keep clear":
        first = len(layout.margins) - len(layout.kept_clear)
        return layout.site.place("keep_clear", index - first)
    return layout.site.place("lot", "sides")


def _crossed(layout: Layout, margin: Margin, index: int) -> Finding:
    write = layout.notation.both
    code = _CROSSED[margin.rule]
    if margin.distance < 0:
        what = f"the {margin.of} line of the lot" if margin.rule != "keep clear" else f'"{margin.of}"'
        message = f"the slab reaches {write(-margin.distance)} beyond {what}"
    else:
        of = f"the {margin.of} line" if margin.rule == "setback" else f'"{margin.of}"'
        message = (
            f"the slab is {write(margin.distance)} from {of}; {write(margin.required)} is required, "
            f"{write(-margin.room)} more"
        )
    return Finding(
        code,
        Severity.STOP,
        message,
        _place(layout, margin, index),
        "move or turn the slab in [placement], make it smaller, or get the authority's permission in writing",
    )


def _thin(layout: Layout, margin: Margin, index: int) -> Finding:
    write = layout.notation.both
    limits = layout.site.declared.margins
    limit = limits.strong if margin.severity == Severity.STRONG else limits.warn
    of = (
        f'"{margin.of}"'
        if margin.rule == "keep clear"
        else f"the {margin.of} {margin.rule if margin.rule == 'setback' else 'line'}"
    )
    left = "nothing" if margin.room == 0 else f"only {write(margin.room)}"
    return Finding(
        "room-thin",
        margin.severity,
        f"{left} to spare at {of} (less than {write(limit)})",
        _place(layout, margin, index),
        "leave more room, or have the forms surveyed before the pour: form bulge, cladding and the uncertainty of the "
        "line itself all come out of it",
    )


CHECK = Check("Does the slab clear every line and area, and by how much?", CODES, _findings)
