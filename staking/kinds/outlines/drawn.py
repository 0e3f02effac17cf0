"""An outline taken from a drawing: shape and size only; the placement says where it stands."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import LengthFromZero, Words
from staking.kinds.outlines.slab import Slab
from staking.kinds.slab import Outline


class Drawn(Slab):
    """A closed outline of a DXF or GeoJSON file, with true arcs."""

    kind: Literal["drawing"]
    path: Words = Field(min_length=1, description="of a .dxf or .geojson file in the folder of this file or below it")
    front: Literal["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"] = Field(
        description="which way the front side faces in the drawing, whose north is up"
    )
    layer: Words = Field(default="", description="the layer of the outline; left out: every layer that is shown")
    pick: Literal["", "largest"] = Field(default="", description="which of several outlines; left out: none is picked")
    unit: Literal["", "in", "ft", "ftUS", "mm", "cm", "m"] = Field(
        default="", description="of the drawing's numbers, where the file does not say"
    )
    join: LengthFromZero = Field(default=0.0, description="how far apart ends of loose lines may be that meet")

    def outline(self) -> Outline:
        """Raises RuleError: the reader of the site file takes the outline from the drawing (Site.outline)."""
        raise RuleError("the drawing was not read", key="path", remedy="read the site file with read_site")
