"""Diagonals, ties and double ties are the distances they say they are."""

from __future__ import annotations

import math

import pytest
from making import PLACED_RECTANGLE, SAMPLES, layout_of, sample

from staking import Layout
from staking.kinds.ground import BaseLine
from staking.layout.computed import NamedPoint
from staking.layout.ties import double_ties_of, ties_of
from staking.survey.intersections import two_tapes
from staking.survey.lines import Line
from staking.survey.points import Point, distance

NAMES = [folder.name for folder in SAMPLES]


def _corner(layout: Layout, name: str) -> Point:
    return layout.slab.form.corners[layout.corner_names.index(name)]


@pytest.mark.parametrize("name", NAMES)
def test_every_rectangle_has_two_equal_diagonals(name: str) -> None:
    """Rectangles and ells are cut into rectangles; the diagonals of each are equal and span the outline."""
    layout = sample(name)
    pairs = list(zip(layout.diagonals[::2], layout.diagonals[1::2], strict=True))
    assert pairs
    for first, second in pairs:
        assert first.of == second.of
        assert first.length == pytest.approx(second.length, abs=1e-9)
        assert distance(first.from_point, first.to_point) == pytest.approx(first.length)


def test_the_ell_is_cut_where_a_string_crosses() -> None:
    """The string of the inside corner meets the left side where the crossing says."""
    layout = sample("ell_house_on_grid")
    (crossing,) = layout.crossings
    side = layout.slab.form.sides[crossing.side]
    assert distance(side.at(crossing.along), crossing.at) < 1e-9
    assert {crossing.name} == {d.start for d in layout.diagonals if d.start.startswith("S")}


@pytest.mark.parametrize("name", NAMES)
def test_double_ties_lead_to_their_corners(name: str) -> None:
    """Two tapes held at the given points, on the named hand, meet in the corner, at an angle that fixes it."""
    layout = sample(name)
    assert layout.double_ties
    for tie in layout.double_ties:
        places = two_tapes(
            layout.points[tie.first].at, tie.first_distance, layout.points[tie.second].at, tie.second_distance
        )
        place = places[0] if tie.hand == "left" else places[1]
        assert distance(place, _corner(layout, tie.corner)) < 1e-6
        assert 30 <= tie.angle <= 150


@pytest.mark.parametrize("name", NAMES)
def test_ties_are_square_and_cross(name: str) -> None:
    """Each corner has two ties, square from lines that cross each other."""
    layout = sample(name)
    for corner in layout.corner_names:
        first, second = (tie for tie in layout.ties if tie.corner == corner)
        for tie in (first, second):
            assert distance(tie.foot, tie.at) == pytest.approx(tie.distance, abs=1e-9)
            assert layout.lines[tie.line].line.along(tie.at) == pytest.approx(tie.along)
        a, b = (layout.lines[tie.line].line.direction for tie in (first, second))
        assert abs(a.cross(b)) > 0.34  # sine of 20 degrees


def test_slanted_outlines_get_the_distances_that_stay_on_the_slab() -> None:
    """Of the five diagonals of a notched outline only those to the inside corner stay on the slab."""
    text = PLACED_RECTANGLE.replace(
        "width = 36\ndepth = 24\n",
        'kind = "traced"\nsteps = ["right 30", "away 20", "left 15 toward 12", "left 15 away 12", "toward 20"]\n',
    ).replace('"front-left"', "1")
    layout = layout_of(text.replace('side = "front"', 'side = "1-2"'))
    pairs = {(d.start, d.end) for d in layout.diagonals}
    assert pairs == {("C1", "C4"), ("C2", "C4")}


def test_u_shape_is_cut_into_three_rectangles() -> None:
    """Two inside corners give three rectangles, six diagonals, and crossings between them."""
    steps = '"right 36", "away 24", "left 10", "toward 14", "left 16", "away 14", "left 10", "toward 24"'
    text = PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", f'kind = "traced"\nsteps = [{steps}]\n')
    layout = layout_of(text)
    assert len(layout.diagonals) == 6
    assert len(layout.crossings) == 2


def test_tapes_are_held_at_marks_before_lids() -> None:
    """A lid beside the slab makes a squarer crossing than any lot corner; it is used only where no mark will do."""
    lid = PLACED_RECTANGLE.replace("[lot]", "LID = [38, 34]\n[lot]")
    assert {name for tie in layout_of(lid).double_ties for name in (tie.first, tie.second)} <= {"A", "B", "C", "D"}
    short = layout_of(lid + "[tape]\nlength = 40\n")  # reaches no two marks from any corner
    assert short.double_ties == ()
    near = layout_of(lid.replace("[lot]", "TREE = [20, 66]\n[lot]") + "[tape]\nlength = 40\n")
    assert {name for tie in near.double_ties for name in (tie.first, tie.second)} == {"LID", "TREE"}


