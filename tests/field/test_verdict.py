"""What a comparison comes to, sentence by sentence."""

from __future__ import annotations

import math
import random

import pytest
from making import PLACED_RECTANGLE, layout_of, sample
from measuring import HOW, INCH, as_designed, off

from staking import compare
from staking.field.allowed import Tolerances
from staking.field.design_points import design_points


def test_many_points_have_a_statement_of_accuracy() -> None:
    """20 and more: the root mean square, and the 95 % figure of the standard for check points; 4 have none."""
    layout = sample("metric_hall")
    drawn = random.Random(2)  # noqa: S311 - the same points each time
    names = [each.name for each in design_points(layout) if each.what != "given"]
    points = [off(each, drawn.gauss(0, 0.002), drawn.gauss(0, 0.002)) for each in as_designed(layout, *names)]
    found = compare(layout, points, HOW)
    steps = [each.plan for each in found.deviations]
    radial = math.sqrt(sum(step.dot(step) for step in steps) / len(steps))
    (text,) = (line.text for line in found.verdict if "together" in line.text)
    assert text.startswith(f"{len(points)} points together: root mean square {radial * 1000:.0f} mm in plan")
    assert text.endswith("mm horizontal accuracy at 95 % confidence level (NSSDA)")
    few = compare(layout, as_designed(layout), HOW)
    assert not any("together" in line.text for line in few.verdict)


def test_the_least_room_is_told() -> None:
    """By the outline as measured."""
    layout = sample("tape_only_shed")
    (text,) = (line.text for line in compare(layout, as_designed(layout), HOW).verdict if "clears" in line.text)
    assert text == "the slab clears every line; the least room, setback west, 6' 8-5/8\""


def test_no_figure_for_a_long_slab() -> None:
    """Where the handbook ends, what was measured is said, and nothing is judged."""
    text = (
        '[site]\nname = "x"\nunit = "ft"\n[points]\nA = [0, 0]\nB = [0, 400]\nC = [400, 400]\nD = [400, 0]\n'
        '[lot]\ngiven_by = "surveyor"\ncorners = ["A", "B", "C", "D"]\nsides = ["front", "right", "rear", "left"]\n'
        '[slab]\nkind = "rectangle"\nwidth = 200\ndepth = 150\n[placement]\nkind = "from_lines"\nside = "front"\n'
        'reference = "lot front"\ndistance = 50\ncorner = "front-left"\nfrom = "lot left"\nclear = 50\n'
        '[[stakes]]\nkind = "corners"\n'
    )
    layout = layout_of(text)
    points = as_designed(layout)
    points[0] = off(points[0], 0.003)
    found = compare(layout, points, HOW)
    assert {each.answer for each in found.corners} == {"not judged"}
    assert found.verdict[-1].text == (
        "every measured corner is within 1/8 in of the drawing; no figure says what is allowed; the inspector decides"
    )
    assert found.verdict[-1].answer == "not judged"


def test_two_corners_are_no_shape_that_is_right() -> None:
    """One side measured proves nothing of the form but its own length."""
    layout = sample("tape_only_shed")
    one, other = as_designed(layout, "101", "102")
    (well,) = (line for line in compare(layout, [one, other], HOW).verdict if "shape" in line.text)
    assert well.text.endswith("no more than the distance between them, and that is within tolerance")
    (badly,) = (line for line in compare(layout, [one, off(other, INCH)], HOW).verdict if "shape" in line.text)
    assert (badly.text, badly.answer) == ("out of shape: side 101-102 1 in long", "out")
    (none,) = (line for line in compare(layout, [one, other], HOW, placed=True).verdict if "shape" in line.text)
    assert (none.text.endswith("the distance between them"), none.answer) == (True, "not judged")


def test_a_shape_that_is_not_judged_is_not_called_right() -> None:
    """No figure for the sides and diagonals of placed concrete: how far out it is stands there, and no more."""
    layout = sample("tape_only_shed")
    points = [off(each, INCH * (each.name == "103")) for each in as_designed(layout)]
    (line,) = (each for each in compare(layout, points, HOW, placed=True).verdict if "shape" in each.text)
    assert line.text.startswith("a corner is out of shape by 11/16 in; no figure says what is allowed")
    assert line.answer == "not judged"


def test_a_corner_is_judged_by_the_longer_of_its_sides() -> None:
    """A side below 10 ft is laid out to 1/8 in; a corner between it and a longer one is right to 1/4 in."""
    layout = layout_of(PLACED_RECTANGLE.replace("depth = 24", "depth = 9"))
    allowed = Tolerances(layout)
    assert [allowed.position(corner).plus_minus for corner in range(4)] == pytest.approx([INCH / 4] * 4)
    assert [allowed.length(side.chord).plus_minus for side in layout.sides] == pytest.approx([INCH / 4, INCH / 8] * 2)
