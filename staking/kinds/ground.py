"""What a rule may know of the ground: points, straight lines to measure from, and where the lot lies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from staking.errors import RuleError, suggestion
from staking.survey.lines import Line
from staking.survey.points import Point, Vector

ON_LINE = 0.003  # metres (an eighth of an inch): corners nearer to a line than this lie on it


@dataclass(frozen=True)
class BaseLine:
    """A straight line that things are measured from.

    start_name, end_name: what the crew finds at its ends. residuals [m]: of the points it was fitted through, off
    the line, with their names. inside: square to a lot side, into the lot. required [m]: the setback from it.
    """

    name: str
    line: Line
    start_name: str
    end_name: str
    given_by: str = ""
    residuals: tuple[tuple[str, float], ...] = ()
    inside: Vector | None = None
    required: float | None = None
    note: str = ""

    @property
    def straightness(self) -> float:
        """How far off the line the worst of its points lies [m]; 0 for a line through two points."""
        return max((abs(off) for _, off in self.residuals), default=0.0)


@dataclass(frozen=True)
class Ground:
    """Points and lines by name. bent: lot sides that are not straight, and why they are no base line.

    turn [deg]: clockwise, from bearings as declared to bearings on this ground.
    """

    points: Mapping[str, Point]
    lines: Mapping[str, BaseLine]
    lot: tuple[Point, ...] = ()
    bent: Mapping[str, str] = field(default_factory=dict)
    turn: float = 0.0

    def point(self, name: str, key: str) -> Point:
        """The point of that name. Raises RuleError with the nearest known name."""
        if name in self.points:
            return self.points[name]
        raise RuleError(
            f'there is no point "{name}"', key=key, code="unknown-name", remedy=suggestion(name, self.points)
        )

    def line(self, name: str, key: str) -> BaseLine:
        """The base line of that name. Raises RuleError with the nearest known name, or why it is none."""
        if name in self.lines:
            return self.lines[name]
        if name in self.bent:
            raise RuleError(self.bent[name], key=key, remedy="declare a [[references]] line through two of its points")
        raise RuleError(f'there is no line "{name}"', key=key, code="unknown-name", remedy=suggestion(name, self.lines))

    def slab_side(self, base: BaseLine, toward: str | None, key: str) -> Vector:
        """The direction square to a line, of length 1, toward the side on which the slab lies.

        toward: a point on that side; else the inside of a lot side; else the side on which the whole lot lies.
        Raises RuleError where neither tells.
        """
        left = base.line.direction.left()
        if toward is not None:
            off = base.line.offset(self.point(toward, "toward"))
            if abs(off) < ON_LINE:
                raise RuleError(
                    f'the point "{toward}" lies on the line "{base.name}", so it tells no side',
                    key="toward",
                    remedy="name a point that is clearly on the slab's side",
                )
            return left if off > 0 else left.reversed()
        if base.inside is not None:
            return base.inside
        return self._lot_side(base, left, key)

    def _lot_side(self, base: BaseLine, left: Vector, key: str) -> Vector:
        offs = [base.line.offset(corner) for corner in self.lot]
        if offs and min(offs) > -ON_LINE:
            return left
        if offs and max(offs) < ON_LINE:
            return left.reversed()
        reason = f'the line "{base.name}" runs through the lot' if offs else "there is no lot"
        raise RuleError(
            f"{reason}, so it does not tell on which side of it the slab lies",
            key=key,
            code="open-placement",
            remedy='add toward = "P": a point on the slab\'s side of the lines it is placed from',
        )
