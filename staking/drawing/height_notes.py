"""What must a reader of the plan know about its heights: from where, how far apart, and where the ground is highest?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.drawing.contours import FIFTH, step_in
from staking.drawing.relief import MANY_CORNERS
from staking.drawing.window import contour_window
from staking.layout.computed import Layout
from staking.layout.earth import Earth
from staking.layout.falls import falls_of


def height_notes(layout: Layout) -> Iterator[str]:
    """The sentences; none where the plan shows no height but a stated one."""
    plan = layout.site.declared.plan
    if layout.earth is not None and plan.contours:
        yield _contours(layout, layout.earth)
    if layout.earth is not None and plan.heights:
        yield from _corners(layout, layout.earth)
    if plan.heights:
        yield from (
            f"Floor falls {layout.notation.fall(each.ratio)}." for each in falls_of(layout) if each.kind == "floor"
        )
    stated = layout.site.declared.coordinates
    if (layout.earth is not None or layout.design is not None) and not (stated and stated.vertical):
        yield "No vertical datum is stated: heights are those of the given points."


def _contours(layout: Layout, earth: Earth) -> str:
    step = step_in(layout, earth, contour_window(layout))
    ground = f"the ground as measured, {earth.points} points on file, flat between them"
    if step is None:
        return f"Outside {ground}, nothing is known: no contours here."
    write = layout.notation.length
    return f"Contours every {write(step)}, every {write(FIFTH * step)} heavier, are of {ground}."


def _corners(layout: Layout, earth: Earth) -> Iterator[str]:
    """The ground at every corner, or at the highest and lowest of many: not every figure finds room on the drawing."""
    high, low = earth.high, earth.low
    if high is None or low is None or high.ground is None or low.ground is None:
        return
    shown = earth.corners if len(earth.corners) <= MANY_CORNERS else (high, low)
    words = {low.name: ", low", high.name: ", high"} if high is not low else {}
    each = (f"{it.name} {layout.notation.decimal(it.ground or 0.0, 2)}{words.get(it.name, '')}" for it in shown)
    yield f"Ground at the corners (G): {'; '.join(each)}; {layout.notation.length(high.ground - low.ground)} apart."
