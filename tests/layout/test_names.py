"""Places that nobody named get names that nobody else has."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.layout.tape_plan import tape_plan

ELL = 'kind = "ell"\nwidth = 36\ndepth = 24\nmissing = "back-right"\ncut_width = 16\ncut_depth = 12'


@pytest.mark.parametrize("given", ["S1", "s1", "C1", "c6", "T1"])
def test_names_of_given_points_are_left_to_them(given: str) -> None:
    """A nail called like a crossing of strings, a corner without a stake or a frame mark keeps its name alone."""
    text = PLACED_RECTANGLE.replace("width = 36\ndepth = 24", ELL).replace("[lot]", f"{given} = [10, 10]\n[lot]")
    layout = layout_of(text)
    plan = tape_plan(layout)
    assert plan is not None
    crossings = [crossing.name for crossing in layout.crossings]
    assert crossings
    made = [
        *layout.corner_names,
        *crossings,
        *(name for name, real in zip(plan.names, plan.real, strict=True) if not real),
    ]
    taken = [name.casefold() for name in (*layout.points, *made)]
    assert len(set(taken)) == len(taken)
