"""Elements of curves against plats and deeds, contradictions that must come out, and curves put on the ground."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.angles import difference, fold, parse_direction
from staking.survey.curves import (
    ELEMENTS,
    Curve,
    CurveGiven,
    Printed,
    TwoCurvesError,
    contradictions,
    end_azimuth,
    placed,
    radius_of_degree,
    solved,
    start_azimuth,
    tangency,
)
from staking.survey.points import Point, azimuth, azimuth_of, distance

CASES = {str(case["id"]): case for case in published("curves")}
SECOND = 1 / 3600
ONE = [case for case in CASES.values() if "gives" in case]

radii = st.floats(3, 3000)
angles = st.floats(5, 175)


def _bearing(text: str) -> Printed:
    return Printed(parse_direction(text), SECOND / 2)


def _given(case: Mapping[str, Any], *, without: tuple[str, ...] = ()) -> CurveGiven:
    elements: dict[str, Any] = {}
    for name, value in case["elements"].items():
        if name not in without:
            elements[name] = _bearing(value) if isinstance(value, str) else Printed(value, case["half"])
    if "chord_azimuth" in case:
        elements["chord_azimuth"] = _bearing(case["chord_azimuth"])
    return CurveGiven(left=case["left"], **elements)


def _all_of(curve: Curve, *, left: bool = True) -> dict[str, Any]:
    return {"left": left} | {name: Printed(v) for name in ELEMENTS if (v := getattr(curve, name)) is not None}


def _exact(elements: Mapping[str, float]) -> CurveGiven:
    printed: dict[str, Any] = {name: Printed(value) for name, value in elements.items()}
    return CurveGiven(left=True, **printed)


def _round(radius: float, angle: float) -> Curve:
    return solved(CurveGiven(left=True, radius=Printed(radius), central_angle=Printed(angle)))


@pytest.mark.parametrize("case", ONE, ids=lambda case: str(case["id"]))
def test_elements_agree_with_the_print(case: Mapping[str, Any]) -> None:
    """The other elements come out of the first two of the record as they are printed, or as recomputed."""
    curve = solved(_given(case))
    for name, value in case["gives"].items():
        assert getattr(curve, name) == pytest.approx(value, abs=case["within"])
    assert (curve.tangent is None) == case.get("no_tangents", False) == (curve.external is None)


@pytest.mark.parametrize("case", ONE, ids=lambda case: str(case["id"]))
def test_contradictions_are_those_of_the_record(case: Mapping[str, Any]) -> None:
    """Elements that others deny are named, and rounding or a digit cut off is not called a contradiction."""
    found = contradictions(_given(case))
    assert [one.element for one in found] == case.get("contradicts", [])


def test_impossible_chord_is_not_reproduced() -> None:
    """The printed chord of 43.42 stands against 53.68, far outside what rounding allows."""
    (chord,) = contradictions(_given(CASES["b05c"]))
    assert chord.given == 43.42
    assert chord.computed == pytest.approx(53.6788, abs=0.00005)
    assert 0.005 < chord.tolerance < 0.02


def test_radius_and_chord_leave_two_curves() -> None:
    """Both arcs are named, and the record has to say whether it is more than half of the circle."""
    case = CASES["b09"]
    with pytest.raises(TwoCurvesError, match=r"94\.1086 .* 265\.8914") as refused:
        solved(_given(case))
    for curve, name, more in zip(refused.value.curves, ("smaller", "larger"), (False, True), strict=True):
        assert curve == solved(replace(_given(case), more_than_half=more))
        assert (curve.central_angle, curve.arc) == pytest.approx(tuple(case[name].values()), abs=case["within"])


def test_tangent_at_both_ends() -> None:
    """The deed's curve carries on the course before it and meets the course after it, to the second."""
    case = CASES["b04"]
    given_curve, before = _given(case), _bearing(case["before"])
    assert contradictions(given_curve, before) == ()
    assert tangency(_bearing(case["after"]), end_azimuth(given_curve, before)).off == pytest.approx(0, abs=1e-9)
    assert end_azimuth(given_curve, before).half > before.half


