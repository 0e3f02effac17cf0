"""Whole sites solved: rectangles and ells against published layouts, and what placements refuse."""

from __future__ import annotations

import pytest
from making import SQUARE_LOT, layout_of, published

from staking import SolveError
from staking.survey.intersections import angle_at
from staking.survey.points import Point, azimuth, distance

CASES = {case["id"]: case for case in published("layout")}

PLACED = """
[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = "setback"
corner = "front-left"
from = "lot left"
clear = "12'"
"""


def _slab(width: str, depth: str, placed: str = PLACED) -> str:
    return f'{SQUARE_LOT}[slab]\nwidth = "{width}"\ndepth = "{depth}"\n{placed}'


@pytest.mark.parametrize("name", ["30.25 by 40.25", "12.5 by 4"])
def test_diagonals_come_out_as_the_trade_knows_them(name: str) -> None:
    """Both diagonals of the rectangle are printed as common practice has them."""
    case = CASES[name]
    layout = layout_of(_slab(case["width"], case["depth"]))
    assert [layout.notation.length(d.length) for d in layout.diagonals] == [case["diagonal"]] * 2


@pytest.mark.parametrize("triangle", CASES["h06"]["triangles"])
def test_multiples_of_three_four_five_are_square(triangle: list[int]) -> None:
    """A rectangle of such sides has exactly such a diagonal, and right angles in its corners."""
    layout = layout_of(_slab(f"{triangle[0]} ft", f"{triangle[1]} ft"))
    corners = layout.slab.form.corners
    assert layout.diagonals[0].length == pytest.approx(triangle[2] * 0.3048, abs=1e-12)
    assert angle_at(corners[0], corners[1], corners[3]) == pytest.approx(90.0, abs=1e-12)


def test_ell_of_the_exam_question() -> None:
    """A traced ell, placed from a station by a bearing and a parallel, gets the published corners."""
    case = CASES["f10"]
    (ke, kn), (me, mn) = case["station"], case["other"]
    ae, an = case["corners"]["A"]
    along = azimuth(Point(ke, kn), Point(me, mn))
    # traced clockwise as the question has it: A to B along the front, then toward the one who looks at it
    text = f"""
[site]
name = "exam question"
unit = "m"
[points]
K = [{kn}, {ke}]
M = [{mn}, {me}]
A = [{an}, {ae}]
[slab]
kind = "traced"
steps = ["right 30", "toward 15", "left 18", "toward 10", "left 12", "away 25"]
[placement]
kind = "at_point"
corner = 1
at = "A"
side = "1-2"
bearing = {along!r}
"""
    layout = layout_of(text)
    for corner, wanted in zip(layout.slab.form.corners, case["corners"].values(), strict=True):
        there = layout.frame.to_file(corner)
        assert (there.east, there.north) == pytest.approx(wanted, abs=2 * case["within"])


def test_from_lines_keeps_both_distances() -> None:
    """The front side stands at the setback, the corner at its distance from the left line."""
    layout = layout_of(_slab("36'", "48'-6"))
    room = {margin.of: margin for margin in layout.margins}
    assert room["front"].distance == pytest.approx(25 * 0.3048, abs=1e-12)
    assert room["left"].distance == pytest.approx(12 * 0.3048, abs=1e-12)
    assert room["front"].room == 0.0


def test_ledge_is_part_of_the_formed_outline() -> None:
    """With a ledge the formed outline grows on all sides, and placement and margins are measured to it."""
    text = _slab("36'", "48'").replace("[placement]", 'ledge = "1-3/4 in"\n[placement]', 1)
    layout = layout_of(text)
    assert layout.notation.length(layout.sides[0].length) == "36' 3-1/2\""
    assert layout.margins[0].distance == pytest.approx(25 * 0.3048, abs=1e-12)
    assert distance(layout.slab.building[0], layout.slab.building[1]) == pytest.approx(36 * 0.3048)


AT_POINT = """
[placement]
kind = "at_point"
corner = "{corner}"
at = "A"
side = "{side}"
{direction}
shift = ["10'", "30'"]
"""


