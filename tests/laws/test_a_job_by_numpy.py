"""A whole comparison computed a second time from the site file's own figures, by numpy and scipy and nothing else.

Invented: a slab with an arc and a part on a grid with a combined factor, turned and out of shape.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from making import layout_of
from measuring import HOW
from numpy.typing import NDArray
from scipy.optimize import least_squares

from staking import Layout, compare
from staking.field.compared import Comparison
from staking.field.measured import read_measured
from staking.sitefile.pointlists.opening import Asked
from staking.units import UNITS

Matrix = NDArray[np.float64]

FACTOR = 0.99944
PINS = {"A": (431006.118, 4512008.412), "B": (431071.334, 4512021.905), "C": (431060.702, 4512073.127)}
PINS |= {"D": (430995.486, 4512059.633), "T": (431031.169, 4512042.682)}  # east, north; a tree beside the arc
LOCAL = [(0, 0), (24, 0), (24, 9), (16, 17), (16, 20), (0, 20)]  # right and away from corner 1; an arc from 3 to 4
PART = [(4, 0), (10, 0), (10, -2.5), (4, -2.5)]
SITE = f"""
[site]
name = "Yard"
unit = "m"
[coordinates]
crs = "EPSG:6341"
values = "grid"
combined_factor = {FACTOR}
[points]
{"".join(f"{name} = [{north}, {east}]{chr(10)}" for name, (east, north) in PINS.items())}
[lot]
given_by = "surveyor"
corners = ["A", "B", "C", "D"]
sides = ["road", "east", "rear", "west"]
[setbacks]
road = 7.5
east = 4
rear = 5
west = 4
[[keep_clear]]
name = "tree"
around = "T"
radius = 1
[slab]
kind = "traced"
steps = ["right 24", "away 9", "left 8 away 8 curve right 8", "away 3", "left 16", "toward 20"]
[[slab.parts]]
name = "wash bay"
side = 1
from = 1
start = 4
width = 6
depth = 2.5
[placement]
kind = "from_lines"
side = 1
reference = "lot road"
distance = 12
corner = 1
from = "lot west"
clear = 8
[[stakes]]
kind = "corners"
"""


def _ground(name: str) -> Matrix:
    """A pin on the ground, counted from A [m]."""
    return (np.array(PINS[name]) - PINS["A"]) / FACTOR


def _along(start: str, end: str) -> Matrix:
    way: Matrix = _ground(end) - _ground(start)
    return way / np.linalg.norm(way)


def _left(way: Matrix) -> Matrix:
    return np.array([-way[1], way[0]])


def _turn(degrees: float) -> Matrix:
    """Clockwise, for rows of east and north."""
    turn = math.radians(degrees)
    return np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])


RIGHT = _along("A", "B")
AWAY, FROM_WEST = _left(RIGHT), _left(_along("D", "A"))
# 12 m from the road line and 8 m from the west line, which both run through A and are not quite square
CORNER = np.linalg.solve(np.array([AWAY, FROM_WEST]), [12, 8])
DESIGN = np.array([CORNER + x * RIGHT + y * AWAY for x, y in (*LOCAL, *PART)])
OFF = np.random.default_rng(5).normal(0, 0.002, DESIGN.shape)
MEASURED = DESIGN @ _turn(0.1) + (0.021, -0.013) + OFF


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    """The list read from its file, on the grid, and compared."""
    layout = layout_of(SITE)
    path = tmp_path_factory.mktemp("job") / "set.csv"
    rows = [f"{101 + at},{n:.9f},{e:.9f}" for at, (e, n) in enumerate((MEASURED * FACTOR + PINS["A"]).tolist())]
    path.write_text("\n".join(["name,north,east", *rows]), encoding="utf-8")
    points, how = read_measured(layout, Path(path), Asked(site_unit=UNITS["m"]), HOW)
    return compare(layout, points, how)


def _close(wanted: float) -> object:
    return pytest.approx(wanted, abs=1e-7)  # coordinates of millions of metres in double precision


def test_off_each_wall_line(found: Comparison) -> None:
    """North and east; outside and along each straight side of every corner."""
    names = found.layout.corner_names
    arc = (names[2], names[3])
    for at, each in enumerate(found.corners):
        step = MEASURED[at] - DESIGN[at]
        assert (each.plan.east, each.plan.north) == (_close(step[0]), _close(step[1]))
        for side in (each for each in each.sides if (each.start, each.end) != arc):
            run = DESIGN[names.index(side.end)] - DESIGN[names.index(side.start)]
            way = run / np.linalg.norm(run)
            assert side.out == _close(step @ np.array([way[1], -way[0]]))
            assert side.along == _close(step @ way)


def test_placement_and_shape(found: Comparison) -> None:
    """Shift and turn of the six corners by scipy's least squares, and what is left, turned back."""
    design, measured, middle = DESIGN[:6], MEASURED[:6], DESIGN[:6].mean(axis=0)

    def left(numbers: Matrix) -> Matrix:
        rest: Matrix = measured - middle - numbers[:2] - (design - middle) @ _turn(float(numbers[2]))
        return rest.ravel()

    best = least_squares(left, np.zeros(3), x_scale=(1, 1, 0.5), xtol=1e-15, ftol=1e-15, gtol=1e-15).x
    placed = found.placement
    assert placed is not None
    assert (placed.shift.east, placed.shift.north) == (_close(best[0]), _close(best[1]))
    assert placed.turn == pytest.approx(best[2], abs=1e-6)
    rests = left(best).reshape(-1, 2) @ _turn(-best[2])
    assert np.allclose([(rest.east, rest.north) for _, rest in placed.shape], rests, atol=1e-7)


def test_room_by_the_measured_outline(found: Comparison) -> None:
    """Setbacks from corners and part; the tree from the arc, whose rise keeps its share of the chord."""
    pins = {"road": "AB", "east": "BC", "rear": "CD", "west": "DA"}
    room = {each.design.of: each.now.room for each in found.margins if each.now is not None}
    for side, required in (("road", 7.5), ("east", 4), ("rear", 5), ("west", 4)):
        way, start = _along(*pins[side]), _ground(pins[side][0])
        square = (MEASURED - start) @ np.array([-way[1], way[0]])
        assert room[side] == _close(square.min() - required)
    chord = MEASURED[3] - MEASURED[2]
    size = float(np.linalg.norm(chord))
    radius = 8 * size / math.hypot(8, 8)
    square = np.array([chord[1], -chord[0]]) / size  # the centre lies right of the way from corner 3 to corner 4
    centre = (MEASURED[2] + MEASURED[3]) / 2 + square * math.sqrt(radius**2 - size**2 / 4)
    wanted = radius - float(np.linalg.norm(_ground("T") - centre)) - 1
    assert 0 < wanted - room["tree"] < 1e-4  # arcs are chords there, so that it errs to the safe side


def test_lengths(found: Comparison) -> None:
    """Sides and diagonals between the measured corners."""
    layout: Layout = found.layout
    number = {name: at for at, name in enumerate(layout.corner_names)}
    for each in (each for each in found.lengths if each.kind != "tie"):
        one, other = number[each.start], number[each.end]
        assert each.measured == _close(float(np.linalg.norm(MEASURED[one] - MEASURED[other])))
        assert each.design == _close(float(np.linalg.norm(DESIGN[one] - DESIGN[other])))
