"""How high is the concrete anywhere, and how deep does it reach? The design surface as pieces, each with its planes.

The pieces do not overlap; with the parts they cover everything that is poured. Later work (volumes, earthwork) is
built on them: `Piece.shape` is their outline, `top` and `bottom` are planes over it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from staking.survey.points import Point
from staking.survey.surface import Plane

ON_EDGE = 0.001  # metres; a place nearer to a piece than this is on it
SLIVER = 1e-6  # square metres; smaller pieces are crumbs of arithmetic


@dataclass(frozen=True)
class Piece:
    """A piece of the concrete. name: the recess's, edge's or part's; bottom: None where no thickness is known."""

    name: str
    kind: Literal["floor", "recess", "ledge", "part", "footing", "wall"]
    shape: shapely.Polygon
    top: Plane
    bottom: Plane | None

    @property
    def volume(self) -> float | None:
        """Of its concrete [m3]: area by height over the centroid, exact between two planes."""
        if self.bottom is None:
            return None
        middle = Point(self.shape.centroid.x, self.shape.centroid.y)
        return float(self.shape.area) * (self.top.height(middle) - self.bottom.height(middle))


@dataclass(frozen=True)
class Design:
    """The design surface. floor: its plane, also beyond the slab. pieces: of slab and parts, none over another.

    footings: level, below the slab; one may cross another. drains: by the name of the recess that falls to it.
    """

    floor: Plane
    pieces: tuple[Piece, ...]
    footings: tuple[Piece, ...] = ()
    drains: tuple[tuple[str, Point], ...] = ()

    def piece(self, place: Point, part: str = "") -> Piece | None:
        """The piece at a place; at a step the higher one, at the joint of a part the slab's. None outside.

        part: the name of a part that is asked for before everything else.
        """
        spot = shapely.Point(place.east, place.north)
        near = [piece for piece in self.pieces if piece.shape.dwithin(spot, ON_EDGE)]
        order = {part: 2} if part else {}
        rank = [(order.get(p.name, p.kind != "part"), p.top.height(place), p) for p in near]
        return max(rank, key=lambda each: each[:2])[2] if rank else None

    def top(self, east: float, north: float) -> float | None:
        """Height of the finished concrete [m] at a place on the ground, counted from the anchor; None outside."""
        found = self.piece(Point(east, north))
        return found.top.height(Point(east, north)) if found else None

    def bottom(self, east: float, north: float) -> float | None:
        """Height of its underside without footings, the subgrade [m]; None outside, or where no thickness is known."""
        found = self.piece(Point(east, north))
        return found.bottom.height(Point(east, north)) if found and found.bottom else None

    @cached_property
    def volume(self) -> float | None:
        """Of all concrete but footings [m3]; None where the thickness of a piece is not known."""
        volumes = [piece.volume for piece in self.pieces]
        return None if None in volumes else sum(volume for volume in volumes if volume is not None)


@dataclass(frozen=True, slots=True)
class Grade:
    """A place with its design height: at.up [m]. kind: as of stakes."""

    name: str
    at: Point
    kind: str
    what: str

    @property
    def up(self) -> float:
        """The design height [m]."""
        return self.at.up or 0.0


@dataclass(frozen=True)
class SetUp:
    """The level in one place. sight [m]: its line of sight; None without a backsight. tops: of stakes, by name [m]."""

    benchmark: str
    height: float
    backsight: float | None
    sight: float | None
    tops: Mapping[str, float]


def polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    """The polygons of a shape, without crumbs."""
    return [p for p in shapely.get_parts(shape) if isinstance(p, shapely.Polygon) and p.area > SLIVER]