def test_curve_that_is_not_tangent() -> None:
    """Neither end of the recorded curve is tangent: 111.5 and 710.5 seconds off, where rounding explains 1.3."""
    case = CASES["b06a"]
    given_curve = _given(case)
    first = tangency(_bearing(case["before"]), start_azimuth(given_curve))
    last = tangency(_bearing(case["after"]), end_azimuth(given_curve))
    assert (first.off, last.off) == pytest.approx((case["off_before"] * SECOND, case["off_after"] * SECOND), abs=1e-6)
    assert not first.tangent
    assert max(first.tolerance, last.tolerance) < 2 * SECOND


def test_stated_tangent_that_is_none() -> None:
    """Where the record calls the curve tangent and its chord bearing denies it, that is a contradiction."""
    case = CASES["b06a"]
    (found,) = contradictions(_given(case), _bearing(case["before"]))
    assert found.element == "tangent"
    assert found.computed == pytest.approx(parse_direction("S55-32-17.5W"), abs=0.1 * SECOND)


def test_reverse_curve_is_tangent_within_rounding() -> None:
    """Thirteen seconds between two curves of 15 ft and 60 ft are rounding of their arcs."""
    first, second = (_given(CASES[f"b06c {name}"]) for name in ("first", "second"))
    joint = tangency(end_azimuth(first), start_azimuth(second))
    assert joint.off == pytest.approx(13 * SECOND, abs=0.5 * SECOND)
    assert joint.tangent
    assert 69 * SECOND < joint.tolerance < 120 * SECOND


def test_tolerance_shrinks_with_the_radius() -> None:
    """The same half hundredth lets a small curve be off by more seconds than a large one."""
    small, large = (
        CurveGiven(True, radius=Printed(r), arc=Printed(r / 2, 0.005), chord_azimuth=Printed(0.0)) for r in (15, 1500)
    )
    assert start_azimuth(small).half == pytest.approx(100 * start_azimuth(large).half, rel=1e-6)
    assert start_azimuth(small).half * 2 == pytest.approx(math.degrees(0.005 / 15), rel=1e-6)


@pytest.mark.parametrize("pair", list(combinations(ELEMENTS, 2)), ids="-".join)
@given(radius=radii, angle=angles)
def test_any_two_elements_make_the_curve(pair: tuple[str, str], radius: float, angle: float) -> None:
    """Any two elements lead back to the curve they are from, or to two curves of which it is one."""
    curve = _round(radius, angle)
    said = _exact({name: getattr(curve, name) for name in pair})
    try:
        found = [solved(replace(said, more_than_half=False))]
    except TwoCurvesError as two:
        found = list(two.curves)
    assert any(one.central_angle == pytest.approx(angle, rel=1e-5) for one in found)
    assert any(one.radius == pytest.approx(radius, rel=1e-5) for one in found)


@pytest.mark.parametrize("off", [0.0, 1e-6, -1e-6, 0.001, -0.001, 0.15, -0.15])
@pytest.mark.parametrize("radius", [3.0, 100.0, 1234.5])
def test_two_elements_at_the_turn_of_their_ratio(radius: float, off: float) -> None:
    """Middle ordinate over tangent, (1 - cos x) cos x / sin x, is greatest where cos x is the golden section."""
    angle = 2 * math.degrees(math.acos((math.sqrt(5) - 1) / 2)) + off
    curve = _round(radius, angle)
    said = _exact({name: getattr(curve, name) for name in ("tangent", "middle_ordinate")})
    try:
        found = [solved(said)]
    except TwoCurvesError as two:
        found = list(two.curves)
    assert any(one.central_angle == pytest.approx(angle, rel=1e-5) for one in found)


@given(radii, st.floats(181, 355), st.booleans())
def test_more_than_half_a_circle(radius: float, angle: float, left: bool) -> None:
    """Beyond 180 degrees there are no tangents; the arc, the chord and the flag lead back, and agree."""
    curve = _round(radius, angle)
    said = CurveGiven(**_all_of(curve, left=left), more_than_half=True)
    assert curve.tangent is None
    assert contradictions(said) == ()
    by_chord = replace(said, central_angle=None, arc=None, middle_ordinate=None)
    assert solved(by_chord).central_angle == pytest.approx(angle, rel=1e-6)
    assert [one.element for one in contradictions(replace(said, more_than_half=False))] == ["more_than_half"]


