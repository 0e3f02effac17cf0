"""What `solve` computes: `Layout` and its parts, frozen; metres on the ground, counted from the frame's anchor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from staking.findings import Severity
from staking.kinds.ground import BaseLine
from staking.kinds.slab import CHORD, Form
from staking.kinds.stakes.placing import Board, Series, StakeKind
from staking.layout.design import Design, Grade, SetUp
from staking.layout.earth import Earth, Excavation
from staking.layout.frames import Frame
from staking.layout.quantities import Takeoff
from staking.layout.records import RecordReport
from staking.layout.systems import Fitted
from staking.notation import Notation
from staking.sitefile.declared import Site
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece, flattened
from staking.survey.points import Point
from staking.survey.polygons import polygon


@dataclass(frozen=True, slots=True)
class NamedPoint:
    """A given point: as the site file or a point file has it, brought to the ground."""

    name: str
    at: Point
    note: str = ""
    given_by: str = ""
    lot_corner: bool = False


@dataclass(frozen=True, slots=True)
class LotSide:
    """One piece of the lot's boundary, straight or an arc. Several pieces may bear one name."""

    name: str
    piece: Piece
    start_name: str
    end_name: str

    @property
    def line(self) -> Line:
        """Straight from its beginning to its end: the piece itself, or the chord of an arc."""
        return self.piece.chord if isinstance(self.piece, Arc) else self.piece


@dataclass(frozen=True)
class Lot:
    """The lot: corners in the order given, sides from each to the next."""

    corners: tuple[Point, ...]
    sides: tuple[LotSide, ...]
    given_by: str
    area: float  # square metres, with circular segments
    record: RecordReport | None = None  # where it was laid out from a record's courses

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The boundary, true arcs and all."""
        return tuple(side.piece for side in self.sides)

    @cached_property
    def drawn(self) -> tuple[Point, ...]:
        """The boundary as shapely needs it: arcs as chords within CHORD of them. Margins do not use it."""
        return flattened(self.pieces, CHORD)

    @cached_property
    def shape(self) -> shapely.Polygon:
        """The lot as shapely knows it."""
        return polygon(self.drawn)

    @property
    def bulges(self) -> tuple[float, ...]:
        """Of each side, as DXF has them: 0 where it is straight."""
        return tuple(piece.bulge if isinstance(piece, Arc) else 0.0 for piece in self.pieces)

    def named(self, name: str) -> tuple[LotSide, ...]:
        """The pieces that bear a name."""
        return tuple(side for side in self.sides if side.name == name)


@dataclass(frozen=True, slots=True)
class Stake:
    """Something to drive, with its name. The fields from side on are as in kinds.stakes.placing.Place."""

    name: str
    at: Point
    kind: StakeKind
    series: Series
    note: str
    side: int | None = None
    corner: int | None = None
    along: float = 0.0
    part: str = ""
    entry: int = 0
    moved: float = 0.0


@dataclass(frozen=True, slots=True)
class Slab:
    """The slab on the ground.

    form: the formed outline with names, and its parts. building: the building line inside the ledge (the formed
    outline itself where there is no ledge). counted: formed outline and the parts that setbacks apply to.
    counted_parts: those parts. eaves: the edge of the roof, where the file says how far it reaches.
    """

    form: Form
    building: tuple[Point, ...]
    counted: BaseGeometry
    counted_parts: tuple[tuple[Point, ...], ...]
    eaves: tuple[Point, ...]
    ledge: float
    thickness: float | None
    area: float  # of the formed outline [m2], without parts


@dataclass(frozen=True, slots=True)
class SideLength:
    """One side of the formed outline. start, end: names of its corners (stake names where they are staked).

    length [m]: along the side. azimuth [deg], chord [m]: straight from corner to corner, which is what a tape reads.
    radius [m]: of an arc; None where the side is straight.
    """

    index: int
    label: str
    start: str
    end: str
    length: float
    azimuth: float
    chord: float
    radius: float | None = None

    @property
    def taped(self) -> str:
        """What a tape reads of it, in words: of an arc its chord."""
        return self.label if self.radius is None else f"chord of {self.label}"


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where the string of an inside corner's side runs over another side: a corner of a check rectangle."""

    name: str
    at: Point
    side: int
    along: float  # from the beginning of that side [m]


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A check distance across the slab. of: the rectangle or part it squares, in words."""

    start: str
    end: str
    length: float
    of: str
    from_point: Point
    to_point: Point


@dataclass(frozen=True, slots=True)
class Tie:
    """A corner measured square from a line. along [m]: from the line's start to the foot.

    beyond: the corner lies on the other side of the line than the slab does.
    """

    corner: str
    line: str
    distance: float
    foot: Point
    along: float
    from_name: str
    at: Point
    beyond: bool = False


@dataclass(frozen=True, slots=True)
class DoubleTie:
    """A corner by two tapes held at two given points.

    angle [deg]: at which they meet. hand: on which side of the line from first to second the corner lies.
    """

    corner: str
    first: str
    first_distance: float
    second: str
    second_distance: float
    angle: float
    hand: str


@dataclass(frozen=True, slots=True)
class Margin:
    """Room to a line or area: room [m] = distance - required.

    rule: "setback", "lot line" (no figure given), "street centre", "separation" or "keep clear". of: the side, line or
    area. what: of the slab is measured: "outline" (with the parts that count), "parts", "eaves" or a wall.
    uncertainty [m]: of the line, where the site file states it.

    distance [m]: least distance from the slab (edges too); below 0 where the slab lies beyond the line, by how much.
    at, foot: where on the slab and where on the line that least distance is.
    """

    rule: str
    of: str
    distance: float
    required: float
    room: float
    at: Point
    foot: Point
    severity: Severity
    what: str = "outline"
    uncertainty: float | None = None


@dataclass(frozen=True, slots=True)
class KeptClear:
    """An area nothing may stand in, as a shape. centre, radius: of a circle; along, width: of a strip along a side."""

    name: str
    shape: BaseGeometry
    centre: Point | None = None
    radius: float = 0.0
    along: str = ""
    width: float = 0.0


@dataclass(frozen=True)
class Layout:
    """Everything that was computed from one site file."""

    site: Site
    frame: Frame
    points: Mapping[str, NamedPoint]
    lines: Mapping[str, BaseLine]
    lot: Lot | None
    slab: Slab
    buildable: BaseGeometry | None
    kept_clear: tuple[KeptClear, ...]
    margins: tuple[Margin, ...]
    stakes: tuple[Stake, ...]
    boards: tuple[Board, ...]
    corner_names: tuple[str, ...]
    sides: tuple[SideLength, ...]
    crossings: tuple[Crossing, ...]
    diagonals: tuple[Diagonal, ...]
    ties: tuple[Tie, ...]
    double_ties: tuple[DoubleTie, ...]
    fitted: Fitted | None = None  # to the system the points were measured in
    design: Design | None = None  # heights, where a floor is declared
    grades: tuple[Grade, ...] = ()
    setups: tuple[SetUp, ...] = ()  # of the level
    stake_tops: Mapping[str, float] = field(default_factory=dict)  # found otherwise than from a set-up, by name [m]
    takeoff: Takeoff | None = None  # where quantities are asked for
    earth: Earth | None = None  # where ground is declared
    excavation: Excavation | None = None  # where [overdig] is

    @property
    def floor_height(self) -> float | None:
        """Of the floor as stated [m]: what [floor] gives, else the word of [plan]."""
        return self.design.floor.up if self.design else self.site.declared.plan.floor_elevation

    @cached_property
    def notation(self) -> Notation:
        """How this site writes lengths."""
        return self.site.notation
