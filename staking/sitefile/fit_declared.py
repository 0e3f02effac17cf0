"""What does a site file declare of a second system, in which its points were measured too?

Names of points are checked with all others.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field, Strict

from staking.kinds.fields import Finite, Length, PositiveLength, Record, Words

EXPECTED = 0.006  # metres, 0.02 ft: marks in good order are measured to about this; common practice, no source


class Pair(Record):
    """[[pairs]]: a point of the file as it was measured in the other system."""

    point: str = Field(description="the point of this file that was measured")
    north: Length = Field(description="its measured coordinate counted to the north")
    east: Length = Field(description="its measured coordinate counted to the east")
    elevation: Length | None = Field(default=None, description="as measured; leave it out where it is not known")
    uncertainty: PositiveLength | None = Field(
        default=None, description="standard error of its coordinates; left out: fit.expected"
    )
    use: Annotated[bool, Strict()] = Field(
        default=True, description="false: its residual is shown, and it takes no part in the fit"
    )


class Recorded(Record):
    """[fit.recorded]: what a fit gave on its date; compared whenever it is computed again."""

    turn: Finite = Field(description="degrees, clockwise, from the given system to the measured one")
    scale: Finite = Field(gt=0, description="measured over ground distance, as it would fit best")
    standard_error: Length | None = Field(default=None, description="of one coordinate, from the residuals")
    method: Words = Field(default="", description="how it was fitted, in words")
    residuals: dict[str, tuple[Length, Length]] = Field(
        default_factory=dict, description="of each point, measured less fitted: north, east"
    )


class FitAsked(Record):
    """[fit]: how measured coordinates are fitted to those given."""

    scale: bool = Field(
        default=False, strict=True, description="true: measured coordinates are stretched too; it is shown anyway"
    )
    heights: Literal["as given", "shift"] = Field(
        default="as given", description="shift: elevations are shifted too in the measured system; a tilt is only shown"
    )
    expected: PositiveLength = Field(
        default=EXPECTED, description="standard error of one measured coordinate in good order; 0.02 ft where left out"
    )
    date: Annotated[datetime.date, Strict()] | None = Field(default=None, description="of the measuring or the fit")
    source: Words = Field(default="", description="the list the pairs come from, in words")
    recorded: Recorded | None = Field(default=None, description="what the fit gave, a table of its own")
