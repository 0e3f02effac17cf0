"""A line through given points; through more than two, the one that fits them best."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import Name, Record, Words
from staking.kinds.ground import ON_LINE, BaseLine, Ground
from staking.survey.lines import best_fit
from staking.survey.points import distance


class Through(Record):
    """A line through two or more points."""

    kind: Literal["through"] = "through"
    name: Name = Field(description="what the crew calls it: curb, fence, shop wall")
    through: tuple[str, ...] = Field(min_length=2, description="names of points, in order along the line")
    given_by: Words = Field(default="", description="who found the line: surveyor, taped, owner ...")

    @property
    def needs(self) -> tuple[str, ...]:
        """Names of the lines that must be known first."""
        return ()

    def base_line(self, ground: Ground) -> BaseLine:
        """The line on the ground. Raises RuleError for unknown points, points in one place, points in a heap."""
        points = [ground.point(name, "through") for name in self.through]
        if distance(points[0], points[-1]) < ON_LINE:
            raise RuleError(
                f'the first and last point of "{self.name}" are in the same place',
                key="through",
                remedy="name two points as far apart as the job allows",
            )
        try:
            line, residuals = best_fit(points)
        except ValueError as error:
            raise RuleError(f'no line fits "{self.name}": {error}', key="through") from None
        named = tuple(zip(self.through, residuals, strict=True)) if len(points) > 2 else ()
        return BaseLine(self.name, line, self.through[0], self.through[-1], self.given_by, named)
