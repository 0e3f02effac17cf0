"""Which measured point is which of the layout, and what is worth knowing of how that was told?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from staking.field.compared import DesignPoint, MeasuredPoint
from staking.field.matching import Match, matched
from staking.findings import Finding, Place, Severity
from staking.notation import Notation
from staking.survey.points import distance

SAME_PLACE = 0.001  # metres; a name that comes again here is the same shot written twice
MOST_NAMES = 8  # that stand in one sentence


@dataclass(frozen=True)
class Partners:
    """Measured points and design points with the match between them. file: of the measured; limit [m]: of nearness."""

    points: Sequence[MeasuredPoint]
    design: Sequence[DesignPoint]
    match: Match
    file: str
    limit: float

    def __iter__(self) -> Iterator[tuple[DesignPoint, MeasuredPoint, bool]]:
        """Each design point with its measured one, and whether the name told."""
        rows = zip(*(column.tolist() for column in (self.match.measured, self.match.design)), strict=True)
        named = self.match.by_name.tolist()
        return (
            (self.design[theirs], self.points[mine], told) for (mine, theirs), told in zip(rows, named, strict=True)
        )

    def strangers(self, used: Sequence[MeasuredPoint]) -> tuple[MeasuredPoint, ...]:
        """Measured points that were not used, without those whose name came again."""
        known = {*map(id, used), *(id(self.points[at]) for at in self.match.again)}
        return tuple(point for point in self.points if id(point) not in known)

    def findings(self, write: Notation) -> Iterator[Finding]:
        """Second shots, doubtful partners, and points that found none."""
        yield from self._again(write)
        yield from self._unsure()
        alone = self.strangers([point for _, point, _ in self])
        if alone:
            names = ", ".join(point.name for point in alone[:MOST_NAMES]) + ", ..." * (len(alone) > MOST_NAMES)
            message = f"no point of the layout bears the name or lies within {write.length(self.limit)} of: {names}"
            remedy = "name them as the layout does (staking show SITE); what is no stake may stay as it is"
            yield Finding("measured-strangers", Severity.NOTE, message, Place(self.file, alone[0].line), remedy)

    def _again(self, write: Notation) -> Iterator[Finding]:
        first = {self.points[at].name: self.points[at] for at in reversed(self.match.measured.tolist())}
        for again in (self.points[at] for at in self.match.again):
            apart = distance(again.at, first[again.name].at)
            grave = Severity.WARNING if apart > SAME_PLACE else Severity.NOTE
            message = f"{again.name} was measured again, {write.small(apart)} from the first shot, which is compared"
            remedy = "give a second shot its own name"
            yield Finding("measured-again", grave, message, Place(self.file, again.line), remedy)

    def _unsure(self) -> Iterator[Finding]:
        partner = dict(zip(self.match.measured.tolist(), self.match.design.tolist(), strict=True))
        for mine, other in self.match.unsure:
            point, taken, second = self.points[mine], self.design[partner[mine]].name, self.design[other].name
            message = f"{point.name} was taken for {taken}; {second} is nearly as near"
            remedy = f"name it {taken} or {second} in the list"
            yield Finding("measured-unsure", Severity.WARNING, message, Place(self.file, point.line), remedy)


def partners_of(points: Sequence[MeasuredPoint], design: Sequence[DesignPoint], *, file: str, limit: float) -> Partners:
    """Measured points with their design points: by name, else the nearest within a limit [m], none used twice."""
    places = np.array([(point.at.east, point.at.north) for point in points], dtype=float).reshape(-1, 2)
    wanted = np.array([(point.at.east, point.at.north) for point in design], dtype=float).reshape(-1, 2)
    match = matched([p.name for p in points], places, [p.name for p in design], wanted, limit=limit)
    return Partners(points, design, match, file, limit)
