"""What does a site file declare for the quantities: forms, concrete, base course, vapour sheet, reinforcement?"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.kinds.fields import LengthFromZero, Name, PositiveLength, Record, Whole, site_unit
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
    """[forms]: the boards or panels around the slab."""

    kind: Literal["boards", "panels"] = Field(default="boards", description="boards are cut; panels stay whole")
    board: Literal["1x4", "1x6", "1x8", "1x10", "1x12", "2x4", "2x6", "2x8", "2x10", "2x12"] | None = Field(
        default=None, description="nominal; its dressed size is in the table of PS 20"
    )
    thickness: PositiveLength | None = Field(
        default=None, description="of panels, or of boards instead of board: actual"
    )
    height: PositiveLength | None = Field(default=None, description="of boards instead of board: actual, as measured")
    tiers: Whole = Field(default=1, ge=1, le=9, description="boards one above another, where a side needs them")
    heights: tuple[PositiveLength, ...] = Field(
        default=(), max_length=6, description="of panels on hand; stacked as high as a side needs"
    )
    lengths: tuple[PositiveLength, ...] = Field(default=(), max_length=12, description="of boards or panels on hand")
    lap: LengthFromZero = Field(default=0.0, description="of boards that follow one another; left out: butted")
    inside_corner: LengthFromZero = Field(
        default=0.0, description="of panels: the leg of a corner piece; left out: one panel begins beyond the other"
    )
    opening_allowance: LengthFromZero = Field(
        default=0.0, description="left free beside a part's opening in the main form, at each end"
    )
    stake_spacing: PositiveLength | None = Field(default=None, description="left out: no stakes are counted")
    brace_spacing: PositiveLength | None = Field(default=None, description="left out: no braces are counted")

    @model_validator(mode="after")
    def _one_size(self) -> Forms:
        if self.kind == "panels":
            self._panels()
            return self
        actual = self.thickness is not None and self.height is not None
        if (self.board is None) != actual or (self.board and (self.thickness or self.height)):
            raise _refused("a form has a board, or a thickness and a height", 'write board = "2x6"')
        if self.heights or self.inside_corner:
            raise _refused("heights and inside_corner are for panels", 'write kind = "panels", or height')
        if self.lengths and self.lap > min(self.lengths) / 2:
            raise _refused("the lap is longer than half the shortest board", "write a shorter lap")
        return self

    def _panels(self) -> None:
        if self.thickness is None or not self.heights or not self.lengths:
            raise _refused("panels have thickness, heights and lengths", 'write heights = ["2 ft"], lengths = ["8 ft"]')
        if self.board or self.height or self.lap or self.tiers > 1:
            raise _refused("board, height, lap and tiers are for boards", 'leave them out, or write kind = "boards"')

    @property
    def size(self) -> tuple[float, float]:
        """Actual thickness and height [m]; of panels the height of the lowest."""
        high = self.height or min(self.heights, default=0.0)
        return DRESSED[self.board] if self.board else (self.thickness or 0.0, high)


class Concrete(Record):
    """[concrete]: how it is ordered."""

    waste: Share | None = Field(default=None, description="added to the volume; left out: nothing is added")
    truck: Volume | None = Field(default=None, description="what one load holds; left out: no loads are counted")
    joint_spacing: PositiveLength | None = Field(default=None, description="of contraction joints, as planned")


class Base(Record):
    """[base]: the base course."""

    thickness: PositiveLength = Field(description="when compacted")
    beyond: LengthFromZero = Field(default=0.0, description="how far it reaches past the concrete")
    loose: Share | None = Field(default=None, description="how much more it is before compaction; left out: not added")
    waste: Share | None = Field(default=None, description="added to what is delivered; left out: nothing is added")


class VapourSheet(Record):
    """[vapour_sheet]: the sheet below the slab."""

    width: PositiveLength = Field(description="of the roll, unfolded")
    lap: LengthFromZero = Field(description="of neighbouring strips, and where a roll ends")
    length: PositiveLength | None = Field(default=None, description="of a roll; left out: rolls are not counted")
    turn_up: LengthFromZero = Field(default=0.0, description="at every edge of the slab")

    @model_validator(mode="after")
    def _narrow_lap(self) -> VapourSheet:
        if self.lap >= min(self.width, self.length or self.width):
            raise _refused("the lap is as large as the roll", "write a smaller lap")
        return self


Steel = Literal["bars", "mesh", "rolls", "edge", "dowels"]


class Reinforcement(Record):
    """[[reinforcement]]: a schedule of what the design asks for; nothing is designed here."""

    name: Name = Field(description="what it is called in the schedule")
    kind: Steel = Field(
        default="bars",
        description="bars both ways, mesh in sheets or from rolls, bars along every side (edge), dowels across joints",
    )
    spacing: PositiveLength | None = Field(default=None, description="of bars, both ways, and of dowels")
    cover: LengthFromZero = Field(description="from the edge of the slab to the ends")
    lap: LengthFromZero = Field(default=0.0, description="where bars, sheets or rolls follow one another")
    length: PositiveLength = Field(description="of one bar, sheet, roll or dowel as delivered")
    width: PositiveLength | None = Field(default=None, description="of one sheet or roll")
    count: Whole | None = Field(default=None, ge=1, le=99, description="of bars along every side")
    hook: LengthFromZero = Field(default=0.0, description="added to each bar at both ends for a hook or bend")

    @model_validator(mode="after")
    def _whole(self) -> Reinforcement:
        for key, kinds, words in _NEEDED:
            if (getattr(self, key) is not None) != (self.kind in kinds):
                needs, remedy = ("needs", words) if self.kind in kinds else ("has no", f"leave {key} out")
                raise _refused(f'kind = "{self.kind}" {needs} {key}', remedy)
        if self.hook and self.kind not in ("bars", "edge"):
            raise _refused(f'kind = "{self.kind}" has no hook', "leave out hook")
        if self.lap > min(self.length, self.width or self.length) / 2:
            raise _refused("the lap is longer than half a bar or sheet", "write a shorter lap")
        return self


_NEEDED: tuple[tuple[str, tuple[Steel, ...], str], ...] = (
    ("spacing", ("bars", "dowels"), 'write spacing = "18 in"'),
    ("width", ("mesh", "rolls"), 'write width = "5 ft"'),
    ("count", ("edge",), "write count = 2"),
)
