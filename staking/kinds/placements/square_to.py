"""Setting a side parallel to a line at a distance: what two of the placements have in common."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from staking.errors import RuleError
from staking.kinds.fields import length_in_metres
from staking.kinds.ground import BaseLine
from staking.kinds.slab import Outline, Pose
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, moved, vector
from staking.survey.polygons import sides_of

SLIPPERY = math.sin(math.radians(5.0))  # a second line nearer to parallel than this does not hold the slab


def _setback_or_length(value: Any, info: ValidationInfo) -> Any:
    return value if value == "setback" else length_in_metres(value, info)


Clear = Annotated[
    Literal["setback"] | float,
    BeforeValidator(_setback_or_length),
    WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string"}], "description": 'a length, or "setback"'}),
]


def clear_distance(value: Literal["setback"] | float, base: BaseLine, key: str) -> float:
    """The distance meant [m]. Raises RuleError for "setback" from a line that has none, and below 0."""
    if value != "setback":
        if value < 0:
            raise RuleError("must not be negative", key=key, remedy="the slab lies on the side where the lot is")
        return value
    if base.required is None:
        raise RuleError(
            f'"setback" needs a lot side with a figure in [setbacks]; "{base.name}" has none',
            key=key,
            remedy='write the distance, or name a side: "lot front"',
        )
    return base.required


def beside(outline: Outline, side: int, base: BaseLine, inward: Vector, distance: float) -> Pose:
    """The slab with a side parallel to a line, at a distance [m] from it, on the side that `inward` shows.

    The slab still may slide along the line: the side's beginning stands square off the start of the line.
    """
    if any(outline.bulges) and outline.bulges[side]:
        raise RuleError(
            f"{outline.side_label(side)} is an arc and is parallel to no line",
            key="side",
            remedy="name a straight side",
        )
    wanted = inward.right() if outline.counter_clockwise else inward.left()
    own = sides_of(outline.corners)[side].direction
    # the turn that takes the side's own direction to the wanted one, by its cosine and sine: no angle, no rounding
    right = Vector(own.dot(wanted), own.cross(wanted))
    turned = Pose(Point(0.0, 0.0), right.unit())
    here = turned.on_ground(outline.corners[side])
    there = moved(base.line.start, inward, distance)
    return Pose(Point(there.east - here.east, there.north - here.north), turned.right)


def slid(pose: Pose, direction: Vector, by: float) -> Pose:
    """The slab moved along a direction of length 1 by so much [m]."""
    return Pose(moved(pose.origin, direction, by), pose.right)


def clearance(point: Point, line: Line, inward: Vector) -> float:
    """Square distance of a point from a line [m], positive on the side that `inward` shows."""
    return vector(line.start, point).dot(inward)


def check_grip(first: BaseLine, second: BaseLine, key: str) -> None:
    """Raise RuleError where the second line runs so nearly along the first that it holds nothing."""
    if first.name == second.name:
        raise RuleError(
            f'"{first.name}" is named twice', key=key, code="open-placement", remedy="name a line that crosses it"
        )
    sine = abs(first.line.direction.cross(second.line.direction))
    if sine < SLIPPERY:
        raise RuleError(
            f'"{second.name}" runs along "{first.name}" ({math.degrees(math.asin(min(1.0, sine))):.1f} degrees apart), '
            "so the slab could still slide along both",
            key=key,
            code="open-placement",
            remedy="name a line that crosses the first one, as square to it as the lot offers\n"
            "if they do cross on the ground, north and east may be swapped in the list of points",
        )
