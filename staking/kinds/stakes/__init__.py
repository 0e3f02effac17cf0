"""What to drive into the ground. A new kind is a file here and a line in the table below."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.kinds.stakes.along import Along
from staking.kinds.stakes.batter_boards import BatterBoards
from staking.kinds.stakes.corners import Corners
from staking.kinds.stakes.offsets import Offsets

STAKES: Mapping[str, type[Corners] | type[Offsets] | type[BatterBoards] | type[Along]] = MappingProxyType(
    {"corners": Corners, "offsets": Offsets, "batter_boards": BatterBoards, "along": Along}
)

__all__ = ["STAKES", "Along", "BatterBoards", "Corners", "Offsets"]
