"""What is in a drawing: what `staking drawing` prints."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from staking.drafts.contents import Draft
from staking.drafts.outlines import outlines_of
from staking.notation import Notation
from staking.sitefile.drawing_files import loop_words, read_drawing, sizes
from staking.sitefile.places import plain
from staking.units import UNITS

_ABSENT = "name a DXF or GeoJSON file"


def drawing_lines(path: Path, unit: str, join: str) -> Iterator[str]:
    """Form, unit, layers, outlines, loose ends, and a [slab] to paste. Raises InputError, TextError (join)."""
    from staking.units import parse_length

    draft, _ = read_drawing(path, _ABSENT)
    counted = unit or draft.unit
    feet = counted not in ("mm", "cm", "m", "")
    write = Notation(UNITS["ftUS" if counted == "ftUS" else "ft" if feet else "m"])
    yield f"{plain(path.name)}: {draft.form}, unit {_unit_words(draft, unit)}"
    yield from _layers(draft)
    if not draft.strokes:
        yield "nothing in it that an outline could be made of"
        return
    if not counted:
        yield from sizes(draft.strokes, write).splitlines()
        yield "outlines: name the unit with --unit"
    else:
        tolerance = float(parse_length(join, write.unit)) if join else 0.0
        yield from _outlines(draft, counted, tolerance, write)
    yield from ("", "[slab]", 'kind = "drawing"', f'path = "{plain(path.name)}"')
    if unit or not draft.unit:
        yield f'unit = "{unit or "?"}"'
    yield 'front = "?"  # which way the front side faces in the drawing: south, east ...'


def _unit_words(draft: Draft, given: str) -> str:
    own = f"{draft.unit} ({draft.said})" if draft.unit else draft.said or "not said"
    return f"{own}, counted in {given}" if given and given != draft.unit else own


def _layers(draft: Draft) -> Iterator[str]:
    counts: dict[str, Counter[str]] = {}
    for layer, what in [*((s.layer, s.what) for s in draft.strokes), *draft.others]:
        counts.setdefault(layer, Counter())[what] += 1
    for other in draft.unread:
        counts.setdefault(other.layer, Counter())[other.what] += 1
    for layer, found in sorted(counts.items()):
        hidden = " (hidden)" if layer in draft.hidden else ""
        listed = ", ".join(f"{count} {what}" for what, count in sorted(found.items()))
        yield f'layer "{plain(layer)}"{hidden}: {listed}'
    for other in dict.fromkeys(draft.unread):
        yield f'not read: {other.what} on layer "{plain(other.layer)}": {other.why}'


def _outlines(draft: Draft, unit: str, join: float, write: Notation) -> Iterator[str]:
    everything = outlines_of(draft, unit, join)
    loops = sorted((loop for found in everything.values() for loop in found.loops), key=lambda loop: -loop.area)
    for loop in loops:
        yield f"outline: {loop_words(loop, write)}"
    if not loops:
        yield "no closed outline"
    for layer, found in everything.items():
        for _, gap in found.ends:
            yield f'loose end on layer "{plain(layer)}": {write.length(gap)} from the nearest other end'
        if found.branches:
            yield f'lines branch on layer "{plain(layer)}" in {len(found.branches)} places'
