"""What a comparison says of a slab that was set well, and of one that was not."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from fractions import Fraction

import pytest
from making import SAMPLES, layout_of, sample
from measuring import HOW, INCH, as_designed, carried, codes, message, off, turned

from staking import Layout, MeasuredPoint, compare, read_site, solve
from staking.field.compared import Comparison
from staking.field.design_points import design_points
from staking.field.words import wall_words
from staking.findings import Severity
from staking.survey.points import Point, Vector, distance, vector


@pytest.fixture(scope="module")
def shed() -> Layout:
    """A rectangle of 40'-3 by 30'-3 on a lot of four pins."""
    return sample("tape_only_shed")


def _racked(layout: Layout, by: float) -> list[MeasuredPoint]:
    """The two back corners slid to the right [m]."""
    right = layout.slab.form.pose.right
    return [
        off(each, right.east * by, right.north * by) if each.name in layout.corner_names[2:] else each
        for each in as_designed(layout)
    ]


def _texts(found: Comparison) -> str:
    return "\n".join(line.text for line in found.verdict)


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_every_sample_measured_as_designed_is_within(folder: object) -> None:
    """Every point of every sample, given points too: differences, shift, turn and shape of nothing, no finding."""
    layout = solve(read_site(f"{folder}/site.toml"))
    points = as_designed(layout, *(each.name for each in design_points(layout)))
    found = compare(layout, points, HOW)
    assert len(found.deviations) == len(points)
    assert all(each.plan.length == 0 and each.answer != "out" for each in found.deviations)
    assert found.placement is not None
    assert found.placement.largest_placed < 1e-9
    assert found.placement.largest_shape < 1e-9
    assert codes(found) == []
    assert [each.now for each in found.margins] == [each.design for each in found.margins]


def test_a_form_out_of_square(shed: Layout) -> None:
    """Diagonals 1-1/8 in apart are named with the two corners to move; nobody is sent to look for the set-up."""
    found = compare(shed, _racked(shed, 1.125 * INCH / 2 * 50.35 / 40.25), HOW)
    assert codes(found) == ["measured-out-of-shape"]
    assert message(found, "measured-out-of-shape").endswith("differ by 1-1/8 in where 3/8 in is allowed")
    assert "move 103 11/16 in to the left; 104 11/16 in to the left" in found.findings[0].remedy
    assert [each.answer for each in found.corners] == ["within", "within", "out", "out"]


@pytest.mark.parametrize("name", ["ell_house_on_grid", "metric_hall", "cul_de_sac_lot"])
def test_a_form_out_of_square_with_parts_or_inside_corners(name: str) -> None:
    """Many points are off then, and none was measured wrongly: the form is named, with every corner that is out."""
    layout = sample(name)
    design = [each for each in design_points(layout) if each.what in ("corner", "part")]
    pose, deepest = layout.slab.form.pose, max(_away(layout, each.at) for each in design)
    slid = {each.name: 0.04 * _away(layout, each.at) / deepest for each in design}
    points = as_designed(layout, *slid)
    points = [off(p, pose.right.east * slid.get(p.name, 0), pose.right.north * slid.get(p.name, 0)) for p in points]
    found = compare(layout, points, HOW)
    assert codes(found) == ["measured-out-of-shape"]
    out = [each.design.name for each in found.corners if each.answer == "out"]
    assert out
    assert all(f"{name} " in found.findings[0].remedy for name in out)


def _away(layout: Layout, at: Point) -> float:
    return layout.slab.form.pose.right.left().dot(vector(layout.slab.form.corners[0], at))


def test_sides_that_are_out_between_corners_that_are_not() -> None:
    """The fewest corners are moved, no corner by nothing, and as written that brings every side and diagonal in."""
    text = (SAMPLES[0].parent / "tape_only_shed" / "site.toml").read_text()
    layout = layout_of(text + '\n[as_built]\nposition = "3/8 in"\nside = "1/8 in"\ndiagonal = "1/4 in"\n')
    drawn, right = random.Random(3), layout.slab.form.pose.right  # noqa: S311 - the same sets each time
    tried = few = 0
    while tried < 30:
        points = [off(each, drawn.gauss(0, 0.0025), drawn.gauss(0, 0.0025)) for each in as_designed(layout)]
        found = compare(layout, points, HOW)
        if any(each.answer == "out" for each in found.corners) or "measured-out-of-shape" not in codes(found):
            continue
        tried += 1
        (told,) = (each.remedy for each in found.findings if each.code == "measured-out-of-shape")
        parts = told.split("move ")[1].split(":")[0].split("; ")
        steps = dict(step.split(" ", 1) for step in parts if " in " in step)
        few += len(steps) <= 2
        assert "0 in" not in steps.values()
        moved = [_as_told(each, steps.get(each.name, ""), right) for each in points]
        assert "measured-out-of-shape" not in codes(compare(layout, moved, HOW))
    assert few >= 15, few


def _as_told(point: MeasuredPoint, words: str, right: Vector) -> MeasuredPoint:
    """A point moved by words such as "1/4 in to the front, 1/8 in to the left"."""
    for step in filter(None, words.split(", ")):
        size = float(Fraction(step.split(" in ")[0])) * INCH
        way = {"right": right, "left": right.reversed(), "back": right.left(), "front": right.right()}[step.split()[-1]]
        point = off(point, way.east * size, way.north * size)
    return point


def test_a_shifted_form_out_of_square_can_be_put_right_where_it_stands(shed: Layout) -> None:
    """Where fewer corners must move to square it than to bring it to the drawing, both ways are told."""
    move = turned(shed.slab.form.corners[0], 0.0, 1.5 * INCH)
    found = compare(shed, carried(_racked(shed, 1.5 * INCH), move), HOW)
    assert "measured-out-of-shape" in codes(found)
    words = next(each.remedy for each in found.findings if each.code == "measured-out-of-shape")
    assert "then it stands as drawn" in words
    assert "or hold " in words


def test_a_slab_turned_a_tenth_of_a_degree_but_square(shed: Layout) -> None:
    """Placement is out, shape is not; with given points in order it is the slab that stands so."""
    move = turned(shed.slab.form.corners[0], 0.1)
    found = compare(shed, [*carried(as_designed(shed), move), *as_designed(shed, "P1", "P2")], HOW)
    assert codes(found) == ["measured-placed"]
    assert found.placement is not None
    assert found.placement.turn == pytest.approx(0.1, abs=1e-9)
    assert found.placement.largest_shape < 1e-9
    assert {each.answer for each in found.lengths if each.kind != "tie"} == {"within"}
    assert "turned 0°06'00\" clockwise" in _texts(found)


def test_the_whole_slab_is_shifted_by_one_figure_only() -> None:
    """What is to be done first and the verdict say the same, also where stakes of parts were measured too."""
    layout = sample("metric_hall")
    wanted = [each.name for each in design_points(layout) if each.what in ("corner", "part")]
    found = compare(layout, carried(as_designed(layout, *wanted), turned(layout.slab.form.corners[0], 0.1)), HOW)
    said = message(found, "measured-placed-or-set-up").removeprefix("the whole slab is ").split(";")[0]
    assert f"the slab as a whole is {said}, which moves" in _texts(found)


def test_one_point_with_a_wrong_rod_height() -> None:
    """It alone is named, by the heights of the others."""
    layout = sample("sloping_lot")
    points = as_designed(layout)
    points[2] = off(points[2], up=0.1524)
    found = compare(layout, points, HOW)
    assert codes(found) == ["measured-rod-height"]
    assert message(found, "measured-rod-height").startswith("103 is 6 in high against the 3 others")
    assert [each.answer_up for each in found.corners] == ["within", "within", "out", "within"]


def test_of_two_points_that_are_low_none_has_a_wrong_rod_height() -> None:
    """Where two neighbours of six are low the form sags; one of them alone is named."""
    layout = sample("sloping_lot")
    points = as_designed(layout, *[each.name for each in design_points(layout) if each.up is not None][:6])
    assert len(points) == 6
    low = [off(each, up=-0.08 if index in (2, 3) else 0.0) for index, each in enumerate(points)]
    assert "measured-rod-height" not in codes(compare(layout, low, HOW))
    found = compare(layout, [*low[:3], *points[3:]], HOW)
    assert message(found, "measured-rod-height").startswith(f"{points[2].name} is ")


def test_the_verdict_never_approves(shed: Layout) -> None:
    """Good or bad, the last line leaves it to the inspector, and no line says the word."""
    for points in (as_designed(shed), _racked(shed, 0.05), [MeasuredPoint("X", shed.slab.form.corners[0])]):
        found = compare(shed, points, HOW)
        assert found.verdict[-1].text.endswith("the inspector decides")
        assert "approve" not in _texts(found).lower()


def test_corners_that_were_not_measured_are_named(shed: Layout) -> None:
    """Three of four: the fourth is missing, and room to lines is not known."""
    found = compare(shed, as_designed(shed, "101", "102", "103"), HOW)
    assert [each.name for each in found.missing] == ["104"]
    assert {each.now for each in found.margins} == {None}
    assert found.verdict[-1].text.startswith("1 not measured; every measured corner is within 1/4 in")


def test_one_corner_alone_is_compared(shed: Layout) -> None:
    """No turn can be told, and nothing breaks."""
    found = compare(shed, as_designed(shed, "101"), HOW)
    assert found.placement is None
    assert found.verdict[-1].answer == "within"


def test_nothing_of_the_slab(shed: Layout) -> None:
    """Given points alone say nothing of the slab."""
    found = compare(shed, as_designed(shed, "P1", "P2"), HOW)
    assert found.verdict[-1].text.startswith("no corner of the slab was measured")
    assert found.verdict[-1].answer == "not judged"


def test_strangers_and_second_shots(shed: Layout) -> None:
    """A point near nothing is named and kept; a name that comes again is told with how far it is off."""
    points = [*as_designed(shed), off(as_designed(shed, "101")[0], 0.01), MeasuredPoint("tree", turned_far(shed))]
    found = compare(shed, points, HOW)
    assert [each.name for each in found.strangers] == ["tree"]
    assert codes(found) == ["measured-again", "measured-strangers"]
    assert "3/8 in from the first shot" in message(found, "measured-again")
    assert found.verdict[-1].answer == "within"


def turned_far(layout: Layout) -> Point:
    """A place with nothing near it."""
    return turned(layout.slab.form.corners[0], 0.0, 100.0, 100.0)(layout.slab.form.corners[0])


def test_what_the_file_declares_is_judged_by() -> None:
    """[as_built] comes before a handbook, with its source."""
    text = (SAMPLES[0].parent / "tape_only_shed" / "site.toml").read_text(encoding="utf-8")
    strict = layout_of(text + '\n[as_built]\nposition = "1/16 in"\nsource = "contract, 3.2"\n')
    points = as_designed(strict)
    points[0] = off(points[0], 0.1 * INCH)
    found = compare(strict, points, HOW)
    assert [each.answer for each in found.corners] == ["out", "within", "within", "within"]
    assert found.corners[0].allowed.source == "contract, 3.2"


def test_placed_concrete_has_another_tolerance(shed: Layout) -> None:
    """3/4 in is out for a form and within for concrete; a setback has no tolerance for either."""
    points = _racked(shed, 0.75 * INCH)
    assert compare(shed, points, HOW).verdict[-1].answer == "out"
    placed = compare(shed, points, HOW, placed=True)
    assert [each.answer for each in placed.corners] == ["within"] * 4
    assert {each.answer for each in placed.lengths if each.kind == "diagonal"} == {"not judged"}


def test_over_a_setback_is_a_stop(shed: Layout) -> None:
    """The slab moved past its least room is over the line, however small the tolerance."""
    least = min(shed.margins, key=lambda each: each.room)
    step = least.room + 0.003
    way = turned(
        shed.slab.form.corners[0],
        0.0,
        (least.foot.east - least.at.east) / least.distance * step,
        (least.foot.north - least.at.north) / least.distance * step,
    )
    found = compare(shed, carried(as_designed(shed), way), HOW, limit=10.0)
    assert "measured-over-line" in codes(found)
    assert f"over the setback to {least.of} by 1/8 in" in message(found, "measured-over-line")


def test_points_without_known_names_are_taken_by_their_place(shed: Layout) -> None:
    """Each is held against the corner it lies at, whatever the list calls it."""
    points = [replace(each, name=f"T{number}") for number, each in enumerate(as_designed(shed))]
    found = compare(shed, points, HOW)
    assert [(each.design.name, each.by_name, each.plan.length) for each in found.corners] == [
        (name, False, 0.0) for name in shed.corner_names
    ]


@pytest.mark.parametrize(("apart", "severity"), [(0.0, Severity.NOTE), (0.01, Severity.WARNING)])
def test_the_same_shot_written_twice_is_no_warning(shed: Layout, apart: float, severity: Severity) -> None:
    """A second shot in another place is one."""
    found = compare(shed, [*as_designed(shed), off(as_designed(shed, "101")[0], apart)], HOW)
    assert [each.severity for each in found.findings if each.code == "measured-again"] == [severity]


def test_a_turn_moves_the_farthest_corner_most(shed: Layout) -> None:
    """The amount that is told is that of the corner across, by the chord of the turn."""
    corners = shed.slab.form.corners
    found = compare(shed, carried(as_designed(shed), turned(corners[0], 0.1)), HOW)
    chord = 2 * math.sin(math.radians(0.05)) * distance(corners[0], corners[2])
    assert found.placement is not None
    assert found.placement.largest_placed == pytest.approx(chord)


def test_a_slip_of_all_points_is_seen_beside_one_that_is_odd(shed: Layout) -> None:
    """The instrument stood 4 in off for everything, given points too, and one corner is a foot off besides."""
    points = carried(as_designed(shed, *shed.corner_names, "P1", "P2", "P3", "P4"), turned(Point(0, 0), 0.0, 4 * INCH))
    points[2] = off(points[2], 12 * INCH)
    assert {"measured-odd-point", "measured-set-up"} <= {*codes(compare(shed, points, HOW))}


def test_along_is_told_where_a_point_has_one_line() -> None:
    """A mark on a side is told off that side and along it, toward the corner it is nearer to than it should be."""
    layout = sample("metric_hall")
    mark = next(stake for stake in layout.stakes if stake.kind == "mark" and stake.side == 0)
    way = layout.slab.form.sides[0].direction
    points = [*as_designed(layout), off(as_designed(layout, mark.name)[0], way.east * 0.02, way.north * 0.02)]
    (found,) = (each for each in compare(layout, points, HOW).deviations if each.design.name == mark.name)
    assert wall_words(found, layout.notation).endswith(f"20 mm along it toward {layout.corner_names[1]}")
    (corner,) = (each for each in compare(layout, points, HOW).corners if each.design.corner == 0)
    assert "along" not in wall_words(corner, layout.notation)


def test_a_corner_that_alone_is_out_is_told_where_to_go(shed: Layout) -> None:
    """5/16 in off while every side and diagonal is in: no finding of shape, and the move is told all the same."""
    points = [off(each, 0.2 * INCH, 0.2 * INCH) if each.name == "103" else each for each in as_designed(shed)]
    found = compare(shed, points, HOW)
    assert codes(found) == ["measured-corner-out"]
    assert "move 103 " in found.findings[0].remedy


def test_an_odd_corner_is_told_where_to_go_if_it_stands_so(shed: Layout) -> None:
    """Measured again and the same, it is moved: nobody is left with nothing but to measure it again."""
    points = [off(each, 2 * INCH, 0.0) if each.name == "103" else each for each in as_designed(shed)]
    (told,) = (each for each in compare(shed, points, HOW).findings if each.code == "measured-odd-point")
    assert "if it stands so, move 103 " in told.remedy


def test_a_pair_of_diagonals_that_differ_is_out_of_square() -> None:
    """Each diagonal is within its figure and the pair is not: out of square, and not moved as a whole."""
    hall = sample("metric_hall")
    right = hall.slab.form.pose.right
    points = [
        off(each, 0.017 * right.east, 0.017 * right.north) if each.name in ("102", "101") else each
        for each in as_designed(hall, *hall.corner_names)
    ]
    found = compare(hall, points, HOW)
    diagonals = [each.answer for each in found.lengths if each.kind == "diagonal"]
    assert set(diagonals) == {"within"}
    assert codes(found) == ["measured-out-of-shape"]
    assert any(line.answer == "out" and line.text.startswith("out of square") for line in found.verdict)
