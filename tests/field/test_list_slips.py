"""A list in another unit, foot, order of columns or system is refused by name."""

from __future__ import annotations

import math
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from making import ROOT, layout_of, sample
from measuring import HOW, as_designed, carried, codes, turned

from staking import Layout, MeasuredPoint, compare
from staking.layout.solve import solve
from staking.sitefile.reader import read_site
from staking.survey.points import Point

FOOT = 0.3048


def _in_file(layout: Layout, change: Callable[[Point], Point]) -> list[MeasuredPoint]:
    """The corners and given points, with something done to their coordinates as the file counts them."""
    frame = layout.frame
    return carried(
        as_designed(layout, *layout.corner_names, *layout.points),
        lambda at: frame.to_ground(change(frame.to_file(at))),
    )


@pytest.mark.parametrize(
    ("name", "change", "code", "remedy"),
    [
        ("tape_only_shed", lambda at: Point(at.north, at.east), "measured-swapped", "--columns"),
        ("tape_only_shed", lambda at: Point(at.east * FOOT, at.north * FOOT), "measured-unit", "say --unit m"),
        ("tape_only_shed", lambda at: Point(at.east / FOOT, at.north / FOOT), "measured-unit", "say --unit ft"),
        ("metric_hall", lambda at: Point(at.east * FOOT, at.north * FOOT), "measured-unit", "say --unit m"),
        ("metric_hall", lambda at: Point(at.east / FOOT, at.north / FOOT), "measured-unit", "say --unit ft"),
        ("ell_house_on_grid", lambda at: Point(at.east * 1.000002, at.north * 1.000002), "measured-foot", "--unit ft"),
        ("ell_house_on_grid", lambda at: Point(at.east / 1.000002, at.north / 1.000002), "measured-foot", "ftUS"),
        ("tape_only_shed", lambda at: Point(-at.east, at.north), "measured-swapped", "--columns"),
        ("tape_only_shed", lambda at: Point(7 + at.east * 12, 9 + at.north * 12), "measured-unit", "in m, ft or ftUS"),
    ],
)
def test_a_slip_of_the_whole_list(name: str, change: Callable[[Point], Point], code: str, remedy: str) -> None:
    """One finding that stops, with what to say instead; not a figure is printed."""
    layout = sample(name)
    found = compare(layout, _in_file(layout, change), HOW)
    assert codes(found) == [code]
    assert remedy in found.findings[0].remedy
    assert found.deviations == ()
    assert found.verdict[-1].answer == "out"


@pytest.mark.parametrize("ratio", [1.000002, 1 / 1.000002])
def test_the_other_foot_shows_with_and_without_names(ratio: float) -> None:
    """Longer or shorter: with names the shift is said before anything else; without them the places tell."""
    layout = sample("ell_house_on_grid")
    listed = _in_file(layout, lambda at: Point(at.east * ratio, at.north * ratio))
    (found,) = compare(layout, listed, HOW).findings
    assert found.message.startswith("every point is off by")
    unnamed = [replace(each, name=f"T{index}") for index, each in enumerate(listed)]
    assert codes(compare(layout, unnamed, HOW)) == ["measured-foot"]


def test_points_without_names_are_refused_too() -> None:
    """Where no name is known, the order of columns shows by where the points lie."""
    layout = sample("tape_only_shed")
    listed = _in_file(layout, lambda at: Point(at.north, at.east))
    points = [replace(each, name=f"T{index}") for index, each in enumerate(listed)]
    assert codes(compare(layout, points, HOW)) == ["measured-swapped"]


def test_small_coordinates_do_not_show_the_foot() -> None:
    """At a hundred feet two parts in a million are nothing, and nothing is said."""
    layout = sample("tape_only_shed")
    points = _in_file(layout, lambda at: Point(at.east * 1.000002, at.north * 1.000002))
    assert codes(compare(layout, points, HOW)) == []


def test_a_list_in_the_measured_system_of_a_fit() -> None:
    """It is told, and where the layout is carried over, it is compared."""
    from staking.layout.other_system import in_measured

    text = (
        '[site]\nname = "x"\nunit = "m"\n[points]\nA = [0, 0]\nB = [0, 40]\nC = [40, 40]\nD = [40, 0]\n'
        '[lot]\ngiven_by = "surveyor"\ncorners = ["A", "B", "C", "D"]\nsides = ["front", "right", "rear", "left"]\n'
        '[slab]\nkind = "rectangle"\nwidth = 12\ndepth = 9\n[placement]\nkind = "from_lines"\n'
        'side = "front"\nreference = "lot front"\ndistance = 9\ncorner = "front-left"\nfrom = "lot left"\nclear = 8\n'
        '[[stakes]]\nkind = "corners"\n'
    )
    move = turned(Point(0.0, 0.0), 30.0, 5000.0, 1000.0)
    places = {name: move(Point(*at)) for name, at in {"A": (0, 0), "B": (40, 0), "C": (40, 40), "D": (0, 40)}.items()}
    pairs = "".join(
        f'[[pairs]]\npoint = "{name}"\nnorth = {at.north!r}\neast = {at.east!r}\n' for name, at in places.items()
    )
    layout = layout_of(text + pairs)
    points = _in_file(layout, move)
    found = compare(layout, points, HOW)
    assert codes(found) == ["measured-system"]
    assert "--in measured" in found.findings[0].remedy
    there = in_measured(layout)
    frame = there.frame
    again = [replace(each, at=frame.to_ground(layout.frame.to_file(each.at))) for each in points]
    assert codes(compare(there, again, HOW)) == []
    as_given = carried(
        as_designed(layout, *layout.corner_names, *layout.points),
        lambda at: frame.to_ground(layout.frame.to_file(at)),
    )
    for listed in (as_given, [replace(each, name=f"T{index}") for index, each in enumerate(as_given)]):
        found = compare(there, listed, HOW)
        assert codes(found) == ["measured-system"]
        assert "leave --in measured out" in found.findings[0].remedy
        assert found.deviations == ()


