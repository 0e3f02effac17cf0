"""Which height belongs to every stake and corner?

A stake on the concrete has its design height. One beside it (offset, nail, post) has the height of the same plane
carried on to where it stands, so that a string from stake to stake lies on the top edge all the way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

import shapely

from staking.kinds.slab import Form
from staking.layout.computed import Stake
from staking.layout.design import ON_EDGE, Design, Grade, Piece, polygons
from staking.survey.overlays import united
from staking.survey.points import Point, distance, vector
from staking.survey.polygons import ring_corners

ON_CONCRETE = ("corner", "part corner", "mark")


def raised(stakes: Sequence[Stake], design: Design | None, form: Form) -> tuple[Stake, ...]:
    """The stakes with their design heights; as they are where no floor is declared."""
    if design is None:
        return tuple(stakes)
    return tuple(replace(stake, at=_raised(stake, design, form)) for stake in stakes)


def _raised(stake: Stake, design: Design, form: Form) -> Point:
    at, part = stake.at, stake.part
    if stake.kind not in ON_CONCRETE:
        corners = form.corners
        at = corners[stake.corner] if stake.corner is not None else min(corners, key=lambda c: distance(c, at))
    piece = design.piece(at, part)
    plane = piece.top if piece else design.floor
    return Point(stake.at.east, stake.at.north, plane.height(stake.at))


def grades_of(
    design: Design | None, form: Form, names: Sequence[str], stakes: Sequence[Stake], write: Callable[[float], str]
) -> tuple[Grade, ...]:
    """Corners first, then what else is staked but posts, then the corners of recesses. write: a length in words."""
    if design is None:
        return ()
    corners = []
    for index, (name, at) in enumerate(zip(names, form.corners, strict=True)):
        piece = design.piece(at)
        up = (piece.top if piece else design.floor).height(at)
        corners.append(Grade(name, Point(at.east, at.north, up), "corner", form.outline.corner_label(index)))
    staked = [Grade(s.name, s.at, s.kind, s.note) for s in stakes if s.kind not in ("corner", "post")]
    return (*corners, *staked, *_recessed(design, form, write))


def _recessed(design: Design, form: Form, write: Callable[[float], str]) -> list[Grade]:
    corners = [
        Grade(f"{name} {number}", at, "recess", f"floor of {name}, {_from_first(form, at, write)}")
        for name, corners in recesses_of(design)
        for number, at in enumerate(corners, 1)
    ]
    drains = [
        Grade(f"{name} drain", at, "drain", f"drain of {name}, {_from_first(form, at, write)}")
        for name, at in design.drains
    ]
    return corners + drains


def recesses_of(design: Design | None) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """Name and corners of each recess, with the height of its floor."""
    recessed = [piece for piece in design.pieces if piece.kind == "recess"] if design else []
    for name in dict.fromkeys(piece.name for piece in recessed):
        own = [piece for piece in recessed if piece.name == name]
        whole = united([piece.shape for piece in own]).simplify(ON_EDGE)
        ring = ring_corners(polygons(whole)[0].exterior)
        yield name, tuple(Point(place.east, place.north, _height(own, place)) for place in ring)


def _height(pieces: Sequence[Piece], place: Point) -> float:
    """Of the piece at a place, which may lie on its edge."""
    spot = shapely.Point(place.east, place.north)
    return min(pieces, key=lambda piece: float(piece.shape.distance(spot))).top.height(place)


def _from_first(form: Form, at: Point, write: Callable[[float], str]) -> str:
    """Where a place lies from corner 1 along the slab's own axes, as one who stands in front of it paces it."""
    step = vector(form.corners[0], at)
    right, away = step.dot(form.pose.right), step.dot(form.pose.right.left())
    across = f"{write(abs(right))} {'right' if right >= 0 else 'left'}"
    return f"{across} and {write(abs(away))} {'away' if away >= 0 else 'toward'} from corner 1"