def test_corners_of_a_fitted_record_are_not_marks_but_its_pins_are() -> None:
    """Where the record was laid over pins, tapes are held at the pins."""
    layout = sample("metric_record")
    assert layout.site.declared.lot is not None
    pins = set(layout.site.declared.lot.found.values())
    assert {name for tie in layout.double_ties for name in (tie.first, tie.second)} <= pins


HERE = layout_of(PLACED_RECTANGLE).slab.form


def _line(name: str, *ends: tuple[float, float]) -> BaseLine:
    """A line between two places given from the first corner, east and north."""
    corner = HERE.corners[0]
    start, end = (Point(corner.east + east, corner.north + north) for east, north in ends)
    return BaseLine(name, Line(start, end), "start", "end")


def _tied(*lines: BaseLine) -> list[str]:
    """The lines that the first corner is tied to."""
    return [tie.line for tie in ties_of(HERE, "1234", {line.name: line for line in lines}) if tie.corner == "1"]


@pytest.mark.parametrize(("turn", "second"), [(30.0, "slanted"), (10.0, "upright")])
def test_the_second_tie_crosses_the_first_by_twenty_degrees(turn: float, second: str) -> None:
    """A near line at 10 degrees to the first one fixes no corner; a farther one square to it does."""
    east, north = 50 * math.cos(math.radians(turn)), 50 * math.sin(math.radians(turn))
    lines = (
        _line("level", (-50, -1), (50, -1)),
        _line("slanted", (-east, -3 - north), (east, -3 + north)),
        _line("upright", (-10, -50), (-10, 50)),
    )
    assert _tied(*lines) == ["level", second]


@pytest.mark.parametrize("stub", [((100, -1), (120, -1)), ((-120, -1), (-100, -1))])
def test_a_line_that_ends_far_away_is_not_near(stub: tuple[tuple[float, float], tuple[float, float]]) -> None:
    """Its foot would lie 100 m past its end; a longer line 5 m off serves the crew."""
    assert _tied(_line("stub", *stub), _line("long", (-50, -5), (50, -5))) == ["long"]


def test_noise_does_not_choose_the_line_of_a_tie() -> None:
    """Of two lines equally near, the one declared first, also where the other is nearer by a millionth of a mm."""
    assert _tied(_line("first", (-50, -5), (50, -5)), _line("second", (-50, 5 - 1e-9), (50, 5 - 1e-9))) == ["first"]


def test_noise_does_not_choose_the_tapes() -> None:
    """Two pairs of points from which tapes meet squarely but for the last digits: the nearer pair is taken."""
    places = {"P1": (10.0, 0.0), "P2": (1e-8, 10.0), "P3": (0.0, 12.0)}
    corner = HERE.corners[0]
    points = [NamedPoint(name, Point(corner.east + e, corner.north + n)) for name, (e, n) in places.items()]
    tie = double_ties_of(HERE, "1234", points, 20.0)[0]
    assert (tie.corner, tie.first, tie.second) == ("1", "P1", "P2")


def test_no_tape_is_read_beyond_its_length() -> None:
    """The front left corner is 50 ft from A, 80.6 from B and 85.4 from D: with 82 ft only A and B can be used."""
    ties = layout_of(PLACED_RECTANGLE + "[tape]\nlength = 82\n").double_ties
    assert all(max(tie.first_distance, tie.second_distance) <= 82 * 0.3048 for tie in ties)
    assert {tie.first + tie.second for tie in ties if tie.corner == "C1"} == {"AB"}
    assert layout_of(PLACED_RECTANGLE + "[tape]\nlength = 60\n").double_ties == ()


def test_many_slanted_corners_get_the_distances_that_skip_one() -> None:
    """A dodecagon: from each corner to the next but one, round and round."""
    turns = [math.radians(30 * i) for i in range(12)]
    vertices = [[round(20 * math.sin(t), 3), round(20 - 20 * math.cos(t), 3)] for t in turns]
    traced = f'kind = "traced"\nvertices = {vertices}\n'
    text = PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", traced).replace('"front-left"', "1")
    pairs = {(d.start, d.end) for d in layout_of(text.replace('side = "front"', 'side = "1-2"')).diagonals}
    assert pairs == {(f"C{i + 1}", f"C{(i + 2) % 12 + 1}") for i in range(12)}


@pytest.mark.parametrize(("turn", "of"), [("left", ["outline", "outline"]), ("right", [])])
def test_an_end_with_an_arc_is_no_rectangle(turn: str, of: list[str]) -> None:
    """Diagonals of a bowed end prove no right angle; where it bows in, they leave the slab and are not given."""
    steps = f'steps = ["right 36", "away 24 curve {turn} 13", "left 36", "toward 24"]'
    layout = layout_of(PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", f'kind = "traced"\n{steps}\n'))
    assert [diagonal.of for diagonal in layout.diagonals] == of
