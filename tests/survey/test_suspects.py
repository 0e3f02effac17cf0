"""Slips made on purpose in closed figures, and which call is named for them."""

from __future__ import annotations

import json
import math
import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from staking.survey.angles import parse_direction
from staking.survey.curves import CurveGiven, Printed, solved
from staking.survey.points import Point, azimuth, distance
from staking.survey.suspects import KINDS, Call, Suspect, closure_of_calls, steps_of, suspects

SLIPS = os.environ.get("STAKING_SLIPS", "")  # a file of recorded descriptions with slips, kept elsewhere

FIGURE = (
    Call(61.27, parse_direction("N 12-34-00 E"), digits="61.27"),
    Call(38.45, parse_direction("N 81-02-00 E"), digits="38.45"),
    Call(87.13, parse_direction("S 23-17-00 E"), digits="87.13"),
)


def _closed(calls: tuple[Call, ...]) -> list[Call]:
    """The calls with the one that closes them."""
    gap = closure_of_calls(calls)
    assert gap.back is not None
    return [*calls, Call(gap.distance, gap.back, digits=f"{gap.distance:.2f}")]


LOT = _closed(FIGURE)


def _with(index: int, call: Call) -> list[Call]:
    return [*LOT[:index], call, *LOT[index + 1 :]]


def test_closed_figure_has_no_suspects() -> None:
    """Where the calls close well enough, none is suspected."""
    assert closure_of_calls(LOT).distance < 1e-9
    assert suspects(LOT) == ()


@pytest.mark.parametrize(
    ("what", "wrong"),
    [
        ("north for south", replace(LOT[2], azimuth=parse_direction("N 23-17-00 E"))),
        ("east for west", replace(LOT[2], azimuth=parse_direction("S 23-17-00 W"))),
        ("the other way", replace(LOT[2], azimuth=parse_direction("N 23-17-00 W"))),
        ("digits of the length", replace(LOT[2], length=78.13, digits="78.13")),
        ("digits of the bearing", replace(LOT[2], azimuth=parse_direction("S 32-17-00 E"))),
        ("length", replace(LOT[2], length=97.13, digits="97.13")),
        ("bearing", replace(LOT[2], azimuth=parse_direction("S 28-17-00 E"))),
    ],
)
def test_slips_are_named_first(what: str, wrong: Call) -> None:
    """The call with the slip comes first, with what was slipped and what it should have been."""
    found = suspects(_with(2, wrong))
    assert (found[0].index, found[0].what) == (2, what)
    assert found[0].instead.length == pytest.approx(87.13, abs=0.001)
    assert found[0].instead.azimuth == pytest.approx(LOT[2].azimuth, abs=0.001)
    assert found[-1].what == "left out"


def test_call_left_out() -> None:
    """Without one call, the call that is missing has its length and bearing, and nothing else closes the figure."""
    (found,) = suspects([*LOT[:1], *LOT[2:]])
    assert (found.index, found.what) == (3, "left out")
    assert found.instead.length == pytest.approx(LOT[1].length)
    assert found.instead.azimuth == pytest.approx(LOT[1].azimuth)


def test_nought_lost_in_front() -> None:
    """A length of 18.01 is tried as 081.01 and as 108.01 as well."""
    lot = _closed((Call(108.01, 10.0, digits="108.01"), Call(60.0, 100.0)))
    found = suspects([replace(lot[0], length=18.01, digits="18.01"), *lot[1:]])
    assert (found[0].index, found[0].what) == (0, "digits of the length")
    assert found[0].instead.length == pytest.approx(108.01)


def test_azimuths_are_swapped_as_azimuths() -> None:
    """Where the record gives azimuths, the digits of the azimuth are swapped: 213-30 for 123-30 and 132-30."""
    lot = _closed((Call(70.0, 123.5), Call(60.0, 220.0)))
    slipped = [replace(lot[0], azimuth=213.5), *lot[1:]]
    assert suspects(slipped, azimuths=True)[0].what == "digits of the bearing"
    assert all(s.what != "digits of the bearing" for s in suspects(slipped))


def _tangent_lot() -> list[Call]:
    curve = Call(2 * 20 * math.sin(math.radians(35)), None, turn=70.0)
    return _closed((Call(50.0, 0.0), curve, Call(40.0, 70.0), Call(55.0, 185.0)))


def test_tangent_curve_turned_the_other_way() -> None:
    """A tangent curve turned to the wrong side is named, and its arc counts in the perimeter."""
    lot = _tangent_lot()
    assert lot[1].along == pytest.approx(20 * math.radians(70))
    found = suspects([lot[0], replace(lot[1], turn=-70.0), *lot[2:]])
    assert (found[0].index, found[0].what) == (1, "turned the other way")


def test_tangent_curves_follow_the_call_before() -> None:
    """A tangent curve's chord lies half of its angle off the course before; without one it has no direction."""
    lot = _tangent_lot()
    assert azimuth(Point(0, 0), Point(steps_of(lot)[1].east, steps_of(lot)[1].north)) == pytest.approx(35.0)
    with pytest.raises(ValueError, match="no course before"):
        steps_of(lot[1:])


