"""An ell: a rectangle from which one corner is cut, in any of the four hands.

missing = "back-right"          6------5
                                |      |
                                |      4------3      4 is the inside corner
                                |             |
                                1-------------2
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import PositiveLength
from staking.kinds.outlines.slab import Slab
from staking.kinds.slab import SHORTEST, Outline, names_by_direction
from staking.survey.points import Point


class Ell(Slab):
    """Six sides, five corners that point out and one that points in."""

    kind: Literal["ell"]
    width: PositiveLength = Field(description="of the whole, along the front")
    depth: PositiveLength = Field(description="of the whole, away from the front")
    missing: Literal["front-left", "front-right", "back-right", "back-left"] = Field(
        description="the corner that is cut out"
    )
    cut_width: PositiveLength = Field(description="of the piece cut out, along the front")
    cut_depth: PositiveLength = Field(description="of the piece cut out, away from the front")

    def outline(self) -> Outline:
        """Corners counter-clockwise from the left end of the front side; the inside one is named "inside"."""
        for key, cut, whole in (
            ("cut_width", self.cut_width, self.width),
            ("cut_depth", self.cut_depth, self.depth),
        ):
            if cut > whole - SHORTEST:
                raise RuleError(f"{key} leaves nothing of the {key[4:]}", key=key, remedy=f"less than {key[4:]}")
        corners = self._corners()
        corner_names, side_names = names_by_direction(corners)
        inside = self._inside()
        named = tuple("inside" if c == inside else name for c, name in zip(corners, corner_names, strict=True))
        return Outline(corners, named, side_names)

    def _inside(self) -> Point:
        depth, hand = self.missing.split("-")
        return Point(
            self.cut_width if hand == "left" else self.width - self.cut_width,
            self.cut_depth if depth == "front" else self.depth - self.cut_depth,
        )

    def _corners(self) -> tuple[Point, ...]:
        """The box's corners, the missing one replaced by the three of the cut, starting on the front at the left."""
        inside, wide, deep = self._inside(), self.width, self.depth
        x, y = inside.east, inside.north
        box = {
            "front-left": (Point(0.0, 0.0), (Point(0.0, y), inside, Point(x, 0.0))),
            "front-right": (Point(wide, 0.0), (Point(x, 0.0), inside, Point(wide, y))),
            "back-right": (Point(wide, deep), (Point(wide, y), inside, Point(x, deep))),
            "back-left": (Point(0.0, deep), (Point(x, deep), inside, Point(0.0, y))),
        }
        ring = [p for name, (corner, cut) in box.items() for p in (cut if name == self.missing else (corner,))]
        # the front side must come first: an ell without its front-left corner begins at the end of the cut
        return tuple(ring[2:] + ring[:2]) if self.missing == "front-left" else tuple(ring)
