"""Old and new outline of a slab as marks: which way it went, what is pulled, what is set, what stays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.drawing.marks import Drawing, LineMark, Mark, PathMark, SymbolMark, SymbolShape, TextMark
from staking.layout.changed import STAYS, Changes
from staking.layout.revision import Corner
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, azimuth_of, distance, moved, vector

_ARROW = 0.07  # of the outline's longest reach: how long an arrow is drawn at the least
_HEAD = (0.35, 0.16)  # of the arrow: length and half width of its head


def changes_drawing(changes: Changes) -> Drawing:
    """The old outline dashed, the new one heavy; crosses, triangles and rings; arrows on top."""
    marks: list[Mark] = [*_outline("SLAB", changes.after.outline, filled=True)]
    marks += (PathMark("PART", corners, closed=True) for _, corners in changes.new_parts)
    marks += _outline("SETBACK", changes.before.outline)
    marks += (PathMark("SETBACK", corners, closed=True) for _, corners in changes.old_parts)
    marks += [*_stakes(changes), *_arrows(changes)]
    return Drawing(tuple(marks), f"What changed on {changes.new.job}")


def _outline(layer: str, outline: Sequence[Corner], *, filled: bool = False) -> Iterator[Mark]:
    bulges = tuple(corner.bulge for corner in outline)
    corners = tuple(corner.at for corner in outline)
    yield PathMark(layer, corners, closed=True, filled=filled, bulges=bulges if any(bulges) else ())


def _stakes(changes: Changes) -> Iterator[Mark]:
    """Crosses on what is pulled, triangles where one is set, rings round what stays."""
    taken = {stake.name for stake in changes.after.stakes}
    for stake in changes.to_pull:
        yield SymbolMark("BOARD", stake.at, "" if stake.name in taken else stake.name, shape="nail", emphasis=True)
    for each in changes.followed:
        shape: SymbolShape = "stake" if each.moved else "given"
        yield SymbolMark("CORNER", each.new.at, each.new.name, shape=shape, emphasis=each.new.kind == "corner")
    for stake in changes.fresh:
        yield SymbolMark("CORNER", stake.at, stake.name, emphasis=stake.kind == "corner")


def _arrows(changes: Changes) -> Iterator[Mark]:
    """From each old corner that moved toward its new place, with how far; short ways are drawn longer."""
    if changes.whole is None or changes.whole.other_numbers:
        return
    places = [corner.at for corner in changes.after.outline]
    least = max(distance(places[0], place) for place in places) * _ARROW
    for old, new in zip(changes.before.outline, changes.after.outline, strict=True):
        step = vector(old.at, new.at)
        if step.length > STAYS:
            tip = moved(old.at, step.unit(), max(step.length, least))
            yield LineMark("BOARD", old.at, tip)
            yield from _head(Line(old.at, tip), least)
            yield _figure(changes, old.at, tip, step)


def _head(line: Line, least: float) -> Iterator[Mark]:
    long, half = (share * min(line.length, least) for share in _HEAD)
    for off in (half, -half):
        yield LineMark("BOARD", line.at(line.length - long, off), line.end)


def _figure(changes: Changes, start: Point, tip: Point, step: Vector) -> Mark:
    """How far, beside the arrow."""
    way = azimuth_of(step)
    text = changes.new.notation.length(step.length)
    return TextMark("BOARD", Point((start.east + tip.east) / 2, (start.north + tip.north) / 2), text, side=way + 90)
