"""What does a site file declare of the lot, and of what must be kept clear of its lines?"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.courses import CurveCourse, Straight
from staking.kinds.fields import CornerName, LengthFromZero, MetricRecord, Name, PositiveLength, Record, Words
from staking.sitefile.by_kind import TAG, by_kind
from staking.sitefile.landxml_declared import ParcelSource

CourseKind = Annotated[
    Annotated[Straight, Tag(f"{TAG}straight")] | Annotated[CurveCourse, Tag(f"{TAG}curve")], by_kind("straight")
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


class Margins(MetricRecord):
    """[margins]: how little room to a line is worth a warning.

    The defaults, 0.1 ft and 0.5 ft, follow practice in Florida: an office that adds 0.1 ft where it can, and the full
    survey that the building department of Atlantic Beach asks for within 0.5 ft of a restriction line (Bulletin 2-18).
    On a site in metres they are rounded to 30 mm and 150 mm.
    """

    METRIC: ClassVar[Mapping[str, float]] = MappingProxyType({"strong": 0.03, "warn": 0.15})

    strong: LengthFromZero = Field(
        default=0.1 * 0.3048,
        description="less room than this is a strong warning; left out: 0.1 ft, or 30 mm on a site in metres",
    )
    warn: LengthFromZero = Field(
        default=0.5 * 0.3048,
        description="less room than this is a warning; left out: 0.5 ft, or 150 mm on a site in metres",
    )