def test_equal_sides_share_the_blame() -> None:
    """In a parallelogram two opposite sides can bear the same slip: both are named."""
    square = [Call(32.0, azimuth, digits="320") for azimuth in (205.0, 295.0, 25.0, 115.0)]
    found = suspects([replace(square[0], length=23.0, digits="230"), *square[1:]])
    assert [(s.index, s.what) for s in found[:2]] == [(0, "digits of the length"), (2, "digits of the length")]


@given(st.integers(0, 3), st.sampled_from(["north for south", "east for west", "the other way"]), st.floats(0, 360))
def test_slips_of_letters_are_always_among_the_named(index: int, what: str, turn: float) -> None:
    """However the figure lies, a slip of a letter is among the suspects with the right call instead."""
    lot = [replace(call, azimuth=(call.azimuth or 0.0) + turn) for call in LOT]
    right = lot[index].azimuth
    assert right is not None
    wrong = {"north for south": 180 - right, "east for west": -right, "the other way": right + 180}[what]
    slipped = [*lot[:index], replace(lot[index], azimuth=wrong), *lot[index + 1 :]]
    assume(suspects(slipped))
    assert any(_undone(s, index, lot[index]) for s in suspects(slipped))
    assert all(s.what in KINDS for s in suspects(slipped))


def _undone(suspect: Suspect, index: int, right: Call) -> bool:
    if suspect.index != index or suspect.what == "left out":
        return False
    ends = [steps_of([call])[0] for call in (suspect.instead, right)]
    return distance(Point(ends[0].east, ends[0].north), Point(ends[1].east, ends[1].north)) < 0.01


def _recorded() -> list[Mapping[str, Any]]:
    path = Path(SLIPS)
    found: list[Mapping[str, Any]] = json.loads(path.read_text(encoding="utf-8")) if SLIPS and path.is_file() else []
    return found


EXPECTED = {
    "digits-swapped": {"digits of the length"},
    "quadrant-slip": {"north for south", "east for west"},
    "distance-plus-10": {"length"},
    "call-missing": {"left out"},
    "curve-wrong-side": set(),  # a curve by its chord closes either way, and a flat one nearly so
}


def _call(row: Any) -> Call:
    if row[0] == "L":
        return Call(float(row[2]), parse_direction(row[1]), digits=str(row[2]))
    said = row[2]
    curve = solved(CurveGiven(left=row[1] == "L", radius=Printed(said["R"]), arc=Printed(said["arc"])))
    way = parse_direction(said["chord_b"]) if "chord_b" in said else None
    return Call(curve.chord, way, turn=-curve.central_angle if row[1] == "L" else curve.central_angle)


@pytest.mark.skipif(not _recorded(), reason="the recorded descriptions are not here; set STAKING_SLIPS to their file")
def test_recorded_slips_are_named() -> None:
    """In recorded descriptions with slips made on purpose, what is named first is the kind of the slip."""
    for record in _recorded():
        kind = str(record["id"]).rsplit(".", 1)[1]
        found = suspects([_call(row) for row in record["calls"]])
        best = {s.what for s in found[:1]}
        assert best <= EXPECTED[kind], record["id"]
        assert bool(best) == bool(EXPECTED[kind]), record["id"]


@pytest.mark.parametrize(("share", "suspected"), [(3000, False), (1500, True)])
def test_when_a_figure_counts_as_closed(share: float, suspected: bool) -> None:
    """A misclosure of one in three thousand needs no slip to explain it, one in fifteen hundred does."""
    gap = closure_of_calls(LOT).perimeter / share
    assert bool(suspects(_with(3, replace(LOT[3], length=LOT[3].length + gap)))) == suspected


def test_a_curve_tangent_to_a_curve() -> None:
    """Due north, 70 degrees to the right, then 40 to the left: the chords run at 35, and at 70 less 20."""
    steps = steps_of([Call(50.0, 0.0), Call(20.0, None, turn=70.0), Call(10.0, None, turn=-40.0)])
    assert [azimuth(Point(0, 0), Point(s.east, s.north)) for s in steps[1:]] == pytest.approx([35.0, 50.0])


def test_a_bearing_beyond_a_right_angle_is_never_tried() -> None:
    """Nobody reads N 91 E for N 19 E: a bearing ends at 90 degrees."""
    lot = _closed((Call(70.0, 91.0), Call(60.0, 220.0)))
    assert all(s.what != "digits of the bearing" for s in suspects([replace(lot[0], azimuth=19.0), *lot[1:]]))


def test_no_length_is_proposed_below_nothing() -> None:
    """A call that runs the wrong way is not mended by a length with a minus."""
    found = suspects(_with(2, replace(LOT[2], azimuth=parse_direction("N 23-17-00 W"))))
    assert found
    assert all(suspect.instead.length > 0 for suspect in found)


def test_among_slips_of_the_pen_the_smaller_misclosure_comes_first() -> None:
    """87.31 for 87.13 closes exactly; N for S in a call that runs nearly east would nearly close as well."""
    lot = _closed((FIGURE[0], Call(38.45, parse_direction("S 89-52-30 E"), digits="38.45"), FIGURE[2]))
    found = suspects([*lot[:2], replace(lot[2], length=87.31, digits="87.31"), lot[3]])
    assert (found[0].index, found[0].what) == (2, "digits of the length")
    assert (1, "north for south") in [(suspect.index, suspect.what) for suspect in found]
