"""Which lists of stakes does a site file ask for, each in the form that one instrument takes?"""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, Strict, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.fields import Record, Whole

Column = Literal["name", "north", "east", "elevation", "kind", "note"]
_FILE_WORD = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")  # small letters: two files never differ by case alone


def _file_word(value: str) -> str:
    if not _FILE_WORD.fullmatch(value):
        raise _refused(
            f'"{value[:60]}" cannot be part of the name of a file',
            "use small letters, digits, - and _, at most 40 of them",
        )
    return value


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


class StakeList(Record):
    """[[stakeout]]: a list of points of its own, in a file stakeout_NAME.csv."""

    name: Annotated[str, AfterValidator(_file_word)] = Field(description="the file is called stakeout_NAME.csv")
    points: Literal["stakes", "all"] = Field(default="stakes", description="all: the given points too, before them")
    columns: tuple[Column, ...] = Field(
        default=("name", "north", "east", "elevation", "note"),
        min_length=1,
        description="in the order the instrument reads them, each once",
    )
    point_names: Literal["any", "numbers"] = Field(
        default="any", description="numbers: a name that holds more than digits is replaced by a free number"
    )
    longest_name: Whole | None = Field(
        default=None, ge=1, le=40, description="characters a name may have; a longer one is replaced, never cut"
    )
    decimals: Whole = Field(default=4, ge=2, le=6, description="of coordinates and elevations")
    decimal_mark: Literal["point", "comma"] = Field(default="point", description="between units and decimals")
    delimiter: Literal["comma", "semicolon", "tab", "space"] = Field(default="comma", description="between columns")
    header: Annotated[bool, Strict()] = Field(default=False, description="true: a first line names the columns")
    unit: Literal["", "m", "ft", "ftUS"] = Field(default="", description="of all numbers; left out: site.unit")
    values: Literal["", "grid", "ground"] = Field(
        default="", description="left out: as in this file; the other one needs coordinates.combined_factor"
    )
    about: str = Field(
        default="",
        description="where values are scaled: the point that keeps its coordinates; left out: north 0, east 0",
    )

    @model_validator(mode="after")
    def _readable(self) -> StakeList:
        if len(set(self.columns)) != len(self.columns):
            raise _refused("a column stands twice", "name each column once")
        if self.decimal_mark == "comma" and self.delimiter == "comma":
            raise _refused(
                "a comma cannot stand in the numbers and between the columns too", 'write delimiter = "semicolon"'
            )
        return self
