"""The wall between a footing and the slab above it: how thick, how high, and where is none declared?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely

from staking.errors import RuleError
from staking.kinds.outlines.levels import Footing
from staking.kinds.slab import Form
from staking.layout.design import Design, Piece, polygons
from staking.layout.surfaces import edge_strip
from staking.layout.trouble import Trouble
from staking.survey.overlays import shared
from staking.survey.points import Point
from staking.survey.surface import Plane

ROOM = 0.005  # metres; a lower gap is none
EDGE = 0.02  # metres; how much of the concrete counts as its edge


def walls_of(form: Form, footings: Sequence[Footing], design: Design, trouble: Trouble) -> tuple[Piece, ...]:
    """Every wall as a level block from its footing to the highest underside above it.

    What of the block lies in the slab is counted twice, as of a footing; see `quantities.counted_twice`. Raises
    SolveError where there is no room for a wall.
    """
    walls: list[Piece] = []
    for index, footing in enumerate(footings):
        if footing.wall is not None:
            with trouble.at("slab", "footings", index):
                walls += _wall(form, footing, design)
    trouble.stop()
    return tuple(walls)


def _wall(form: Form, footing: Footing, design: Design) -> Iterator[Piece]:
    foot = design.floor.up - footing.top
    if footing.wall is not None and footing.wall > footing.width - footing.out:
        raise RuleError(
            "the wall is wider than what the footing has below the slab", key="wall", remedy="a thinner one"
        )
    for shape in polygons(edge_strip(form, footing.sides, 0.0, footing.wall or 0.0)):
        head = max((height for height in _undersides(shape, design)), default=foot)
        if head - foot < ROOM:
            raise RuleError("the footing reaches the slab, so there is no wall", key="wall", remedy="leave it out")
        level = Plane(design.floor.at, head)
        yield Piece(footing.name, "wall", shape, level, Plane(design.floor.at, foot))


def gaps(form: Form, footings: Sequence[Footing], design: Design) -> Iterator[tuple[int, float]]:
    """Which footings have nothing between them and the slab's formed edge, and how high the room is at most [m]."""
    for index, footing in enumerate(footings):
        if footing.wall is None:
            edge = polygons(edge_strip(form, footing.sides, 0.0, EDGE))
            head = max((up for shape in edge for up in _undersides(shape, design)), default=-math.inf)
            room = head - (design.floor.up - footing.top)
            if room > ROOM:
                yield index, room


def _undersides(shape: shapely.Polygon, design: Design) -> Iterator[float]:
    """Heights of the underside of slab and edges over a shape, in the corners of what lies over it."""
    for piece in design.pieces:
        if piece.bottom is not None and piece.kind != "part":
            for each in polygons(shared(shape, piece.shape)):
                yield from (piece.bottom.height(Point(x, y)) for x, y in each.exterior.coords)
