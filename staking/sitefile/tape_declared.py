"""What does a site file declare of the tape: how long it is, how long it says it is, and what its steel does?"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.kinds.fields import PositiveLength, Record, site_unit
from staking.physical import (
    parse_elasticity,
    parse_expansion,
    parse_force,
    parse_section,
    parse_temperature,
    parse_weight,
)
from staking.survey import tape
from staking.survey.tape import ELASTICITY, EXPANSION, STANDARD_TEMPERATURE


def _physical(parse: Callable[[str, ValidationInfo], object]) -> BeforeValidator:
    """A text with its unit, read by a parser."""

    def read(value: Any, info: ValidationInfo) -> object:
        if not isinstance(value, str):
            words = {"message": f"{value} has no unit", "remedy": 'write a text with its unit, as "68 F" or "12 lb"'}
            raise PydanticCustomError("text", "{message}", words)
        try:
            return parse(value, info)
        except TextError as error:
            raise PydanticCustomError("text", "{message}", {"message": error.message, "remedy": error.remedy}) from None

    return BeforeValidator(read)


def _weight(value: str) -> str:
    """A text that `parse_weight` can read; the length of the tape comes with the whole record."""
    parse_weight(value, 1.0, None)
    return value


def _schema(example: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "description": f'a text with its unit: "{example}"'})


Temperature = Annotated[float, _physical(lambda text, _: parse_temperature(text)), _schema("68 F")]
Pull = Annotated[float, _physical(lambda text, _: parse_force(text)), _schema("12 lb")]
Weight = Annotated[str, _physical(lambda text, _: _weight(text)), _schema("2.25 lb per 100 ft")]
Section = Annotated[float, _physical(lambda text, at: parse_section(text, site_unit(at))), _schema("0.004 sq in")]
Expansion = Annotated[float, _physical(lambda text, _: parse_expansion(text)), _schema("6.5e-6 per F")]
Elasticity = Annotated[float, _physical(lambda text, _: parse_elasticity(text)), _schema("29e6 psi")]
_ODD_TAPE = 0.01  # of its length; a tape that is off by more is a slip of the pen; own choice


class Tape(Record):
    """[tape]: what the crew has in hand. What is left out here is not corrected."""

    length: PositiveLength = Field(default=30.48, description="of the longest tape; 100 ft where left out")
    true_length: PositiveLength | None = Field(
        default=None, description="what that length really measures, as a check against a known length says"
    )
    temperature: Temperature = Field(
        default=STANDARD_TEMPERATURE, description="at which it is right; 68 F (20 C) where left out"
    )
    pull: Pull | None = Field(default=None, description="at which it is right, lying flat; printed on good tapes")
    weight: Weight | None = Field(default=None, description="of the whole tape, or per length; for sag")
    section: Section | None = Field(default=None, description="of its steel, or width x thickness; for stretch")
    expansion: Expansion = Field(default=EXPANSION, description="11.6e-6 per C where left out, which is steel")
    elasticity: Elasticity = Field(default=ELASTICITY, description="29e6 psi where left out, which is steel")

    @model_validator(mode="after")
    def _near_its_length(self) -> Tape:
        if self.true_length is not None and abs(self.true_length / self.length - 1) > _ODD_TAPE:
            words = {
                "message": "length and true_length are more than 1 part in 100 apart",
                "remedy": 'write both for the same piece of tape, as length = "100 ft", true_length = "100.02 ft"',
            }
            raise PydanticCustomError("text", "{message}", words)
        return self

    def as_survey(self) -> tape.Tape:
        """The same for the formulas."""
        return tape.Tape(
            self.length,
            self.true_length or self.length,
            self.temperature,
            self.pull,
            parse_weight(self.weight, self.length, None) if self.weight else 0.0,
            self.section or 0.0,
            self.expansion,
            self.elasticity,
        )
