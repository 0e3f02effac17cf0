"""A side parallel to one line at a distance, a corner square off a second line."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.kinds.fields import CornerName, Record
from staking.kinds.ground import Ground
from staking.kinds.placements.square_to import Clear, beside, check_grip, clear_distance, clearance, slid
from staking.kinds.slab import Outline, Pose


class FromLines(Record):
    """The trade's own way: so far from the curb, so far from the side line."""

    kind: Literal["from_lines"]
    side: CornerName = Field(description="the side of the formed outline that faces the reference")
    reference: str = Field(description='the line that side is parallel to, for example "curb" or "lot front"')
    distance: Clear = Field(description='between them, or "setback"')
    corner: CornerName = Field(description="the corner that is measured from the second line")
    from_: str = Field(alias="from", description="the second line, which crosses the first")
    clear: Clear = Field(description='square from the second line to the corner, or "setback"')
    toward: str | None = Field(default=None, description="a point on the slab's side of both lines")

    def pose(self, outline: Outline, ground: Ground) -> Pose:
        """Where the slab lies. Raises RuleError where the lines do not hold it or do not tell a side."""
        first, second = ground.line(self.reference, "reference"), ground.line(self.from_, "from")
        check_grip(first, second, "from")
        inward = ground.slab_side(first, self.toward, "reference")
        distance = clear_distance(self.distance, first, "distance")
        pose = beside(outline, outline.side(self.side), first, inward, distance)
        sideways = ground.slab_side(second, self.toward, "from")
        corner = pose.on_ground(outline.corners[outline.corner(self.corner)])
        missing = clear_distance(self.clear, second, "clear") - clearance(corner, second.line, sideways)
        along = first.line.direction
        return slid(pose, along, missing / along.dot(sideways))