def test_a_list_of_a_grid_site_in_the_given_system(tmp_path: Path) -> None:
    """Grid values given where the measured system of a fit with a scale of its own was said are told as well."""
    from staking.layout.other_system import in_measured

    folder = Path(shutil.copytree(ROOT / "sample_sites" / "ell_house_on_grid", tmp_path / "job"))
    bare = sample("ell_house_on_grid")
    move = turned(Point(0.0, 0.0), 40.0, 3000.0, 1000.0)
    pairs = ""
    for name in ("L1", "L2", "L3", "L4"):
        at, foot = move(bare.points[name].at), 1200 / 3937
        pairs += f'[[pairs]]\npoint = "{name}"\nnorth = {at.north / foot!r}\neast = {at.east / foot!r}\n'
    with (folder / "site.toml").open("a", encoding="utf-8") as file:
        file.write(f"\n[fit]\nscale = true\n{pairs}")
    layout = solve(read_site(folder / "site.toml"))
    there = in_measured(layout)
    names = (*layout.corner_names, *layout.points)
    listed = carried(as_designed(layout, *names), lambda at: there.frame.to_ground(layout.frame.to_file(at)))
    assert codes(compare(there, listed, HOW)) == ["measured-system"]


@pytest.mark.parametrize("named", [True, False])
@pytest.mark.parametrize("shift", [(-6350000.0, -400000.0), (2500.0, 0.0)])
def test_a_list_in_a_system_that_nobody_told(shift: tuple[float, float], named: bool) -> None:
    """Local coordinates on a grid site, or a list of somewhere else: one stop, and not a figure."""
    layout = sample("ell_house_on_grid")
    points = carried(as_designed(layout), turned(Point(0.0, 0.0), 12.0, *shift))
    listed = points if named else [replace(each, name=f"T{index}") for index, each in enumerate(points)]
    found = compare(layout, listed, HOW)
    assert codes(found) == ["measured-system"]
    assert "so far from the site" in found.findings[0].message
    assert found.deviations == ()


def test_a_station_typed_wrong_within_reach_is_no_other_system() -> None:
    """A thousand feet off is the set-up, as ever."""
    layout = sample("ell_house_on_grid")
    points = carried(as_designed(layout), turned(Point(0.0, 0.0), 0.0, 304.8, 0.0))
    assert codes(compare(layout, points, HOW)) == ["measured-placed-or-set-up", "measured-over-line"]


def test_a_badly_set_slab_is_no_slip() -> None:
    """A slab half a foot off is compared, and not explained away."""
    layout = sample("tape_only_shed")
    points = carried(as_designed(layout), turned(layout.slab.form.corners[0], 0.5, 0.1, 0.1))
    assert codes(compare(layout, points, HOW)) == ["measured-placed-or-set-up"]


def test_what_the_other_foot_makes_is_told_as_it_is() -> None:
    """Two parts in a million of the distance to where the coordinates begin to count."""
    layout = sample("ell_house_on_grid")
    found = compare(layout, _in_file(layout, lambda at: Point(at.east * 1.000002, at.north * 1.000002)), HOW)
    at = layout.frame.to_file(layout.slab.form.corners[0])
    assert layout.notation.length(math.hypot(at.east, at.north) * 2e-6) in found.findings[0].message
    assert found.findings[0].remedy == "say --unit ft"  # the site is in the longer one


def _written_over(layout: Layout, count: int) -> list[MeasuredPoint]:
    """The corners, the first of them with one and the same place 3 m off."""
    points = as_designed(layout)
    there = Point(points[0].at.east + 3, points[0].at.north + 3)
    return [replace(each, at=there) if at < count else each for at, each in enumerate(points)]


@pytest.mark.parametrize("count", [3, 4])
def test_corners_that_are_written_in_one_place_are_not_compared(count: int) -> None:
    """One shot under every name, or nearly, as by a row copied down: no corner is moved for it."""
    found = compare(sample("tape_only_shed"), _written_over(sample("tape_only_shed"), count), HOW)
    assert codes(found) == ["measured-one-place"]
    assert f"{count} of 4 points of the measured list are written in one place, north" in found.findings[0].message
    assert found.deviations == ()


def test_two_corners_in_one_place_are_compared() -> None:
    """The other two tell that it is these that are wrong."""
    found = compare(sample("tape_only_shed"), _written_over(sample("tape_only_shed"), 2), HOW)
    assert [each.answer for each in found.corners] == ["out", "out", "within", "within"]
    assert "measured-one-place" not in codes(found)
