"""Traverses against published ones, wrong prints that must not come out, and laws of closed lots with curves."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.angles import parse_direction
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece, path_area, path_length, reversed_path
from staking.survey.points import Point, Vector, azimuth_of, distance, moved
from staking.survey.polygons import signed_area
from staking.survey.traverse import balanced, changes, closure, closure_of, compass, ends, step, turned_wrong

CASES = {str(case["id"]): case for case in published("traverse")}
CLOSING = [case for case in CASES.values() if "misclosure" in case]
BALANCED = [case for case in CASES.values() if "balanced_latitudes" in case]


def _steps(case: Mapping[str, Any]) -> list[Vector]:
    ways = map(parse_direction, case["ways"])
    return [step(way, length) for way, length in zip(ways, case["lengths"], strict=True)]


def _lines(case: Mapping[str, Any]) -> list[Line]:
    corners = ends(Point(0, 0), _steps(case))
    return [Line(a, b) for a, b in pairwise(corners)]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_latitudes_and_departures(case: Mapping[str, Any]) -> None:
    """Every course leads as far north and east as the print says."""
    steps = _steps(case)
    assert [s.north for s in steps] == pytest.approx(case["latitudes"], abs=case["within"])
    assert [s.east for s in steps] == pytest.approx(case["departures"], abs=case["within"])


@pytest.mark.parametrize("case", CLOSING, ids=lambda case: str(case["id"]))
def test_misclosures(case: Mapping[str, Any]) -> None:
    """Sums, misclosure and ratio are those of the print, signed from the start to where the courses end."""
    found = closure_of(_steps(case), math.fsum(case["lengths"]))
    assert [found.north, found.east] == pytest.approx(case["sums"], abs=case["within"])
    assert found.distance == pytest.approx(case["misclosure"], abs=case["within"])
    low, high = case["ratio"]
    assert found.ratio is not None
    assert low < found.ratio < high


@pytest.mark.parametrize("case", BALANCED, ids=lambda case: str(case["id"]))
def test_compass_rule(case: Mapping[str, Any]) -> None:
    """Balanced latitudes and departures are those of the print, and close."""
    found = balanced(_steps(case))
    assert [s.north for s in found] == pytest.approx(case["balanced_latitudes"], abs=case["within"])
    assert [s.east for s in found] == pytest.approx(case["balanced_departures"], abs=case["within"])
    assert closure_of(found, 1.0).distance < 1e-9


@pytest.mark.parametrize("identity", ["a03", "a06"])
def test_balanced_courses(identity: str) -> None:
    """Balanced courses have the printed lengths and azimuths, and the changes add up to them."""
    case = CASES[identity]
    before, after = _lines(case), compass(_lines(case))
    change = changes(before, after)
    assert [piece.length for piece in after] == pytest.approx(case["balanced_lengths"], abs=case["within"])
    assert [a.length + c.length for a, c in zip(before, change, strict=True)] == pytest.approx(
        case["balanced_lengths"], abs=case["within"]
    )
    ways = [(azimuth_of(a.direction) + c.azimuth) % 360 for a, c in zip(before, change, strict=True)]
    assert ways == pytest.approx(case["balanced_ways"], abs=case["within_seconds"] / 3600)


def test_way_back_and_area() -> None:
    """The closing line runs opposite to the misclosure; the balanced tract has the printed area."""
    case = CASES["a06"]
    back = closure_of(_steps(case), 1.0).back
    assert back == pytest.approx(case["back"], abs=0.01 / 60)
    corners = [piece.start for piece in compass(_lines(case))]
    assert abs(signed_area(corners)) == pytest.approx(case["area"], abs=0.3)  # four decimals of two miles of sides


def test_wrong_coordinates_do_not_come_out() -> None:
    """The coordinates are the recomputed ones; those that are printed are a hundredth of a foot and more away."""
    case = CASES["a04"]
    places = ends(Point(*case["start"]), _steps(case))[1:4]
    assert [p.east for p in places] == pytest.approx(case["east"], abs=0.0001)
    assert [p.north for p in places] == pytest.approx(case["north"], abs=0.0001)
    wrong = Point(case["wrong_east"][2], case["wrong_north"][2])
    assert distance(places[2], wrong) > 0.01


def test_table_look_up_does_not_come_out() -> None:
    """The latitude is computed in full; the sum of two rounded table values is 0.04 ft short."""
    case = CASES["a10 by table"]
    assert _steps(case)[0].north - case["wrong_latitude"] == pytest.approx(0.042, abs=0.001)


def test_closed_courses_have_no_ratio() -> None:
    """Courses that close have no misclosure to give a direction or a ratio; nothing at all is not balanced."""
    found = closure([Line(Point(0, 0), Point(4, 0)), Line(Point(4, 0), Point(0, 0))])
    assert (found.distance, found.azimuth, found.back, found.ratio, found.perimeter) == (0, None, None, None, 8)
    with pytest.raises(ValueError, match="no length"):
        balanced([Vector(0, 0)])


@st.composite
def lots(draw: st.DrawFn) -> tuple[Piece, ...]:
    """A closed lot of straight sides and arcs, as long as a city block at most."""
    count = draw(st.integers(3, 7))
    reach = draw(st.lists(st.floats(10, 100), min_size=count, max_size=count))
    bent = draw(st.lists(st.floats(-0.4, 0.6), min_size=count, max_size=count))
    corners = [ends(Point(0, 0), [step(-360 * i / count, r)])[1] for i, r in enumerate(reach)]
    sides = zip(corners, [*corners[1:], corners[0]], bent, strict=True)
    return tuple(Line(a, b) if abs(k) < 0.05 else Arc.through_bulge(a, b, k) for a, b, k in sides)


MILLIONTH_FOOT = 0.3048e-6


def _as_calls(lot: tuple[Piece, ...]) -> list[Vector]:
    """The courses and chords by azimuth and length, as a record would give them in full."""
    chords = [Vector(p.end.east - p.start.east, p.end.north - p.start.north) for p in lot]
    return [step(azimuth_of(chord), chord.length) for chord in chords]


@given(lots())
def test_random_lots_close(lot: tuple[Piece, ...]) -> None:
    """Courses and chords of a closed lot close to a millionth of a foot, the other way round and from any corner."""
    calls = _as_calls(lot)
    for around in (calls, [c.reversed() for c in reversed(calls)], [*calls[2:], *calls[:2]]):
        assert closure_of(around, 1.0).distance < MILLIONTH_FOOT
    assert closure(lot).ratio is None
    assert closure(lot).perimeter == pytest.approx(path_length(lot))


@given(lots(), st.floats(-1, 1), st.floats(-1, 1))
def test_balancing_closes_and_keeps_curves(lot: tuple[Piece, ...], east: float, north: float) -> None:
    """Whatever the misclosure, balanced pieces join and close, and curves keep their central angle and side."""
    slipped = _slipped(lot, Vector(east, north))
    found = compass(slipped)
    assert closure(found).distance < 1e-9
    assert found[0].start == slipped[0].start
    assert all(a.end == b.start for a, b in zip(found, [*found[1:], found[0]], strict=True))
    for before, after in zip(slipped, found, strict=True):
        if isinstance(before, Arc) and isinstance(after, Arc):
            assert after.left == before.left
            assert after.sweep == pytest.approx(before.sweep, abs=1e-6)


def _slipped(lot: tuple[Piece, ...], by: Vector) -> list[Piece]:
    """The lot with its last side ending elsewhere."""
    last = lot[-1]
    return [*lot[:-1], Line(last.start, moved(last.end, by, 1.0))]


@given(lots(), st.floats(-1, 1), st.floats(-1, 1))
def test_balancing_the_other_way_round(lot: tuple[Piece, ...], east: float, north: float) -> None:
    """Run the other way, a record balances to the same lengths of its courses."""
    slipped = _slipped(lot, Vector(east, north))
    forth, back = compass(slipped), compass(reversed_path(slipped))
    assert [p.length for p in forth] == pytest.approx([p.length for p in reversed(back)], abs=1e-7)


def test_balanced_whole_circle_only_moves() -> None:
    """A whole circle has no chord to follow: it keeps its size, and has no change of azimuth."""
    circle = Arc(Point(10, 0), Point(10, 0), Point(8, 0), left=True)
    pieces: list[Piece] = [Line(Point(0, 0), Point(10, 0)), circle, Line(Point(10, 0), Point(0.0, 1.0))]
    found = compass(pieces)[1]
    assert isinstance(found, Arc)
    assert found.radius == pytest.approx(2)
    assert changes(pieces, compass(pieces))[1].azimuth == 0


def test_curve_turned_the_wrong_way_is_told_by_the_area() -> None:
    """A curve by its chord closes both ways; the area of the record tells which one is turned wrong."""
    a, b, c, d = Point(0, 0), Point(30, 0), Point(30, 40), Point(0, 40)
    right: list[Piece] = [Line(a, b), Arc.through_bulge(b, c, 0.1), Line(c, d), Arc.through_bulge(d, a, 0.2)]
    wrong = [*right[:3], Arc.through_bulge(d, a, -0.2)]
    area = path_area(right)
    assert turned_wrong(wrong, area, 1.0) == (3,)
    assert turned_wrong(right, area, 1.0) == ()
    assert turned_wrong(wrong, area + 500, 1.0) == ()


def test_a_millimetre_is_a_misclosure() -> None:
    """Nothing but arithmetic counts as closed: a millimetre to the north has its direction and its ratio."""
    found = closure_of([Vector(10.0, 0.0), Vector(-10.0, 0.001)], 20.0)
    assert (found.azimuth, found.back) == pytest.approx((0.0, 180.0))
    assert found.ratio == pytest.approx(20_000)
