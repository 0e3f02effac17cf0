"""What can be measured again, and off which wall lines it is told."""

from __future__ import annotations

import pytest
from making import SAMPLES, sample

from staking import read_site, solve
from staking.field.design_points import design_points, wall_lines
from staking.survey.points import Vector, vector


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_every_stake_corner_and_given_point_once(folder: object) -> None:
    """Every name of the layout that stands on the ground is there, and none twice."""
    layout = solve(read_site(f"{folder}/site.toml"))
    found = design_points(layout)
    names = [each.name for each in found]
    assert len(names) == len(set(names))
    assert set(names) == {*layout.corner_names, *(stake.name for stake in layout.stakes), *layout.points}
    assert [each.corner for each in found[: len(layout.corner_names)]] == list(range(len(layout.corner_names)))


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_out_is_away_from_the_slab(folder: object) -> None:
    """A corner moved a little toward the middle is inside both its lines where it is no inside corner."""
    layout = solve(read_site(f"{folder}/site.toml"))
    form, walls = layout.slab.form, wall_lines(layout)
    middle = form.shape.centroid
    for name, at in zip(layout.corner_names, form.corners, strict=True):
        step = Vector(middle.x - at.east, middle.y - at.north).unit()
        outs = [wall.of(step).out for wall in walls[name]]
        if form.shape.convex_hull.boundary.distance(form.shape.boundary) == 0 and len(form.corners) == 4:
            assert all(out < 0 for out in outs)
        assert len(outs) == 2


def test_a_stake_beside_the_slab_has_the_line_of_its_side() -> None:
    """Offsets, nails and marks are told off the side they stand on; parts off the side they are attached to."""
    layout = sample("metric_hall")
    walls = wall_lines(layout)
    for stake in layout.stakes:
        if stake.kind in ("nail", "mark"):
            (wall,) = walls[stake.name]
            assert stake.side is not None
            assert wall.of(Vector(0, 0)).out == 0
            line = layout.slab.form.sides[stake.side]
            assert abs(line.offset(stake.at)) < 1e-9
            assert wall.way == line.direction
        if stake.kind == "part corner" and stake.part == "ramp":
            assert [wall.side for wall in walls[stake.name]] == ["front"]


def test_heights_are_those_of_the_design() -> None:
    """Corners, parts and nails have the design's heights where a floor is declared; tops of offsets stand anywhere."""
    layout = sample("sloping_lot")
    anywhere = {stake.name for stake in layout.stakes if stake.kind in ("offset", "post")}
    heights = {grade.name: grade.up for grade in layout.grades}
    for each in design_points(layout):
        if each.name in anywhere:
            assert each.up is None
        elif each.name in heights:
            assert each.up == pytest.approx(heights[each.name])


def test_a_wall_line_runs_between_its_two_corners() -> None:
    """The ends of each line are the corners that lie on it, in the direction that the line runs."""
    layout = sample("tape_only_shed")
    at = dict(zip(layout.corner_names, layout.slab.form.corners, strict=True))
    for walls in wall_lines(layout).values():
        for wall in walls:
            step = vector(at[wall.start], at[wall.end])
            assert wall.of(step).along == pytest.approx(step.length)
            assert wall.of(step).out == pytest.approx(0, abs=1e-9)


def test_what_is_not_noted_of_a_given_point() -> None:
    """A given point is told by its note, and is called a given point where it has none."""
    layout = sample("tape_only_shed")
    words = {each.name: each.words for each in design_points(layout) if each.what == "given"}
    assert words == {name: point.note or "given point" for name, point in layout.points.items()}
