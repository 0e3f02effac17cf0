"""What does a site file declare for the instrument: where it stands, what it looks back to, how good it is?

None of it moves a stake. Names of points are checked with all others.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.fields import Bearing, Finite, Length, LengthFromZero, PositiveLength, Record

FEWEST_DISTANCES = 2
FEWEST_MIXED = 3  # numbers, where the direction of the circle is unknown too
_LETTER = re.compile(r"\s*[a-zA-Z]")


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


def _circle(value: Any) -> Any:
    """A reading of the circle: an angle as an azimuth is written; a bearing with letters is none."""
    if isinstance(value, str) and _LETTER.match(value):
        raise _refused("a reading of the circle has no letters of north or south", 'write angle = "74-10-25"')
    return value


Reading = Annotated[Bearing, BeforeValidator(_circle)]


class Shot(Record):
    """[[setup.shots]]: what was read toward a known point from a free station."""

    to: str = Field(description="the point, by its name")
    angle: Reading | None = Field(
        default=None, description='the circle, clockwise, all shots of one set: "74-10-25"; any zero will do'
    )
    distance: PositiveLength | None = Field(default=None, description="level distance to the point, on the ground")

    @model_validator(mode="after")
    def _something_read(self) -> Shot:
        if self.angle is None and self.distance is None:
            raise _refused("a shot without a reading", 'write angle = "74-10-25", distance = 31.48, or both')
        return self


class SetupDeclared(Record):
    """[setup]: the instrument over a known point, or on a free station with shots to known points."""

    station: str = Field(default="", description="the point under the instrument; left out on a free station")
    backsight: str = Field(
        default="",
        description="the point the angles are turned from; on a free station the first one shot where left out",
    )
    check: str = Field(default="", description="a third point to read before the first stake, and after the last one")
    instrument_height: LengthFromZero | None = Field(
        default=None, description="of the instrument's axis over the station mark"
    )
    prism_height: LengthFromZero | None = Field(default=None, description="of the prism over the foot of its pole")
    station_elevation: Length | None = Field(
        default=None, description="of the mark under a free station; a known point has its own"
    )
    shots: tuple[Shot, ...] = Field(default=(), description="readings toward known points, for a free station")
    hand: Literal["left", "right"] | None = Field(
        default=None,
        description="where the shots leave two places: on which side of the line from the first point shot to the "
        "second the instrument stands",
    )

    @model_validator(mode="after")
    def _one_way(self) -> SetupDeclared:
        if bool(self.station) == bool(self.shots):
            raise _refused(
                "an instrument stands over a known point or on a free station, one of the two",
                'write station = "P1" and backsight = "P2", or [[setup.shots]] without a station',
            )
        if self.station and not self.backsight:
            raise _refused("nothing says what the angles are turned from", 'write backsight = "P2"')
        if self.station and (self.station_elevation is not None or self.hand is not None):
            raise _refused(
                "station_elevation and hand belong to a free station", "take them out; the point has its own elevation"
            )
        return self

    @model_validator(mode="after")
    def _different_points(self) -> SetupDeclared:
        if self.station and self.station in (self.backsight, self.check):
            raise _refused(
                f'"{self.station}" is the station itself, and the instrument cannot be aimed at it',
                "name other points for backsight and check",
            )
        if self.check and self.check == (self.backsight or (self.shots[0].to if self.shots else "")):
            raise _refused(
                f'"{self.check}" is the backsight already, so reading it proves nothing', "name a third point"
            )
        return self

    @model_validator(mode="after")
    def _enough_shots(self) -> SetupDeclared:
        angles = sum(shot.angle is not None for shot in self.shots)
        read = sum(shot.distance is not None for shot in self.shots) + angles
        needed = FEWEST_MIXED if angles else FEWEST_DISTANCES
        if self.shots and (read < needed or len(self.shots) < 2):
            raise _refused(
                f"{read} reading{'s' if read != 1 else ''} to {len(self.shots)} point{'s'[: len(self.shots) > 1]} "
                "cannot fix a free station",
                "read two distances, or two points with angles and a distance, or three angles; one more is a check",
            )
        return self


_SIGMA = "standard deviation, one sigma"


class _Instrument(Record):
    control: LengthFromZero | None = Field(
        default=None, description=f"of the given points, along one axis, {_SIGMA}; left out: taken as without error"
    )
    tolerance: PositiveLength | None = Field(
        default=None,
        description="how far a side may be from its length; left out: the permitted difference of the tape sheet",
    )


class TotalStationDeclared(_Instrument):
    """An instrument that reads angles and distances."""

    kind: Literal["total station"]
    seconds: Finite = Field(
        gt=0, le=600, description=f"of one direction in seconds of arc, as its maker states; {_SIGMA}"
    )
    distance: LengthFromZero = Field(description=f'fixed part of a distance, "2 mm"; {_SIGMA}')
    ppm: Finite = Field(ge=0, le=1000, description="part of a distance that grows with it, millimetres a kilometre")
    centring: LengthFromZero = Field(
        default=0.0015, description="of a tripod over its mark; 1.5 mm where left out: common practice, no source"
    )
    pole: LengthFromZero = Field(
        default=0.003, description="of the prism over a stake; 3 mm where left out: common practice, no source"
    )


class RoverDeclared(_Instrument):
    """A satellite rover that gets corrections from a base or a network."""

    kind: Literal["rover"]
    distance: LengthFromZero = Field(description=f'fixed part in plan, "8 mm"; {_SIGMA} of one axis')
    ppm: Finite = Field(ge=0, le=1000, description="part that grows with the distance to the base")
    base: LengthFromZero = Field(default=0.0, description="distance to the base; 0 where a network gives corrections")
    height_factor: Finite = Field(
        default=2.0, ge=1, le=10, description="heights are so many times worse; common practice, no source"
    )
    pole: LengthFromZero = Field(
        default=0.003, description="of the antenna over a stake; 3 mm where left out: common practice, no source"
    )


class TapeDeclared(_Instrument):
    """A tape, by the class printed on it."""

    kind: Literal["tape"]
    grade: Literal["I", "II", "III"] = Field(description="the accuracy class printed on the tape")
    reading: LengthFromZero = Field(
        default=0.002,
        description="reading, pull and mark of one length; 2 mm where left out: common practice, no source",
    )


INSTRUMENTS: Mapping[str, type[Record]] = MappingProxyType(
    {"total station": TotalStationDeclared, "rover": RoverDeclared, "tape": TapeDeclared}
)
