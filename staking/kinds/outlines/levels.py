"""What lies lower in a slab than its floor, or reaches deeper: recesses, steps, thickened edges and footings."""

from __future__ import annotations

from pydantic import Field

from staking.kinds.fields import CornerName, Fall, Length, LengthFromZero, Name, PositiveLength, Record


class Recess(Record):
    """A rectangle of the floor at another height: a recess, a garage behind a step, a raised place."""

    name: Name = Field(description="what it is called on sheets")
    side: CornerName = Field(description="the side of the slab it is measured from")
    from_: CornerName = Field(alias="from", description="the end of that side from which it is measured")
    start: LengthFromZero = Field(default=0.0, description="from that corner along the side to where it begins")
    in_: LengthFromZero = Field(default=0.0, alias="in", description="square in from the side to where it begins")
    width: PositiveLength = Field(description="along the side")
    depth: PositiveLength = Field(description="square in from where it begins; how far down is lower")
    lower: Length = Field(description="how much lower than the floor; negative where it is raised")
    fall: Fall | None = Field(default=None, description="of its own; left out: that of the floor")
    toward: CornerName | None = Field(default=None, description="the side or the point its own fall leads to")


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
