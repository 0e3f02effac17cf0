"""What does a site file declare of the ground: points on it, water led away from the slab, the excavation?

Heights are in the datum of the points that have an elevation. Every figure may be changed; what is left out has the
value of the clause beside it, as transcribed in public, and the local authority's figure goes before it.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.fields import Fall, LengthFromZero, MetricRecord, PositiveLength, Record, Words

INCH = 0.0254  # metres, exactly


GroundState = Literal["existing", "finished"]


class BreakLine(Record):
    """[[ground.break_lines]]: where the ground bends: top or toe of a bank, edge of a drive."""

    points: tuple[str, ...] = Field(min_length=2, description="names of ground points, in order along the line")


class GroundSource(Record):
    """[[ground]]: points on the ground, of which one surface is made."""

    path: Words = Field(default="", description="of a list of points beside this file, each with an elevation")
    columns: Words = Field(default="", description='"name,north,east,elevation,note" where the file has no header')
    unit: Literal["", "m", "ft", "ftUS"] = Field(default="", description="of its numbers; left out: site.unit")
    points: tuple[str, ...] = Field(
        default=(), description="names under [points] that lie on the ground, each with an elevation"
    )
    state: GroundState = Field(
        default="existing",
        description="existing: as it is, dug and filled from; finished: as it is to be after grading, which water runs "
        "over",
    )
    break_lines: tuple[BreakLine, ...] = Field(default=(), description="each a [[ground.break_lines]]")

    @model_validator(mode="after")
    def _some(self) -> GroundSource:
        if not self.path and not self.points:
            raise _refused("ground without points", 'write path = "ground.csv", or points = ["G1", "G2", "G3"]')
        return self


class Earthwork(Record):
    """[earthwork]: what is dug and filled below the concrete."""

    base: LengthFromZero = Field(default=0.0, description="gravel and sand below the concrete; left out: none")
    cell: PositiveLength | None = Field(
        default=None, description="of the grid that checks the volume; left out: 1 ft, or 0.25 m on a site in metres"
    )
    contours: PositiveLength | None = Field(
        default=None, description="height between contours; left out: chosen so that they can be told apart"
    )


class Water(Record):
    """[water]: how water is led away."""

    discharge: str = Field(default="", description="point at the gutter, curb or drive the water runs to")
    rise: LengthFromZero = Field(default=12 * INCH, description="of the floor above it; 12 in, 2024 IRC R403.1.7.3")
    run_fall: Fall = Field(default=0.02, description="and so much more for the run to it; 2 %, the same clause")
    away: LengthFromZero = Field(
        default=6 * INCH, description="the ground falls within `within`; 6 in, 2024 IRC R401.3"
    )
    within: PositiveLength = Field(default=3.048, description="from the slab; 10 ft, 2024 IRC R401.3")
    rise_again: LengthFromZero = Field(
        default=INCH / 2, description="the ground may rise by so much on that way; 1/2 in, own choice, no source"
    )
    paved: Fall = Field(
        default=0.02, description="parts, drives and walks fall away from the slab; 2 %, 2024 IRC R401.3, exception"
    )
    drive_least: Fall = Field(
        default=0.005, description="of drives farther out; 0.5 % as Quincy MA 17.28.040 has it; ask your authority"
    )
    drive_most: Fall = Field(default=0.10, description="of drives; 10 % as in the same clause; ask your authority")
    walk_most: Fall = Field(default=0.05, description="of walks; 1:20, 2010 ADA Standards 403.3, from memory")
    wood: LengthFromZero | None = Field(
        default=None, description="the lowest wood above the floor's top; below 0 is not foreseen; left out: not asked"
    )
    wood_clear: LengthFromZero = Field(default=6 * INCH, description="from wood to ground; 6 in, IRC R317.1 item 5")
    wood_paved: LengthFromZero = Field(
        default=2 * INCH, description="from wood to the top of a part beside it; 2 in, the same item"
    )
    least: LengthFromZero = Field(
        default=6 * INCH, description="of the concrete's top above the ground; 6 in, 2015 IRC R404.1.6; veneer 4 in"
    )
    most: PositiveLength | None = Field(default=None, description="of the same; left out: not asked")

    @model_validator(mode="after")
    def _band(self) -> Water:
        if self.most is not None and self.most < self.least:
            raise _refused("most is less than least", "write the smaller figure as least")
        if self.drive_most < self.drive_least:
            raise _refused("drive_most is less than drive_least", "write the smaller figure as drive_least")
        return self


class Overdig(MetricRecord):
    """[overdig]: how far the excavation reaches beyond the concrete."""

    METRIC: ClassVar[Mapping[str, float]] = MappingProxyType({"room": 0.6})

    depth: PositiveLength | None = Field(default=None, description="left out: the deepest cut at a corner")
    soil: Literal["rock", "A", "B", "C"] | None = Field(
        default=None, description="class a competent person gave it; left out: slope is needed"
    )
    slope: float | None = Field(default=None, ge=0, le=10, description="run over height of the sides, 1.5 for 1-1/2:1")
    room: LengthFromZero = Field(
        default=0.6096,
        description="to work in, at the bottom; 2 ft, or 0.6 m on a site in metres; own choice, no source",
    )
    boards: LengthFromZero = Field(
        default=1.2,
        description="between the edge and boards or offset stakes; 1.2 m, Canadian Wood-Frame House "
        "Construction, placement of the house",
    )

    @model_validator(mode="after")
    def _sides(self) -> Overdig:
        if (self.soil is None) == (self.slope is None):
            raise _refused("the sides need a soil class or a slope", 'write soil = "C", or slope = 1.5')
        return self


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})
