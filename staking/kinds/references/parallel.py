"""A line parallel to another, at a distance, on the side of a point."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import Name, PositiveLength, Record, Words
from staking.kinds.ground import ON_LINE, BaseLine, Ground
from staking.survey.lines import Line


class Parallel(Record):
    """A line parallel to another."""

    kind: Literal["parallel"] = "parallel"
    name: Name = Field(description="what the crew calls it: shop wall, offset line")
    to: str = Field(description='the line it is parallel to, for example "curb" or "lot front"')
    distance: PositiveLength = Field(description="square from that line")
    toward: str = Field(description="a point on its side of that line")
    given_by: Words = Field(default="", description="who found the line: surveyor, taped, owner ...")

    @property
    def needs(self) -> tuple[str, ...]:
        """Names of the lines that must be known first."""
        return (self.to,)

    def base_line(self, ground: Ground) -> BaseLine:
        """The line on the ground. Raises RuleError for an unknown line or point, or a point that tells no side."""
        base = ground.line(self.to, "to")
        off = base.line.offset(ground.point(self.toward, "toward"))
        if abs(off) < ON_LINE:
            raise RuleError(
                f'the point "{self.toward}" lies on "{self.to}", so it tells no side',
                key="toward",
                remedy="name a point on the side where the parallel line runs",
            )
        by = self.distance if off > 0 else -self.distance
        line = Line(base.line.at(0.0, by), base.line.at(base.line.length, by))
        ends = (f"square off {base.start_name}", f"square off {base.end_name}")
        return BaseLine(self.name, line, *ends, given_by=self.given_by, note=f"parallel to {self.to}")
