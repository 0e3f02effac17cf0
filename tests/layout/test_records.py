"""Lots from a record's courses: published closures, curves of every kind, varas, pins, and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import layout_of

from staking import InputError, Layout
from staking.layout.records import RecordReport
from staking.survey.paths import Arc
from staking.survey.points import distance

FOOT = 0.3048
HEAD = '[site]\nname = "record"\nunit = "ft"\n[points]\nPOB = [{north}, {east}]\n{points}[lot]\n{lot}'
TAIL = """
[slab]
width = "4 in"
depth = "4 in"
[placement]
kind = "at_point"
corner = 1
at = "POB"
side = "front"
bearing = 90
"""


def _site(courses: str, lot: str = 'start = "POB"\n', points: str = "", at: tuple[float, float] = (5000, 5000)) -> str:
    head = HEAD.format(lot=lot + "worst = 100\n", points=points, north=at[0], east=at[1])
    return head + courses + TAIL


def _calls(*calls: tuple[str, str]) -> str:
    return "".join(
        f'[[lot.courses]]\nside = "s{i}"\nbearing = "{bearing}"\nlength = "{length}"\n'
        for i, (bearing, length) in enumerate(calls)
    )


def _record(layout: Layout) -> RecordReport:
    assert layout.lot is not None
    assert layout.lot.record is not None
    return layout.lot.record


# Purdue University, course ASM 215 notes, traverse calculations (same data as a standard textbook traverse); the
# values are recomputed at full precision, the page prints two decimals
PURDUE = _calls(
    ("N 26-10-00 E", "285.10 ft"),
    ("S 75-25-00 E", "610.45 ft"),
    ("S 15-30-00 W", "720.48 ft"),
    ("N 01-42-00 W", "203.00 ft"),
    ("N 53-06-00 W", "647.02 ft"),
)


def test_misclosure_of_a_published_traverse() -> None:
    """Latitudes and departures sum to -0.704 and 0.533 ft; the distance is 0.883 ft, 1 part in 2792."""
    gap = _record(layout_of(_site(PURDUE))).closure
    assert (gap.north / FOOT, gap.east / FOOT) == pytest.approx((-0.70427, 0.53315), abs=0.00001)
    assert gap.distance / FOOT == pytest.approx(0.88332, abs=0.00001)
    assert gap.ratio == pytest.approx(2791.8, abs=0.1)


def test_compass_rule_gives_the_published_corners_and_area() -> None:
    """Balanced, the corners and the area are those of the notes."""
    layout = layout_of(_site(PURDUE, lot='start = "POB"\nadjust = "compass"\n', at=(10000, 10000)))
    assert layout.lot is not None
    there = [layout.frame.to_file(corner) for corner in layout.lot.corners]
    found = [(round(p.north / FOOT, 2), round(p.east / FOOT, 2)) for p in there]
    # computed at full precision: 10102.4334, 10716.3137; 9408.3627, 10523.6180; 9611.3313, 10517.5519
    assert found == [
        (10000.0, 10000.0),
        (10255.96, 10125.66),
        (10102.43, 10716.31),
        (9408.36, 10523.62),
        (9611.33, 10517.55),
    ]
    assert layout.lot.area / FOOT**2 == pytest.approx(272611.24, abs=0.01)


def test_nothing_is_balanced_unasked() -> None:
    """Every corner stays where the calls put it, and the last side runs back to the beginning."""
    layout = layout_of(_site(PURDUE))
    assert layout.lot is not None
    for piece, called in zip(layout.lot.pieces[:-1], _record(layout).called[:-1], strict=True):
        assert piece.end == called.end
    assert layout.lot.pieces[-1].end == layout.lot.pieces[0].start


CURVE = '[[lot.courses]]\nkind = "curve"\nside = "bow"\nturn = "{turn}"\n{elements}\n'


def _with_curve(elements: str, turn: str = "right", before: str = "N 0-00-00 E") -> Arc:
    """A curve after a straight call due north, closed by a call to the beginning."""
    close = '[[lot.courses]]\nside = "home"\nbearing = "S"\nto_start = true\n'
    text = _site(_calls((before, "100.00 ft")) + CURVE.format(turn=turn, elements=elements) + close)
    layout = layout_of(text)
    arc = _record(layout).called[1]
    assert isinstance(arc, Arc)
    return arc


# N. N. Basak, Surveying and Levelling, chapter 10, page 379, problem 1: R 275, delta 24: T 58.453, chord 114.351,
# arc 115.192
@pytest.mark.parametrize(
    "elements",
    [
        'radius = "275.000 ft"\ndelta = "24-00-00"',
        'radius = "275.000 ft"\narc = "115.192 ft"',
        'radius = "275.000 ft"\ntangent = "58.453 ft"',
        'delta = "24-00-00"\nchord = "114.351 ft"',
        'arc = "115.19173 ft"\nchord = "114.35143 ft"',
        'radius = "275.000 ft"\nchord = "114.351 ft"\nmore_than_half = false',
    ],
)
def test_any_sufficient_pair_gives_the_curve(elements: str) -> None:
    """Tangent to the course before it, whichever two elements are given."""
    arc = _with_curve(elements)
    assert arc.radius / FOOT == pytest.approx(275.0, abs=0.02)
    assert arc.length / FOOT == pytest.approx(115.192, abs=0.002)
    assert arc.start_direction.north == pytest.approx(1.0)


def test_a_curve_by_its_radial_and_by_its_chord_lie_alike() -> None:
    """The radial from its beginning, or the bearing of its chord, places the same curve; it need not be tangent."""
    radial = _with_curve('radius = "60.00 ft"\ndelta = "90-00-00"\nradial = "E"')
    chord = _with_curve('radius = "60.00 ft"\ndelta = "90-00-00"\nchord_bearing = "N 45-00-00 E"')
    assert distance(radial.end, chord.end) < 1e-9
    assert distance(radial.centre, chord.centre) < 1e-9


# a plat read in a surveyors' forum: radius 60, delta 183-33-30, arc 192.22
def test_more_than_half_a_circle() -> None:
    """The bulb of a cul-de-sac over a half circle: the printed arc, a chord shorter than the diameter."""
    arc = _with_curve('radius = "60.00 ft"\ndelta = "183-33-30"')
    assert arc.length / FOOT == pytest.approx(192.22, abs=0.005)
    assert arc.chord.length / FOOT == pytest.approx(119.942, abs=0.001)


def test_radius_and_chord_alone_leave_two_curves() -> None:
    """Nothing is picked: the sentence names both arcs and asks which (general note on arcs over 180 degrees)."""
    with pytest.raises(InputError) as refused:
        _with_curve('radius = "100.00 ft"\nchord = "146.40 ft"')
    said = refused.value.findings[0]
    assert "164' 3\"" in said.message
    assert "464' 0-13/16\"" in said.message
    assert "more_than_half" in said.remedy


def test_a_recorded_chord_that_cannot_be_is_a_contradiction() -> None:
    """Radius 62.23 and arc 55.50 give a chord of 53.68, not the recorded 43.42 (a recorded description)."""
    elements = 'radius = "62.23 ft"\narc = "55.50 ft"\nchord = "43.42 ft"\nchord_bearing = "N 73-25-50 W"'
    close = '[[lot.courses]]\nside = "home"\nbearing = "S"\nto_start = true\n'
    layout = layout_of(_site(_calls(("N", "80.00 ft")) + CURVE.format(turn="left", elements=elements) + close))
    (curve,) = _record(layout).curves
    (wrong,) = curve.contradictions
    assert (wrong.element, round(wrong.given / FOOT, 2)) == ("chord", 43.42)
    assert wrong.computed is not None
    assert wrong.computed / FOOT == pytest.approx(53.68, abs=0.005)


@pytest.mark.parametrize(
    ("length", "feet"),
    [("14 ch", 14 * 66.0), ("320 rd", 320 * 16.5), ("15 lk", 9.9), ("30.48 m", 100.0 / 1.000002), ("100 ftUS", 100.0)],
)
def test_old_units_are_exact(length: str, feet: float) -> None:
    """Chains, rods and links count in survey feet, each exactly."""
    layout = layout_of(_site(_calls(("N", length), ("E", "10 ft"), ("S", length), ("W", "10 ft"))))
    assert _record(layout).called[0].length == pytest.approx(feet * 1200 / 3937, rel=1e-9)


def test_a_vara_needs_its_name() -> None:
    """There are many varas; with [lot.vara] the length is exact, without it the sentence asks."""
    calls = _calls(("N", "30 vara"), ("E", "10 ft"), ("S", "30 vara"), ("W", "10 ft"))
    with pytest.raises(InputError, match="many varas"):
        layout_of(_site(calls))
    vara = '[lot.vara]\nname = "Texas vara"\nlength = "33-1/3 in"\nsource = "as the record says"\n'
    assert _record(layout_of(_site(calls + vara))).called[0].length == pytest.approx(1000 / 12 * FOOT)


def test_side_names_survive_curves_and_several_courses() -> None:
    """Two straight courses and a curve with one name are one side, whose setback is the least of all three."""
    calls = _calls(("E", "100 ft"), ("N", "80 ft"), ("W", "100 ft")).replace('"s1"', '"s0"')
    bow = 'radius = "50.00 ft"\nchord = "80.00 ft"\nmore_than_half = false\nchord_bearing = "S"'
    layout = layout_of(_site(calls + CURVE.format(turn="left", elements=bow).replace('"bow"', '"s0"')))
    assert layout.lot is not None
    assert [side.name for side in layout.lot.sides] == ["s0", "s0", "s2", "s0"]


PINS = """found = {{ L1 = "A", L2 = "B", L3 = "C", L4 = "D" }}
{more}"""
SQUARE = _calls(("E", "100 ft"), ("N", "80 ft"), ("W", "100 ft"), ("S", "80 ft"))


def _pinned(turn: float, more: str = "", stretch: float = 1.0, **slips: tuple[float, float]) -> Layout:
    """The square laid over pins that are turned, stretched, and some of them slipped (north, east) in feet."""
    sine, cosine = math.sin(math.radians(turn)), math.cos(math.radians(turn))
    points = ""
    for name, (east, north) in {"A": (0, 0), "B": (100, 0), "C": (100, 80), "D": (0, 80)}.items():
        n, e = slips.get(name, (0.0, 0.0))
        across, up = east * cosine + north * sine, north * cosine - east * sine
        points += f"{name} = [{2000 + stretch * up + n!r}, {3000 + stretch * across + e!r}]\n"
    return layout_of(_site(SQUARE, lot=PINS.format(more=more), points=points))


@given(st.floats(-180, 180))
@settings(max_examples=15, deadline=None)
def test_pins_turn_the_record(turn: float) -> None:
    """Four good pins: the lot lies on them, however far the record's bearings are from those of the ground."""
    layout = _pinned(turn)
    assert layout.lot is not None
    assert max(distance(c, layout.points[n].at) for c, n in zip(layout.lot.corners, "ABCD", strict=True)) < 1e-6


