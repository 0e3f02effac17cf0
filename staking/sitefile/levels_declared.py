"""What does a site file declare of a level book: where it lies, its unit, and how its misclosure is treated?"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.kinds.fields import PositiveLength, Record, Words
from staking.sitefile.pegs import Pegs


class Levels(Record):
    """[[levels]]: a level book beside the site file; the heights it finds are elevations of the points it names."""

    book: Words = Field(description="a CSV file, relative to this file, never outside its folder")
    unit: Literal["", "m", "ft", "ftUS"] = Field(
        default="", description="of its bare numbers, where its header does not say"
    )
    adjust: Literal["none", "set-ups", "distance"] = Field(
        default="none", description="how the misclosure is spread, where it is allowed"
    )
    allowed: PositiveLength | None = Field(
        default=None, description="misclosure; without it and class 0.02 ft times the root of set-ups, own choice"
    )
    pegs: Pegs | None = Field(
        default=None,
        description="a two-peg test of the level; all readings are then corrected by their distances, which the book "
        "must have: 1.875@50 1.790@50 1.630@10 1.560@110, A and B from the middle, A and B from one end",
    )
    grade: Literal["", "second order class 1", "second order class 2", "third order", "ordinary"] = Field(
        default="",
        alias="class",
        description="6, 8, 12 or 24 mm times the root of kilometres; FGCC 1984 from memory, ordinary common practice",
    )
