"""Ground at corners, earth under the slab by three ways, sections, and the excavation that stakes are kept out of."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking import Layout, check, read_site, solve
from staking.errors import InputError, SolveError

FOOT = 0.3048
FLOOR = "[floor]\nelevation = 100\n"
GROUND = '[[ground]]\npoints = ["A", "B", "C", "D"]\n'


def _layout(ups: tuple[float, ...] = (98, 98, 98, 98), more: str = "", thick: str = "thickness = 1\n") -> Layout:
    text = PLACED_RECTANGLE.replace("depth = 24\n", f"depth = 24\n{thick}")
    for name, at, up in zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), ups, strict=True):
        text = text.replace(f"{name} = [{at}]", f"{name} = [{at}, {up}]")
    return layout_of(text + FLOOR + GROUND + more)


def test_level_ground_under_a_level_slab() -> None:
    """36 by 24 ft, subgrade a foot above the ground: 864 cubic feet of fill by all three ways."""
    earth = _layout().earth
    assert earth
    assert earth.grid
    assert earth.ends
    volumes = [volume.fill / FOOT**3 for volume in (earth.total, earth.grid, earth.ends)]
    assert volumes == pytest.approx([864] * 3, rel=1e-4)
    assert [spot.form_height for spot in earth.spots] == pytest.approx([2 * FOOT] * 4)
    assert [spot.cut for spot in earth.spots] == pytest.approx([-FOOT] * 4)


def test_a_base_is_dug_for_too() -> None:
    """Half a foot of gravel lowers the subgrade, so that half as much is filled."""
    earth = _layout(more="[earthwork]\nbase = '6 in'\n").earth
    assert earth
    assert earth.total.fill / FOOT**3 == pytest.approx(432)


def test_the_sample_agrees_with_its_cross_checks() -> None:
    """Cells and sections of a foot come within half a per cent of the triangles on the sloping lot."""
    earth = sample("sloping_lot").earth
    assert earth
    assert earth.grid
    assert earth.ends
    assert [earth.grid.excess, earth.ends.excess] == pytest.approx([earth.total.excess] * 2, rel=0.005)
    assert earth.uncovered == pytest.approx(0, abs=1e-6)


def test_sections_follow_ground_and_concrete() -> None:
    """Along the right side of ground that rises to the rear, the ground climbs by its own slope."""
    earth = _layout((94, 94, 106, 106)).earth
    assert earth
    right = earth.sections[1]
    rise = right.ground[-1].end_up - right.ground[0].start_up
    assert rise == pytest.approx(24 * FOOT / 10, abs=1e-3)
    assert right.concrete[0].top == pytest.approx((100 * FOOT,) * 2)
    assert right.concrete[0].subgrade == pytest.approx((99 * FOOT,) * 2)


def test_without_a_thickness_there_is_ground_but_no_volume() -> None:
    """Form heights are told, earth is not."""
    earth = _layout(thick="").earth
    assert earth
    assert earth.pieces == ()
    assert earth.spots[0].form_height == pytest.approx(2 * FOOT)


def test_boards_and_offsets_are_kept_out_of_the_excavation() -> None:
    """3 ft deep at 1.5 to 1, 2 ft of room: edge 6.5 ft out, boards 4 ft beyond; farther ones stay where they are."""
    asked = "[overdig]\ndepth = 3\nslope = 1.5\nboards = 4\n"
    stakes = '[[stakes]]\nkind = "offsets"\ndistance = {}\n'
    near, far = (_layout(more=asked + stakes.format(distance)) for distance in (2, 15))
    assert near.excavation
    assert near.excavation.reach == pytest.approx(6.5 * FOOT)
    lines = [min(stake.at.east for stake in each.stakes if stake.kind == "offset") for each in (near, far)]
    corner = min(corner.east for corner in near.slab.form.corners)
    assert [(corner - line) / FOOT for line in lines] == pytest.approx([10.5, 15])


def test_near_the_lot_line_stakes_stand_nearer_to_the_edge() -> None:
    """8 ft to the line, the edge 6.5 ft out: a quarter of the 4 ft asked for fits, 7.5 ft from the corner."""
    asked = '[overdig]\ndepth = 3\nslope = 1.5\nboards = 4\n[[stakes]]\nkind = "offsets"\ndistance = 2\n'
    text = PLACED_RECTANGLE.replace("clear = 30", "clear = 8") + asked
    layout = layout_of(text)
    corner = min(corner.east for corner in layout.slab.form.corners)
    west = min(stake.at.east for stake in layout.stakes)
    assert (corner - west) / FOOT == pytest.approx(7.5)
    near = [finding.message for finding in check(layout) if finding.code == "overdig-near"]
    assert near == ["less than 4' 0\" outside the edge of the excavation: 201 at 1' 0\", 206 at 1' 0\""]


def test_depth_follows_from_ground_and_design() -> None:
    """The deepest cut at a corner: ground 3 ft above the subgrade."""
    found = _layout((102, 102, 102, 102), more="[overdig]\nsoil = 'rock'\n").excavation
    assert found
    assert (found.depth / FOOT, found.slope) == pytest.approx((3, 0))


def test_ground_no_surface_can_be_made_of_is_refused() -> None:
    """Two heights at one place: both points are named, with the place in the file."""
    text = PLACED_RECTANGLE.replace("[points]", "[points]\nE = [5, 5, 1]\nF = [5, 5, 2]\nG = [0, 9, 1]")
    with pytest.raises(SolveError, match="two points at one place have two heights: E and F"):
        layout_of(text + '[[ground]]\npoints = ["E", "F", "G"]\n')


@pytest.mark.parametrize(
    ("ground", "words"),
    [
        ("", "ground without points"),
        ('points = ["A", "B", "C"]\n', "has no elevation"),
        ('points = ["Z"]\n', 'there is no point "Z"'),
        ('path = "none.csv"\n', "none.csv"),
        ('path = "g.csv"\n[[ground]]\npath = "g.csv"\n', "named twice"),
        ('path = "g.csv"\n[[ground.break_lines]]\npoints = ["G1", "G9"]\n', 'there is no ground point "G9"'),
        ('path = "g.csv"\n[[ground]]\npath = "h.csv"\n', "stands twice"),
    ],
)
def test_mistakes_of_the_ground_are_said(tmp_path: Path, ground: str, words: str) -> None:
    """Each with a sentence."""
    (tmp_path / "site.toml").write_text(PLACED_RECTANGLE + "[[ground]]\n" + ground, encoding="utf-8")
    (tmp_path / "g.csv").write_text("name,north,east,elevation\nG1,0,0,1\nG2,9,0,1\nG3,0,9,1\n", encoding="utf-8")
    (tmp_path / "h.csv").write_text("name,north,east,elevation\nG1,5,5,1\n", encoding="utf-8")
    with pytest.raises(InputError) as refused:
        read_site(tmp_path / "site.toml")
    assert words in str(refused.value)


def test_points_of_a_file_make_the_ground(tmp_path: Path) -> None:
    """They are no points of the layout, and the file is on record with its fingerprint."""
    (tmp_path / "site.toml").write_text(PLACED_RECTANGLE + '[[ground]]\npath = "g.csv"\n', encoding="utf-8")
    rows = "name,north,east,elevation\nG1,-9,-9,1\nG2,400,0,1\nG3,0,400,1\n"
    (tmp_path / "g.csv").write_text(rows, encoding="utf-8")
    layout = solve(read_site(tmp_path / "site.toml"))
    assert layout.earth
    assert [spot.ground for spot in layout.earth.spots] == pytest.approx([FOOT] * 4)
    assert "G1" not in layout.points
    assert set(layout.site.sources) == {"g.csv"}


def test_break_lines_that_cross_are_named() -> None:
    """Each by the points it runs between there, so that the crew finds the place."""
    lines = "".join(f'[[ground.break_lines]]\npoints = ["{a}", "{b}"]\n' for a, b in ("AC", "BD"))
    with pytest.raises(SolveError) as refused:
        _layout(more=lines)
    (found,) = refused.value.findings
    assert found.message.endswith("two break lines cross where neither has a point: A - C and B - D")
