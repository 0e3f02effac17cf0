"""What a site file declares: `Site` and its parts, frozen, lengths in metres.

Coordinates stay as the file gives them (its own frame, converted to metres); everything else is a ground distance.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import KW_ONLY, dataclass, field
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Discriminator, Field, Strict, Tag, model_validator
from pydantic_core import PydanticCustomError

from staking.findings import Finding, Place
from staking.kinds.courses import CurveCourse, Straight
from staking.kinds.fields import (
    CornerName,
    Length,
    LengthFromZero,
    Name,
    PositiveLength,
    Record,
    Whole,
    Words,
)
from staking.kinds.outlines import Drawn, Ell, Rectangle, Traced
from staking.kinds.placements import AtPoint, Centered, FromLines
from staking.kinds.references import Parallel, Through
from staking.kinds.slab import Outline
from staking.kinds.stakes import Along, BatterBoards, Corners, Offsets
from staking.notation import Notation
from staking.sitefile.coordinates_declared import Coordinates, OnEarth, SecondSystem
from staking.sitefile.fit_declared import FitAsked, Pair
from staking.sitefile.ground_declared import Earthwork, GroundSource, Overdig, Water
from staking.sitefile.heights_declared import Floor, LevelSetup, Rod
from staking.sitefile.instrument_declared import (
    RoverDeclared,
    SetupDeclared,
    TapeDeclared,
    TotalStationDeclared,
)
from staking.sitefile.landxml_declared import ParcelSource
from staking.sitefile.levelled import Levelled
from staking.sitefile.levels_declared import Levels
from staking.sitefile.plan_declared import Feature, PlanSheet, Revision
from staking.sitefile.stakeout_declared import StakeList
from staking.sitefile.takeoff_declared import Base, Concrete, Forms, Reinforcement, VapourSheet
from staking.sitefile.tape_declared import Tape
from staking.units import UNITS, Unit

TAG = "kind:"  # marks the tags of kinds in the location of an error, so that the reader can leave them out


def _by_kind(default: str) -> Discriminator:
    """Chooses a record's class by its `kind`, which may be left out where there is a default."""

    def chosen(value: Any) -> str:
        kind = value.get("kind", default) if isinstance(value, Mapping) else getattr(value, "kind", default)
        return f"{TAG}{kind}" if isinstance(kind, str) else TAG  # no kind has an empty name

    return Discriminator(chosen)


class About(Record):
    """[site]: what the job is called, and the unit of every bare number in the file."""

    name: Words = Field(min_length=1, description="what the job is called; printed on every sheet")
    unit: Literal["m", "ft", "ftUS"] = Field(description="of every bare number: m, ft (0.3048 m) or ftUS (1200/3937 m)")
    address: Words = Field(default="", description="where the job is, in words; printed, never looked up")
    lot: Words = Field(default="", description="legal description as given")
    owner: Words = Field(default="", description="whose lot it is; printed")
    prepared_by: Words = Field(default="", description="who made this file; printed")
    revision: Words = Field(default="", description="of the job, a letter or number; printed and put on record")
    date: Annotated[datetime.date, Strict()] | None = Field(
        default=None, description="of this revision, without quotes: 2026-04-18"
    )


class Writing(Record):
    """[notation]: how lengths are printed."""

    fraction: Literal[8, 16, 32, 64] = Field(default=16, description="of an inch: 8, 16, 32 or 64")
    decimals: Whole = Field(default=3, ge=2, le=5, description="of lengths in decimals")


def _spread(value: Any) -> Any:
    """The short form of a point, [north, east] or [north, east, elevation], as the long one."""
    if isinstance(value, list):
        if len(value) not in (2, 3):
            raise PydanticCustomError(
                "text",
                "{message}",
                {
                    "message": "a point is two or three numbers",
                    "remedy": "write [north, east] or [north, east, elevation]",
                },
            )
        return dict(zip(("north", "east", "elevation"), value, strict=False))
    return value


class GivenPoint(Record):
    """A point as given or as measured."""

    north: Length = Field(description="the coordinate counted to the north, as given or as measured")
    east: Length = Field(description="the coordinate counted to the east, as given or as measured")
    elevation: Length | None = Field(default=None, description="leave it out where it is not known; never 0 for that")
    note: Words = Field(default="", description="what the crew finds there: iron pin, nail, paint mark")
    given_by: Words = Field(default="", description="who gave or measured it, in words; it goes into no computation")


Given = Annotated[GivenPoint, BeforeValidator(_spread)]


