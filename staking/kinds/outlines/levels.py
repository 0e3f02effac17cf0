"""What lies lower in a slab than its floor, or reaches deeper: recesses, steps, thickened edges and footings."""

from __future__ import annotations

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.fields import CornerName, Fall, Length, LengthFromZero, Name, PositiveLength, Record

CORNERS_LEAST = 3


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


class Recess(Record):
    """A place of the floor at another height: a recess, a garage behind a step, a raised place, a shower.

    Measured from a side; or in the slab's own axes, counted from corner 1 of the formed outline as one stands in front
    of the slab: x to the right, y away.
    """

    name: Name = Field(description="what it is called on sheets")
    side: CornerName | None = Field(default=None, description="the side of the slab it is measured from")
    from_: CornerName | None = Field(
        default=None, alias="from", description="the end of that side from which it is measured"
    )
    start: LengthFromZero = Field(default=0.0, description="from that corner along the side to where it begins")
    in_: LengthFromZero = Field(default=0.0, alias="in", description="square in from the side to where it begins")
    x: Length | None = Field(
        default=None, description="instead of a side: of its corner nearest to corner 1 of the slab, to the right"
    )
    y: Length | None = Field(default=None, description="of the same corner, away from the front")
    width: PositiveLength | None = Field(default=None, description="along the side, or along x")
    depth: PositiveLength | None = Field(
        default=None, description="square in from where it begins, or along y; how far down is lower"
    )
    points: tuple[tuple[Length, Length], ...] = Field(
        default=(), description="instead of a rectangle: [x, y] of its corners, in order around it"
    )
    lower: Length = Field(description="how much lower than the floor; negative where it is raised")
    fall: Fall | None = Field(default=None, description="of its own; left out: that of the floor")
    toward: CornerName | None = Field(default=None, description="the side or the point its own fall leads to")
    drain: tuple[Length, Length] | None = Field(
        default=None, description="[x, y] of the drain its own fall leads to from all round; its rim follows the floor"
    )
    least_fall: Fall = Field(
        default=0.25 / 12, description="to a drain; 1/4 in per ft where left out, IRC P2709.1, from memory"
    )
    most_fall: Fall | None = Field(
        default=None, description="to a drain; left out: not asked; IRC P2709.1 has 1/2 in per ft, from memory"
    )

    @model_validator(mode="after")
    def _one_way(self) -> Recess:
        ways = (self.side is not None, self.x is not None, bool(self.points))
        if sum(ways) != 1 or (self.side is None) != (self.from_ is None) or (self.x is None) != (self.y is None):
            raise _refused(
                "a recess begins at a side and from a corner, at x and y, or has points: one of the three",
                'write side = "back", from = "back-left"; or x = "4 ft", y = "6 ft"; or points = [[4, 6], ...]',
            )
        sized = self.width is not None and self.depth is not None
        if sized == bool(self.points) or (self.points and (self.width is not None or self.depth is not None)):
            raise _refused(
                "a rectangle has width and depth; points have neither", 'write width = "5 ft", depth = "3 ft"'
            )
        if self.points and len(self.points) < CORNERS_LEAST:
            raise _refused("a recess has three corners or more", "name them in order around it")
        return self

    @model_validator(mode="after")
    def _one_fall(self) -> Recess:
        if self.toward is not None and self.drain is not None:
            raise _refused("its fall leads to a side or to a drain, not to both", "write toward, or drain")
        if self.drain is not None and self.fall is None:
            raise _refused("a drain needs the fall that leads to it", 'write fall = "1/4 in per ft"')
        return self


class Thickened(Record):
    """Edges that reach deeper than the slab."""

    name: Name = Field(description="what they are called on sheets")
    sides: tuple[CornerName, ...] = Field(default=(), description="of the slab; left out: all of them")
    width: PositiveLength = Field(description="in from the formed edge")
    depth: PositiveLength = Field(description="from the top of the concrete down to its underside")


class Footing(Record):
    """Level concrete below the edges of the slab."""

    name: Name = Field(description="what it is called on sheets")
    sides: tuple[CornerName, ...] = Field(default=(), description="of the slab; left out: all of them")
    width: PositiveLength = Field(description="from its outer to its inner face")
    out: LengthFromZero = Field(default=0.0, description="how far its outer face lies outside the formed edge")
    top: PositiveLength = Field(description="how far its top lies below the stated height of the floor; it is level")
    depth: PositiveLength = Field(description="from its top down to its underside")
    wall: PositiveLength | None = Field(
        default=None,
        description="thickness of a wall that stands on it, up to the slab, its outer face on the formed edge",
    )
