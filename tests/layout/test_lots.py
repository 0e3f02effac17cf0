"""The lot, its lines, what may be built on, and lots that cannot be."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import InputError, SolveError

FT2 = 0.3048**2


def _clear(area: str) -> str:
    return PLACED_RECTANGLE.replace("[slab]", f'[[keep_clear]]\nname = "x"\n{area}\n[slab]')


def test_buildable_area_is_the_lot_less_setbacks() -> None:
    """A square lot of 100 by 120 with 25, 7.5, 7.5 and 20 ft leaves 85 by 75 ft."""
    layout = layout_of(PLACED_RECTANGLE)
    assert layout.buildable is not None
    assert layout.buildable.area / FT2 == pytest.approx(85 * 75)


@pytest.mark.parametrize(
    ("area", "taken"),
    [
        ('along = "rear"\nwidth = 30', 85 * 10),
        ('around = "P"\nradius = 10', 0.25 * 3.14159265 * 100),
        ('points = ["P", "Q", "R"]', 50.0),
    ],
)
def test_areas_to_keep_clear_are_taken_off(area: str, taken: float) -> None:
    """A strip along a side, a circle round a point, a triangle of points."""
    points = "P = [25, 7.5]\nQ = [35, 7.5]\nR = [25, 17.5]\n[lot]"
    layout = layout_of(_clear(area).replace("[lot]", points))
    assert layout.buildable is not None
    assert 85 * 75 - layout.buildable.area / FT2 == pytest.approx(taken, rel=2e-4)


@pytest.mark.parametrize(
    ("area", "distance"),
    [('along = "rear"\nwidth = 30', 120 - 64), ('around = "P"\nradius = 10', 5.0), ('points = ["P", "Q", "R"]', 5.0)],
)
def test_room_to_an_area_is_exact(area: str, distance: float) -> None:
    """Measured from the side, point or corner itself, not from a drawn curve."""
    points = "P = [50, 25]\nQ = [50, 15]\nR = [45, 15]\n[lot]"
    layout = layout_of(_clear(area).replace("[lot]", points))
    assert layout.margins[-1].distance / 0.3048 == pytest.approx(distance)


def test_a_slab_in_a_polygon_to_keep_clear_is_as_deep_in_as_it_reaches() -> None:
    """Overlap with a polygon shows as a distance below 0."""
    points = "P = [50, 20]\nQ = [50, 33]\nR = [55, 33]\nS = [55, 20]\n[lot]"
    layout = layout_of(_clear('points = ["P", "Q", "R", "S"]').replace("[lot]", points))
    assert layout.margins[-1].distance / 0.3048 == pytest.approx(-3.0)


def test_beyond_the_lot_line_is_below_zero() -> None:
    """A slab that reaches over the right line is minus as far from it as it reaches over."""
    layout = layout_of(PLACED_RECTANGLE.replace("clear = 30", "clear = 68"))
    right = next(margin for margin in layout.margins if margin.of == "right")
    assert right.distance / 0.3048 == pytest.approx(-4.0)
    assert right.room / 0.3048 == pytest.approx(-11.5)


def test_pieces_of_one_side_make_one_line() -> None:
    """Two straight pieces with one name are one line, also over the end of the list of corners."""
    text = PLACED_RECTANGLE.replace('["A", "B", "C", "D"]', '["E", "B", "C", "D", "A"]').replace(
        '["front", "right", "rear", "left"]', '["front", "right", "rear", "left", "front"]'
    )
    layout = layout_of(text.replace("[lot]", "E = [0, 40]\n[lot]"))
    base = layout.lines["lot front"]
    assert (base.start_name, base.end_name) == ("A", "B")
    assert base.line.length / 0.3048 == pytest.approx(100.0)


def test_a_bent_side_is_no_line_to_measure_from() -> None:
    """Two pieces with a bend between them cannot be a reference, and the sentence says so."""
    text = PLACED_RECTANGLE.replace('["A", "B", "C", "D"]', '["A", "E", "B", "C", "D"]').replace(
        '["front", "right"', '["front", "front", "right"'
    )
    with pytest.raises(InputError, match="not one straight line"):
        layout_of(text.replace("[lot]", "E = [-3, 40]\n[lot]"))


@pytest.mark.parametrize(
    ("corners", "message"),
    [('["A", "C", "B", "D"]', "cross"), ('["A", "B", "E", "D"]', "no length"), ('["A", "B", "F", "D"]', "runs back")],
)
def test_faulty_lots_are_refused(corners: str, message: str) -> None:
    """Crossing sides, sides without length, a side that doubles back."""
    points = "E = [0, 100]\nF = [0, 40]\n[lot]"
    with pytest.raises(InputError, match=message):
        layout_of(PLACED_RECTANGLE.replace('["A", "B", "C", "D"]', corners).replace("[lot]", points))


NOTCHED = """
[site]
name = "notched lot"
unit = "m"
[points]
A = [0, 0]
B = [0, 30]
C = [20, 30]
D = [20, 18]
E = [14, 16]
F = [20, 14]
G = [20, 0]
[lot]
given_by = "surveyor"
corners = ["A", "B", "C", "D", "E", "F", "G"]
sides = ["front", "right", "rear", "notch right", "notch left", "rear", "left"]
[slab]
width = 20
depth = 6
[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = 10
corner = "front-left"
from = "lot left"
clear = 5
"""


def test_an_edge_that_bridges_a_notch_lies_off_the_lot() -> None:
    """No corner of the slab is outside, but its back edge runs over a piece of the neighbour's land."""
    layout = layout_of(NOTCHED)
    worst = min(layout.margins, key=lambda margin: margin.room)
    assert worst.of in ("notch left", "notch right")
    # the notch is 4/3 m wide where the edge crosses it; square to its side that is 4/3 m by the cosine of 1 in 3
    assert worst.room == pytest.approx(-4 / 3 * 3 / 10**0.5, abs=1e-9)


def test_an_exempt_part_may_not_cross_the_lot_line() -> None:
    """A ramp that the setbacks exempt still stops at the property line."""
    part = '[[slab.parts]]\nname = "ramp"\nside = "front"\nfrom = "front-left"\nwidth = 9\ndepth = 42\nexempt = true\n'
    layout = layout_of(PLACED_RECTANGLE.replace("[placement]", f"{part}[placement]"))
    (over,) = (m for m in layout.margins if m.rule == "lot line" and m.of == "front")
    assert over.what == "parts"
    assert over.room / 0.3048 == pytest.approx(-2.0)


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ('[[keep_clear]]\nname = "pond"\npoints = ["A", "C", "B", "D"]\n', 'sides A to C and B to D of "pond" cross'),
        ('[[features]]\nkind = "drive"\nname = "drive"\noutline = ["A", "C", "B", "D"]\n', 'of "drive" cross'),
    ],
)
def test_areas_that_cross_themselves_are_named(table: str, words: str) -> None:
    """A pond or a drive whose corners are out of order stops the reading with its line, not with a crash."""
    with pytest.raises(SolveError) as caught:
        layout_of(PLACED_RECTANGLE + table)
    (finding,) = caught.value.findings
    assert words in finding.message
    assert finding.code == "outline-faulty"
    assert finding.place is not None
