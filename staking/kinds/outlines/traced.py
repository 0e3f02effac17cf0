"""An outline traced step by step, as one would pace it: right, left, away, toward.

    step   = motion { motion } [ curve ] ;       "right 36'"  or, on a slant,  "right 4' away 4'"
    motion = ( "right" | "left" | "away" | "toward" ) length ;
    curve  = "curve" ( "left" | "right" ) length [ "long" ] ;   "right 4' away 4' curve left 4'"

A step with a curve leads to its end on an arc that turns left or right with that radius; the shorter way round, or
the longer one where it says so.

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
_CURVE = re.compile(r"\s+curve\s+(left|right)\s+(.+?)(\s+long)?$", re.IGNORECASE)
_REMEDY = "write \"right 36'\", on a slant \"right 4' away 4'\", on an arc \"right 4' away 4' curve left 4'\""


class Motion(NamedTuple):
    """One step: right (+) or left, and away (+) or toward [m]; bulge of the arc it follows, 0 where it is straight."""

    right: float
    away: float
    bulge: float = 0.0


def _refused(message: str, remedy: str = _REMEDY) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})


def _length(text: str, info: ValidationInfo) -> float:
    try:
        metres = float(parse_length(text, site_unit(info)))
    except TextError as error:
        raise _refused(error.message, error.remedy) from None
    if metres <= 0:
        raise _refused(f'"{text}" has no length', "write more than 0; turn back with the other word")
    return metres


def _read_step(value: Any, info: ValidationInfo) -> Motion:
    if isinstance(value, Motion):
        return value
    text = f" {value.strip()}" if isinstance(value, str) else ""
    curve = _CURVE.search(text)
    text = text[: curve.start()] if curve else text
    motions = _MOTION.findall(text)
    if not motions or _MOTION.sub("", text).strip():
        raise _refused(f'cannot read the step "{value}"')
    right = away = 0.0
    for way, length in motions:
        metres = _length(length, info)
        right, away = right + _WAYS[way.lower()][0] * metres, away + _WAYS[way.lower()][1] * metres
    return Motion(right, away, _bulge(math.hypot(right, away), curve, info) if curve else 0.0)


def _bulge(chord: float, curve: re.Match[str], info: ValidationInfo) -> float:
    """Of the arc over a chord [m] with the radius that is asked for: tan of a quarter of the angle at its centre."""
    radius = _length(curve.group(2), info)
    if chord == 0 or chord > 2 * radius * (1 + 1e-9):
        raise _refused(
            f"no arc of that radius reaches the end of the step{curve.group()}",
            "write a radius of at least half the step",
        )
    half = math.asin(min(1.0, chord / (2 * radius)))  # half the angle at the centre
    half = math.pi - half if curve.group(3) else half
    return math.tan(half / 2) if curve.group(1).lower() == "left" else -math.tan(half / 2)


StepField = Annotated[
    Motion,
    BeforeValidator(_read_step),
    WithJsonSchema(
        {
            "type": "string",
            "description": '"right 36\'", on a slant "right 4\' away 4\'", on an arc "away 24\' curve left 15\'"',
        }
    ),
]


_CIRCLE = "write a circle as three arcs or more; with four its corners are those of a square"


class Traced(Slab):
    """Any outline: of straight sides by steps or by vertices, with arcs by steps."""

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
            raise RuleError(
                "an outline has at least three corners",
                key="steps" if self.steps else "vertices",
                remedy=_CIRCLE if any(step.bulge for step in self.steps) else "",
            )
        by_direction = names_by_direction(corners)
        names = tuple(
            self._names(given, found, len(corners), key)
            for given, found, key in zip((self.corners, self.sides), by_direction, ("corners", "sides"), strict=True)
        )
        return Outline(corners, names[0], names[1], tuple(step.bulge for step in self.steps))

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
