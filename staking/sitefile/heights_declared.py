"""What does a site file declare of heights: the floor, the rod, and where the level stands?

Heights are in the datum of the points that have an elevation. Names that no point has are found when the job is solved.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.fields import CornerName, Fall, Length, LengthFromZero, PositiveLength, Record, Words
from staking.sitefile.pegs import Pegs


class Floor(Record):
    """[floor]: the height of the finished concrete."""

    elevation: Length | None = Field(default=None, description="of the floor; where it falls, of its highest corner")
    above: str = Field(default="", description="instead of elevation: the point it lies above, such as a curb")
    by: Length | None = Field(default=None, description="how much above that point")
    at: CornerName | None = Field(
        default=None, description="the corner of the slab that has this height; left out: the highest one"
    )
    fall: Fall | None = Field(default=None, description="left out: the floor is level")
    toward: CornerName | None = Field(default=None, description="the side of the slab, or the point, it falls to")
    also: Fall | None = Field(default=None, description="a second fall, along another direction")
    also_toward: CornerName | None = Field(default=None, description="the side or point the second fall leads to")
    least: Fall | None = Field(
        default=None,
        description='the least fall, where water must run off the floor, as in a garage; "1/8 in per ft" is common '
        "practice, no source, and taken where a drive reaches the slab; IRC R309.1 asks for a slope without a figure, "
        "from memory",
    )
    steepest: Fall = Field(default=0.05, description="a steeper floor is a warning; 5 % where left out, own choice")

    @model_validator(mode="after")
    def _one_way(self) -> Floor:
        if (self.elevation is None) == (not self.above) or bool(self.above) != (self.by is not None):
            raise _refused(
                "a floor has an elevation, or lies above a point by so much", 'write above = "K1", by = "8 in"'
            )
        if (self.fall is None) != (self.toward is None) or (self.also is None) != (self.also_toward is None):
            raise _refused("a fall and where it leads to go together", 'write fall = "1/8 in per ft", toward = "front"')
        if self.least is not None and self.least > self.steepest:
            raise _refused("least is more than steepest", "write the smaller figure as least")
        if self.also is not None and self.fall is None:
            raise _refused("a second fall without a first one", "write fall and toward")
        return self


class Rod(Record):
    """[rod]: what is read through the level."""

    units: Literal["feet and inches", "tenths", "metres"] | None = Field(
        default=None, description="how it is divided; left out: feet and inches, or metres on a site in metres"
    )
    length: PositiveLength = Field(default=3.9624, description="13 ft where left out; common practice, no source")
    pegs: Pegs | None = Field(
        default=None,
        description="a two-peg test of the level, 1.875@50 1.790@50 1.630@10 1.560@110: A and B from the middle, A and "
        "B from one end; readings of set-ups with at are then corrected",
    )


class LevelSetup(Record):
    """[[level_setups]]: one place of the level."""

    benchmark: str = Field(description="the point with an elevation that is sighted first, or a turning point")
    backsight: LengthFromZero | None = Field(
        default=None, description="what the rod reads on it that day; left out: the sheet has a box for it"
    )
    at: str = Field(
        default="", description="the point that the level stands at, from which sights are as long as they are"
    )
    turning: dict[str, LengthFromZero] = Field(
        default_factory=dict, description="turning points, each with its reading; later set-ups may begin there"
    )
    readings: dict[str, LengthFromZero] = Field(
        default_factory=dict, description="what the rod reads on the tops of stakes, by their names"
    )
    readings_file: Words = Field(
        default="",
        description="a CSV file with the same, name,reading (ft); a row of the benchmark is the backsight where none "
        "is given",
    )

    @model_validator(mode="after")
    def _sighted(self) -> LevelSetup:
        if self.backsight is None and (self.turning or self.readings) and not self.readings_file:
            raise _refused("readings without a backsight tell no height", "write backsight, as read on the benchmark")
        return self


class StakeTops(Record):
    """[stake_tops]: how high the tops of stakes were found, for cut and fill."""

    elevations: dict[str, Length] = Field(default_factory=dict, description="of the tops, by the names of stakes")
    path: Words = Field(default="", description="a CSV file with the same, name,elevation (ft)")


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})
