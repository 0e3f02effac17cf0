"""The statement of positional accuracy by the National Standard for Spatial Data Accuracy, or why there is none.

Source: as `survey.nssda`; the words "Tested ... horizontal accuracy at 95% confidence level" are the standard's own.
"""

from __future__ import annotations

from collections.abc import Iterator

from staking.field.compared import Comparison, Deviation
from staking.layout.computed import Layout
from staking.sheets.as_built_doubt import GOOD, point_doubt
from staking.sheets.page import Block, Heading, Paragraph, Table
from staking.survey.check_points import FEWEST
from staking.survey.nssda import Horizontal, Vertical, horizontal, vertical

STANDARD = "National Standard for Spatial Data Accuracy (FGDC-STD-007.3-1998)"
_UNITS = {"m": "meters", "ft": "feet", "ftUS": "feet"}  # in the words of the standard
INDEPENDENT = (
    "It holds only where the check was independent of the setting out (another set-up, other control or another "
    "method), clearly better, and spread over what was set; this program cannot know that. It tests the points as set "
    "against the same as measured, not the lot lines."
)


def check_points(comparison: Comparison) -> tuple[Deviation, ...]:
    """What was set and measured; given points were not set."""
    return tuple(each for each in comparison.deviations if each.design.what != "given")


def nssda_blocks(comparison: Comparison) -> Iterator[Block]:
    """The statement with its figures where there are check points enough, else one sentence."""
    points = check_points(comparison)
    yield Heading("Positional accuracy")
    if len(points) < FEWEST:
        yield Paragraph(
            f"No statement by the {STANDARD}: it asks for {FEWEST} check points at the least, and "
            f"{len(points) or 'none'} {'was' if len(points) == 1 else 'were'} measured."
        )
        return
    plan = horizontal([each.plan for each in points])
    heights = [each.up for each in points if each.up is not None]
    up = vertical(heights) if len(heights) >= FEWEST else None
    yield Paragraph(_horizontal(comparison.layout, plan), strong=plan.accuracy is not None)
    if up is not None:
        yield Paragraph(
            f"Tested {_amount(comparison.layout, up.accuracy)} vertical accuracy at 95% confidence level", strong=True
        )
    elif heights:
        yield Paragraph(f"Of heights no statement: {len(heights)} were measured, {FEWEST} are asked for.")
    yield _figures(comparison.layout, plan, up)
    yield Paragraph(f"By the {STANDARD}; root mean squares divide by the number of points. {INDEPENDENT}")
    yield from _not_better(comparison, plan)


def _amount(layout: Layout, metres: float) -> str:
    return f"{layout.notation.decimal(metres, 3)} {_UNITS[layout.site.unit.name]}"


def _horizontal(layout: Layout, plan: Horizontal) -> str:
    if plan.accuracy is None:
        return (
            f"No horizontal statement by the {STANDARD}: the error along one axis is only "
            f"{layout.notation.times(plan.ratio)} of that along the other, and below 0.6 its form does not "
            f"hold. By the moments of the differences, 95 in 100 lie within {_amount(layout, plan.circle)}."
        )
    return f"Tested {_amount(layout, plan.accuracy)} horizontal accuracy at 95% confidence level"


def _figures(layout: Layout, plan: Horizontal, up: Vertical | None) -> Table:
    write = layout.notation.decimal
    rows = [
        ("north", str(plan.count), write(plan.mean.north, 4), write(plan.rmse_north, 4), ""),
        ("east", str(plan.count), write(plan.mean.east, 4), write(plan.rmse_east, 4), ""),
        ("in plan", str(plan.count), write(plan.mean.length, 4), write(plan.rmse, 4), write(plan.largest, 4)),
    ]
    if up is not None:
        rows.append(("height", str(up.count), write(up.mean, 4), write(up.rmse, 4), write(up.largest, 4)))
    unit = layout.site.unit.name
    head = ("difference", "points", f"mean [{unit}]", f"root mean square [{unit}]", f"largest [{unit}]")
    return Table(head, tuple(rows), right=frozenset({1, 2, 3, 4}))


def _not_better(comparison: Comparison, plan: Horizontal) -> Iterator[Block]:
    """Where the check is known no better than what it tests."""
    doubt = point_doubt(comparison)
    if doubt is None or plan.accuracy is None or doubt <= GOOD * plan.accuracy:
        return
    write = comparison.layout.notation
    yield Paragraph(
        f"The measurement itself is known to {write.fine(doubt)} (95 in 100), more than a third of the figure: much of "
        "the figure is the error of the measurement."
    )
