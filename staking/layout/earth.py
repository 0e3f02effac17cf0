"""What the ground is under and around the slab, as computed: spots, volumes, sections, the excavation."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from staking.layout.pit import Pit
from staking.survey.points import Point
from staking.survey.triangles import NOTHING, Stretch, Triangles, Volume


@dataclass(frozen=True, slots=True)
class Spot:
    """The ground at a corner or stake. Heights [m]: ground None outside the triangles, others where not known.

    finished: of the ground as it is to be, where that is given.
    """

    name: str
    kind: str
    what: str
    at: Point
    ground: float | None
    top: float | None = None
    subgrade: float | None = None
    finished: float | None = None

    @property
    def form_height(self) -> float | None:
        """How far the top of the form stands above the ground [m]; below 0 the ground must be dug there."""
        return None if self.ground is None or self.top is None else self.top - self.ground

    @property
    def cut(self) -> float | None:
        """From the ground down to the subgrade [m]; below 0 so much is filled."""
        return None if self.ground is None or self.subgrade is None else self.ground - self.subgrade


@dataclass(frozen=True, slots=True)
class PieceEarth:
    """Earth under one piece of the concrete, down or up to its subgrade. area [m2]: of the piece."""

    name: str
    kind: str
    area: float
    volume: Volume


@dataclass(frozen=True, slots=True)
class Level:
    """Concrete along a section: from start to end [m], heights of top and subgrade at both [m]."""

    start: float
    end: float
    top: tuple[float, float]
    subgrade: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Section:
    """Along one side of the slab, from its first corner: the ground, and the concrete just inside the side."""

    name: str
    length: float
    ground: tuple[Stretch, ...]
    concrete: tuple[Level, ...]


@dataclass(frozen=True)
class Earth:
    """Everything about the ground. points: how many it was made of.

    grid, ends: the volume by cells and by end areas, to check that by triangles; None where none is known. pit: with
    sides and trenches. finished: the ground as it is to be after grading; None where the file does not tell.
    """

    triangles: Triangles
    points: int
    spots: tuple[Spot, ...]
    pieces: tuple[PieceEarth, ...] = ()
    grid: Volume | None = None
    ends: Volume | None = None
    sections: tuple[Section, ...] = ()
    pit: Pit | None = None
    finished: Triangles | None = None

    @property
    def around(self) -> Triangles:
        """The ground that water runs over: as it is to be, where that is given; else as it is."""
        return self.finished or self.triangles

    @property
    def beside(self) -> float:
        """Dug outside slab and parts for room and sides [m3]."""
        return self.pit.slab_volume - self.total.cut if self.pit else 0.0

    @property
    def corners(self) -> tuple[Spot, ...]:
        """The corners of the slab that triangles lie under."""
        return tuple(spot for spot in self.spots if spot.kind == "corner" and spot.ground is not None)

    @property
    def high(self) -> Spot | None:
        """The corner of the slab where the ground is highest, the first of several alike; None where none is known."""
        return max(self.corners, key=_level, default=None)

    @property
    def low(self) -> Spot | None:
        """The corner of the slab where the ground is lowest, the first of several alike; None where none is known."""
        return min(self.corners, key=_level, default=None)

    @property
    def total(self) -> Volume:
        """By triangles, of all pieces."""
        return sum((piece.volume for piece in self.pieces), NOTHING)

    @property
    def uncovered(self) -> float:
        """Area of concrete that no triangle lies under [m2]."""
        return max(0.0, sum(piece.area for piece in self.pieces) - self.total.area)


@dataclass(frozen=True, slots=True)
class Rim:
    """How far the edge of the excavation lies outside a side of the slab [m]: at its ends, least and most between."""

    name: str
    first: float
    last: float
    least: float
    most: float


def _level(spot: Spot) -> float:
    return round(spot.ground or 0.0, 6)  # figures that differ by the last digit of arithmetic are alike


@dataclass(frozen=True)
class Excavation:
    """The edge of the excavation at the ground. depth [m]: the greatest. rims: side by side. stated: depth given."""

    depth: float
    slope: float
    edge: shapely.Polygon
    rims: tuple[Rim, ...]
    stated: bool

    @property
    def reach(self) -> float:
        """Of the edge beyond the formed outline, where it is farthest [m]."""
        return max(rim.most for rim in self.rims)
