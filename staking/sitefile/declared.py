"""What a site file declares: `Site` and its parts, frozen, lengths in metres.

Coordinates stay as the file gives them (its own frame, converted to metres); everything else is a ground distance.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import KW_ONLY, dataclass, field
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, Strict, Tag
from pydantic_core import PydanticCustomError

from staking.findings import Finding, Place
from staking.kinds.fields import (
    Length,
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
from staking.sitefile.as_built_declared import AsBuilt
from staking.sitefile.by_kind import TAG, by_kind
from staking.sitefile.coordinates_declared import Coordinates, OnEarth, SecondSystem
from staking.sitefile.fit_declared import FitAsked, Pair
from staking.sitefile.ground_declared import Earthwork, GroundSource, Overdig, Water
from staking.sitefile.heights_declared import Floor, LevelSetup, Rod, StakeTops
from staking.sitefile.instrument_declared import (
    RoverDeclared,
    SetupDeclared,
    TapeDeclared,
    TotalStationDeclared,
)
from staking.sitefile.levelled import Levelled
from staking.sitefile.levels_declared import Levels
from staking.sitefile.lot_declared import KeepClear, Lot, Margins, Separation, SideSetback
from staking.sitefile.plan_declared import Feature, PlanSheet, Revision
from staking.sitefile.stakeout_declared import StakeList
from staking.sitefile.takeoff_declared import Base, Concrete, Forms, Reinforcement, VapourSheet
from staking.sitefile.tape_declared import Tape
from staking.units import UNITS, Unit


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


class Numbering(Record):
    """[numbering]: the first number of each series of stakes."""

    corners: Whole = Field(default=101, ge=1, le=999_999, description="of corner stakes, those of parts included")
    offsets: Whole = Field(default=201, ge=1, le=999_999, description="of offset stakes")
    batter_boards: Whole = Field(default=301, ge=1, le=999_999, description="of posts and nails")
    marks: Whole = Field(default=401, ge=1, le=999_999, description="of marks along the sides")


Reference = Annotated[
    Annotated[Through, Tag(f"{TAG}through")] | Annotated[Parallel, Tag(f"{TAG}parallel")], by_kind("through")
]
SlabKind = Annotated[
    Annotated[Rectangle, Tag(f"{TAG}rectangle")]
    | Annotated[Ell, Tag(f"{TAG}ell")]
    | Annotated[Traced, Tag(f"{TAG}traced")]
    | Annotated[Drawn, Tag(f"{TAG}drawing")],
    by_kind("rectangle"),
]
PlacementKind = Annotated[
    Annotated[FromLines, Tag(f"{TAG}from_lines")]
    | Annotated[AtPoint, Tag(f"{TAG}at_point")]
    | Annotated[Centered, Tag(f"{TAG}centered")],
    by_kind("from_lines"),
]
StakesKind = Annotated[
    Annotated[Corners, Tag(f"{TAG}corners")]
    | Annotated[Offsets, Tag(f"{TAG}offsets")]
    | Annotated[BatterBoards, Tag(f"{TAG}batter_boards")]
    | Annotated[Along, Tag(f"{TAG}along")],
    by_kind("corners"),
]
InstrumentKind = Annotated[
    Annotated[TotalStationDeclared, Tag(f"{TAG}total station")]
    | Annotated[RoverDeclared, Tag(f"{TAG}rover")]
    | Annotated[TapeDeclared, Tag(f"{TAG}tape")],
    by_kind("total station"),
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
    margins: Margins = Field(default={}, validate_default=True)
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
    stake_tops: StakeTops = StakeTops()
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
    as_built: AsBuilt = Field(default={}, validate_default=True)


@dataclass(frozen=True, eq=False)
class Site:
    """A site file read and found sound in itself: what it declares, its fingerprint, and where each key stands.

    given: every point, from the file itself and from its point files, by name. fingerprint: SHA-256 of the file.
    ground, finished: the points of [[ground]] by name, as it is and as it is to be. sources: that of each point file,
    by its path. notes: what was accepted but is worth knowing.
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
    finished: Mapping[str, GivenPoint] = field(default_factory=dict)
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