@given(radii, angles, st.sampled_from(ELEMENTS[2:]))
def test_any_wrong_element_is_found(radius: float, angle: float, name: str) -> None:
    """An element a thousandth too large is a contradiction, and exact elements are none."""
    elements = _all_of(_round(radius, angle))
    assert contradictions(CurveGiven(**elements)) == ()
    wrong = elements | {name: Printed(elements[name].value * 1.001)}
    assert [one.element for one in contradictions(CurveGiven(**wrong))] == [name]


@given(st.floats(30, 3000), angles, st.sampled_from([0.5, 0.05, 0.005]))
def test_rounded_elements_agree(radius: float, angle: float, half: float) -> None:
    """Elements rounded as a record prints them do not contradict one another."""
    curve = _round(round(radius, 2), angle)
    rounded: dict[str, Any] = {
        name: Printed(round(getattr(curve, name) / half / 2) * half * 2, half) for name in ("arc", "chord")
    }
    said = CurveGiven(left=True, radius=Printed(curve.radius, 0.0), central_angle=Printed(angle), **rounded)
    assert contradictions(said) == ()


@pytest.mark.parametrize(
    ("elements", "reason"),
    [
        ({}, "two elements, and 0"),
        ({"radius": 10}, "two elements, and 1"),
        ({"radius": 10, "arc": 0}, "the arc of a curve is above 0"),
        ({"radius": -10, "arc": 3}, "the radius of a curve is above 0"),
        ({"radius": math.nan, "arc": 3}, "above 0, not nan"),
        ({"radius": 10, "central_angle": 360}, "less than 360"),
        ({"radius": 10, "arc": 63}, "less than 360"),
        ({"radius": 10, "chord": 20.1}, "no chord of 20.1"),
        ({"radius": 10, "middle_ordinate": 20.1}, "no middle ordinate of 20.1"),
        ({"central_angle": 200, "tangent": 5}, "has no tangent"),
        ({"arc": 10, "chord": 10.5}, "no curve has these"),
    ],
)
def test_curves_that_cannot_be(elements: dict[str, float], reason: str) -> None:
    """Too little, nothing, and impossible sizes are refused with the reason."""
    with pytest.raises(ValueError, match=reason):
        solved(_exact(elements))


def test_chord_a_little_longer_than_the_diameter() -> None:
    """A chord that is longer than the diameter by rounding is a half circle."""
    half = CurveGiven(left=True, radius=Printed(12.34, 0.005), chord=Printed(24.69, 0.005))
    assert solved(half).central_angle == pytest.approx(180)
    assert contradictions(replace(half, more_than_half=True)) == ()


def test_tangent_of_more_than_half_a_circle_is_denied() -> None:
    """A tangent length beside an angle above 180 degrees is a contradiction without a computed value."""
    (found,) = contradictions(
        CurveGiven(left=True, radius=Printed(60), central_angle=Printed(183.5), tangent=Printed(1931))
    )
    assert (found.element, found.computed) == ("tangent", None)


@pytest.mark.parametrize(("by_chord", "radius"), [(False, 5729.578), (True, 5729.651)])
def test_degree_of_curve(by_chord: bool, radius: float) -> None:
    """A curve of one degree has 5729.58 ft by the arc and 5729.65 ft by the chord (both from memory)."""
    found = radius_of_degree(Printed(1.0, 0.01), by_chord=by_chord)
    assert found.value / 0.3048 == pytest.approx(radius, abs=0.0006)
    assert found.half == pytest.approx(found.value / 100)
    with pytest.raises(ValueError, match="degree 0"):
        radius_of_degree(Printed(0.0), by_chord=by_chord)


