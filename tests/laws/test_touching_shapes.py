"""A slab full of things that touch one another gives the same figures wherever it lies, and stops nowhere."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from making import RandomSite, Turn, layout_of, turns

from staking import Layout

LOT = RandomSite(((0.0, 0.0), (40.0, 0.0), (40.0, 60.0), (0.0, 60.0)), 12.0, 8.0, 9.0, 7.0)

# Two recesses side by side along the front, two parts side by side in front of them, a tank against the right side.
TANK = ((19.0, 9.0), (22.0, 9.0), (22.0, 14.0), (19.0, 14.0))
SLAB = """
[slab]
thickness = 0.1
width = 12
depth = 8
[[slab.recesses]]
name = "hall"
lower = 0.05
x = 2
y = 0
width = 3
depth = 2
[[slab.recesses]]
name = "bath"
lower = 0.05
x = 5
y = 0
width = 2
depth = 2
[[slab.parts]]
name = "porch"
side = "front"
from = "front-left"
start = 2
width = 4
depth = 2
[[slab.parts]]
name = "step"
side = "front"
from = "front-left"
start = 6
width = 3
depth = 2
[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = 9
corner = "front-left"
from = "lot left"
clear = 7
[floor]
elevation = 100
[[keep_clear]]
name = "tank"
points = ["K1", "K2", "K3", "K4"]
"""


def _text(turn: Turn) -> str:
    tank = "".join(
        f"K{index} = {{ north = {north!r}, east = {east!r} }}\n"
        for index, (east, north) in enumerate((turn(*corner) for corner in TANK), start=1)
    )
    return LOT.text(turn, slab=SLAB).replace("[lot]", f"{tank}[lot]", 1)


def _areas(layout: Layout) -> dict[str, float]:
    assert layout.design is not None
    areas = {piece.name: float(piece.shape.area) for piece in layout.design.pieces}
    return areas | {"counted": float(layout.slab.counted.area), "whole": float(layout.slab.form.whole.area)}


# places where plain overlays stopped the job: "the recess reaches out of the slab"
@example(Turn(143.78498913475462, 301, 248))
@example(Turn(146.98827696589353, 145, 95))
@example(Turn(143.68676479069677, 240, -309))
@example(Turn(312.81514895924596, 148, 416))
@example(Turn(227.78258613468495, 62, -364))
@example(Turn(49.165255420786266, -299, 355))
@given(turns)
@settings(max_examples=60, deadline=None)
def test_what_touches_gives_the_same_figures_everywhere(turn: Turn) -> None:
    """Areas of floor, recesses and parts by hand, the volume, and no room to the tank, which is no stop."""
    layout = layout_of(_text(turn))
    by_hand = {"slab": 96 - 6 - 4, "hall": 6, "bath": 4, "porch": 8, "step": 6, "counted": 110, "whole": 110}
    assert _areas(layout) == pytest.approx(by_hand, abs=1e-6)
    assert layout.design is not None
    assert layout.design.volume == pytest.approx(11.0, abs=1e-7)
    assert layout.margins[-1].room == pytest.approx(0, abs=1e-6)


DUG = """
[[slab.footings]]
name = "wall"
width = 0.6
top = 0.5
depth = 0.3
[overdig]
slope = 1.5
room = 0.6
[[ground]]
points = ["L1", "L2", "L3", "L4"]
"""


def _dug(turn: Turn) -> tuple[float, float]:
    """Area within the edge of the excavation, and what is dug; the ground is a plane."""
    text = _text(turn) + DUG
    for index, up in enumerate((100.2, 100.6, 101.1, 100.7), start=1):
        text = text.replace(f"\nL{index} = {{", f"\nL{index} = {{ elevation = {up},")
    earth = layout_of(text).earth
    assert earth is not None
    assert earth.pit is not None
    return float(earth.pit.edge.area), earth.pit.volume


@given(turns)
@example(Turn(204.66179279690834, 32805, 524272))
@example(Turn(30, 1000, 1000))
@settings(max_examples=15, deadline=None)
def test_the_excavation_has_one_edge_everywhere(turn: Turn) -> None:
    """Its sides run to the ground over triangles that touch; none of these is lost, whichever way the site lies."""
    assert _dug(turn) == pytest.approx(_dug(Turn()), rel=1e-5)
