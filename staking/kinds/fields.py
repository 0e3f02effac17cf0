"""The types of field that records of a site file are made of: lengths, bearings, names.

A length is a number in the site's unit, or text with a unit of its own; it becomes metres as it is read. The site's
unit travels in pydantic's validation context under "unit".
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Strict,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.survey.angles import parse_direction
from staking.units import UNITS, Unit, parse_grade, parse_length, to_metres

REACH = 1e8  # metres; beyond it doubles no longer hold a tenth of a millimetre with room to spare


class Record(BaseModel):
    """Something declared in a site file: frozen, and every key known."""

    # Only the whole site file is validated: what checks it is built once, not once more for each record in it.
    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=False, defer_build=True)


class MetricRecord(Record):
    """A record some of whose lengths, left out, are round figures in metres on a site in metres [m]."""

    METRIC: ClassVar[Mapping[str, float]] = {}

    @model_validator(mode="before")
    @classmethod
    def _left_out(cls, data: Any, info: ValidationInfo) -> Any:
        return {**cls.METRIC, **data} if isinstance(data, dict) and site_unit(info).name == "m" else data


def site_unit(info: ValidationInfo) -> Unit:
    """The unit of bare numbers; metres where the file does not say (it is then refused for that)."""
    context = info.context or {}
    return UNITS.get(str(context.get("unit")), UNITS["m"])


def _refusal(error: TextError) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": error.message, "remedy": error.remedy})


def length_in_metres(value: Any, info: ValidationInfo) -> float:
    """A number or text of the site file in metres. Raises PydanticCustomError with what to write instead."""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise PydanticCustomError(
            "text", "{message}", {"message": "a length is a number or a text", "remedy": 'write "32\' 6-1/2" or 32.54'}
        )
    try:
        unit = site_unit(info)
        metres = parse_length(value, unit) if isinstance(value, str) else to_metres(value, unit)
    except TextError as error:
        raise _refusal(error) from None
    if abs(metres) > REACH:
        raise PydanticCustomError(
            "text", "{message}", {"message": "too far away to compute with", "remedy": "check the digits"}
        )
    return float(metres)


def _fall(value: Any, info: ValidationInfo) -> float:
    if not isinstance(value, str):
        message = f"{value} does not say over which distance it falls"
        remedy = 'write "1/8 in per ft", "2 %" or "1:48"'
        raise PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})
    try:
        ratio = parse_grade(value, site_unit(info))
    except TextError as error:
        raise _refusal(error) from None
    if ratio > 1:
        words = {"message": "it falls more than it runs", "remedy": "write the height first, as 1:48 or 1/8 in per ft"}
        raise PydanticCustomError("text", "{message}", words)
    return float(ratio)


def _above_zero(value: float) -> float:
    if value <= 0:
        raise PydanticCustomError("text", "{message}", {"message": "must be more than 0", "remedy": ""})
    return value


def _not_below_zero(value: float) -> float:
    if value < 0:
        raise PydanticCustomError("text", "{message}", {"message": "must not be negative", "remedy": ""})
    return value


def _degrees(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise PydanticCustomError(
            "text",
            "{message}",
            {"message": "a bearing is a text or a number", "remedy": 'write "N 12-30-15 E" or 192.504'},
        )
    try:
        return parse_direction(value)
    except TextError as error:
        raise _refusal(error) from None


def checked_name(value: str) -> str:
    """A name that every file can carry. Raises ValueError with the reason.

    Refused: empty, over 40 characters, leading or trailing blanks, control characters, and every character that a
    file name, a table or a drawing would take for something else (quotes, slashes, commas, * ? < > | % and braces).
    """
    if not value:
        raise ValueError("a name must not be empty")
    if len(value) > 40:
        raise ValueError(f"the name is {len(value)} characters long; 40 at the most")
    if value != value.strip():
        raise ValueError(f'the name "{value}" begins or ends with a blank')
    for character in value:
        if not character.isprintable():
            raise ValueError(f"the name holds the invisible character U+{ord(character):04X}")
        if character in ',;"/\\:*?<>|%{}^' + "'`":
            raise ValueError(f'the name "{value}" holds `{character}`; files and drawings cannot carry that')
    return value


def checked_point_name(value: str) -> str:
    """A point's name: as `checked_name`, and beginning with a letter or digit, so that no spreadsheet runs it."""
    checked_name(value)
    if not value[0].isalnum():
        raise ValueError(f'the name "{value}" begins with {value[0]}; {_not_first(value[0])}')
    return value


def _not_first(sign: str) -> str:
    """Why a name may not begin with a sign."""
    runs = sign in "=+-@\uff1d\uff0b\uff0d\uff20"
    return (
        "a spreadsheet would take it for a formula" if runs else "that sign is not allowed at the beginning of a name"
    )


def _named(value: str) -> str:
    try:
        return checked_name(value)
    except ValueError as error:
        raise PydanticCustomError(
            "text", "{message}", {"message": str(error), "remedy": "use letters, digits, blanks, - and _"}
        ) from None


def _words(value: str) -> str:
    hidden = next((c for c in value if not c.isprintable()), None)
    if hidden is not None or len(value) > 200:
        reason = f"the text holds the invisible character U+{ord(hidden):04X}" if hidden else "over 200 characters"
        raise PydanticCustomError("text", "{message}", {"message": reason, "remedy": "write plain words on one line"})
    return value


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise PydanticCustomError("text", "{message}", {"message": "must be a finite number", "remedy": ""})
    return value


_LENGTH_SCHEMA = {
    "anyOf": [{"type": "number"}, {"type": "string"}],
    "description": 'a number in site.unit, or text such as "32\' 6-1/2", "32.54 ft", "9.918 m"',
}
Length = Annotated[float, BeforeValidator(length_in_metres), WithJsonSchema(_LENGTH_SCHEMA)]
PositiveLength = Annotated[Length, AfterValidator(_above_zero)]
LengthFromZero = Annotated[Length, AfterValidator(_not_below_zero)]
Bearing = Annotated[
    float,
    BeforeValidator(_degrees),
    WithJsonSchema(
        {
            "anyOf": [{"type": "number"}, {"type": "string"}],
            "description": 'a bearing "N 12-30-15 E", or an azimuth from north "192-30-15" or 192.504',
        }
    ),
]
Fall = Annotated[
    float,
    BeforeValidator(_fall),
    WithJsonSchema({"type": "string", "description": 'height over run: "1/8 in per ft", "2 %", "1:48"'}),
]
Name = Annotated[str, AfterValidator(_named)]
Words = Annotated[str, AfterValidator(_words)]
Finite = Annotated[float, Strict(), AfterValidator(_finite)]
Whole = Annotated[int, Strict()]  # true is no number
CornerName = Whole | str  # a corner or side of the slab, by its number or its name
