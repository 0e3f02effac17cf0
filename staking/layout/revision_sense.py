"""Does what a `layout.json` says hang together? A file changed by hand is found by what it then says twice.

Each answer is the key in words and a sentence that goes on from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from staking.layout.revision import Revision, told_by
from staking.survey.paths import pieces_of
from staking.survey.points import distance

AGREES = 1e-4  # metres; the file holds lengths and coordinates to a thousandth of that; own choice

Contradiction = tuple[str, str]


def contradictions(revision: Revision) -> Iterator[Contradiction]:
    """All of them, in the order of the file."""
    given = [name for name, _ in revision.given]
    if not given:
        yield "points", "holds no given point, and every layout counts from some"
    yield from _twice("points", given)
    yield from _outline(revision)
    yield from _twice("slab.parts", [name for name, _ in revision.parts])
    for number, (name, corners) in enumerate(revision.parts, 1):
        if len(corners) < 3:
            yield f"slab.parts#{number}.corners", f"holds {len(corners)}, and {name} has three at least"
    yield from _rooms(revision)
    yield from _stakes(revision, given)
    yield from _sides(revision)


def _twice(key: str, names: Sequence[str], known: Iterable[tuple[str, str]] = ()) -> Iterator[Contradiction]:
    """Names that stand for two things. known: names of others with the keys they stand at."""
    first = {name.casefold(): where for name, where in known}
    for number, name in enumerate(names, 1):
        where = f"{key}#{number}"
        there = first.setdefault(name.casefold(), where)
        if there != where:
            yield f"{where}.name", f'"{name}" is the name of {there} too'


def _outline(revision: Revision) -> Iterator[Contradiction]:
    corners = revision.outline
    if len(corners) < 3:
        yield "slab.corners", f"holds {len(corners)}, and an outline has three at least"
        return
    yield from _twice("slab.corners", [corner.name for corner in corners])
    for number, corner in enumerate(corners, 1):
        if told_by(corner.label)[0] != str(number):
            yield f"slab.corners#{number}.label", f'"{corner.label}" stands where corner {number} belongs'
        if distance(corner.at, corners[number % len(corners)].at) <= AGREES:
            yield f"slab.corners#{number}", "lies where the next corner lies"


def _rooms(revision: Revision) -> Iterator[Contradiction]:
    for number, room in enumerate(revision.rooms, 1):
        if abs(room.distance - room.required - room.room) > AGREES:
            yield f"margins#{number}.room", "is not the distance less what is required"


def _stakes(revision: Revision, given: Sequence[str]) -> Iterator[Contradiction]:
    names = [stake.name for stake in revision.stakes]
    yield from _twice("stakes", names, [(name, f"points#{number}") for number, name in enumerate(given, 1)])
    corners = {corner.label for corner in revision.outline}
    sides, parts = {label for label, _ in revision.sides}, {name for name, _ in revision.parts}
    marked = {(corner.label, corner.name): corner.at for corner in revision.outline}
    for number, stake in enumerate(revision.stakes, 1):
        if stake.kind == "corner" and stake.corner in corners:
            at = marked.get((stake.corner, stake.name))
            if at is None or distance(at, stake.at) > AGREES:
                yield f"stakes#{number}", f"is not the {stake.corner} that the outline has"
        for key, named, known in (("corner", stake.corner, corners), ("side", stake.side, sides)):
            if named and named not in known:
                yield f"stakes#{number}.{key}", f'the slab has no "{named}"'
        if stake.part and stake.part not in parts:
            yield f"stakes#{number}.part", f'the slab has no part "{stake.part}"'


def _sides(revision: Revision) -> Iterator[Contradiction]:
    """Sides whose length is not that between their corners."""
    corners, sides = revision.outline, revision.sides
    if len(corners) != len(sides):
        yield "sides", f"holds {len(sides)}, and the slab has {len(corners)} corners"
        return
    bulges = [corner.bulge for corner in corners]
    pieces = pieces_of([revision.system.frame.to_ground(corner.at) for corner in corners], bulges)
    for number, (piece, (label, length)) in enumerate(zip(pieces, sides, strict=True), 1):
        ends = f"{number}-{number % len(sides) + 1}"
        if told_by(label)[0] != ends:
            yield f"sides#{number}.label", f'"{label}" stands where side {ends} belongs'
        elif abs(piece.length - length) > AGREES:
            write = revision.notation.length
            yield f"sides#{number}.length", f"{write(length)}, but {write(piece.length)} between its corners"
