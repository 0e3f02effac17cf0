"""The order of work with a tape where the placement names no reference, or nothing gives a direction."""

from __future__ import annotations

import math

import numpy as np
import pytest
from making import OPEN_FIELD, PLACED_RECTANGLE, layout_of, sample
from scipy.spatial.distance import pdist

from staking.layout.tape_plan import far_end, tape_plan
from staking.survey.intersections import angle_between
from staking.survey.lines import Line
from staking.survey.points import distance

AT_POINT = OPEN_FIELD.replace("P = [100, 100]\n", "P = [100, 100]\n{more}\n")


def test_two_points_make_the_reference_where_no_line_is_declared() -> None:
    """The line between the two given points farthest apart carries the base line."""
    plan = tape_plan(layout_of(AT_POINT.format(more="Q = [101, 130]\nR = [100, 110]")))
    assert plan is not None
    assert plan.reference.name == "P to Q"
    assert plan.start is None


@pytest.mark.parametrize("count", [2, 3, 4, 20, 300])
def test_of_many_points_the_farthest_two_are_taken(count: int) -> None:
    """Whatever their number, the base line lies off the two that scipy finds farthest apart."""
    drawn = np.random.default_rng(count)
    places = {f"Q{n}": tuple(at) for n, at in enumerate(drawn.uniform(40.0, 160.0, (count, 2)).round(3).tolist())}
    given = "\n".join(f"{name} = [{north}, {east}]" for name, (north, east) in places.items())
    places["P"] = (100.0, 100.0)
    plan = tape_plan(layout_of(AT_POINT.format(more=given)))
    assert plan is not None
    ends = [places[plan.reference.start_name], places[plan.reference.end_name]]
    assert math.dist(*ends) == pytest.approx(pdist(list(places.values())).max(), abs=1e-12)


def test_one_point_gives_no_direction() -> None:
    """With a single point and a bearing, a tape has nothing to go by."""
    assert tape_plan(layout_of(AT_POINT.format(more=""))) is None


def test_corners_off_the_frame_are_set_by_ordinates() -> None:
    """The ell's inside corner and its neighbours have ordinates; the missing corner is a mark that is taken away."""
    plan = tape_plan(sample("ell_house_on_grid"))
    assert plan is not None
    assert plan.real == (True, True, False, True)
    assert [ordinate.name for ordinate in plan.ordinates] == ["103", "104", "105"]


def test_pulls_name_the_nearer_end_of_the_reference() -> None:
    """Each foot is measured from the end of the reference that is nearer to it."""
    plan = tape_plan(layout_of(PLACED_RECTANGLE))
    assert plan is not None
    first, second = plan.pulls
    assert (first.from_name, second.from_name) == ("A", "B")
    assert (first.along / 0.3048, second.along / 0.3048) == pytest.approx((30.0, 34.0))


def test_places_of_an_arc_lie_off_its_chord_as_the_circle_says() -> None:
    """Off the chord: the height of the circle over its middle, less that of the chord; four places on 27.8 ft."""
    plan = tape_plan(sample("triangle_lot"))
    assert plan is not None
    (arc,) = plan.arcs
    assert (arc.radius / 0.3048, arc.chord / 0.3048) == pytest.approx((15.0, 24.0))
    for place in arc.places:
        rise = math.sqrt(arc.radius**2 - (place.along - arc.chord / 2) ** 2) - math.sqrt(225 - 144) * 0.3048
        assert place.off == pytest.approx(rise, abs=1e-9)
    assert len(arc.places) == 4


@pytest.mark.parametrize("bearing", [5, 30, 60, 85, 120, 170])
def test_the_base_line_runs_along_its_reference(bearing: int) -> None:
    """The side that lies within 45 degrees of the reference becomes the base line, however near another one is."""
    text = AT_POINT.format(more="Q = [101, 130]").replace("bearing = 80", f"bearing = {bearing}")
    plan = tape_plan(layout_of(text))
    assert plan is not None
    assert angle_between(plan.right, plan.reference.line.direction) <= 45


def test_a_second_line_that_hardly_crosses_gives_no_start() -> None:
    """A line at 10 degrees to the base line meets its string too flatly to say where the first mark is."""
    text = PLACED_RECTANGLE.replace("[slab]", '[[references]]\nname = "flat"\nthrough = ["E", "F"]\n[slab]')
    text = text.replace("[lot]", "E = [1, 0]\nF = [18.633, 100]\n[lot]").replace('"lot left"', '"flat"')
    plan = tape_plan(layout_of(text.replace("clear = 30", "clear = 20") + 'toward = "C"\n'))
    assert plan is not None
    assert plan.start is None


def test_a_short_arc_has_three_places() -> None:
    """Two feet a side and 6.3 ft round: three places set it off its chord, at its quarters."""
    steps = '"right 36", "away 20", "left 4 away 4 curve left 4", "left 32", "toward 24"'
    traced = f'kind = "traced"\nsteps = [{steps}]\n'
    plan = tape_plan(layout_of(PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", traced)))
    assert plan is not None
    (arc,) = plan.arcs
    assert len(arc.places) == 3
    assert arc.outward


def test_offset_stakes_are_as_far_from_the_corner_they_are_named_after() -> None:
    """Each stands on the line of its side, so far beyond that very corner."""
    layout = sample("ell_house_on_grid")
    plan = tape_plan(layout)
    assert plan is not None
    assert plan.ends
    corners = dict(zip(layout.corner_names, layout.slab.form.corners, strict=True))
    for end in plan.ends:
        assert end.distance == pytest.approx(distance(end.stake.at, corners[end.corner]), abs=1e-9)


def test_the_diagonal_of_a_part_is_that_of_a_rectangle() -> None:
    """5 ft by 12 ft have a diagonal of 13 ft."""
    part = '[[slab.parts]]\nname = "porch"\nside = "front"\nfrom = "front-left"\nstart = 3\nwidth = 12\ndepth = 5\n'
    plan = tape_plan(layout_of(PLACED_RECTANGLE.replace("[placement]", f"{part}[placement]")))
    assert plan is not None
    (porch,) = plan.parts
    assert porch.diagonal / 0.3048 == pytest.approx(13.0)
    assert [along / 0.3048 for along in porch.along] == pytest.approx([3.0, 15.0])


def test_the_string_of_an_ordinate_runs_through_its_corner() -> None:
    """From the mark on the base line to the one on the far line, both as far along."""
    plan = tape_plan(sample("ell_house_on_grid"))
    assert plan is not None
    for ordinate in plan.ordinates:
        string = Line(Line(plan.corners[0], plan.corners[1]).at(ordinate.along), far_end(plan, ordinate))
        assert abs(string.offset(ordinate.at)) < 1e-9
        assert string.along(ordinate.at) == pytest.approx(ordinate.off, abs=1e-9)
