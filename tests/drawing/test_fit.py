"""Drawings on paper: the right scale, everything inside the box, every label in its own place."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staking.drawing.fit import fit
from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, SymbolShape, TextMark
from staking.drawing.paper import Fitted, PaperCircle, PaperLine, PaperPolygon, Spot, boxes_meet, near
from staking.survey.points import Point

FAR_AWAY = (1_204_000.0, 310_000.0)  # state plane size, to see that nothing is lost to large coordinates


def _stake(name: str, east: float, north: float) -> SymbolMark:
    return SymbolMark("OFFSET", Point(FAR_AWAY[0] + east, FAR_AWAY[1] + north), name)


def _drawing(*marks: Mark) -> Drawing:
    return Drawing(marks, "a slab")


def _rectangle(width: float, depth: float) -> PathMark:
    corners = (Point(0, 0), Point(width, 0), Point(width, depth), Point(0, depth))
    return PathMark("SLAB", corners, closed=True, filled=True)


def _inside(fitted: Fitted, spot: Spot) -> bool:
    return -1e-6 <= spot.x <= fitted.width + 1e-6 and -1e-6 <= spot.y <= fitted.height + 1e-6


def _texts_meet(fitted: Fitted) -> bool:
    boxes = [text.box for text in fitted.texts]
    return any(near(one, [other]) and boxes_meet(one, other) for one, other in combinations(boxes, 2))


places_of_stakes = st.tuples(st.floats(0, 60), st.floats(0, 60))


@settings(max_examples=60, deadline=None)
@given(st.lists(places_of_stakes, min_size=1, max_size=40), st.integers(60, 600), st.integers(60, 600))
def test_labels_never_leave_the_box(places: list[tuple[float, float]], width: int, height: int) -> None:
    """However the points lie, even one on another, every label stays in the box; a note says if names are left out."""
    fitted = fit(_drawing(*(_stake(f"{101 + n}", *place) for n, place in enumerate(places))), width, height)
    assert fitted.note if len(fitted.texts) < len(places) else not fitted.note
    assert all(_inside(fitted, corner) for text in fitted.texts for corner in text.box.corners())


@settings(max_examples=60, deadline=None)
@given(st.lists(places_of_stakes, min_size=1, max_size=40))
def test_no_overlap_reported_means_none_seen(places: list[tuple[float, float]]) -> None:
    """Where the count of overlaps is zero, no two texts meet."""
    fitted = fit(_drawing(*(_stake(f"{101 + n}", *place) for n, place in enumerate(places))), 500, 500)
    assert fitted.overlaps or not _texts_meet(fitted)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(-1.2, 1.2), st.floats(-1.2, 1.2)), min_size=30, max_size=30))
def test_spread_points_keep_their_labels_apart(shifts: list[tuple[float, float]]) -> None:
    """Thirty stakes some five metres apart on a letter-wide picture leave no overlap."""
    stakes = [_stake(f"{201 + n}", 5 * (n % 6) + x, 5 * (n // 6) + y) for n, (x, y) in enumerate(shifts)]
    fitted = fit(_drawing(*stakes), 528, 420)
    assert fitted.overlaps == 0
    assert not _texts_meet(fitted)


@given(st.floats(-720, 720), st.floats(0, 360))
def test_text_is_never_upside_down(along: float, side: float) -> None:
    """Whatever the azimuth of its line, a text is turned by more than -90 and at most 90 degrees."""
    fitted = fit(_drawing(TextMark("DIMENSION", Point(0, 0), "36'-0\"", along=along, side=side)), 200, 200)
    assert -90 < fitted.texts[0].rotation <= 90


def test_text_runs_along_its_line() -> None:
    """A text along azimuth 60 rises by 30 degrees, as does its line."""
    line = LineMark("DIMENSION", Point(0, 0), Point(math.sin(math.radians(60)) * 30, math.cos(math.radians(60)) * 30))
    fitted = fit(_drawing(line, TextMark("DIMENSION", Point(13, 7.5), "30 m", along=60.0)), 300, 300)
    assert fitted.texts[0].rotation == pytest.approx(30.0)


@pytest.mark.parametrize(("side", "sign"), [(0.0, 1), (180.0, -1)])
def test_text_stands_on_the_wanted_side(side: float, sign: int) -> None:
    """Beside a level line, side 0 is above it and side 180 below."""
    line = LineMark("DIMENSION", Point(0, 0), Point(40, 0))
    fitted = fit(_drawing(line, TextMark("DIMENSION", Point(20, 0), "40 m", along=90.0, side=side)), 300, 200)
    drawn = next(shape for shape in fitted.shapes if isinstance(shape, PaperLine))
    assert (fitted.texts[0].box.y - drawn.start.y) * sign > 0


def test_scale_is_uniform_and_fills_the_box() -> None:
    """A 20 by 10 rectangle without labels takes the whole width but for the rim, twice as wide as high."""
    fitted = fit(_drawing(_rectangle(20, 10)), 400, 400)
    outline = next(shape for shape in fitted.shapes if isinstance(shape, PaperPolygon))
    width = outline.corners[1].x - outline.corners[0].x
    assert width == pytest.approx(400 - 2 * 3)  # a rim of 3 points on either side
    assert outline.corners[2].y - outline.corners[1].y == pytest.approx(width / 2)
    assert fitted.scale == pytest.approx(width / 20)


def test_everything_drawn_lies_inside() -> None:
    """Lines, arrowheads, circles and symbols of every shape stay in the box."""
    shapes: tuple[SymbolShape, ...] = ("given", "nail", "foot", "pin")
    points = [SymbolMark("GIVEN", Point(n, n), shape, shape) for n, shape in enumerate(shapes)]
    lines = (CircleMark("KEEP-CLEAR", Point(5, 5), 9), LineMark("TIE", Point(-3, 0), Point(9, 2), arrows=True))
    fitted = fit(_drawing(*points, *lines), 150, 90)
    circles = [it for it in fitted.shapes if isinstance(it, PaperCircle)]
    assert all(_inside(fitted, it.centre.moved(dx * it.radius, 0)) for it in circles for dx in (-1, 1))
    polygons = [it for it in fitted.shapes if isinstance(it, PaperPolygon)]
    assert all(_inside(fitted, corner) for it in polygons for corner in it.corners)


def test_north_is_up() -> None:
    """The northern of two stakes stands higher on the paper, the eastern one farther right."""
    fitted = fit(_drawing(LineMark("TIE", Point(0, 0), Point(5, 9))), 100, 100)
    line = next(shape for shape in fitted.shapes if isinstance(shape, PaperLine))
    assert line.end.y > line.start.y
    assert line.end.x > line.start.x


def test_crowded_label_gets_a_leader() -> None:
    """A stake in the middle of a tight ring of stakes is named from outside, by a thin line."""
    ring = [_stake(f"{300 + n}", 4 * math.sin(n * math.pi / 6), 4 * math.cos(n * math.pi / 6)) for n in range(12)]
    frame = [_stake("P1", -60, -60), _stake("P2", 60, 60)]
    fitted = fit(_drawing(_stake("101", 0, 0), *ring, *frame), 300, 300)
    assert fitted.leaders >= 1
    assert fitted.overlaps == 0


def test_emphasised_label_is_larger_and_bold() -> None:
    """What the drawing is about can be read from farther off."""
    marks = (_stake("201", 0, 0), SymbolMark("CORNER", Point(*FAR_AWAY), "101", emphasis=True))
    sizes = {text.text: (text.size, text.bold) for text in fit(_drawing(*marks), 200, 200).texts}
    assert sizes == {"201": (8.0, False), "101": (10.0, True)}


def test_too_long_a_name_is_set_smaller() -> None:
    """A name longer than the box is shrunk until it fits, never cut."""
    name = "Northeastern equipment shed, stake at the far corner of the wash bay"
    text = fit(_drawing(_stake(name, 0, 0)), 120, 80).texts[0]
    assert text.text == name
    assert text.size < 8.0


def test_line_breaks_in_a_name_become_spaces() -> None:
    """A label is one line, whatever white space its name holds."""
    assert fit(_drawing(_stake("front\n left\tstake", 0, 0)), 200, 80).texts[0].text == "front left stake"


def test_impossible_crowd_is_counted() -> None:
    """Where a dozen long names share a box with room for two, the overlaps are owned up to."""
    stakes = [_stake(f"a rather long name {n}", n / 100, 0) for n in range(12)]
    assert fit(_drawing(*stakes), 100, 30).overlaps > 0


def test_trimmed_box_is_as_low_as_the_drawing() -> None:
    """A flat drawing in a trimmed box leaves no empty paper above and below, and is no smaller."""
    flat = _drawing(_rectangle(40, 4))
    assert fit(flat, 400, 300, trim=True).height < 80
    assert fit(flat, 400, 300, trim=True).scale == fit(flat, 400, 300).scale


def test_box_without_size_is_refused() -> None:
    """No drawing fits into nothing."""
    with pytest.raises(ValueError, match="box of 0 by 100"):
        fit(_drawing(), 0, 100)


def test_empty_drawing_is_empty() -> None:
    """A drawing without marks gives a picture without shapes, not an error."""
    fitted = fit(_drawing(), 100, 50)
    assert (fitted.shapes, fitted.texts, fitted.title) == ((), (), "a slab")


def test_same_drawing_gives_same_picture() -> None:
    """Nothing in the placing depends on chance."""
    marks = [_stake(f"{n}", n % 5, n // 5) for n in range(20)]
    assert fit(_drawing(*marks), 200, 200) == fit(_drawing(*marks), 200, 200)


def test_turned_quarter_text_is_read_from_the_right() -> None:
    """Texts along the two upright sides of a slab are both turned the same way."""
    marks = [TextMark("DIMENSION", Point(x, 5), "10 m", along=azimuth) for x, azimuth in ((0, 0.0), (9, 180.0))]
    assert [text.rotation for text in fit(_drawing(*marks), 200, 200).texts] == [90.0, 90.0]


def test_free_text_stands_on_its_wanted_side_unturned() -> None:
    """A note with side 90 stands upright, right of its point and level with it."""
    note = TextMark("NOTE", Point(0, 0), "shed", side=90.0)
    fitted = fit(_drawing(note, LineMark("TIE", Point(-9, 0), Point(0, 0))), 200, 200)
    point = next(shape for shape in fitted.shapes if isinstance(shape, PaperLine)).end
    area = fitted.texts[0].box
    assert fitted.texts[0].rotation == 0
    assert area.x - area.half_length > point.x
    assert area.y == pytest.approx(point.y)


def test_line_of_no_length_has_no_arrowheads() -> None:
    """A dimension between two coinciding points is drawn without dividing by its length."""
    fitted = fit(_drawing(LineMark("TIE", Point(1, 1), Point(1, 1), arrows=True)), 100, 100)
    assert len(fitted.shapes) == 1


def test_open_path_is_not_closed_or_filled() -> None:
    """A chain that is not closed has no tint, though filled was asked for."""
    path = PathMark("LOT", (Point(0, 0), Point(9, 0), Point(9, 9)), filled=True)
    outline = next(it for it in fit(_drawing(path), 100, 100).shapes if isinstance(it, PaperPolygon))
    assert (outline.closed, outline.fill) == (False, None)


def test_text_across_a_line_gets_a_white_plate() -> None:
    """Where a text cannot but stand on a line, the line is broken behind it so that both can be read."""
    hatch = [LineMark("LOT", Point(0, n / 4), Point(10, n / 4)) for n in range(40)]
    fitted = fit(_drawing(*hatch, SymbolMark("CORNER", Point(5, 5), "101")), 200, 200)
    assert any(isinstance(shape, PaperPolygon) and shape.fill == "#ffffff" for shape in fitted.shapes)


def test_dimension_longer_than_its_line_stays_beside_its_middle() -> None:
    """A text longer than its line stands farther off rather than along the next line."""
    line = LineMark("TIE", Point(0, 0), Point(2, 0), arrows=True)
    ends = [SymbolMark("CORNER", Point(x, 0)) for x in (0, 2)]
    fitted = fit(
        _drawing(line, *ends, _rectangle(20, 20), TextMark("TIE", Point(1, 0), "2.000 m", along=90.0, side=180.0)),
        300,
        300,
    )
    drawn = next(shape for shape in fitted.shapes if isinstance(shape, PaperLine))
    assert fitted.texts[0].box.x == pytest.approx((drawn.start.x + drawn.end.x) / 2)


def _ring(count: int) -> Drawing:
    """Stakes on a circle, between two far apart."""
    turns = [2 * math.pi * n / count for n in range(count)]
    ring = [_stake(f"{1000 + n}", 4 * math.sin(turn), 4 * math.cos(turn)) for n, turn in enumerate(turns)]
    return _drawing(_stake("P1", -20, -20), *ring, _stake("P2", 20, 20))


@pytest.mark.parametrize("count", [60, 200, 500])
def test_hopeless_crowd_is_thinned_out_and_says_so(count: int) -> None:
    """Where hundreds of names have no room, a part of them stands alone, by a rule told below the picture."""
    fitted = fit(_ring(count), 300, 300)
    assert (fitted.overlaps, _texts_meet(fitted)) == (0, False)
    assert fitted.note.startswith("Every ")
    assert {"P1", "P2"} <= {text.text for text in fitted.texts}
    assert 8 <= len(fitted.texts) < count


def test_many_names_with_room_are_all_shown() -> None:
    """Nothing is left out where everything has its place."""
    stakes = [_stake(f"{n}", 10 * (n % 8), 10 * (n // 8)) for n in range(64)]
    fitted = fit(_drawing(*stakes), 500, 500)
    assert (len(fitted.texts), fitted.overlaps, fitted.note) == (64, 0, "")


def test_every_point_keeps_its_symbol() -> None:
    """Only names are left out: each stake is still drawn."""
    few, many = (len(fit(_ring(count), 300, 300).shapes) for count in (200, 400))
    assert many - few > 190


def test_texts_stand_on_lines_of_their_own() -> None:
    """A line with a label is broken under it, which is turned with the line; other texts keep their places."""
    line = PathMark("CONTOUR", (Point(0, 5), Point(40, 15)), label="101.0")
    stakes = tuple(SymbolMark("CORNER", Point(x, 10), f"{100 + x}") for x in (2, 20, 38))
    fitted = fit(_drawing(line, *stakes), 400, 200)
    (text,) = [each for each in fitted.texts if each.text == "101.0"]
    assert text.rotation == pytest.approx(math.degrees(math.atan2(10, 40)))
    assert not _texts_meet(fitted)
    plates = [shape for shape in fitted.shapes if isinstance(shape, PaperPolygon) and shape.fill == "#ffffff"]
    assert plates
