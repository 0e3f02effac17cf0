"""A crew that follows the tape sheet, reading only the printed figures, finds the corners."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import RandomSite, layout_of, random_sites, sample

from staking import Layout
from staking.layout.tape_plan import TapePlan, tape_plan
from staking.survey.intersections import along_and_tape, crossing
from staking.survey.lines import Line
from staking.survey.points import Point, distance, moved
from staking.units import UNITS, parse_length

PRINTED = 0.0008  # metres: half a sixteenth of an inch, or half a millimetre, as the sheet prints
NAMES = ["tape_only_shed", "ell_house_on_grid", "metric_hall"]


class Crew:
    """Two people who know the reference lines and what is printed, and nothing else."""

    def __init__(self, layout: Layout, plan: TapePlan) -> None:
        self.layout, self.plan = layout, plan
        self.unit = UNITS[layout.site.unit.name]

    def read(self, metres: float) -> float:
        """A figure as printed, read back."""
        return float(parse_length(self.layout.notation.length(metres), self.unit))

    def base_string(self) -> Line:
        """Pulled square off the reference at both places."""
        line = self.plan.reference.line
        ends = []
        for pull in self.plan.pulls:
            along = self.read(pull.along)
            foot = line.at(along if pull.from_name == self.plan.reference.start_name else line.length - along)
            ends.append(moved(foot, self._square(line, pull.end), self.read(pull.distance)))
        return Line(ends[0], ends[1])

    def _square(self, line: Line, toward: Point):  # type: ignore[no-untyped-def]
        left = line.direction.left()
        return left if line.offset(toward) > 0 else left.reversed()

    def frame(self) -> list[Point]:
        """The four marks: from the second line, by the width, by the diagonals on the far string."""
        base, plan = self.base_string(), self.plan
        width, depth, diagonal = (self.read(v) for v in (plan.width, plan.depth, plan.diagonal))
        far = Line(moved(base.start, base.direction.left(), depth), moved(base.end, base.direction.left(), depth))
        if plan.start is None:
            first = base.start
        else:
            place = crossing(base, self.layout.lines[plan.start.line].line)
            way = 1 if Line(base.start, base.end).along(plan.corners[plan.start.mark]) > base.along(place) else -1
            mark = moved(place, base.direction, way * self.read(plan.start.along))
            first = mark if plan.start.mark == 0 else moved(mark, base.direction, -width)
        second = moved(first, base.direction, width)
        return [first, second, along_and_tape(far, first, diagonal)[-1], along_and_tape(far, second, diagonal)[0]]

    def corners(self) -> dict[str, Point]:
        """Every corner of the outline: frame marks, and ordinates between base and far string."""
        one, two, three, four = self.frame()
        found = dict(zip(self.plan.names, (one, two, three, four), strict=True))
        base, far = Line(one, two), Line(four, three)
        for ordinate in self.plan.ordinates:
            along = self.read(ordinate.along)
            cross = Line(base.at(along), far.at(along))
            found[ordinate.name] = cross.at(self.read(ordinate.off))
        return found


def _worst(layout: Layout) -> float:
    plan = tape_plan(layout)
    assert plan is not None
    found = Crew(layout, plan).corners()
    return max(
        distance(found[name], at) for name, at in zip(layout.corner_names, layout.slab.form.corners, strict=True)
    )


@pytest.mark.parametrize("name", NAMES)
def test_samples_are_set_by_their_sheets(name: str) -> None:
    """Every corner is found within what rounding to the printed sixteenth or millimetre can add up to."""
    assert _worst(sample(name)) < 5 * PRINTED


@given(random_sites)
@settings(max_examples=25, deadline=None)
def test_random_rectangles_are_set_by_their_sheets(site: RandomSite) -> None:
    """Any rectangle on any four-sided lot."""
    assert _worst(layout_of(site.text())) < 6 * PRINTED


TRACED = """
[slab]
kind = "traced"
steps = ["right 12", "away 3", "right 2", "away 4", "left 3 away 2", "left 4", "toward 3", "left 7", "toward 6"]

[placement]
kind = "at_point"
corner = 1
at = "Q"
side = "1-2"
bearing = BEARING

[[stakes]]
kind = "corners"
"""


@given(random_sites, st.floats(75.0, 105.0))
@settings(max_examples=25, deadline=None)
def test_slanted_outlines_are_set_by_their_sheets(site: RandomSite, bearing: float) -> None:
    """An outline with an inside corner and a slanted side, turned against every line of the lot."""
    slab = TRACED.replace("BEARING", repr(bearing))
    text = site.text(slab=slab).replace("[lot]", "Q = [20, 12]\n[lot]")
    assert _worst(layout_of(text)) < 8 * PRINTED
