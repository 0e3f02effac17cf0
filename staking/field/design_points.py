"""Which points of a layout can be measured again, and to which wall lines of the slab does each of them lie?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.field.compared import DesignPoint
from staking.layout.computed import Layout, Stake
from staking.layout.wall_lines import WallLine
from staking.survey.lines import Line
from staking.survey.paths import Piece
from staking.survey.points import Point, Vector, vector

_ANY_HEIGHT = ("offset", "post")  # their tops stand anywhere; the string over them has the height


def design_points(layout: Layout) -> tuple[DesignPoint, ...]:
    """Corners of the formed outline in order, then what else is staked, then given points; each once."""
    return (*_corners(layout), *_staked(layout), *_given(layout))


def _corners(layout: Layout) -> Iterator[DesignPoint]:
    form = layout.slab.form
    heights = {grade.name: grade.up for grade in layout.grades}
    for index, (name, at) in enumerate(zip(layout.corner_names, form.corners, strict=True)):
        yield DesignPoint(name, at, heights.get(name), "corner", form.outline.corner_label(index), index)


def _staked(layout: Layout) -> Iterator[DesignPoint]:
    for stake in layout.stakes:
        if stake.kind != "corner":
            what = {"part corner": "part", "mark": "mark"}.get(stake.kind, "stake")
            up = None if stake.kind in _ANY_HEIGHT else stake.at.up
            yield DesignPoint(stake.name, stake.at, up, what, stake.note or stake.kind)


def _given(layout: Layout) -> Iterator[DesignPoint]:
    for name, point in layout.points.items():
        yield DesignPoint(name, point.at, point.at.up, "given", point.note or "given point")


def wall_lines(layout: Layout) -> dict[str, tuple[WallLine, ...]]:
    """The wall lines of each point by its name: two at a corner, the one that begins there first.

    A stake that stands on the line of a side has that one.
    """
    corners, count = layout.slab.form.corners, len(layout.corner_names)
    found: dict[str, tuple[WallLine, ...]] = {
        name: (_line(layout, index, at), _line(layout, (index - 1) % count, at))
        for index, (name, at) in enumerate(zip(layout.corner_names, corners, strict=True))
    }
    for stake in layout.stakes:
        side = stake.side if stake.side is not None else _side_of_part(layout, stake)
        if stake.kind != "corner" and side is not None:
            found[stake.name] = (_line(layout, side, stake.at),)
    return found


def _side_of_part(layout: Layout, stake: Stake) -> int | None:
    """The side of the slab that the part of a stake is attached to."""
    parts = layout.site.declared.slab.parts
    return next((layout.slab.form.outline.side(part.side) for part in parts if part.name == stake.part), None)


def _line(layout: Layout, side: int, at: Point) -> WallLine:
    """The line of a side; of an arc, the tangent at a place on it."""
    form, names = layout.slab.form, layout.corner_names
    way = _way(form.pieces[side], at)
    out = way.right() if form.outline.counter_clockwise else way.left()
    return WallLine(side_words(layout, side), names[side], names[(side + 1) % len(names)], way, out)


def _way(piece: Piece, at: Point) -> Vector:
    """Of length 1: which way a side runs at a place."""
    if isinstance(piece, Line):
        return piece.direction
    radius = vector(piece.centre, at).unit()
    return radius.left() if piece.left else radius.right()


def side_words(layout: Layout, side: int) -> str:
    """What a crew calls a side: its name, else the corners it joins."""
    outline = layout.slab.form.outline
    return outline.side_names[side] or outline.side_label(side)
