"""What does a site file declare of measuring what was set: how far off it may be, and how well it is measured?"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import ClassVar

from pydantic import Field

from staking.kinds.fields import MetricRecord, PositiveLength, Words

_PLUS_MINUS = "plus or minus; left out: a handbook's figure, printed with its source"


class AsBuilt(MetricRecord):
    """[as_built]: tolerances of what was set, and how it is measured."""

    METRIC: ClassVar[Mapping[str, float]] = MappingProxyType({"level_over": 3.0, "limit": 0.3})

    position: PositiveLength | None = Field(
        default=None, description=f"how far a point may be from its place in plan, {_PLUS_MINUS}"
    )
    side: PositiveLength | None = Field(default=None, description=f"of the length of a side or a tie, {_PLUS_MINUS}")
    diagonal: PositiveLength | None = Field(default=None, description=f"of a diagonal, {_PLUS_MINUS}")
    height: PositiveLength | None = Field(default=None, description=f"of a height against its design, {_PLUS_MINUS}")
    level: PositiveLength | None = Field(
        default=None, description="how much the form may be off level over the distance level_over"
    )
    level_over: PositiveLength = Field(
        default=3.048, description="the distance that level belongs to; 10 ft where left out, 3 m on a site in metres"
    )
    source: Words = Field(default="", description="where these tolerances come from: a contract, a clause; printed")
    error: PositiveLength | None = Field(
        default=None,
        description="of a measured coordinate, standard error; left out: that of [instrument], else nothing is added",
    )
    error_up: PositiveLength | None = Field(
        default=None, description="of a measured height, standard error; left out: nothing is added"
    )
    limit: PositiveLength = Field(
        default=0.3048,
        description="how far a measured point without a known name may be from the point it is taken for; 1 ft where "
        "left out, 0.3 m on a site in metres: own choice",
    )
    method: Words = Field(default="", description="how it is measured, in words; printed")
    instrument: Words = Field(default="", description="with what it is measured, in words; printed")
