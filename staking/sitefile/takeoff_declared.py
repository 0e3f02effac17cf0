"""What does a site file declare for the quantities: forms, concrete, base course, vapour sheet, reinforcement?"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.kinds.fields import LengthFromZero, Name, PositiveLength, Record, site_unit
from staking.kinds.lumber import DRESSED
from staking.units import parse_share, parse_volume


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


def _share(value: Any) -> float:
    try:
        return float(parse_share(str(value)))
    except TextError as error:
        raise _refused(error.message, error.remedy) from None


def _volume(value: Any, info: ValidationInfo) -> float:
    try:
        return float(parse_volume(str(value), site_unit(info)))
    except TextError as error:
        raise _refused(error.message, error.remedy) from None


Share = Annotated[float, BeforeValidator(_share), WithJsonSchema({"type": "string", "description": 'a share: "5 %"'})]
Volume = Annotated[
    float, BeforeValidator(_volume), WithJsonSchema({"type": "string", "description": '"10 cu yd" or "8 cu m"'})
]


class Forms(Record):
    """[forms]: the boards around the slab."""

    board: Literal["1x4", "1x6", "1x8", "1x10", "1x12", "2x4", "2x6", "2x8", "2x10", "2x12"] | None = Field(
        default=None, description="nominal; its dressed size is in the table of PS 20"
    )
    thickness: PositiveLength | None = Field(default=None, description="instead of board: actual, as measured")
    height: PositiveLength | None = Field(default=None, description="instead of board: actual, as measured")
    lengths: tuple[PositiveLength, ...] = Field(default=(), description="of boards on hand")
    lap: LengthFromZero = Field(default=0.0, description="of boards that follow one another; left out: butted")
    opening_allowance: LengthFromZero = Field(
        default=0.0, description="left free beside a part's opening in the main form, at each end"
    )
    stake_spacing: PositiveLength | None = Field(default=None, description="left out: no stakes are counted")
    brace_spacing: PositiveLength | None = Field(default=None, description="left out: no braces are counted")

    @model_validator(mode="after")
    def _one_size(self) -> Forms:
        actual = self.thickness is not None and self.height is not None
        if (self.board is None) != actual or (self.board and (self.thickness or self.height)):
            raise _refused("a form has a board, or a thickness and a height", 'write board = "2x6"')
        if self.lengths and self.lap > min(self.lengths) / 2:
            raise _refused("the lap is longer than half the shortest board", "write a shorter lap")
        return self

    @property
    def size(self) -> tuple[float, float]:
        """Actual thickness and height [m]."""
        return DRESSED[self.board] if self.board else (self.thickness or 0.0, self.height or 0.0)


class Concrete(Record):
    """[concrete]: how it is ordered."""

    waste: Share | None = Field(default=None, description="added to the volume; left out: nothing is added")
    truck: Volume | None = Field(default=None, description="what one load holds; left out: no loads are counted")
    joint_spacing: PositiveLength | None = Field(default=None, description="of contraction joints, as planned")


class Base(Record):
    """[base]: the base course."""

    thickness: PositiveLength = Field(description="when compacted")
    beyond: LengthFromZero = Field(default=0.0, description="how far it reaches past the concrete")


class VapourSheet(Record):
    """[vapour_sheet]: the sheet below the slab."""

    width: PositiveLength = Field(description="of the roll, unfolded")
    lap: LengthFromZero = Field(description="of neighbouring strips")

    @model_validator(mode="after")
    def _narrow_lap(self) -> VapourSheet:
        if self.lap >= self.width:
            raise _refused("the lap is as wide as the roll", "write a smaller lap")
        return self


class Reinforcement(Record):
    """[[reinforcement]]: a schedule of what the design asks for; nothing is designed here."""

    name: Name = Field(description="what it is called in the schedule")
    kind: Literal["bars", "mesh"] = Field(default="bars", description="bars both ways, or sheets")
    spacing: PositiveLength | None = Field(default=None, description="of bars, both ways")
    cover: LengthFromZero = Field(description="from the edge of the slab to the ends")
    lap: LengthFromZero = Field(default=0.0, description="where bars or sheets follow one another")
    length: PositiveLength = Field(description="of one bar or sheet as delivered")
    width: PositiveLength | None = Field(default=None, description="of one sheet")

    @model_validator(mode="after")
    def _whole(self) -> Reinforcement:
        if self.kind == "bars" and (self.spacing is None or self.width is not None):
            raise _refused("bars have a spacing, and no width", 'write spacing = "18 in"')
        if self.kind == "mesh" and (self.width is None or self.spacing is not None):
            raise _refused("mesh has the width of a sheet, and no spacing", 'write width = "5 ft"')
        if self.lap > min(self.length, self.width or self.length) / 2:
            raise _refused("the lap is longer than half a bar or sheet", "write a shorter lap")
        return self
