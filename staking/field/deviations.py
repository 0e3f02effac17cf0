"""Point by point: how far is what was measured from what was computed, and is that within what is allowed?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from staking.field.allowed import Tolerances
from staking.field.compared import Allowed, DesignPoint, Deviation, MeasuredPoint
from staking.field.shape import judged
from staking.layout.wall_lines import WallLine
from staking.survey.points import distance, vector


class Judge:
    """Makes deviations: knows the wall lines of the points and what is allowed."""

    def __init__(self, tolerances: Tolerances, walls: Mapping[str, tuple[WallLine, ...]]) -> None:
        self.tolerances, self._walls = tolerances, walls
        self._plan: dict[int | None, Allowed] = {}
        self._given, self._height = tolerances.given(), tolerances.height()

    def allowed(self, design: DesignPoint) -> Allowed:
        """What is allowed of a point in plan."""
        if design.what == "given":
            return self._given
        if design.corner not in self._plan:
            self._plan[design.corner] = self.tolerances.position(design.corner)
        return self._plan[design.corner]

    def deviation(self, design: DesignPoint, measured: MeasuredPoint, *, by_name: bool) -> Deviation:
        """One point held against its design."""
        allowed = self.allowed(design)
        step = vector(design.at, measured.at)
        known = measured.up is not None and design.up is not None
        return Deviation(
            design,
            measured,
            by_name,
            tuple(wall.of(step) for wall in self._walls.get(design.name, ())),
            allowed,
            judged(distance(design.at, measured.at), allowed),
            allowed_up=self._height,
            answer_up=judged((measured.up or 0.0) - (design.up or 0.0), self._height) if known else "not judged",
        )

    def all(self, partners: Iterable[tuple[DesignPoint, MeasuredPoint, bool]]) -> list[Deviation]:
        """Many of them."""
        return [self.deviation(design, measured, by_name=by_name) for design, measured, by_name in partners]
