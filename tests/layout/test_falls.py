"""Which way surfaces fall: floors, parts and drives, with ratios worked out by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import PLACED_RECTANGLE, ROOT, layout_of, sample

from staking.layout.falls import falls_of, height_at
from staking.layout.solve import solve
from staking.sitefile.reader import read_site
from staking.survey.points import vector

FOOT = 0.3048


def test_falls_of_the_sample() -> None:
    """1/8 in per ft; 1 in on 4 ft; 5 in on 6 ft; and the drive from 102.20 to the gutter at 98.20."""
    falls = {fall.of: fall for fall in falls_of(sample("sloping_lot"))}
    assert {name: fall.ratio for name, fall in falls.items()} == pytest.approx(
        {"floor": 1 / 96, "apron": 1 / 48, "ramp": 5 / 72, "drive": (102.2 - 98.2) / (46**2 + 6**2) ** 0.5}
    )
    assert falls["drive"].to == "GUT"


def test_a_level_floor_falls_nowhere() -> None:
    """No fall, and none without a floor; a drive without heights has none either."""
    drive = '[[features]]\nkind = "drive"\nname = "drive"\npoints = ["A", "B"]\n'
    assert falls_of(layout_of(f"{PLACED_RECTANGLE}[floor]\nelevation = 5\n{drive}")) == ()
    assert falls_of(layout_of(PLACED_RECTANGLE + drive)) == ()


def test_a_part_that_rises_falls_toward_the_slab() -> None:
    """A step up to the outside: the arrow ends at the joint."""
    part = '[[slab.parts]]\nname = "sill"\nside = "front"\nfrom = "front-left"\nwidth = 4\ndepth = 2\ndrop = "-1 in"\n'
    text = PLACED_RECTANGLE.replace("[placement]", f"{part}[placement]", 1)
    (fall,) = falls_of(layout_of(f"{text}[floor]\nelevation = 5\n"))
    assert fall.ratio == pytest.approx(1 / 24)
    assert vector(fall.start, fall.end).north > 0


def test_heights_of_points_are_taken_where_they_are_known_best(tmp_path: Path) -> None:
    """As given; else the concrete it meets; else the ground; else none."""
    assert height_at(sample("sloping_lot"), sample("sloping_lot").points["DR1"].at) == pytest.approx(102.2 * FOOT)
    folder = ROOT / "sample_sites" / "sloping_lot"
    (tmp_path / "ground.csv").write_bytes((folder / "ground.csv").read_bytes())
    text = (folder / "site.toml").read_text(encoding="utf-8")
    (tmp_path / "site.toml").write_text(text.replace(" elevation = 102.20,", ""), encoding="utf-8")
    layout = solve(read_site(tmp_path / "site.toml"))
    assert layout.earth
    points = layout.points
    assert height_at(layout, points["GUT"].at) == pytest.approx(98.2 * FOOT)
    assert height_at(layout, points["DR1"].at) == pytest.approx(102.225 * FOOT)
    assert height_at(layout, points["A"].at) == layout.earth.triangles.height(points["A"].at)
    assert height_at(layout_of(PLACED_RECTANGLE), layout_of(PLACED_RECTANGLE).points["A"].at) is None


def test_every_stake_has_its_elevation_where_a_floor_is_declared() -> None:
    """Corners, parts, offsets, posts and nails: whatever is set out has the height of the design surface there."""
    layout = sample("sloping_lot")
    assert {stake.kind for stake in layout.stakes} == {"corner", "part corner", "offset", "post", "nail"}
    assert all(stake.at.up is not None for stake in layout.stakes)
    marked = layout_of(f'{PLACED_RECTANGLE}[floor]\nelevation = 5\n[[stakes]]\nkind = "along"\nspacing = 5\n')
    assert marked.stakes
    assert [stake.at.up for stake in marked.stakes] == pytest.approx([5 * FOOT] * len(marked.stakes))
    assert all(stake.at.up is None for stake in layout_of(PLACED_RECTANGLE).stakes)
