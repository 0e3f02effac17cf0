"""Kinds of slab outline. A new kind is a file here and a line in the table below."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.kinds.outlines.drawn import Drawn
from staking.kinds.outlines.ell import Ell
from staking.kinds.outlines.rectangle import Rectangle
from staking.kinds.outlines.traced import Traced

OUTLINES: Mapping[str, type[Rectangle] | type[Ell] | type[Traced] | type[Drawn]] = MappingProxyType(
    {"rectangle": Rectangle, "ell": Ell, "traced": Traced, "drawing": Drawn}
)

__all__ = ["OUTLINES", "Drawn", "Ell", "Rectangle", "Traced"]
