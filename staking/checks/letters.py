"""Can the sheets print every name and note?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.letters import missing_letters

SHOWN = 5  # letters told in one finding

CODES = MappingProxyType(
    {
        "letters-missing": "A name or note has letters that the font of the PDFs lacks: they print as empty boxes. "
        "The font holds the Latin letters of western and central Europe. The HTML sheets, the drawings and the lists "
        "keep the text as it is.",
    }
)

_Path = tuple[str | int, ...]


def _findings(layout: Layout) -> Iterator[Finding]:
    for path, text in _texts(layout):
        if lost := missing_letters(text):
            letters = ", ".join(f'"{letter}" (U+{ord(letter):04X})' for letter in lost[:SHOWN])
            more = f" and {len(lost) - SHOWN} more" if len(lost) > SHOWN else ""
            yield Finding(
                "letters-missing",
                Severity.WARNING,
                f'"{text}" has letters that the PDFs cannot print: {letters}{more}',
                layout.site.place(*path),
                "write it in Latin letters, or hand out the HTML sheets",
            )


def _texts(layout: Layout) -> Iterator[tuple[_Path, str]]:
    """Every text of the site file with its place, and the names and notes that lists of points bring."""
    declared = layout.site.declared.model_dump(exclude_unset=True)
    yield from _within((), declared)
    for name, point in layout.site.given.items():
        if name not in declared.get("points", {}):
            yield from ((("point_files",), text) for text in (name, point.note))


def _within(path: _Path, value: object) -> Iterator[tuple[_Path, str]]:
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield (*path, key), str(key)
            yield from _within((*path, key), inner)
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            yield from _within((*path, index), inner)


CHECK = Check("Can the sheets print every name and note?", CODES, _findings)
