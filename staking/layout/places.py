"""To which places may the slab be moved, turned as it is, so that it clears everything?

A place is the step [m, east and north] from where the slab is. For every margin there is an area of forbidden places:
what the slab must keep away from, swept with the slab turned about by half a turn (the Minkowski sum with the
reflected slab), and grown by what is required. The allowed places are what the lot leaves of these. Source: the
configuration space of motion planning, from memory; the exact margins are the oracle in the tests.

Straight edges are exact. Arcs and the round ends of strips are drawn by chords that lie on the safe side: every
allowed place clears, and what is left out lies within ERROR of a forbidden place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
import shapely.affinity
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from staking.kinds.slab import CHORD
from staking.layout.computed import Layout, Lot, Margin, Slab
from staking.layout.lots import as_shape
from staking.layout.margins import FAR, Figure, formed_figure, measured, unmeasured
from staking.layout.shifted import margins_at
from staking.survey.lines import Line
from staking.survey.overlays import united, without
from staking.survey.paths import Arc, Piece
from staking.survey.points import Point, Vector, moved
from staking.survey.polygons import polygon

ERROR = 3 * CHORD  # metres; chords of the slab, chords of the lot, chords of what is grown
_CONVEX = 1e-9  # share of its area by which a shape may fall short of its hull and still be called convex
_HERE = Point(0.0, 0.0)  # no step at all
_SLIVER = 1e-6  # square metres; less is a leftover of computation

Corners = NDArray[np.float64]


@dataclass(frozen=True)
class Slope:
    """A margin that grows evenly: room [m] where the slab is, and what a step of one metre east or north adds."""

    room: float
    gain: Vector


@dataclass(frozen=True)
class Places:
    """inside: places at which the slab stands in the lot with one of its points; None without a lot.

    forbidden: of each margin in the layout's order. slopes: of separations, by their index there.
    """

    inside: BaseGeometry | None
    forbidden: tuple[BaseGeometry, ...]
    slopes: dict[int, Slope]

    @cached_property
    def _unsloped(self) -> BaseGeometry:
        taken = [shape for index, shape in enumerate(self.forbidden) if index not in self.slopes]
        return _solid(without(self.inside or shapely.Polygon(), united(taken)))

    def allowed(self, room: float = 0.0) -> BaseGeometry:
        """Where every margin has at least so much room [m]; empty where no lot bounds the places."""
        left = self._unsloped.buffer(-room, 64) if room else self._unsloped
        steep = [_half_plane(Slope(slope.room - room, slope.gain)) for slope in self.slopes.values()]
        return _solid(without(left, united(steep))) if steep else left


def places_of(layout: Layout) -> Places:
    """The forbidden places of every margin, and those in the lot."""
    slopes = _slopes(layout)
    first = len(layout.margins) - len(layout.kept_clear)
    shapes = []
    for index, margin in enumerate(layout.margins):
        if index in slopes:
            shapes.append(_half_plane(slopes[index]))
        elif index >= first:
            shapes.append(_round_area(layout, index - first, margin))
        else:
            shapes.append(
                _round_pieces(figure_of(layout, margin, layout.slab), _pieces_of(layout, margin), margin.required)
            )
    return Places(_inside(layout), tuple(shapes), slopes)


def _inside(layout: Layout) -> BaseGeometry | None:
    if layout.lot is None:
        return None
    held = polygon(layout.slab.form.drawn).representative_point()
    return shapely.affinity.translate(polygon(layout.lot.drawn), -held.x, -held.y)


def _slopes(layout: Layout) -> dict[int, Slope]:
    """A separation is measured square to a wall, so its room changes evenly; how much, two steps of a metre tell."""
    found = [index for index, margin in enumerate(layout.margins) if margin.rule == "separation"]
    if not found:
        return {}
    right, up = margins_at(layout, Vector(1.0, 0.0)), margins_at(layout, Vector(0.0, 1.0))
    here = layout.margins
    return {
        i: Slope(
            here[i].distance - here[i].required,
            Vector(right[i].distance - here[i].distance, up[i].distance - here[i].distance),
        )
        for i in found
    }


def _half_plane(slope: Slope) -> BaseGeometry:
    """The places with less than no room, as far as anybody looks."""
    way = slope.gain.unit()
    edge = Line(*(moved(moved(_HERE, way, -slope.room / slope.gain.length), way.left(), far) for far in (-FAR, FAR)))
    return polygon([edge.start, edge.end, *(moved(end, way, -FAR) for end in (edge.end, edge.start))])


def figure_of(layout: Layout, margin: Margin, slab: Slab) -> Figure:
    """What of a slab a margin is measured from."""
    rule = layout.site.declared.setbacks.get(margin.of)
    if margin.rule == "setback" and rule is not None:
        return next(figure for figure, _ in measured(rule, slab) if figure.what == margin.what)
    if margin.rule == "lot line" and margin.what != "outline":
        return next(figure for figure in unmeasured(rule, slab) if figure.what == margin.what)
    return formed_figure("outline", slab, parts=True)


def _pieces_of(layout: Layout, margin: Margin) -> list[Piece]:
    """What a margin to a side is measured to."""
    if margin.rule == "street centre":
        base = layout.lines[layout.site.declared.setbacks[margin.of].center].line
        return [Line(moved(base.start, base.direction, -FAR), moved(base.end, base.direction, FAR))]
    return _side(layout.lot, margin.of)


def _side(lot: Lot | None, name: str) -> list[Piece]:
    return [side.piece for side in lot.named(name)] if lot else []


def _round_pieces(figure: Figure, pieces: Sequence[Piece], required: float) -> BaseGeometry:
    curves = any(isinstance(piece, Arc) for piece in pieces) + _curved(figure)
    chains = [shapely.get_coordinates(as_shape(piece)) for piece in pieces]
    chords = [chain[i : i + 2] for chain in chains for i in range(len(chain) - 1)]
    return _grown(_swept(figure, chords), required + curves * CHORD, curved=curves > 0)


def _round_area(layout: Layout, index: int, margin: Margin) -> BaseGeometry:
    area, figure = layout.kept_clear[index], formed_figure("outline", layout.slab, parts=True)
    if area.centre is not None:
        middle = np.array([[area.centre.east, area.centre.north]])
        grown = margin.required + _curved(figure) * CHORD
        return _grown(_swept(figure, [middle]), grown, curved=_curved(figure))
    if area.along:
        return _round_pieces(figure, _side(layout.lot, area.along), margin.required)
    swept = _swept(figure, _convex_pieces(area.shape))
    return _grown(swept, _curved(figure) * CHORD, curved=_curved(figure))


def _curved(figure: Figure) -> bool:
    return any(isinstance(piece, Arc) for piece in figure.pieces)


def _swept(figure: Figure, others: Iterable[Corners]) -> BaseGeometry:
    """Every step that brings some place of the figure onto some place of the others, convex pieces all."""
    reflected = [-corners for corners in _convex_pieces(figure.shape)]
    sums = [(one[:, None, :] + other[None, :, :]).reshape(-1, 2) for other in others for one in reflected]
    return united([shapely.convex_hull(shapely.MultiPoint(each)) for each in sums])


def _convex_pieces(shape: BaseGeometry) -> list[Corners]:
    """A shape cut into pieces without an inside corner, each by its corners."""
    pieces: list[BaseGeometry] = []
    for part in shapely.get_parts(shape):
        hull = part.convex_hull
        whole = hull.area - part.area <= _CONVEX * hull.area
        pieces.extend([hull] if whole else shapely.get_parts(shapely.constrained_delaunay_triangles(part)))
    return [shapely.get_coordinates(piece)[:-1] for piece in pieces]


def _grown(shape: BaseGeometry, by: float, *, curved: bool) -> BaseGeometry:
    """The shape and all within a distance [m] of it; straight edges exact, round corners by chords outside them."""
    if by == 0:
        return shape
    # n chords a quarter circle leave it by r (1 - cos(pi / 4n)), as much as corners on the circle drawn round it stand
    # outside
    chords = math.ceil(math.pi / 4 / math.acos(by / (by + CHORD)))
    outer = by / math.cos(math.pi / 4 / chords)
    if curved:
        return shape.buffer(outer, chords)
    corners = shapely.MultiPoint(shapely.get_coordinates(shape))
    return united([shape.buffer(by, chords), corners.buffer(outer, chords)])


def _solid(shape: BaseGeometry) -> BaseGeometry:
    """The shape without lines, points and leftovers of computation."""
    parts = [part for part in shapely.get_parts(shape) if part.area > _SLIVER]
    return united(parts)