@given(radii, st.floats(5, 355), st.floats(0, 359), st.booleans())
def test_placed_curve_is_the_curve(radius: float, angle: float, way: float, left: bool) -> None:
    """On the ground a curve has its elements, leaves as it should, and its radial and chord say the same."""
    curve = _round(radius, angle)
    arc = placed(Point(5, 7), curve, way, left=left)
    assert (arc.radius, arc.sweep, arc.length) == pytest.approx((radius, angle, curve.arc), rel=1e-8)
    assert abs(difference(azimuth_of(arc.start_direction), way)) < 1e-8
    radial, chord = Printed(azimuth(arc.start, arc.centre)), Printed(azimuth(arc.start, arc.end))
    said = CurveGiven(**_all_of(curve, left=left), start_radial=radial, chord_azimuth=chord)
    tight = replace(said, start_radial=replace(radial, half=1e-6))
    assert contradictions(tight, Printed(way, 1e-6)) == ()
    assert abs(difference(end_azimuth(said).value, azimuth_of(arc.end_direction))) < 1e-6


def test_radial_alone_and_against_the_chord() -> None:
    """A radial bearing gives the start; one that denies the chord is a contradiction; nothing at all is refused."""
    curve = CurveGiven(left=False, radius=Printed(50), central_angle=Printed(40), start_radial=Printed(130.0))
    assert start_azimuth(curve).value == 40.0
    assert end_azimuth(curve).value == 80.0
    (found,) = contradictions(replace(curve, chord_azimuth=Printed(61.0)))
    assert (found.element, found.given) == ("start_radial", 130.0)
    assert found.computed == pytest.approx(131.0)
    with pytest.raises(ValueError, match="which way"):
        start_azimuth(replace(curve, start_radial=None))


def test_deed_with_a_tangent_curve_on_the_ground() -> None:
    """South 13 west, the curve to the right by 98 degrees, and its end is a chord of 271.695 ft away."""
    case = CASES["b04"]
    arc = placed(Point(0, 0), solved(_given(case)), parse_direction(case["before"]), left=False)
    assert distance(arc.start, arc.end) == pytest.approx(case["gives"]["chord"], abs=case["within"])
    assert azimuth(arc.start, arc.end) == pytest.approx(fold(parse_direction("S62-00-00W")))


@pytest.mark.parametrize(("chord", "named"), [(100.004, []), (100.0075, ["chord"])])
def test_half_of_the_last_digit_is_all_that_an_element_may_be_off(chord: float, named: list[str]) -> None:
    """60 degrees of exactly 100 have a chord of exactly 100: printed to hundredths, it may be 0.005 off."""
    said = CurveGiven(left=True, radius=Printed(100), central_angle=Printed(60), chord=Printed(chord, 0.005))
    assert [one.element for one in contradictions(said)] == named


@pytest.mark.parametrize(("off", "named"), [(0.9, []), (1.5, ["start_radial"])])
def test_halves_of_both_directions_are_added_once(off: float, named: list[str]) -> None:
    """A radial and a chord to the second may be one second apart: the chord at 30 to the left starts at 60."""
    said = CurveGiven(left=True, radius=Printed(100), central_angle=Printed(60), chord_azimuth=Printed(30, SECOND / 2))
    radial = Printed(fold(60 - 90 + off * SECOND), SECOND / 2)
    assert [one.element for one in contradictions(replace(said, start_radial=radial))] == named


def test_halves_of_a_course_and_a_curve_add_up_where_they_meet() -> None:
    """Each rounded by a hundredth of a degree, they may be two hundredths apart and still be tangent."""
    assert tangency(Printed(10.0, 0.01), Printed(10.015, 0.01)).tangent
    assert not tangency(Printed(10.0, 0.01), Printed(10.025, 0.01)).tangent


def test_rounding_decides_nothing_about_half_a_circle() -> None:
    """314.17 on a radius of 100 are 180.006 degrees; half a hundredth in both leaves 0.012 degrees open."""
    said = CurveGiven(left=True, radius=Printed(100, 0.005), arc=Printed(314.17, 0.005), more_than_half=False)
    assert contradictions(said) == ()


def test_a_diameter_may_be_rounded_twice() -> None:
    """The radius counts twice in a diameter: 24.694 is within 2 x 0.005 + 0.005 of 2 x 12.34, and 24.696 is not."""
    said = CurveGiven(left=True, radius=Printed(12.34, 0.005), chord=Printed(24.694, 0.005))
    assert solved(said).central_angle == pytest.approx(180)
    with pytest.raises(ValueError, match="no chord"):
        solved(replace(said, chord=Printed(24.696, 0.005)))
