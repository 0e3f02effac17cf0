"""The sheet of the ground, its table for a spreadsheet, and the pictures of its sections."""

from __future__ import annotations

import csv
import io

import pytest
from making import PLACED_RECTANGLE, ROUND_PAD, layout_of, sample

from staking import check
from staking.drawing.fit import fit
from staking.drawing.layers import LAYERS
from staking.drawing.marks import TextMark
from staking.drawing.paper import Fitted, PaperLine
from staking.drawing.sections import section_drawing, stations_of
from staking.exports.ground_csv import COLUMNS, ground_csv
from staking.exports.html import html
from staking.exports.points_csv import points_csv
from staking.layout.computed import Layout
from staking.sheets.ground import ground_sheet
from staking.sheets.page import Picture

OUTSIDE = "[floor]\nelevation = 9\n[[ground]]\npoints = ['A', 'B', 'C']\n"
UPS = ("A = [0, 0, 5]", "B = [0, 100, 5]", "C = [50, 50, 5]")


def _partly() -> Layout:
    text = PLACED_RECTANGLE.replace("A = [0, 0]\nB = [0, 100]\nC = [120, 100]", "\n".join(UPS) + "\nE = [120, 100]")
    text = text.replace('["A", "B", "C", "D"]', '["A", "B", "E", "D"]', 1).replace(
        "depth = 24", "depth = 24\nthickness=1"
    )
    return layout_of(text + OUTSIDE)


def test_the_sheet_of_the_sample() -> None:
    """Corners, volumes by three ways, contours, four sections and the findings of water."""
    layout = sample("sloping_lot")
    sheet = ground_sheet(layout, check(layout))
    page = html(sheet)
    assert "fill under the slab 33.67 cu yd" in page
    assert "highest at 103" in page
    assert "[water-ground-fall]" in page
    assert len([block for block in sheet.blocks if isinstance(block, Picture)]) == 5


def test_what_lies_outside_the_points_is_said() -> None:
    """Corners, area, and a side under which nothing is known."""
    layout = _partly()
    page = html(ground_sheet(layout, check(layout)))
    assert "outside the points" in page
    assert "they are in no figure" in page


FOOTED = """
[[slab.footings]]
name = "wall"
width = 2
top = 2
depth = 1
[placement]"""
FLAT = "[floor]\nelevation = 9\n[[ground]]\npoints = ['A', 'B', 'C', 'D']\n"


def test_what_is_dug_besides_stands_in_a_table() -> None:
    """Trenches where there are footings, 2 by 1 ft below ground 1 ft lower; sides only where an excavation is asked."""
    text = PLACED_RECTANGLE.replace("[placement]", FOOTED).replace("depth = 24\n", "depth = 24\nthickness = 1\n", 1)
    for name, at in (("A", "0, 0"), ("B", "0, 100"), ("C", "120, 100"), ("D", "120, 0")):
        text = text.replace(f"{name} = [{at}]", f"{name} = [{at}, 7]")
    straight, sloped = (
        html(ground_sheet(layout_of(text + FLAT + more), ())) for more in ("", "[overdig]\nsoil = 'C'\n")
    )
    assert "8.30 cu yd" in straight  # (36 x 24 - 32 x 20) / 27
    assert "sloped sides" not in straight
    assert "sloped sides" in sloped
    assert "edge outside the" in sloped


def test_the_finished_ground_has_a_column() -> None:
    """Only where it is given."""
    text = PLACED_RECTANGLE
    for name, at in (("A", "0, 0"), ("B", "0, 100"), ("C", "120, 100"), ("D", "120, 0")):
        text = text.replace(f"{name} = [{at}]", f"{name} = [{at}, 7]")
    graded = "[[ground]]\nstate = 'finished'\npoints = ['A', 'B', 'C', 'D']\n"
    before, after = (layout_of(text + FLAT + more) for more in ("", graded))
    assert "after grading" not in html(ground_sheet(before, ()))
    assert "after grading" in html(ground_sheet(after, ()))
    row = next(csv.DictReader(io.StringIO(ground_csv(after).decode("utf-8"))))
    assert (row["ground"], row["finished"]) == ("7.0000", "7.0000")


def test_without_ground_the_sheet_says_what_to_add() -> None:
    """One sentence; and nothing in the table but its head."""
    layout = layout_of(PLACED_RECTANGLE)
    assert "Add [[ground]]" in html(ground_sheet(layout, ()))
    assert ground_csv(layout).decode("utf-8").split() == [",".join(COLUMNS)]


