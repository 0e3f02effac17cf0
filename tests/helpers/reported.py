"""One comparison that every file of a report is tried with."""

from __future__ import annotations

from measuring import INCH, as_designed, off

from staking import HowMeasured, Layout, MeasuredPoint, compare
from staking.field.compared import Comparison
from staking.survey.points import Point


def measured(layout: Layout) -> Comparison:
    """Corners, the second an inch east of its place, and a stranger with a note that a spreadsheet would run."""
    points = [off(each, INCH if each.name == layout.corner_names[1] else 0.0) for each in as_designed(layout)]
    away = layout.slab.form.corners[0]
    stranger = MeasuredPoint("MH3", Point(away.east - 15, away.north), 1.5, "=1+1")
    how = HowMeasured("lists/as_set.csv", "3fa9" * 16, by="the crew", date="2026-05-06")
    return compare(layout, [*points, stranger], how)
