"""Can every list of [[stakeout]] be written as it is asked for?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.stake_lists import names_of, obstacles

SHOWN = 8  # changed names told in one finding

CODES = MappingProxyType(
    {
        "list-names-changed": "A list of [[stakeout]] takes numbers only, or short names only, and holds points with "
        "other names. They are replaced by free numbers; nothing is cut. The table of old and new names stands in "
        "manifest.json and layout.json. Sheets and drawings keep the old names: hand the table out with the list.",
        "list-not-written": "A list of [[stakeout]] cannot be written as it is asked for, and is left out. Everything "
        "else is written.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    for index, asked in enumerate(layout.site.declared.stakeout):
        place, file = layout.site.place("stakeout", index), f"stakeout_{asked.name}.csv"
        stopped = list(obstacles(layout, asked))
        for message, remedy in stopped:
            yield Finding("list-not-written", Severity.WARNING, f"{file} is not written: {message}", place, remedy)
        changed = names_of(layout, asked).changed
        if changed and not stopped:
            shown = ", ".join(f"{old} is {new}" for old, new in list(changed.items())[:SHOWN])
            more = f" and {len(changed) - SHOWN} more" if len(changed) > SHOWN else ""
            yield Finding(
                "list-names-changed",
                Severity.WARNING,
                f"{file} holds new names: {shown}{more}",
                place,
                "hand out the table of names in manifest.json with it, or name the points as the instrument takes them",
            )


CHECK = Check("Can every list of stakes be written as it is asked for?", CODES, _findings)
