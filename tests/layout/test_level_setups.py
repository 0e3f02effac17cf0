"""Set-ups of a level whose line of sight is not level, and tops of stakes from lists and from the site file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, ROOT, layout_of, sample

from staking import Layout, SolveError, read_site, solve
from staking.survey.points import distance

FOOT = 0.3048
SITE = (
    PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 99]")
    + '[[stakes]]\nkind = "corners"\n[floor]\nelevation = 100\n'
)
PEGS = '[rod]\npegs = "4.25@50 4.00@50 4.62@10 4.39@110"\n'  # 0.0002 a foot
SETUP = '[[level_setups]]\nbenchmark = "A"\nbacksight = 5\nat = "B"\n'


def _grade(layout: Layout, name: str) -> float:
    """What the first set-up reads at a corner [ft]."""
    place = next(grade.at for grade in layout.grades if grade.name == name)
    return (layout.setups[0].reads(place) or 0.0) / FOOT


def test_a_reading_is_too_large_by_its_distance() -> None:
    """From B, 104 ft from the benchmark or so: both sights are corrected, each by its own length."""
    layout = layout_of(SITE + PEGS + SETUP)
    at, benchmark = layout.points["B"].at, layout.points["A"].at
    corner = next(grade.at for grade in layout.grades if grade.name == "101")
    line = 99 + 5 - 0.0002 * distance(at, benchmark) / FOOT
    assert _grade(layout, "101") == pytest.approx(line - 100 + 0.0002 * distance(at, corner) / FOOT, abs=1e-6)


@given(st.floats(0.1, 9))
def test_a_top_read_as_the_sheet_says_is_at_grade(backsight: float) -> None:
    """Whoever sets a stake until the rod reads the sheet's figure finds no cut there."""
    layout = layout_of(SITE + PEGS + SETUP.replace("= 5", f"= {backsight!r}"))
    read = _grade(layout, "103")
    if 0 < read < 13:
        again = layout_of(SITE + PEGS + SETUP.replace("= 5", f"= {backsight!r}") + f"readings = {{ 103 = {read!r} }}\n")
        assert again.setups[0].tops["103"] == pytest.approx(100 * FOOT, abs=1e-9)


def test_the_figure_from_the_backsight_is_the_same_reading() -> None:
    """A sheet without a backsight adds up to that with one."""
    layout = layout_of(SITE + PEGS + SETUP)
    setup, place = layout.setups[0], layout.grades[0].at
    assert 5 * FOOT + setup.from_backsight(place) == pytest.approx(setup.reads(place))


def test_a_level_without_a_place_is_not_corrected() -> None:
    """Without at no sight has a length."""
    assert _grade(layout_of(SITE + PEGS + SETUP.replace('at = "B"\n', "")), "101") == pytest.approx(4)


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ("turning = { T = 4 }\n", '"T" has no place, so the length of its sight is not known'),
        ("readings = { 999 = 4 }\n", 'there is no stake "999"'),
    ],
)
def test_what_cannot_be_solved(extra: str, said: str) -> None:
    """A turning point without coordinates has no distance; a stake that is none has no top."""
    with pytest.raises(SolveError, match=said):
        layout_of(SITE + PEGS + SETUP + extra)


def test_a_turning_point_needs_no_place_without_correction() -> None:
    """As before: its height is line of sight less reading."""
    text = SITE + SETUP + 'turning = { T = 4 }\n[[level_setups]]\nbenchmark = "T"\n'
    assert layout_of(text).setups[1].height == pytest.approx(100 * FOOT)


def test_elevations_of_tops_stand_in_the_site_file() -> None:
    """They are no readings, and need no set-up."""
    layout = layout_of(SITE + "[stake_tops]\nelevations = { 101 = 100.5, 103 = 99 }\n")
    assert layout.stake_tops == pytest.approx({"101": 100.5 * FOOT, "103": 99 * FOOT})


def test_a_top_of_no_stake() -> None:
    """The name is refused, with the nearest one."""
    with pytest.raises(SolveError, match='there is no stake "1O1"'):
        layout_of(SITE + "[stake_tops]\nelevations = { 1O1 = 100.5 }\n")


def test_the_sample_reads_its_tops_from_a_list() -> None:
    """The first row is the backsight, the rest are tops; the list is on record."""
    layout = sample("workshop_pad")
    (setup,) = layout.setups
    assert set(setup.tops) == {"101", "102", "103", "104"}
    assert setup.backsight == pytest.approx(3.20 * FOOT)
    assert {"levels.csv", "tops.csv"} <= set(layout.site.sources)


def _with(tmp_path: Path, table: str, text: str) -> Layout:
    """A site beside a list, tops.csv."""
    (tmp_path / "site.toml").write_text(SITE + table, encoding="utf-8")
    (tmp_path / "tops.csv").write_text(text, encoding="utf-8")
    return solve(read_site(tmp_path / "site.toml"))


def test_elevations_from_a_list(tmp_path: Path) -> None:
    """In the unit of its header, beside those of the site file."""
    table = '[stake_tops]\nelevations = { 101 = 100.5 }\npath = "tops.csv"\n'
    layout = _with(tmp_path, table, "name,elevation (m)\n102,30.5\n101,30.632\n")
    assert layout.stake_tops == pytest.approx({"101": 100.5 * FOOT, "102": 30.5})


def test_there_is_a_sample_with_a_book() -> None:
    """The files that the sample's pages name are there."""
    assert {"levels.csv", "levels_mistyped.csv", "forms.csv", "tops.csv"} <= {
        path.name for path in (ROOT / "sample_sites" / "workshop_pad").iterdir()
    }
