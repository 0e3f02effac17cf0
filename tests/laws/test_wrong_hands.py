"""Slips of sign and side that a formula could make unseen: each has a site on which it shows."""

from __future__ import annotations

import io

import pytest
from ezdxf.filemanagement import read
from making import PLACED_RECTANGLE, SQUARE_LOT, layout_of

from staking import check
from staking.drawing.draw import plan
from staking.exports.dxf import dxf

FOOT = 0.3048
REST = PLACED_RECTANGLE[len(SQUARE_LOT) :]


@pytest.mark.parametrize(("toward", "north"), [("T", 60.0), ("S", 20.0)])
def test_a_parallel_lies_on_the_side_of_its_point(toward: str, north: float) -> None:
    """20 ft from a line at 40 north: at 60 toward a point beyond it, at 20 toward one before it."""
    lines = '[[references]]\nname = "wall"\nthrough = ["E", "F"]\n'
    lines += f'[[references]]\nname = "beside"\nkind = "parallel"\nto = "wall"\ndistance = 20\ntoward = "{toward}"\n'
    points = "E = [40, 10]\nF = [40, 90]\nT = [110, 50]\nS = [5, 50]\n[lot]"
    layout = layout_of(SQUARE_LOT.replace("[lot]", points) + lines + REST)
    start = layout.frame.to_file(layout.lines["beside"].line.start)
    assert start.north / FOOT == pytest.approx(north)


def test_clear_is_square_from_a_line_that_slants() -> None:
    """The left line leans by 20 ft in 120: the corner stands 30 ft square from it, not along the front."""
    layout = layout_of(PLACED_RECTANGLE.replace("D = [120, 0]", "D = [120, -20]"))
    (tie,) = (tie for tie in layout.ties if tie.corner == "C1" and tie.line == "lot left")
    assert tie.distance / FOOT == pytest.approx(30.0)


@pytest.mark.parametrize(("east", "hand"), [("48", "right"), ("52", "left")])
def test_a_bent_line_says_the_hand_of_the_point(east: str, hand: str) -> None:
    """A line of three points walked to the east: what lies north of it is on the left."""
    bent = f"E = [40, 10]\nF = [{float(east) - 10}, 50]\nG = [40, 90]\n[lot]"
    line = '[[references]]\nname = "wall"\nthrough = ["E", "F", "G"]\n'
    found = check(layout_of(SQUARE_LOT.replace("[lot]", bent) + line + REST))
    (bend,) = (each for each in found if each.code == "line-bent" and "F lies" in each.message)
    assert f"to the {hand}" in bend.message


@pytest.mark.parametrize(("unit", "measurement"), [("ft", 0), ("m", 1)])
def test_a_drawing_says_inches_or_metres(unit: str, measurement: int) -> None:
    """$MEASUREMENT is 0 for English and 1 for metric drawings (DXF reference, from memory)."""
    layout = layout_of(PLACED_RECTANGLE.replace('unit = "ft"', f'unit = "{unit}"'))
    written = dxf(layout, plan(layout)).decode("ascii")
    assert read(io.StringIO(written)).header["$MEASUREMENT"] == measurement


def _stated(text: str) -> list[str]:
    """The area finding of a lot of 100 by 120 ft (12,000 sq ft) whose record states another."""
    courses = "".join(
        f'[[lot.courses]]\nside = "{side}"\nbearing = "{bearing}"\nlength = "{length}"\n'
        for side, bearing, length in (
            ("front", "N 90-00-00 E", "100.00"),
            ("right", "N 0-00-00 E", "120.00"),
            ("rear", "N 90-00-00 W", "100.00"),
            ("left", "S 0-00-00 E", "120.00"),
        )
    )
    lot = f'[lot]\ngiven_by = "surveyor"\nstart = "A"\nstated_area = "{text}"\n{courses}[setbacks]'
    head, _, tail = PLACED_RECTANGLE.partition("[lot]")
    found = check(layout_of(head + lot + tail.partition("[setbacks]")[2]))
    return [each.code for each in found if each.code == "area-differs"]


@pytest.mark.parametrize("right", ["12,000 sq ft", "0.2755 acres", "1114.8 sq m", "0.1115 hectares"])
def test_a_stated_area_that_is_right_is_right_in_every_unit(right: str) -> None:
    """12,000 sq ft are 0.2755 acres of 43,560 sq ft, 1,114.84 square metres, 0.1115 hectares."""
    assert _stated(right) == []


@pytest.mark.parametrize("wrong", ["12,100 sq ft", "0.2795 acres", "1124.8 sq m", "0.1145 hectares"])
def test_a_stated_area_that_is_wrong_is_told_in_every_unit(wrong: str) -> None:
    """More than the rounding of the calls and of the area itself."""
    assert _stated(wrong) == ["area-differs"]
