"""Ways to say where the slab goes. A new kind is a file here and a line in the table below."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.kinds.placements.at_point import AtPoint
from staking.kinds.placements.centered import Centered
from staking.kinds.placements.from_lines import FromLines

PLACEMENTS: Mapping[str, type[FromLines] | type[AtPoint] | type[Centered]] = MappingProxyType(
    {"from_lines": FromLines, "at_point": AtPoint, "centered": Centered}
)

__all__ = ["PLACEMENTS", "AtPoint", "Centered", "FromLines"]
