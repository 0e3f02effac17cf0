"""How far a wall stands from a line, measured square from the wall: the question of fire separation.

It is not the setback question: a setback is the least distance to any place of the line, a separation is measured at
right angles from the face of the wall (IRC R302.1 in a public copy; whether it applies, and with which
figures, the local authority says).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from staking.errors import RuleError
from staking.kinds.ground import BaseLine
from staking.kinds.slab import Form
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, moved

SQUARE = math.sin(math.radians(5))  # of a line so nearly square to a wall that none of it is in front; own choice

Measured = tuple[str, str, float, tuple[float, Point, Point]]


def separations_of(site: Site, lines: Mapping[str, BaseLine], form: Form) -> Iterator[Measured]:
    """For each entry: its name, the wall in words, the figure, and distance with both its ends."""
    trouble = Trouble(site)
    for index, asked in enumerate(site.declared.separations):
        with trouble.at("separations", index):
            side = form.outline.side(asked.wall, "wall")
            base = lines.get(asked.to)
            if base is None:
                raise RuleError(f'there is no straight line "{asked.to}"', key="to", remedy="name a line of the site")
            near = square_distance(form.sides[side], form.outward(side), base.line)
            yield asked.name, form.outline.side_label(side), asked.least, near
    trouble.stop()


def square_distance(wall: Line, outward: Vector, line: Line) -> tuple[float, Point, Point]:
    """The least distance from a wall to a line, square to the wall. outward: square to it, of length 1.

    Raises RuleError where the line runs square to the wall or nearly so: nothing in front of it is met, or far away.
    """
    lean = line.direction.cross(outward)
    if abs(lean) < SQUARE:
        raise RuleError(
            "the line runs square to the wall, or nearly so, and is not in front of it",
            key="to",
            remedy="name another wall or another line",
        )
    ends = []
    for at in (wall.start, wall.end):
        ahead = -line.offset(at) / lean
        ends.append((ahead, at, moved(at, outward, ahead)))
    nearest = min(ends, key=lambda found: found[0])
    return nearest[0], nearest[1], nearest[2]