def test_the_pin_that_does_not_belong_is_named() -> None:
    """One pin a foot off: it is named, and the record is still only turned and shifted."""
    fit = _record(_pinned(12.0, C=(0.8, 0.6))).fit
    assert fit is not None
    assert fit.odd == 2


def test_stretch_is_shown_and_not_applied() -> None:
    """Pins 200 parts in a million farther apart than the record: said, and applied only when asked."""
    shown, applied = (_pinned(5.0, more=more, stretch=1.0002) for more in ("", "scale = true\n"))
    for layout, width in ((shown, 100.0), (applied, 100.02)):
        assert layout.lot is not None
        assert layout.lot.pieces[0].length / FOOT == pytest.approx(width, abs=1e-6)
        fit = _record(layout).fit
        assert fit is not None
        assert fit.scale == pytest.approx(1.0002, abs=1e-9)


def test_one_pin_held_and_another_aimed_at() -> None:
    """The held pin is met exactly, the other in direction; what is left shows at the others."""
    layout = _pinned(30.0, more='fit = "hold"\nhold = "L1"\naim = "L2"\n', B=(0.05, 0.0))
    assert layout.lot is not None
    assert distance(layout.lot.corners[0], layout.points["A"].at) < 1e-9
    assert abs(layout.lot.sides[0].line.offset(layout.points["B"].at)) < 1e-9


