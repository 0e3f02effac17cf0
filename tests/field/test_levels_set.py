"""The form's top against design: figures beside numpy and scipy, what to raise, and what is doubted."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.linalg
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, RandomSite, Turn, layout_of, turns

from staking import Layout
from staking.field.allowed import Tolerances
from staking.field.compared import Allowed, LevelsSet
from staking.field.levels_doubts import MOST
from staking.field.levels_set import levels_set
from staking.survey.levels import Sight
from staking.survey.points import distance

FOOT = 0.3048
INCH = FOOT / 12
MARKS = """
[[stakes]]
kind = "corners"
[[stakes]]
kind = "along"
spacing = 8
[[stakes]]
kind = "offsets"
distance = 4
"""
FLOOR = '[floor]\nelevation = 100\nfall = "2 %"\ntoward = "front"\n'
LAYOUT = layout_of(PLACED_RECTANGLE + MARKS + FLOOR)
DESIGN = {grade.name: grade.up for grade in LAYOUT.grades if grade.kind in ("corner", "mark")}
OFF = st.lists(st.integers(-12, 12), min_size=len(DESIGN), max_size=len(DESIGN))


def _set(off: dict[str, float] | None = None, all_by: float = 0.0, read: Sight | None = None) -> LevelsSet:
    """The form off by so many feet at some marks, and by so much at all of them."""
    heights = {name: up + FOOT * (all_by + (off or {}).get(name, 0.0)) for name, up in DESIGN.items()}
    found = levels_set(LAYOUT, heights, sights={read.point: read} if read else None)
    assert found is not None
    return found


def _from(off: list[int], layout: Layout = LAYOUT) -> LevelsSet:
    """The form off by so many sixteenths, mark by mark."""
    found = levels_set(layout, {name: up + n * INCH / 16 for (name, up), n in zip(DESIGN.items(), off, strict=True)})
    assert found is not None
    return found


def test_a_form_at_its_heights_is_within() -> None:
    """A floor that falls is judged against its own plane: nothing is off, out or to be done."""
    found = _set()
    assert found.answer == "within"
    assert found.mean == pytest.approx(0, abs=1e-9)
    assert (found.raising.less, found.findings, found.missing, found.odd) == ("nothing", (), (), "")


@given(OFF)
@settings(max_examples=25, deadline=None)
def test_plane_and_rests_are_those_of_scipy(sixteenths: list[int]) -> None:
    """Tilt and what is left of it, by a least squares of scipy on the marks that take part."""
    found = _from(sixteenths)
    kept = [mark for mark in found.marks if mark.name != found.odd]
    rows = np.array([[1, mark.at.east, mark.at.north] for mark in kept])
    (start, east, north), *_ = scipy.linalg.lstsq(rows, [mark.up for mark in kept])
    assert found.tilt is not None
    assert (found.tilt.east, found.tilt.north) == pytest.approx((east, north), abs=1e-9)
    rests = [mark.up - start - east * mark.at.east - north * mark.at.north for mark in found.marks]
    assert [mark.rest for mark in found.marks] == pytest.approx(rests, abs=1e-9)


@given(OFF)
@settings(max_examples=25, deadline=None)
def test_level_over_a_distance_is_the_worst_of_all_pairs(sixteenths: list[int]) -> None:
    """Every pair of marks near enough is compared, one by one."""
    found = _from(sixteenths)
    for over, much, one, other in found.flatness:
        pairs = [(a, b) for a in found.marks for b in found.marks if distance(a.at, b.at) <= over + 1e-6]
        assert much == pytest.approx(max(a.up - b.up for a, b in pairs), abs=1e-9)
        ends = {mark.name: mark for mark in found.marks}
        assert ends[one].up - ends[other].up == pytest.approx(much)


@given(OFF)
@settings(max_examples=25, deadline=None)
def test_after_the_work_everything_is_within(sixteenths: list[int]) -> None:
    """Marks moved as listed are within their tolerance, and level to all that are near."""
    found = _from(sixteenths)
    now = {mark.name: mark.up + mark.raise_by for mark in found.marks}
    assert max(map(abs, now.values())) <= (Tolerances(LAYOUT).height().plus_minus or 0) + 1e-6
    for over, much in Tolerances(LAYOUT).level():
        for one in found.marks:
            near = [other for other in found.marks if distance(one.at, other.at) <= over]
            assert all(now[one.name] - now[other.name] <= (much.plus_minus or 0) + 1e-6 for other in near)


@given(OFF)
@settings(max_examples=25, deadline=None)
def test_after_raising_the_whole_form_everything_is_within(sixteenths: list[int]) -> None:
    """All marks by one figure, but those named by their own: the other way leads there too."""
    found = _from(sixteenths)
    if found.raising.less != "nothing":
        own = dict(found.raising.but)
        now = [mark.up + own.get(mark.name, found.raising.whole) for mark in found.marks]
        assert max(map(abs, now)) <= (Tolerances(LAYOUT).height().plus_minus or 0) + 1e-6


@given(turns, OFF)
@settings(max_examples=15, deadline=None)
def test_turning_the_site_turns_the_tilt_and_nothing_else(turn: Turn, sixteenths: list[int]) -> None:
    """Wherever north lies: the same differences, the same work, and the plane as steep."""
    site = RandomSite(((0, 0), (40, 0), (40, 60), (0, 60)), 14, 12, 9, 7)
    found, turned = (_off(layout_of(site.text(way) + MARKS + FLOOR), sixteenths) for way in (Turn(), turn))
    assert [mark.raise_by for mark in found.marks] == pytest.approx([mark.raise_by for mark in turned.marks], abs=1e-6)
    assert (found.high, found.low, found.odd) == (turned.high, turned.low, turned.odd)
    assert found.tilt is not None
    assert turned.tilt is not None
    assert found.tilt.length == pytest.approx(turned.tilt.length, abs=1e-9)


def _off(layout: Layout, sixteenths: list[int]) -> LevelsSet:
    """The form of any layout off by so many sixteenths, as far as there are marks."""
    marks = [grade for grade in layout.grades if grade.kind in ("corner", "mark")]
    heights = {grade.name: grade.up + n * INCH / 16 for grade, n in zip(marks, sixteenths, strict=False)}
    found = levels_set(layout, heights)
    assert found is not None
    return found


def test_one_low_mark_is_raised_alone() -> None:
    """3/4 in low at one mark: that one is raised to design, and no other."""
    found = _set({"402": -0.0625})
    assert [mark.name for mark in found.marks if mark.raise_by] == ["402"]
    assert next(mark.raise_by for mark in found.marks if mark.name == "402") == pytest.approx(0.0625 * FOOT)
    assert (found.raising.less, found.raising.singly, found.low, found.answer) == ("singly", 1, "402", "out")


def test_a_form_that_is_low_everywhere_is_raised_whole() -> None:
    """One figure for all is less work than as many figures as marks."""
    found = _set({"402": 0.01}, all_by=-0.1)
    assert found.raising.less == "whole"
    assert found.raising.whole == pytest.approx(0.095 * FOOT)
    assert found.raising.but == ()


def test_a_form_that_is_low_everywhere_puts_the_rod_in_doubt() -> None:
    """All marks off by a foot are laid to benchmark or rod first, and the size is named."""
    (finding,) = _set(all_by=-1).findings
    assert finding.code == "levels-shifted"
    assert "it is the size of one wrong digit (1 ft)" in finding.remedy
    assert "check the benchmark" in finding.remedy


def test_a_foot_at_one_mark_is_one_reading() -> None:
    """The odd mark is named, tilts no plane, and its size is that of one digit."""
    found = _set({"102": 1.0})
    assert found.odd == "102"
    assert found.tilt is not None
    assert found.tilt.length < 1e-9
    (finding,) = found.findings
    assert finding.message.startswith("102 stands 1' 0\" (1.000 ft) higher than the other")
    assert "one wrong digit (1 ft)" in finding.remedy


def test_of_two_marks_that_are_low_none_is_one_reading() -> None:
    """Where the form sags over two marks the others do not all agree, and no slip of the pen is guessed at."""
    found = _set({"402": -0.09, "403": -0.1})
    assert (found.odd, found.findings) == ("", ())
    assert [mark.name for mark in found.marks if mark.raise_by] == ["402", "403"]
    assert _set({"403": -0.1}).odd == "403"


@pytest.mark.parametrize(
    ("sight", "said"),
    [
        (
            Sight("102", "intermediate", 4.18 * FOOT, line=5, written="4.18"),
            "digits swapped, 4.81, it is as",
        ),
        (Sight("102", "intermediate", 4.18 * FOOT, second=4.81 * FOOT, line=5, written="4.18"), "its second reading"),
    ],
)
def test_a_slip_of_the_pen_is_named(sight: Sight, said: str) -> None:
    """A reading with two digits swapped, and one that was taken again, tell what was meant."""
    (finding,) = _set({"102": 0.63}, read=sight).findings
    assert said in finding.remedy
    assert finding.remedy.startswith("possibly line 5, 4.18: with ")


def test_no_slip_is_named_where_none_fits() -> None:
    """A mark that is 0.37 ft off is odd, and nothing more is claimed."""
    (finding,) = _set({"102": 0.37}).findings
    assert finding.remedy == "read the rod on 102 again before the form is moved there"


def test_only_marks_of_the_form_are_judged() -> None:
    """Offset stakes have the height of a string, and names that are none are passed over; what is not read is said."""
    found = levels_set(LAYOUT, {"101": DESIGN["101"], "201": 0.0, "K1": 3.0})
    assert found is not None
    assert [mark.name for mark in found.marks] == ["101"]
    assert set(found.missing) == set(DESIGN) - {"101"}
    assert found.tilt is None
    assert found.flatness[0][2] == found.flatness[0][3]


def test_nothing_to_hold_heights_against() -> None:
    """Without a floor, or without one mark read, there is nothing to say."""
    assert levels_set(layout_of(PLACED_RECTANGLE + MARKS), {"101": 30.0}) is None
    assert levels_set(LAYOUT, {"K1": 30.0}) is None


def test_without_a_figure_nothing_is_judged() -> None:
    """Differences are shown, and no answer is made up."""
    found = levels_set(LAYOUT, {name: up + 1 for name, up in DESIGN.items()}, allowed=Allowed(None, ""), level=())
    assert found is not None
    assert (found.answer, found.raising.less, found.findings) == ("not judged", "nothing", ())


def test_very_many_marks_are_held_to_their_own_height() -> None:
    """Then it is said that level is not mended."""
    many = layout_of(PLACED_RECTANGLE + MARKS.replace("spacing = 8", "spacing = 0.25") + FLOOR)
    found = levels_set(many, {grade.name: grade.up for grade in many.grades})
    assert found is not None
    assert len(found.marks) > MOST
    assert [finding.code for finding in found.findings] == ["levels-many"]
