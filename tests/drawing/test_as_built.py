"""The drawing of what was measured beside what was computed."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from making import sample
from measuring import HOW, INCH, as_designed, off

from staking import Layout, MeasuredPoint, compare
from staking.drawing.as_built import (
    MANY,
    MOST_NAMED,
    ROUND,
    as_built_drawing,
    enlarged,
    enlargement,
    true_size_drawing,
)
from staking.drawing.fit import fit
from staking.drawing.marks import CircleMark, Drawing, LineMark, PathMark, SymbolMark, TextMark
from staking.drawing.paper import PaperLine
from staking.field.compared import Comparison
from staking.field.design_points import design_points
from staking.survey.points import distance
from staking.units import UNITS, parse_length


@pytest.fixture(scope="module")
def shed() -> Layout:
    """A rectangle of 40'-3 by 30'-3."""
    return sample("tape_only_shed")


def _moved(layout: Layout, east: float, *names: str) -> Comparison:
    """All corners measured, those named so far east of their place [m]."""
    points = [off(each, east) if each.name in names else each for each in as_designed(layout)]
    return compare(layout, points, HOW)


def _texts(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, TextMark)]


def _labels(drawing: Drawing) -> list[str]:
    return [mark.label for mark in drawing.marks if isinstance(mark, SymbolMark) and mark.label]


def _paths(drawing: Drawing, layer: str) -> list[PathMark]:
    return [mark for mark in drawing.marks if isinstance(mark, PathMark) and mark.layer == layer]


def _arrows(drawing: Drawing) -> list[LineMark]:
    return [mark for mark in drawing.marks if isinstance(mark, LineMark) and mark.layer == "DEVIATION"]


@pytest.mark.parametrize("inches", [0.125, 0.5, 1.125, 6, 40, 400])
def test_differences_are_enlarged_by_a_round_number(shed: Layout, inches: float) -> None:
    """Never so far that the largest arrow is longer than a sixth of the slab is deep, and told on the drawing."""
    found = _moved(shed, inches * INCH, "103")
    times = enlargement(found)
    assert times in ROUND
    assert times == 1 or times * inches * INCH <= 0.16 * 34 * 0.3048
    assert f" off, enlarged {times} times" in " ".join(_texts(as_built_drawing(found)))


def test_a_slab_well_within_does_not_look_out_of_shape(shed: Layout) -> None:
    """What is allowed sets the scale where the differences are smaller."""
    assert enlargement(_moved(shed, 0.01 * INCH, "103")) == enlargement(_moved(shed, 0.25 * INCH, "103"))


def test_arrows_run_from_computed_to_measured(shed: Layout) -> None:
    """One a point that is off, as often enlarged as is told, with a head at the end only."""
    found = _moved(shed, INCH, "103")
    (arrow,) = [
        mark for mark in as_built_drawing(found).marks if isinstance(mark, LineMark) and mark.layer == "DEVIATION"
    ]
    assert arrow.start == shed.slab.form.corners[2]
    assert distance(arrow.start, arrow.end) == pytest.approx(enlargement(found) * INCH)
    assert arrow.head
    assert not arrow.arrows


def test_the_measured_outline_runs_through_the_arrows_tips(shed: Layout) -> None:
    """Closed where every corner was measured; the design beside it is as computed."""
    found = _moved(shed, INCH, "103")
    drawing = as_built_drawing(found)
    (measured,) = _paths(drawing, "MEASURED")
    assert measured.closed
    assert measured.corners == tuple(enlarged(each, enlargement(found)) for each in found.corners)
    assert _paths(drawing, "DESIGN")[0].corners == shed.slab.form.corners


def test_sides_with_an_end_that_was_not_measured_are_left_out(shed: Layout) -> None:
    """Two of four sides are drawn, and the corner says that it was not measured."""
    drawing = as_built_drawing(compare(shed, as_designed(shed, "101", "102", "103"), HOW))
    measured = _paths(drawing, "MEASURED")
    assert [(path.closed, len(path.corners)) for path in measured] == [(False, 2), (False, 2)]
    assert "104 not measured" in _labels(drawing)


def test_what_is_out_says_so_in_words(shed: Layout) -> None:
    """Amounts stand beside every corner; OUT where it is more than is allowed, whatever the colour."""
    texts = _texts(as_built_drawing(_moved(shed, 1.125 * INCH, "103")))
    assert texts.count("0 in") == 3
    assert "1-1/8 in OUT" in texts


def test_a_height_that_is_out_is_written_on_the_plan() -> None:
    """The plan shows no heights; one that is out must not be missed."""
    layout = sample("sloping_lot")
    points = [off(each, up=0.1) if each.name == "102" else each for each in as_designed(layout)]
    assert "0 in, 3-15/16 in high OUT" in _texts(as_built_drawing(compare(layout, points, HOW)))


def test_circles_show_what_is_allowed(shed: Layout) -> None:
    """Round each corner, as often enlarged as the arrows: an arrow that leaves its circle is out."""
    found = _moved(shed, INCH, "103")
    circles = [mark for mark in as_built_drawing(found).marks if isinstance(mark, CircleMark)]
    assert [mark.centre for mark in circles] == list(shed.slab.form.corners)
    allowed = found.corners[0].allowed.plus_minus
    assert allowed is not None
    assert {mark.radius for mark in circles} == {allowed * enlargement(found)}


def _bars(drawing: Drawing) -> list[float]:
    """Lengths of the level lines of notes: the two scale bars [m]."""
    lines = [mark for mark in drawing.marks if isinstance(mark, LineMark) and mark.layer == "NOTE"]
    return [distance(mark.start, mark.end) for mark in lines if mark.start.north == mark.end.north]


@pytest.mark.parametrize("name", ["tape_only_shed", "metric_hall", "ell_house_on_grid"])
def test_scale_bars_are_as_long_as_they_say(name: str) -> None:
    """One for the ground, one for the enlarged differences."""
    layout = sample(name)
    found = _moved(layout, 0.02, layout.corner_names[0])
    drawing = as_built_drawing(found)
    unit = UNITS[layout.site.unit.name]
    ground, difference = _bars(drawing)
    (said,) = [text for text in _texts(drawing) if text.endswith(" on the ground")]
    assert ground == pytest.approx(float(parse_length(said.removesuffix(" on the ground"), unit)))
    (said,) = [text for text in _texts(drawing) if " off, enlarged " in text]
    length = float(parse_length(said.split(" off")[0], unit))
    assert difference == pytest.approx(enlargement(found) * length, rel=1e-5)  # a written inch is no survey inch


@pytest.mark.parametrize("size", [(528.0, 200.0), (360.0, 300.0)])
def test_words_of_scale_bars_stand_beside_their_bars(size: tuple[float, float]) -> None:
    """Also where a part and its amounts lie close above them: level with the bar, and just to the right of it."""
    layout = sample("ell_house_on_grid")
    names = [each.name for each in design_points(layout) if each.what in ("corner", "part")]
    crowded = [off(each, 0.03, -0.02) for each in as_designed(layout, *names)]
    on_paper = fit(as_built_drawing(compare(layout, crowded, HOW)), *size)
    level = [each for each in on_paper.shapes if isinstance(each, PaperLine) and each.start.y == each.end.y]
    words = [each.box for each in on_paper.texts if each.text.endswith((" on the ground", " times"))]
    assert len(words) == 2
    for each in words:
        assert any(abs(bar.end.y - each.y) < 1 and 0 < each.low_x - bar.end.x < 10 for bar in level)


def test_the_north_arrow_points_north(shed: Layout) -> None:
    """Straight up, with its head at the north end and an N over it."""
    marks = as_built_drawing(_moved(shed, 0.0)).marks
    (arrow,) = [mark for mark in marks if isinstance(mark, LineMark) and mark.layer == "NOTE" and mark.head]
    assert arrow.start.east == arrow.end.east
    assert arrow.end.north > arrow.start.north
    assert any(isinstance(mark, TextMark) and mark.text == "N" and mark.at == arrow.end for mark in marks)


def _rows(layout: Layout) -> Sequence[MeasuredPoint]:
    return as_designed(layout, *(each.name for each in design_points(layout)))


def test_given_points_do_not_shrink_the_slab(shed: Layout) -> None:
    """Pins of the lot measured again stand in a table; the drawing is of what was set."""
    drawing = as_built_drawing(compare(shed, [*as_designed(shed), *as_designed(shed, "P1", "P3")], HOW))
    assert not {"P1", "P3"} & set(_labels(drawing))


def test_of_many_points_corners_and_what_is_out_are_named() -> None:
    """Every point keeps its arrow; names and amounts of the others would cover each other."""
    layout = sample("metric_hall")
    points = [off(each, 0.001 if each.name != "305" else 0.05) for each in _rows(layout)]
    drawing = as_built_drawing(compare(layout, points, HOW))
    assert len(_arrows(drawing)) > MANY
    assert set(_labels(drawing)) == {*layout.corner_names, "305: 50 mm OUT"}
    assert "50 mm OUT" not in _texts(drawing)


@pytest.mark.parametrize("name", ["tape_only_shed", "metric_hall", "ell_house_on_grid", "cul_de_sac_lot"])
@pytest.mark.parametrize("size", [(528.0, 265.0), (250.0, 325.0)])
def test_no_label_lies_on_another(name: str, size: tuple[float, float]) -> None:
    """On paper and on a telephone, corners off every way."""
    layout = sample(name)
    moves = [(0.004, 0.0), (-0.012, 0.007), (0.0, -0.02), (0.001, 0.001)]
    points = [off(each, *moves[at % 4]) for at, each in enumerate(as_designed(layout))]
    assert fit(as_built_drawing(compare(layout, points, HOW)), *size).overlaps == 0


def test_true_size_enlarges_nothing(shed: Layout) -> None:
    """For a drawing program: the measured outline is where it was measured, and no bar or arrow of paper is in it."""
    found = _moved(shed, INCH, "103")
    drawing = true_size_drawing(found)
    (measured,) = _paths(drawing, "MEASURED")
    assert measured.corners == tuple(each.measured.at for each in found.corners)
    assert not [mark for mark in drawing.marks if mark.layer == "NOTE"]


def test_of_very_many_that_are_out_the_farthest_are_named() -> None:
    """Where a whole list is out, the drawing stays readable: corners and marks alike, those farthest off."""
    layout = sample("metric_hall")
    points = [off(each, 0.02 + 0.001 * at) for at, each in enumerate(_rows(layout)) if each.name.isdecimal()]
    drawing = as_built_drawing(compare(layout, points, HOW))
    assert len(_arrows(drawing)) > MOST_NAMED
    assert len(_labels(drawing)) == MOST_NAMED
    assert points[-1].name in {label.split(":")[0] for label in _labels(drawing)}
