"""Does the slab clear every line and area, and by how much?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout, Margin

CODES = MappingProxyType(
    {
        "setback-crossed": "The formed outline, a part that is not exempt, or the edge of the roof where the setback "
        "is measured to it, comes nearer to a side of the lot or to the centre of the street than [setbacks] asks. A "
        "setback has no plus tolerance. Stake files are withheld.",
        "lot-line-crossed": "The slab lies beyond a side of the lot. Stake files are withheld.",
        "keep-clear-crossed": "The slab lies in an area that must stay clear. Stake files are withheld.",
        "no-lot": "The site file has no [lot], so nothing was asked about property lines and setbacks.",
        "eaves-not-counted": "The roof reaches into a setback, and `measured` does not say whether eaves count. Left "
        "out, setbacks are measured to the formed outline and its parts only.",
        "separation-short": "A wall stands nearer to a line, measured square from the wall, than [[separations]] asks. "
        "This is not the setback question. Stake files are withheld.",
        "room-thin": "There is less room to a line than [margins] asks: a strong warning below `strong` (0.1 ft), a "
        "warning below `warn` (0.5 ft). Cladding and trim take 0.1 to 0.4 ft after the pour, say surveyors in Texas; "
        "the building department of Atlantic Beach, Florida (Bulletin 2-18) asks for a full survey within 0.5 ft of a "
        "restriction line. Both figures can be changed.",
    }
)
_CROSSED = MappingProxyType(
    {
        "setback": "setback-crossed",
        "street centre": "setback-crossed",
        "lot line": "lot-line-crossed",
        "separation": "separation-short",
        "keep clear": "keep-clear-crossed",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.lot is None:
        yield Finding(
            "no-lot",
            Severity.WARNING,
            "there is no [lot], so no property line and no setback was checked",
            layout.site.place(),
            "add [lot] with its corners and [setbacks], or have the outline checked by who knows the lines",
        )
    yield from _uncounted_eaves(layout)
    for index, margin in enumerate(layout.margins):
        if margin.severity >= Severity.WARNING:
            yield _crossed(layout, margin, index) if margin.room < 0 else _thin(layout, margin, index)


def _place(layout: Layout, margin: Margin, index: int) -> Place:
    """Where the rule stands in the file."""
    if margin.rule in ("setback", "street centre"):
        return layout.site.place("setbacks", margin.of)
    if margin.rule == "keep clear":
        return layout.site.place("keep_clear", index - (len(layout.margins) - len(layout.kept_clear)))
    if margin.rule == "separation":
        names = [asked.name for asked in layout.site.declared.separations]
        return layout.site.place("separations", names.index(margin.of))
    return layout.site.place("lot", "sides")


def _other(margin: Margin) -> str:
    """What the margin is to, in words."""
    return {
        "setback": f"the {margin.of} line",
        "lot line": f"the {margin.of} line of the lot",
        "street centre": f"the street centre at {margin.of}",
        "separation": f'the line of "{margin.of}"',
        "keep clear": f'"{margin.of}"',
    }[margin.rule]


def _who(margin: Margin) -> str:
    """What of the slab comes too near."""
    if margin.rule == "separation":
        return f"the wall on {margin.what}"
    return {"outline": "the slab", "parts": "a part of the slab", "eaves": "the edge of the roof"}[margin.what]


def _which(margin: Margin) -> str:
    """Said where it is not the slab itself that has little room."""
    return "" if margin.what == "outline" else f"for {_who(margin)} "


def _uncounted_eaves(layout: Layout) -> Iterator[Finding]:
    write = layout.notation.both
    for margin in layout.margins:
        rule = layout.site.declared.setbacks.get(margin.of)
        if margin.rule != "lot line" or margin.what != "eaves" or rule is None or "measured" in rule.model_fields_set:
            continue
        if 0 <= margin.distance < rule.required:
            yield Finding(
                "eaves-not-counted",
                Severity.WARNING,
                f"the edge of the roof is {write(margin.distance)} from {_other(margin)}, inside the setback of "
                f"{write(rule.required)}; it was not counted",
                layout.site.place("setbacks", margin.of),
                f'ask the authority; then write {margin.of} = {{ ordinance = ..., measured = "with eaves", '
                'projection = ... }, or measured = "with parts" where eaves do not count',
            )


def _crossed(layout: Layout, margin: Margin, index: int) -> Finding:
    write = layout.notation.both
    remedy = "move or turn the slab in [placement], make it smaller, or get the authority's permission in writing"
    if margin.distance < 0:
        if margin.rule in ("setback", "lot line"):  # on somebody else's land, where no authority can permit it
            remedy = "move or turn the slab in [placement], or make it smaller; check the lot's corners too"
        message = f"{_who(margin)} reaches {write(-margin.distance)} beyond {_other(margin)}"
    else:
        message = (
            f"{_who(margin)} is {write(margin.distance)} from {_other(margin)}; {write(margin.required)} is required, "
            f"{write(-margin.room)} more"
        )
    return Finding(
        _CROSSED[margin.rule],
        Severity.STOP,
        message,
        _place(layout, margin, index),
        remedy,
    )


def _thin(layout: Layout, margin: Margin, index: int) -> Finding:
    write = layout.notation.both
    limits = layout.site.declared.margins
    limit = limits.strong if margin.severity == Severity.STRONG else limits.warn
    left = "nothing" if margin.room == 0 else f"only {write(margin.room)}"
    unsure = margin.uncertainty is not None and margin.uncertainty > margin.room
    line = f"; the line itself is known to {write(margin.uncertainty or 0.0)}" if unsure else ""
    rule = " setback" if margin.rule == "setback" else ""
    return Finding(
        "room-thin",
        margin.severity,
        f"{left} to spare {_which(margin)}at {_other(margin).removesuffix(' line') + rule if rule else _other(margin)} "
        f"(less than {write(limit)}){line}",
        _place(layout, margin, index),
        "leave more room, or have the forms surveyed before the pour: form bulge, cladding and the uncertainty of the "
        "line itself all come out of it",
    )


CHECK = Check("Does the slab clear every line and area, and by how much?", CODES, _findings)
