"""A rectangle: width along the front, depth away from it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.kinds.fields import PositiveLength
from staking.kinds.outlines.slab import Slab
from staking.kinds.slab import Outline, names_by_direction
from staking.survey.points import Point


class Rectangle(Slab):
    """Four sides, four right angles."""

    kind: Literal["rectangle"] = "rectangle"
    width: PositiveLength = Field(description="along the front side")
    depth: PositiveLength = Field(description="away from the front side")

    def outline(self) -> Outline:
        """Corners 1 front-left, 2 front-right, 3 back-right, 4 back-left."""
        corners = (
            Point(0.0, 0.0),
            Point(self.width, 0.0),
            Point(self.width, self.depth),
            Point(0.0, self.depth),
        )
        return Outline(corners, *names_by_direction(corners))
