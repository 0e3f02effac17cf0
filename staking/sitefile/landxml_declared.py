"""What does a site file say of a parcel that it takes its lot from?"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.kinds.fields import Record, Words


class ParcelSource(Record):
    """[lot] parcel: the boundary as a LandXML file beside the site file has it."""

    path: Words = Field(description="of a LandXML file (.xml) in the folder of this file or below it")
    name: Words = Field(min_length=1, description="of the parcel in that file, letter by letter")
    unit: Literal["", "m", "ft", "ftUS"] = Field(
        default="", description="to confirm the foot the file states, where it is not that of the site"
    )