def test_the_table_has_empty_cells_for_what_is_not_known() -> None:
    """The first corner of the sample in full; a corner outside the points without its ground."""
    rows = list(csv.reader(io.StringIO(ground_csv(sample("sloping_lot")).decode("utf-8"))))
    assert (rows[1][0], *rows[1][3:9]) == ("101", "corner", "100.2332", "102.3083", "2.0752", "100.6417", "-0.4085")
    (corner,) = (row for row in csv.reader(io.StringIO(points_csv(sample("sloping_lot")).decode())) if row[0] == "101")
    assert rows[1][:3] == corner[:3]  # name, north, east as in the list of points
    unknown = list(csv.reader(io.StringIO(ground_csv(_partly()).decode("utf-8"))))
    assert any(row[4] == "" for row in unknown[1:])


def test_a_side_outside_the_points_has_no_picture() -> None:
    """The far side lies beyond the triangle of points."""
    layout = _partly()
    assert layout.earth
    assert section_drawing(layout, layout.earth.sections[2]) is None


def test_sections_have_figures_at_their_stations() -> None:
    """Both ends and even feet between; heights as the surfaces have them, cut from ground to subgrade."""
    layout = sample("sloping_lot")
    assert layout.earth
    assert layout.design
    side = layout.earth.sections[1]
    stations = stations_of(layout, side)
    assert [round(each.along / 0.3048, 6) for each in stations] == [0, 10, 20, 28]
    line = layout.slab.form.sides[1]
    for each in stations:
        at = line.at(each.along)
        assert each.ground == pytest.approx(layout.earth.triangles.height(at), abs=2e-4)
        assert each.top == pytest.approx(layout.design.top(at.east, at.north), abs=2e-4)
    cut = stations[-1].cut
    assert cut is not None
    assert layout.notation.length(cut) == '4-3/8"'


def test_where_nothing_is_known_of_the_ground_a_station_has_no_cut() -> None:
    """Beyond the triangles of the points a dash stands in the table."""
    layout = _partly()
    assert layout.earth
    stations = stations_of(layout, layout.earth.sections[1])
    assert stations[-1].ground is None
    assert stations[-1].cut is None
    assert stations[-1].top is not None


def test_sections_can_be_told_apart_without_colour() -> None:
    """Top, ground and subgrade differ in width or dashes, and each bears its word once."""
    layout = sample("sloping_lot")
    assert layout.earth
    drawing = section_drawing(layout, layout.earth.sections[0])
    assert drawing
    looks = {(LAYERS[name].width, LAYERS[name].dash) for name in ("SLAB", "GROUND", "SUBGRADE")}
    assert len(looks) == 3
    words = [mark.text for mark in drawing.marks if isinstance(mark, TextMark)]
    assert [words.count(word) for word in ("top", "ground", "subgrade")] == [1, 1, 1]


@pytest.mark.parametrize("width", [300.0, 540.0])
def test_figures_of_levels_stand_at_their_lines(width: float) -> None:
    """On paper and on a telephone each stands left of its own line; a line further it would tell a wrong height."""
    layout = sample("sloping_lot")
    assert layout.earth
    for section in layout.earth.sections:
        drawing = section_drawing(layout, section)
        assert drawing
        fitted = fit(drawing, width, 116.0, trim=True)
        levels = _levels(fitted)
        figures = {text.text: text.box.y for text in fitted.texts if text.text.startswith("10") and "." in text.text}
        assert len(figures) == len(levels)
        assert sorted(figures.values()) == pytest.approx(levels, abs=3.0)
        assert sorted(figures, key=figures.__getitem__) == sorted(figures, key=float)


def _levels(fitted: Fitted) -> list[float]:
    """Where the level lines lie on paper, from the lowest."""
    width = LAYERS["LEVEL"].width
    lines = [shape for shape in fitted.shapes if isinstance(shape, PaperLine) and shape.stroke.width == width]
    return sorted({line.start.y for line in lines if line.start.y == line.end.y})


def test_sections_and_edges_of_an_arc_are_those_of_its_chord() -> None:
    """Both are drawn and measured from corner to corner, so neither may pass for the arc itself."""
    pad = ROUND_PAD
    for name, at in zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), strict=True):
        pad = pad.replace(f"{name} = [{at}]", f"{name} = [{at}, 9]")
    rest = '[floor]\nelevation = 9\n[[ground]]\npoints = ["A", "B", "C", "D"]\n[overdig]\nslope = 1\n'
    layout = layout_of(pad + rest)
    assert layout.earth
    assert layout.excavation
    chords = [f"chord of side {sides}" for sides in ("1-2", "2-3", "3-4", "4-1")]
    assert [section.name for section in layout.earth.sections] == chords
    assert [rim.name for rim in layout.excavation.rims] == chords
