"""Room by the outline as measured, with what goes along with it."""

from __future__ import annotations

import pytest
from making import layout_of, sample
from measuring import HOW, as_designed, carried, off, turned

from staking import compare
from staking.layout.shifted import margins_at
from staking.survey.points import Point, Vector


@pytest.mark.parametrize(
    "name", ["metric_hall", "sloping_lot", "corner_lot", "flag_lot", "cul_de_sac_lot", "triangle_lot"]
)
def test_a_shifted_slab_has_the_room_of_the_shifted_drawing(name: str) -> None:
    """Corners alone measured, 0.2 m off: parts, eaves and separations go along, every margin that of the slab moved."""
    layout = sample(name)
    move = turned(Point(0, 0), 0.0, 0.12, -0.16)
    found = compare(layout, carried(as_designed(layout), move), HOW, limit=1.0)
    wanted = margins_at(layout, Vector(0.12, -0.16))
    for now, margin in zip([each.now for each in found.margins], wanted, strict=True):
        assert now is not None
        assert now.room == pytest.approx(margin.room, abs=1e-6)
        assert (now.rule, now.of, now.what) == (margin.rule, margin.of, margin.what)


def test_a_part_that_was_measured_counts_where_it_is() -> None:
    """The outer corners of the ramp a foot farther out: less room to the road, by a foot."""
    layout = sample("metric_hall")
    names = [each.name for each in layout.stakes if each.part == "ramp"]
    form = layout.slab.form
    out = form.outward(0)
    points = as_designed(layout, *layout.corner_names, *names)
    outer = {each.name for each in layout.stakes if each.part == "ramp" and "outer" in each.note}
    points = [off(each, out.east * 0.3, out.north * 0.3) if each.name in outer else each for each in points]
    found = compare(layout, points, HOW)
    before = {(each.design.of, each.design.what): each.design.room for each in found.margins}
    now = {(each.design.of, each.design.what): each.now.room for each in found.margins if each.now}
    assert now["road", "parts"] < before["road", "parts"] - 0.29
    assert now["road", "outline"] == pytest.approx(before["road", "outline"])


def test_eaves_go_with_their_corners() -> None:
    """A roof over one side comes as near as its corners do."""
    text = (
        '[site]\nname = "x"\nunit = "m"\n[points]\nA = [0, 0]\nB = [0, 40]\nC = [40, 40]\nD = [40, 0]\n'
        '[lot]\ngiven_by = "surveyor"\ncorners = ["A", "B", "C", "D"]\nsides = ["front", "right", "rear", "left"]\n'
        '[setbacks.front]\nordinance = 5\nmeasured = "with eaves"\n'
        '[slab]\nkind = "rectangle"\nwidth = 12\ndepth = 9\neaves = 0.6\n[placement]\nkind = "from_lines"\n'
        'side = "front"\nreference = "lot front"\ndistance = 9\ncorner = "front-left"\nfrom = "lot left"\nclear = 8\n'
        '[[stakes]]\nkind = "corners"\n'
    )
    layout = layout_of(text)
    points = [off(each, 0.0, -0.1) if each.name in ("101", "102") else each for each in as_designed(layout)]
    found = compare(layout, points, HOW)
    front = [each for each in found.margins if each.design.of == "front"]
    assert front
    for each in front:
        assert each.now is not None
        assert each.now.room == pytest.approx(each.design.room - 0.1, abs=1e-9)


def test_an_outline_that_crosses_itself_has_no_room() -> None:
    """Corners far from any place of theirs, crossed: not known, and nothing breaks."""
    layout = sample("tape_only_shed")
    a, b, c, d = as_designed(layout)
    points = [a, b, off(c, -5.0, -12.0), d]
    found = compare(layout, points, HOW)
    assert {each.now for each in found.margins} == {None}
    assert any("room to lines is not known" in line.text for line in found.verdict)