@pytest.mark.parametrize("direction", ['bearing = "N 90 E"', 'toward = "B"', "bearing = 90"])
def test_at_point_with_a_shift(direction: str) -> None:
    """The corner stands right and away of the point by the shift, whichever way the direction is given."""
    placed = AT_POINT.format(corner="front-left", side="front", direction=direction)
    layout = layout_of(_slab("20'", "10'", placed))
    at = layout.frame.to_file(layout.slab.form.corners[0])
    assert (at.east / 0.3048, at.north / 0.3048) == pytest.approx((10.0, 30.0), abs=1e-9)
    assert layout.sides[0].azimuth == pytest.approx(90.0, abs=1e-9)


def test_toward_from_the_end_of_a_side() -> None:
    """A corner at the end of the side: the side runs toward the point all the same."""
    placed = AT_POINT.format(corner="front-right", side="front", direction='toward = "B"')
    layout = layout_of(_slab("20'", "10'", placed))
    assert layout.sides[0].azimuth == pytest.approx(270.0, abs=1e-9)


CENTERED = """
[placement]
kind = "centered"
between = ["{first}", "{second}"]
side = "front"
reference = "lot front"
distance = "30'"
"""


def test_centered_leaves_equal_room() -> None:
    """On a lot that widens, the least distances to left and right line are equal."""
    text = _slab("30'", "20'", CENTERED.format(first="lot left", second="lot right"))
    layout = layout_of(text.replace("C = [120, 100]", "C = [120, 130]"))
    room = {margin.of: margin for margin in layout.margins}
    assert room["left"].distance == pytest.approx(room["right"].distance, abs=1e-9)


@pytest.mark.parametrize(
    ("placed", "message"),
    [
        (PLACED.replace('from = "lot left"', 'from = "lot rear"'), "runs along"),
        (PLACED.replace('reference = "lot front"', 'reference = "lot frnt"'), "no line"),
        (PLACED.replace('side = "front"', 'side = "fornt"'), 'no side "fornt"'),
        (PLACED.replace('corner = "front-left"', "corner = 9"), "no corner 9"),
        (CENTERED.format(first="lot left", second="lot rear"), "runs along"),
        (CENTERED.format(first="lot left", second="lot left"), "the same"),
        (AT_POINT.format(corner="front-left", side="back", direction='toward = "B"'), "no end of"),
    ],
)
def test_placements_that_leave_something_open_are_explained(placed: str, message: str) -> None:
    """Nothing is guessed: the sentence says what is missing or wrong, and where."""
    from staking import InputError

    with pytest.raises(InputError) as refused:
        layout_of(_slab("20'", "10'", placed))
    finding = refused.value.findings[0]
    assert message in finding.message
    assert finding.remedy
    assert finding.place is not None
    assert finding.place.line > 0


def test_a_line_through_the_lot_needs_a_side() -> None:
    """A fence across the lot does not tell on which side the slab lies; a point does."""
    fence = '[[references]]\nname = "fence"\nthrough = ["F", "G"]\n'
    text = _slab("20'", "10'", fence + PLACED.replace('"lot front"', '"fence"').replace('"setback"', '"10 ft"'))
    text = text.replace("[lot]", "F = [50, 0]\nG = [50, 100]\n[lot]")
    with pytest.raises(SolveError) as refused:
        layout_of(text)
    assert "runs through the lot" in refused.value.findings[0].message
    layout = layout_of(text + 'toward = "C"\n')
    assert layout.frame.to_file(layout.slab.form.corners[0]).north / 0.3048 == pytest.approx(60.0)


def test_grid_values_are_brought_to_the_ground_and_back() -> None:
    """With a combined factor the slab has its size on the ground, and its grid coordinates shrink by the factor."""
    text = SQUARE_LOT.replace("[points]", '[coordinates]\nvalues = "grid"\ncombined_factor = 0.9998\n[points]')
    layout = layout_of(text + '[slab]\nwidth = "40 ft"\ndepth = "20 ft"\n' + PLACED)
    a, b = (layout.frame.to_file(corner) for corner in layout.slab.form.corners[:2])
    assert distance(*layout.slab.form.corners[:2]) == pytest.approx(40 * 0.3048, abs=1e-9)
    assert distance(a, b) == pytest.approx(40 * 0.3048 * 0.9998, abs=1e-9)
    for name, point in layout.points.items():
        there = layout.frame.to_file(point.at)
        given = layout.site.given[name]
        assert (there.east, there.north) == pytest.approx((given.east, given.north), abs=1e-9)