class PointFile(Record):
    """[[point_files]]: a list of points beside the site file."""

    path: Words = Field(description="relative to this file, never outside its folder; .xml is read as LandXML")
    columns: Words = Field(default="", description='"name,north,east,elevation,note" where the file has no header')
    unit: Literal["", "m", "ft", "ftUS"] = Field(default="", description="of its numbers; left out: site.unit")
    decimal: Literal["", "point", "comma"] = Field(
        default="", description="the sign before decimals, where the file itself leaves it open"
    )
    elevation_unit: Literal["", "m", "ft", "ftUS"] = Field(
        default="", description="of the elevations in a LandXML file that does not state it"
    )


CourseKind = Annotated[
    Annotated[Straight, Tag(f"{TAG}straight")] | Annotated[CurveCourse, Tag(f"{TAG}curve")], _by_kind("straight")
]


class Vara(Record):
    """[lot.vara]: which vara the record counts in; there are many."""

    name: Words = Field(description="for example Texas vara")
    length: PositiveLength = Field(description='of one vara, for example "33-1/3 in"')
    source: Words = Field(description="who says so")


class Lot(Record):
    """[lot]: corner points in order with the name of the side from each to the next, or a record's courses."""

    corners: tuple[str, ...] = Field(default=(), description="names of points, in order around the lot")
    sides: tuple[Name, ...] = Field(default=(), description="the name of the side from each corner to the next")
    parcel: ParcelSource | None = Field(
        default=None, description="instead of corners: a parcel of a LandXML file, { path = ..., name = ... }"
    )
    start: str = Field(default="", description="instead of corners: the point where the courses begin")
    courses: tuple[CourseKind, ...] = Field(default=(), description="the record's calls, in order")
    adjust: Literal["none", "compass"] = Field(
        default="none", description="none: the corners stay where the calls put them; compass: the misclosure is spread"
    )
    worst: int = Field(
        default=2500, ge=100, le=1_000_000, description="the poorest closure that is worked with: 1 part in so many"
    )
    stated_area: Words = Field(default="", description='as the record says, for example "0.057 acres"; compared')
    found: dict[str, str] = Field(
        default_factory=dict, description="pins found: for a corner of the record the point that was measured there"
    )
    fit: Literal["least_squares", "hold"] = Field(
        default="least_squares", description="how the record is laid over the pins: best fit, or one held, one aimed at"
    )
    hold: str = Field(default="", description="with fit = hold: the corner whose pin is held")
    aim: str = Field(default="", description="with fit = hold: the corner whose pin gives the direction")
    scale: bool = Field(default=False, strict=True, description="true: the record is stretched too; it is shown anyway")
    vara: Vara | None = Field(default=None, description="which vara the record counts in, a table of its own")
    given_by: Literal["surveyor", "plat", "owner", "taped"] | None = Field(
        default=None, description="who said where the corners are; anybody but a surveyor is a warning"
    )
    source: Words = Field(default="", description="the plat or deed the lot comes from, in words")

    @model_validator(mode="before")
    @classmethod
    def _no_holes(cls, value: Any) -> Any:
        if isinstance(value, Mapping) and (holes := {"holes", "hole", "except", "less"} & set(value)):
            raise _text(
                f'a lot with a piece taken out of it ("{min(holes)}") cannot be set out here',
                "describe the one parcel the slab stands on; name the piece taken out under [[keep_clear]]",
            )
        return value

    @model_validator(mode="after")
    def _one_way(self) -> Lot:
        if self.parcel is None and bool(self.corners) == bool(self.courses):
            raise _text(
                "a lot is given either by corners or by courses", 'write corners = ["P1", ...], or [[lot.courses]]'
            )
        if self.corners and len(self.sides) != len(self.corners):
            raise _text(
                f"{len(self.corners)} corners but {len(self.sides)} sides",
                "name the side from each corner to the next; the last one leads back to the first",
            )
        if self.corners and len(self.corners) < 3:
            raise _text("a lot has at least three corners", "name them in order around the lot")
        return self

    @model_validator(mode="after")
    def _where_the_record_lies(self) -> Lot:
        if self.courses and not self.start and not self.found:
            raise _text("nothing says where the courses begin", 'write start = "P1", or found = { ... } with two pins')
        if self.found and (not self.courses or len(self.found) < 2):
            raise _text(
                "found needs courses and at least two pins", "name two corners of the record and the points there"
            )
        if (self.fit == "hold") != bool(self.hold and self.aim):
            raise _text(
                "fit, hold and aim do not fit together", 'write fit = "hold" with hold and aim, or none of them'
            )
        return self


