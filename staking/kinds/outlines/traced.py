"""An outline traced step by step, as one would pace it: right, left, away, toward.

    step  = motion { motion } ;                 "right 36'"  or, on a slant,  "right 4' away 4'"
    motion = ( "right" | "left" | "away" | "toward" ) length ;

Corner 1 is where the tracing begins, the left end of the front side by habit; the last step must lead back to it.
"""

from __future__ import annotations

import math
import re
from typing import Annotated, Any, Literal, NamedTuple

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError

from staking.errors import RuleError, TextError
from staking.kinds.fields import Length, Name, site_unit
from staking.kinds.outlines.slab import Slab
from staking.kinds.slab import Outline, names_by_direction
from staking.survey.points import Point
from staking.units import parse_length

CLOSED = 0.0005  # metres: an outline whose end is nearer to its beginning is closed

_WAYS = {"right": (1, 0), "left": (-1, 0), "away": (0, 1), "toward": (0, -1)}
_MOTION = re.compile(r"(right|left|away|toward)\s+(.+?)(?=\s+(?:right|left|away|toward)\b|$)", re.IGNORECASE)


class Motion(NamedTuple):
    """One step: right (+) or left, and away (+) or toward [m]."""

    right: float
    away: float


def _read_step(value: Any, info: ValidationInfo) -> Motion:
    if isinstance(value, Motion):
        return value
    remedy = 'write "right 36\'", "away 20\'", or on a slant "right 4\' away 4\'"'
    text = value.strip() if isinstance(value, str) else ""
    motions = _MOTION.findall(text)
    if not motions or _MOTION.sub("", text).strip():
        raise PydanticCustomError("text", "{message}", {"message": f'cannot read the step "{value}"', "remedy": remedy})
    right = away = 0.0
    for way, length in motions:
        try:
            metres = float(parse_length(length, site_unit(info)))
        except TextError as error:
            raise PydanticCustomError("text", "{message}", {"message": error.message, "remedy": error.remedy}) from None
        if metres <= 0:
            raise PydanticCustomError(
                "text",
                "{message}",
                {
                    "message": f'the step "{value}" has no length',
                    "remedy": "more than 0; turn back with the other word",
                },
            )
        right, away = right + _WAYS[way.lower()][0] * metres, away + _WAYS[way.lower()][1] * metres
    return Motion(right, away)


StepField = Annotated[
    Motion,
    BeforeValidator(_read_step),
    WithJsonSchema({"type": "string", "description": '"right 36\'", or on a slant "right 4\' away 4\'"'}),
]


class Traced(Slab):
    """Any outline of straight sides, by steps or by vertices."""

    kind: Literal["traced"]
    steps: tuple[StepField, ...] = Field(default=(), description="from corner 1 all the way round and back to it")
    vertices: tuple[tuple[Length, Length], ...] = Field(
        default=(), description="instead of steps: how far right of corner 1, and how far away, for each corner"
    )
    corners: tuple[Name | Literal[""], ...] = Field(default=(), description="names of the corners, in order")
    sides: tuple[Name | Literal[""], ...] = Field(default=(), description="names of the sides, in order")

    @model_validator(mode="after")
    def _one_way_of_tracing(self) -> Traced:
        if bool(self.steps) == bool(self.vertices):
            raise PydanticCustomError(
                "text",
                "{message}",
                {"message": "a traced outline is given either by steps or by vertices", "remedy": "keep one of them"},
            )
        return self

    def outline(self) -> Outline:
        """The corners as traced. Raises RuleError where it does not close, or names do not fit the corners."""
        corners = self._from_steps() if self.steps else self._from_vertices()
        if len(corners) < 3:
            raise RuleError("an outline has at least three corners", key="steps" if self.steps else "vertices")
        by_direction = names_by_direction(corners)
        names = tuple(
            self._names(given, found, len(corners), key)
            for given, found, key in zip((self.corners, self.sides), by_direction, ("corners", "sides"), strict=True)
        )
        return Outline(corners, names[0], names[1])

    def _names(self, given: tuple[str, ...], found: tuple[str, ...], count: int, key: str) -> tuple[str, ...]:
        if not given:
            return found
        if len(given) != count:
            raise RuleError(f"{len(given)} names for {count} {key}", key=key, remedy=f"write {count} names")
        named = [name for name in given if name]
        if len(set(named)) < len(named):
            raise RuleError(f"two {key} have the same name", key=key, remedy='use "" for one that needs no name')
        return given

    def _from_steps(self) -> tuple[Point, ...]:
        corners = [Point(0.0, 0.0)]
        for step in self.steps:
            corners.append(Point(corners[-1].east + step.right, corners[-1].north + step.away))
        end = corners.pop()
        if math.hypot(end.east, end.north) > CLOSED:
            across = f"{{0}} to the {'right' if end.east > 0 else 'left'} of"
            along = f"{{1}} {'behind' if end.north > 0 else 'in front of'}"
            gaps = [words for off, words in ((end.east, across), (end.north, along)) if abs(off) > CLOSED / 2]
            raise RuleError(
                f"after step {len(self.steps)} the outline ends {' and '.join(gaps)} its beginning",
                lengths=(abs(end.east), abs(end.north)),
                key=f"steps.{len(self.steps) - 1}",
                code="outline-open",
                remedy="correct a step, or add the one that leads back to corner 1",
            )
        return tuple(corners)

    def _from_vertices(self) -> tuple[Point, ...]:
        corners = tuple(Point(right, away) for right, away in self.vertices)
        repeated = len(corners) > 1 and math.dist(self.vertices[0], self.vertices[-1]) < CLOSED
        return corners[:-1] if repeated else corners
