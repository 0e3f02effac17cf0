"""Where does a place lie to a wall line of the slab: how far outside it, and how far along it?"""

from __future__ import annotations

from dataclasses import dataclass

from staking.survey.points import Vector


@dataclass(frozen=True, slots=True)
class FromSide:
    """How far a place is from another one, by a wall line of the slab.

    out [m]: square from the line, positive away from the slab. along [m]: in the direction the side runs, which is from
    corner `start` to corner `end`.
    """

    side: str
    start: str
    end: str
    out: float
    along: float


@dataclass(frozen=True, slots=True)
class WallLine:
    """A wall line at one point: the side in words, names of its ends, and the way it runs there, of length 1."""

    side: str
    start: str
    end: str
    way: Vector
    out: Vector

    def of(self, step: Vector) -> FromSide:
        """A step [m] by this line."""
        return FromSide(self.side, self.start, self.end, step.dot(self.out), step.dot(self.way))
