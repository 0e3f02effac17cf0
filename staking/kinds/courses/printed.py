"""Numbers of a record with the precision they are printed to, and lengths in the old units of deeds.

Half of the last printed digit is what a record leaves open; contradictions are judged by it. A whole number of a
length is taken to a tenth all the same: radii are whole by design (common practice, no source). A vara has many
values, so a length in varas is only metres once the lot says which vara it is.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.kinds.fields import length_in_metres, site_unit
from staking.survey.angles import parse_direction
from staking.survey.curves import Printed
from staking.units import parse_length

_VARAS = re.compile(r"\s*([0-9]+(?:\.[0-9]+)?)\s*varas?\s*", re.IGNORECASE)
_FRACTION = re.compile(r"/\s*([0-9]+)\s*(?:\"|in(?:ch(?:es)?)?)?\s*$", re.IGNORECASE)
_DECIMALS = re.compile(r"[0-9]*\.([0-9]+)")
_PARTS = re.compile(r"[0-9]+(?:\.[0-9]+)?")


@dataclass(frozen=True, slots=True)
class RecordLength:
    """A length of a record: metres and half of its last digit, or a count of varas. text: as written."""

    value: float
    half: float
    text: str
    varas: bool = False

    def printed(self, vara: float | None) -> Printed | None:
        """In metres, when one vara is so long [m]; None for varas of unknown length."""
        if not self.varas:
            return Printed(self.value, self.half)
        return None if vara is None else Printed(self.value * vara, self.half * vara)

    @property
    def digits(self) -> str:
        """The number as printed, in the record's own unit, where it is a plain decimal; else empty."""
        numbers = _PARTS.findall(self.text)
        return numbers[0] if len(numbers) == 1 else ""


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


def _record_length(value: Any, info: ValidationInfo) -> RecordLength:
    if isinstance(value, RecordLength):
        return value
    text = str(value)
    if isinstance(value, str) and (varas := _VARAS.fullmatch(value)):
        number = varas.group(1)
        return RecordLength(float(number), float(min(_half_digit(number), Fraction(1, 20))), text, varas=True)
    metres = length_in_metres(value, info)
    if metres <= 0:
        raise _refused("must be more than 0", "write the length as the record has it")
    return RecordLength(metres, float(_half(text, info)), text)


def _half(text: str, info: ValidationInfo) -> Fraction:
    """Half of the last printed digit, in metres; of feet and inches, half of the last fraction or inch."""
    unit = site_unit(info)
    if fraction := _FRACTION.search(text):
        return parse_length(f'1/{fraction.group(1)}"', unit) / 2
    numbers = _PARTS.findall(text)
    last = numbers[-1] if numbers else "1"
    scale = _DECIMALS.fullmatch(last)
    step = Fraction(1, 10 ** len(scale.group(1)) if scale else 10)
    one = text[: text.rindex(last)] + "1" + text[text.rindex(last) + len(last) :] if numbers else "1"
    tail = re.sub(r"^.*['’′]\s*-?\s*(?=1)", "", one) if len(numbers) > 1 else one
    if len(numbers) > 1 and not re.search(r"[\"a-z]", tail, re.IGNORECASE):
        tail += '"'
    try:
        size = parse_length(tail.strip(), unit)
    except TextError:
        size = unit.metres
    return size * step / 2


def _half_digit(number: str) -> Fraction:
    decimals = len(number.split(".")[1]) if "." in number else 0
    return Fraction(1, 2 * 10**decimals)


def _record_angle(value: Any) -> Printed:
    if isinstance(value, Printed):
        return value
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise _refused("an angle is a text or a number", 'write "98-00-00" or 98.0')
    try:
        degrees = parse_direction(value)
    except TextError as error:
        raise _refused(error.message, error.remedy) from None
    return Printed(degrees, float(_half_angle(str(value))))


def _half_angle(text: str) -> Fraction:
    """Half of the last printed digit of an angle [deg]: of its seconds, minutes or degrees, whichever is last."""
    numbers = _PARTS.findall(text)
    unit = Fraction(1, 60 ** (min(len(numbers), 3) - 1)) if numbers else Fraction(1)
    if "gon" in text:
        unit *= Fraction(9, 10)
    if not numbers:  # due north, E: exact by their words, to the minute by habit
        return Fraction(1, 120)
    return unit * _half_digit(numbers[-1])


_TEXT = {"anyOf": [{"type": "number"}, {"type": "string"}]}
PrintedLength = Annotated[
    RecordLength,
    BeforeValidator(_record_length),
    WithJsonSchema(
        _TEXT | {"description": 'a length as the record prints it: "102.50 ft", "14 ch", "320 rd", "50 vara"'}
    ),
]
PrintedAngle = Annotated[
    Printed,
    BeforeValidator(_record_angle),
    WithJsonSchema(_TEXT | {"description": 'an angle or bearing as the record prints it: "N 12-30-15 E", "98-00-00"'}),
]
