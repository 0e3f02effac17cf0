"""A corner at a point, a side along a bearing or toward a second point, and a shift from there."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from staking.errors import RuleError
from staking.kinds.fields import Bearing, CornerName, Length, Record
from staking.kinds.ground import ON_LINE, Ground
from staking.kinds.slab import Outline, Pose
from staking.survey.angles import direction
from staking.survey.points import Point, Vector, distance, vector
from staking.survey.polygons import sides_of


class AtPoint(Record):
    """From a point and a direction."""

    kind: Literal["at_point"]
    corner: CornerName = Field(description="the corner that stands at the point")
    at: str = Field(description="the point")
    side: CornerName = Field(description="the side whose direction is given")
    bearing: Bearing | None = Field(
        default=None,
        description="of that side from its lower-numbered corner on, in the order of the corners; of an arc: its chord",
    )
    toward: str | None = Field(default=None, description="instead of a bearing: the point that side runs toward")
    shift: tuple[Length, Length] = Field(
        default=(0.0, 0.0), description="moves the slab after that: right, and away, as seen from its front"
    )

    @model_validator(mode="after")
    def _one_direction(self) -> AtPoint:
        if self.bearing is None and self.toward is None:
            raise PydanticCustomError(
                "text",
                "{message}",
                {
                    "message": "the slab could still turn about the point",
                    "remedy": 'add bearing = "..." or toward = "..."',
                },
            )
        if self.bearing is not None and self.toward is not None:
            raise PydanticCustomError(
                "text",
                "{message}",
                {
                    "message": "bearing and toward both give the direction; nothing says which of them to believe",
                    "remedy": "keep one of them, and check the other on the sheet",
                },
            )
        return self

    def pose(self, outline: Outline, ground: Ground) -> Pose:
        """Where the slab lies. Raises RuleError for unknown points, or a point too near to give a direction."""
        corner, side = outline.corner(self.corner), outline.side(self.side)
        at = ground.point(self.at, "at")
        own = sides_of(outline.corners)[side].direction
        wanted = self._direction(outline, ground, at, corner, side)
        turned = Pose(Point(0.0, 0.0), Vector(own.dot(wanted), own.cross(wanted)).unit())
        base = outline.corners[corner]
        shifted = turned.on_ground(Point(base.east - self.shift[0], base.north - self.shift[1]))
        return Pose(Point(at.east - shifted.east, at.north - shifted.north), turned.right)

    def _direction(self, outline: Outline, ground: Ground, at: Point, corner: int, side: int) -> Vector:
        if self.bearing is not None:
            return direction(self.bearing + ground.turn)
        assert self.toward is not None  # noqa: S101 - the validator has seen to it
        target = ground.point(self.toward, "toward")
        if distance(at, target) < ON_LINE:
            raise RuleError(f'"{self.toward}" is where the corner stands, so it gives no direction', key="toward")
        heading = vector(at, target).unit()
        if corner == side:
            return heading
        if corner == (side + 1) % len(outline.corners):
            return heading.reversed()
        raise RuleError(
            f"{outline.corner_label(corner)} is no end of {outline.side_label(side)}",
            key="side",
            remedy="with toward, name one of the two sides that meet in the corner",
        )
