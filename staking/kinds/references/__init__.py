"""Kinds of reference line. A new kind is a file here and a line in the table below."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.kinds.references.parallel import Parallel
from staking.kinds.references.through import Through

REFERENCES: Mapping[str, type[Through] | type[Parallel]] = MappingProxyType({"through": Through, "parallel": Parallel})

__all__ = ["REFERENCES", "Parallel", "Through"]
