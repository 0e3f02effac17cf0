"""What does a two-peg test, as people write it down, say of the level's line of sight?"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.kinds.fields import site_unit
from staking.survey.levels import two_peg
from staking.units import Unit, parse_length

FORM = "write it as 1.875@50 1.790@50 1.630@10 1.560@110: A and B from the middle, A and B from one end"
STEEPEST = 0.005  # 1 in 200: a level that bad cannot be read; a larger figure is a slip of the pen; own choice
_READ = re.compile(r"([^@\s]+)@([^@\s]+)")


@dataclass(frozen=True, slots=True)
class PegTest:
    """readings [m] and distances [m] of A and B from the first place, then from the second; slope as of `two_peg`."""

    readings: tuple[float, ...]
    away: tuple[float, ...]
    slope: float


def peg_test(text: str, unit: Unit) -> PegTest:
    """The test that a text holds. unit: of bare numbers. Raises TextError with what to write.

    Grammar: four of reading "@" distance, blanks between them.
    """
    found = _READ.findall(text)
    if len(found) != 4 or len(text.split()) != 4:
        raise TextError("a two-peg test is four readings, each with its distance", FORM)
    readings = tuple(float(parse_length(reading, unit)) for reading, _ in found)
    away = tuple(float(parse_length(distance, unit)) for _, distance in found)
    try:
        slope = two_peg((readings[0], readings[1]), (readings[2], readings[3]), away)
    except ValueError as error:
        raise TextError(str(error), FORM) from None
    if abs(slope) > STEEPEST:
        words = f"the line of sight would rise or fall 1 in {1 / abs(slope):.0f}; a reading or a distance is wrong"
        raise TextError(words, FORM)
    return PegTest(readings, away, slope)


def _slope(value: Any, info: ValidationInfo) -> float:
    try:
        return peg_test(str(value), site_unit(info)).slope
    except TextError as error:
        words = {"message": error.message, "remedy": error.remedy}
        raise PydanticCustomError("text", "{message}", words) from None


# the rise of the line of sight a metre, as of `two_peg`
Pegs = Annotated[
    float,
    BeforeValidator(_slope),
    WithJsonSchema({"type": "string", "description": "a two-peg test: four of reading@distance"}),
]