def _text(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


def _plain_setback(value: Any) -> Any:
    """The short form of a setback, its figure alone, as the long one."""
    return value if isinstance(value, Mapping) else {"ordinance": value}


class Setback(Record):
    """[setbacks.SIDE]: what must be kept from one side, where a figure alone does not say it."""

    ordinance: LengthFromZero | None = Field(default=None, description="the figure of the zoning ordinance")
    plat: LengthFromZero | None = Field(default=None, description="the building line of the plat; the larger one binds")
    projection: LengthFromZero = Field(
        default=0.0, description="how much nearer than the walls parts and eaves may stand, as the ordinance allows"
    )
    measured: Literal["formed", "with parts", "with eaves"] = Field(
        default="with parts", description="what the figure is measured to; parts that are exempt never count"
    )
    uncertainty: LengthFromZero | None = Field(
        default=None,
        description="of the line on the ground, at 95 percent, as the surveyor states it; shown, not added",
    )
    center: Words = Field(default="", description="a line under [[references]]: the centre of the street")
    from_center: PositiveLength | None = Field(default=None, description="what must be kept from that centre line")

    @model_validator(mode="after")
    def _something_required(self) -> Setback:
        if self.ordinance is None and self.plat is None and self.from_center is None:
            raise PydanticCustomError(
                "text",
                "{message}",
                {
                    "message": "a setback without a figure",
                    "remedy": 'write ordinance = "25 ft", plat = or from_center =',
                },
            )
        if bool(self.center) != (self.from_center is not None):
            raise PydanticCustomError(
                "text",
                "{message}",
                {"message": "center and from_center go together", "remedy": "write both, or neither"},
            )
        return self

    @property
    def required(self) -> float:
        """The larger of the ordinance's figure and the plat's [m]."""
        return max(self.ordinance or 0.0, self.plat or 0.0)


SideSetback = Annotated[Setback, BeforeValidator(_plain_setback)]


class AlongSide(Record):
    """A strip along a side of the lot."""

    name: Name = Field(description="what it is: drainage easement, power line")
    along: str = Field(description="the side of the lot, by its name")
    width: PositiveLength = Field(description="of the strip, square from that side")


class AroundPoint(Record):
    """A circle around a point."""

    name: Name = Field(description="what it is: well, tree, septic tank")
    around: str = Field(description="the point in its middle")
    radius: PositiveLength = Field(description="of the circle")


class InsidePoints(Record):
    """A polygon."""

    name: Name = Field(description="what it is: septic field, pond")
    points: tuple[str, ...] = Field(min_length=3, description="names of its corners, in order around it")


def _area_kind(value: Any) -> str:
    keys = set(value if isinstance(value, Mapping) else getattr(type(value), "model_fields", ()))
    shape = "around" if keys & {"around", "radius"} else "points" if "points" in keys else "along"
    return f"{TAG}{shape}"


KeepClear = Annotated[
    Annotated[AlongSide, Tag(f"{TAG}along")]
    | Annotated[AroundPoint, Tag(f"{TAG}around")]
    | Annotated[InsidePoints, Tag(f"{TAG}points")],
    Discriminator(_area_kind),
]


class Separation(Record):
    """[[separations]]: a distance square from a wall to a line, as for fire separation; a question of its own."""

    name: Name = Field(description="what it is called in findings and on sheets")
    wall: CornerName = Field(description="the side of the formed outline that the wall stands on")
    to: str = Field(description='the line it is measured to, for example "lot left" or a line along another building')
    least: PositiveLength = Field(description="the figure, as the authority has it; there is no default")
    clause: Words = Field(default="", description="where the figure comes from; shown beside it")


class Margins(Record):
    """[margins]: how little room to a line is worth a warning.

    The defaults, 0.1 ft and 0.5 ft, follow practice in Florida: an office that adds 0.1 ft where it can, and the full
    survey that the building department of Atlantic Beach asks for within 0.5 ft of a restriction line (Bulletin 2-18).
    """

    strong: LengthFromZero = Field(
        default=0.1 * 0.3048, description="less room than this is a strong warning; 0.1 ft where left out"
    )
    warn: LengthFromZero = Field(
        default=0.5 * 0.3048, description="less room than this is a warning; 0.5 ft where left out"
    )


class Numbering(Record):
    """[numbering]: the first number of each series of stakes."""

    corners: Whole = Field(default=101, ge=1, le=999_999, description="of corner stakes, those of parts included")
    offsets: Whole = Field(default=201, ge=1, le=999_999, description="of offset stakes")
    batter_boards: Whole = Field(default=301, ge=1, le=999_999, description="of posts and nails")
    marks: Whole = Field(default=401, ge=1, le=999_999, description="of marks along the sides")


Reference = Annotated[
    Annotated[Through, Tag(f"{TAG}through")] | Annotated[Parallel, Tag(f"{TAG}parallel")], _by_kind("through")
]
SlabKind = Annotated[
    Annotated[Rectangle, Tag(f"{TAG}rectangle")]
    | Annotated[Ell, Tag(f"{TAG}ell")]
    | Annotated[Traced, Tag(f"{TAG}traced")]
    | Annotated[Drawn, Tag(f"{TAG}drawing")],
    _by_kind("rectangle"),
]
PlacementKind = Annotated[
    Annotated[FromLines, Tag(f"{TAG}from_lines")]
    | Annotated[AtPoint, Tag(f"{TAG}at_point")]
    | Annotated[Centered, Tag(f"{TAG}centered")],
    _by_kind("from_lines"),
]
StakesKind = Annotated[
    Annotated[Corners, Tag(f"{TAG}corners")]
    | Annotated[Offsets, Tag(f"{TAG}offsets")]
    | Annotated[BatterBoards, Tag(f"{TAG}batter_boards")]
    | Annotated[Along, Tag(f"{TAG}along")],
    _by_kind("corners"),
]
InstrumentKind = Annotated[
    Annotated[TotalStationDeclared, Tag(f"{TAG}total station")]
    | Annotated[RoverDeclared, Tag(f"{TAG}rover")]
    | Annotated[TapeDeclared, Tag(f"{TAG}tape")],
    _by_kind("total station"),
]


class Declared(Record):
    """A whole site file."""

    site: About
    coordinates: Coordinates | None = None
    notation: Writing = Writing()
    points: dict[str, Given] = Field(default_factory=dict)
    point_files: tuple[PointFile, ...] = ()
    lot: Lot | None = None
    setbacks: dict[str, SideSetback] = Field(default_factory=dict)
    margins: Margins = Margins()
    keep_clear: tuple[KeepClear, ...] = ()
    separations: tuple[Separation, ...] = ()
    references: tuple[Reference, ...] = ()
    slab: SlabKind
    placement: PlacementKind
    stakes: tuple[StakesKind, ...] = ()
    stakeout: tuple[StakeList, ...] = ()
    numbering: Numbering = Numbering()
    tape: Tape = Tape()
    floor: Floor | None = None
    rod: Rod = Rod()
    level_setups: tuple[LevelSetup, ...] = ()
    forms: Forms | None = None
    concrete: Concrete | None = None
    base: Base | None = None
    vapour_sheet: VapourSheet | None = None
    reinforcement: tuple[Reinforcement, ...] = ()
    levels: tuple[Levels, ...] = ()
    ground: tuple[GroundSource, ...] = ()
    earthwork: Earthwork = Earthwork()
    water: Water = Water()
    overdig: Overdig | None = None
    plan: PlanSheet = PlanSheet()
    revisions: tuple[Revision, ...] = ()
    features: tuple[Feature, ...] = ()
    fit: FitAsked | None = None
    pairs: tuple[Pair, ...] = ()
    second_system: tuple[SecondSystem, ...] = ()
    setup: SetupDeclared | None = None
    instrument: InstrumentKind | None = None
    on_earth: tuple[OnEarth, ...] = ()


@dataclass(frozen=True, eq=False)
class Site:
    """A site file read and found sound in itself: what it declares, its fingerprint, and where each key stands.

    given: every point, from the file itself and from its point files, by name. fingerprint: SHA-256 of the file.
    ground: the points of [[ground]] by name. sources: that of each point file, by its path. notes: what was
    accepted but is worth knowing.
    bulges: of the sides of a lot given by its corners, 0 where straight; none at all where all are.
    levelled: the level books, reduced; the points they name have their heights.
    system: the one that `given` is in. turn [deg]: clockwise, from the directions the file declares to those of it.
    written: the values that `given` was carried over to; empty where it is as in the file.
    """

    declared: Declared
    _: KW_ONLY
    given: Mapping[str, GivenPoint]
    file: str
    fingerprint: str
    sources: Mapping[str, str]
    locate: Callable[[tuple[str | int, ...]], Place] = field(repr=False)
    notes: tuple[Finding, ...] = ()
    bulges: tuple[float, ...] = ()
    levelled: tuple[Levelled, ...] = ()
    ground: Mapping[str, GivenPoint] = field(default_factory=dict)
    system: Literal["given", "measured"] = "given"
    turn: float = 0.0
    written: Literal["", "grid", "ground"] = ""
    drawn: Outline | None = None  # of the slab, where it is taken from a drawing

    def outline(self) -> Outline:
        """Of the slab, in its own axes. Raises RuleError where sizes leave none."""
        return self.drawn or self.declared.slab.outline()

    def place(self, *path: str | int) -> Place:
        """Where in the file a key stands, by its path, for example "setbacks", "front"."""
        return self.locate(path)

    @property
    def unit(self) -> Unit:
        """The unit of bare numbers, and of everything written."""
        return UNITS[self.declared.site.unit]

    @property
    def notation(self) -> Notation:
        """How this site writes lengths."""
        writing = self.declared.notation
        return Notation(self.unit, fraction=writing.fraction, decimals=writing.decimals)

    @property
    def revision(self) -> str:
        """The revision as printed; a dash where the file gives none."""
        return self.declared.site.revision or "-"
