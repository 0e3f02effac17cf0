"""A side parallel to a line at a distance, the slab midway between two other lines."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import CornerName, Record
from staking.kinds.ground import BaseLine, Ground
from staking.kinds.placements.square_to import Clear, beside, check_grip, clear_distance, clearance, slid
from staking.kinds.slab import Outline, Pose
from staking.survey.points import Vector, mean


class Centered(Record):
    """As much room to the line on one hand as to the line on the other."""

    kind: Literal["centered"]
    between: tuple[str, str] = Field(description="the two lines with equal room to the slab")
    side: CornerName = Field(description="the side of the formed outline that faces the reference")
    reference: str = Field(description="the line that side is parallel to")
    distance: Clear = Field(description='between them, or "setback"')
    toward: str | None = Field(default=None, description="a point on the slab's side of all three lines")

    def pose(self, outline: Outline, ground: Ground) -> Pose:
        """Where the slab lies: the least square distances to the two lines are equal."""
        base = ground.line(self.reference, "reference")
        hands = [ground.line(name, "between") for name in self.between]
        if hands[0].name == hands[1].name:
            raise RuleError("both lines are the same", key="between", remedy="name the lines on either hand")
        for hand in hands:
            check_grip(base, hand, "between")
        inward = ground.slab_side(base, self.toward, "reference")
        distance = clear_distance(self.distance, base, "distance")
        pose = beside(outline, outline.side(self.side), base, inward, distance)
        return self._centre(pose, outline, base, hands, self._sides(ground, hands))

    def _sides(self, ground: Ground, hands: list[BaseLine]) -> list[Vector]:
        """For each of the two lines the way toward the slab: toward the other line, where nothing better tells."""
        result = []
        for hand, other in zip(hands, reversed(hands), strict=True):
            if self.toward is None and hand.inside is None:
                middle = mean([other.line.start, other.line.end])
                left = hand.line.direction.left()
                result.append(left if hand.line.offset(middle) > 0 else left.reversed())
            else:
                result.append(ground.slab_side(hand, self.toward, "between"))
        return result

    def _centre(
        self, pose: Pose, outline: Outline, base: BaseLine, hands: list[BaseLine], inward: list[Vector]
    ) -> Pose:
        corners = [pose.on_ground(corner) for corner in outline.corners]
        rooms = [
            min(clearance(corner, hand.line, way) for corner in corners)
            for hand, way in zip(hands, inward, strict=True)
        ]
        along = base.line.direction
        gains = [along.dot(way) for way in inward]  # room gained by sliding one metre along the reference
        if abs(gains[0] - gains[1]) < 1e-6:
            raise RuleError(
                "sliding the slab changes the room to both lines alike, so it cannot be centered between them",
                key="between",
                code="open-placement",
                remedy="name the lines on the slab's left and right hand",
            )
        return slid(pose, along, (rooms[1] - rooms[0]) / (gains[0] - gains[1]))
