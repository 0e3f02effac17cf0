"""A straight course: a bearing and a length."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.courses.printed import PrintedAngle, PrintedLength
from staking.kinds.fields import Name, Record, Words


class Straight(Record):
    """One straight call."""

    kind: Literal["straight"] = "straight"
    side: Name = Field(description="the name of the side it belongs to; several courses may make one side")
    corner: Words = Field(default="", description="the name of the corner where it ends; left out: a name is made")
    bearing: PrintedAngle = Field(description="of the course, or its azimuth from north")
    length: PrintedLength | None = Field(default=None, description="along the course")
    to_start: bool = Field(default=False, strict=True, description="instead of a length: it runs to the beginning")

    @model_validator(mode="after")
    def _one_length(self) -> Straight:
        if (self.length is None) != self.to_start:
            message = "a length and to_start = true exclude each other" if self.to_start else "the course has no length"
            raise PydanticCustomError(
                "text", "{message}", {"message": message, "remedy": 'write length = "102.50 ft", or to_start = true'}
            )
        return self