@pytest.mark.parametrize(
    ("lot", "message"),
    [
        ('start = "POB"\nholes = [["A"]]\n', "piece taken out"),
        ("", "nothing says where the courses begin"),
        (
            'start = "POB"\ncorners = ["POB", "POB", "POB"]\nsides = ["a", "b", "c"]\n',
            "either by corners or by courses",
        ),
        ('start = "POB"\nfit = "hold"\n', "do not fit together"),
        ('found = { L1 = "POB" }\n', "at least two pins"),
        ('found = { L1 = "POB", L9 = "POB" }\n', 'no corner "L9"'),
        ('found = { L1 = "POB", L2 = "POB" }\n', "one place"),
    ],
)
def test_records_that_say_too_little_or_too_much(lot: str, message: str) -> None:
    """Holes, no beginning, two descriptions, half a fit: a sentence each."""
    with pytest.raises(InputError) as refused:
        layout_of(_site(SQUARE, lot=lot))
    assert any(message in finding.message for finding in refused.value.findings)


def test_a_reversed_bearing_is_named() -> None:
    """North for south in one call of an odd-sided lot: the sides cross, and the sentence names the call."""
    good = [("N 88-00-00 E", "100.00 ft"), ("N 2-00-00 W", "81.50 ft"), ("S 85-30-00 W", "97.29 ft")]
    east, north = 0.0, 0.0
    for bearing, length in good:
        angle = math.radians(float(bearing[2:4].strip("-")) + (30 / 60 if "30" in bearing else 0))
        north += float(length[:-3]) * math.cos(angle) * (1 if bearing[0] == "N" else -1)
        east += float(length[:-3]) * math.sin(angle) * (1 if bearing[-1] == "E" else -1)
    closing = math.degrees(math.atan2(-east, -north)) % 360
    last = (f"{closing:.5f}", f"{math.hypot(east, north):.3f} ft")
    assert _record(layout_of(_site(_calls(*good, last)))).suspects == ()
    wrong = [good[0], ("S 2-00-00 W", good[1][1]), *good[2:], last]
    try:
        suspects = _record(layout_of(_site(_calls(*wrong)))).suspects
        named = f"call {suspects[0].index + 1}"
    except InputError as refused:
        named = refused.findings[0].remedy
    assert "call 2" in named
