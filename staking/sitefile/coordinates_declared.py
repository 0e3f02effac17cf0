"""What does a site file declare about its coordinates: system, factor, ground system, and what else is known of points?

None of it is guessed: a factor is given or computed from a height, and what is known of a point from a second side
only ever says that something is wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from staking.errors import TextError
from staking.kinds.fields import Bearing, Finite, Length, Record, Words
from staking.survey.angles import parse_latitude, parse_longitude

ORIGIN = "origin"


def refused(message: str, remedy: str) -> PydanticCustomError:
    """What a validator raises: a sentence and what to write instead."""
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


class Truncated(Record):
    """[coordinates.truncated]: the constants that were taken off ground coordinates after the scaling."""

    north: Length = Field(default=0.0, description="what was subtracted from every north")
    east: Length = Field(default=0.0, description="what was subtracted from every east")


class ScaledAbout(Record):
    """The place that keeps its grid coordinates: the origin, a point by its name, or grid north and east."""

    point: str = Field(default="", description='"origin", or a point by its name')
    north: Length | None = Field(default=None, description="of a place by its grid coordinates")
    east: Length | None = Field(default=None, description="of a place by its grid coordinates")

    @model_validator(mode="after")
    def _one_way(self) -> ScaledAbout:
        if bool(self.point) == (self.north is not None or self.east is not None):
            raise refused("the place that was scaled about is given one way", _ABOUT)
        if (self.north is None) != (self.east is None):
            raise refused("north and east of the place that was scaled about go together", _ABOUT)
        return self


_ABOUT = 'write "origin", the name of a point, or { north = ..., east = ... } on the grid'


def _spread(value: Any) -> Any:
    """The short form, a name alone, as the long one."""
    return {"point": value} if isinstance(value, str) else value


class Coordinates(Record):
    """[coordinates]: leave it out for local, assumed coordinates."""

    crs: Words = Field(default="", description='a projected system by its EPSG code, for example "EPSG:26913"')
    values: Literal["grid", "ground"] = Field(default="ground", description="what the numbers in this file are")
    combined_factor: Finite = Field(default=1.0, gt=0.9, lt=1.1, description="grid distance / ground distance")
    ellipsoid_height: Length | None = Field(
        default=None, description="of the site; the combined factor is computed from it where none is given"
    )
    elevation: Length | None = Field(
        default=None, description="of the site above the sea, for the factor; with geoid_height instead of the above"
    )
    geoid_height: Length | None = Field(
        default=None,
        description="of the geoid above the ellipsoid at the site, with its sign; below 0 in the lower 48 states",
    )
    scaled_about: Annotated[ScaledAbout, BeforeValidator(_spread)] | None = Field(
        default=None, description='of ground values: "origin", a point by its name, or { north, east } on the grid'
    )
    truncated: Truncated | None = Field(
        default=None, description="of ground values: { north, east } taken off after the scaling"
    )
    vertical: Words = Field(default="", description="vertical datum, in words")

    @property
    def factor_given(self) -> bool:
        """Whether the file gives the combined factor itself."""
        return "combined_factor" in self.model_fields_set

    @property
    def height_given(self) -> bool:
        """Whether the file gives a height that a factor can be computed from."""
        return self.ellipsoid_height is not None or self.elevation is not None

    @model_validator(mode="after")
    def _one_height(self) -> Coordinates:
        if self.ellipsoid_height is not None and self.elevation is not None:
            raise refused("two heights are given for the factor", "keep ellipsoid_height; it is the one that counts")
        if self.geoid_height is not None and self.elevation is None:
            raise refused("geoid_height belongs to an elevation", "add elevation = ..., or take geoid_height out")
        if self.height_given and not self.crs:
            raise refused("a height makes no factor without a system", 'add crs = "EPSG:..."')
        return self

    @model_validator(mode="after")
    def _one_ground_system(self) -> Coordinates:
        if self.truncated is not None and self.scaled_about is None:
            raise refused("truncated belongs to scaled_about", 'add scaled_about = "origin", or the point')
        if self.scaled_about is not None and not self.crs:
            raise refused("a ground system is made from a projected one", 'add crs = "EPSG:..."')
        if self.scaled_about is not None and not self.factor_given and not self._computed_from_grid:
            raise refused(
                "the ground system has no factor", "add combined_factor = ..., the one that the numbers were made with"
            )
        return self

    @property
    def _computed_from_grid(self) -> bool:
        return self.values == "grid" and self.height_given


class SecondSystem(Record):
    """[[second_system]]: the coordinates of a point in another system, to compare."""

    point: str = Field(description="the point by its name")
    crs: Words = Field(min_length=1, description="the other system by its EPSG code")
    north: Finite = Field(description="there, in the unit of that system")
    east: Finite = Field(description="there, in the unit of that system")
    source: Words = Field(default="", description="where they are from: a data sheet, the rover; printed")


def _by(parse: Callable[[str | float], float]) -> Callable[[Any], float]:
    def _angle_on_earth(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, (int, float, str)):
            raise refused("an angle is a number or a text", 'write -79.9767, or "79-58-36.2 W"')
        try:
            return parse(value)
        except TextError as error:
            raise refused(error.message, error.remedy) from None

    return _angle_on_earth


_ANGLE_SCHEMA = WithJsonSchema(
    {"anyOf": [{"type": "number"}, {"type": "string"}], "description": 'degrees, or text such as "79-58-36.2 W"'}
)


class OnEarth(Record):
    """[[on_earth]]: about where on the earth a point of a local site is; for looking at it on a map, never to stake."""

    point: str = Field(description="the point by its name")
    latitude: Annotated[float, BeforeValidator(_by(parse_latitude)), _ANGLE_SCHEMA] = Field(
        description="on WGS 84, north above 0"
    )
    longitude: Annotated[float, BeforeValidator(_by(parse_longitude)), _ANGLE_SCHEMA] = Field(
        description="on WGS 84, east above 0; in the US it is west, below 0"
    )
    bearing: Bearing | None = Field(
        default=None, description="from true north, not magnetic: of toward seen from point, or of the file's north"
    )
    toward: str = Field(
        default="", description="the point that bearing leads to; left out, bearing is the file's north"
    )
    source: Words = Field(default="", description="where it is from: a map, a phone; printed in the file")
