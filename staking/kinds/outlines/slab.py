"""What every slab declares beside its outline: ledge, thickness, and the parts attached to it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, Strict

from staking.kinds.fields import CornerName, Fall, Length, LengthFromZero, Name, PositiveLength, Record
from staking.kinds.outlines.levels import Footing, Recess, Thickened


class Part(Record):
    """A ramp, apron or porch: a rectangle attached to a side of the formed outline."""

    name: Name = Field(description="what it is called on sheets and stakes")
    kind: Literal["ramp", "apron", "porch"] = Field(default="apron", description="what it is; all are set out alike")
    side: CornerName = Field(description="the side it is attached to")
    from_: CornerName = Field(alias="from", description="the end of that side from which it is measured")
    start: LengthFromZero = Field(default=0.0, description="from that corner along the side to where the part begins")
    width: PositiveLength = Field(description="along the side")
    depth: PositiveLength = Field(description="square out from the side")
    drop: Length = Field(default=0.0, description="how much lower its outer edge is; said on the tape sheet")
    step: Length = Field(default=0.0, description="how much lower it is where it meets the slab")
    steepest: Fall = Field(
        default=1 / 12, description="a steeper ramp is a warning; 1:12 where left out; other parts: none"
    )
    exempt: Annotated[bool, Strict()] = Field(
        default=False, description="true only where the authority exempts it from the setbacks"
    )


class Slab(Record):
    """Fields common to every kind of outline."""

    ledge: LengthFromZero = Field(
        default=0.0, description="added outside every side, a seat for cladding; the formed outline includes it"
    )
    eaves: LengthFromZero = Field(
        default=0.0, description="how far the roof will reach beyond the building line; only setbacks look at it"
    )
    ledge_depth: LengthFromZero = Field(default=0.0, description="how much lower the ledge is than the floor")
    thickness: PositiveLength | None = Field(default=None, description="of the concrete; kept on record")
    parts: tuple[Part, ...] = Field(default=(), description="ramps, aprons, porches; each a [[slab.parts]]")
    recesses: tuple[Recess, ...] = Field(default=(), description="places of another height; each a [[slab.recesses]]")
    thickened: tuple[Thickened, ...] = Field(default=(), description="deeper edges; each a [[slab.thickened]]")
    footings: tuple[Footing, ...] = Field(default=(), description="below the edges; each a [[slab.footings]]")
