"""Corners by tape are compared as corners by coordinates are: the same place, shape, room and answer."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import sample
from measuring import codes
from taping import exact, noisy, set_wrong, sheet_spans

from staking import Layout, MeasuredPoint, compare
from staking.errors import TextError
from staking.field.by_tape import as_measured, compared_by_tape
from staking.field.compared import HowMeasured
from staking.field.tape_adjust import Net, adjust
from staking.field.tape_book import TapeBook, TapeReading
from staking.field.tape_check import Taped
from staking.survey.points import Point

SHED, HALL = sample("tape_only_shed"), sample("metric_hall")
TAPED = HowMeasured("tape.csv", "0" * 64)


def _taped(layout: Layout, readings: Sequence[TapeReading]) -> Taped:
    return Taped(layout, TapeBook("tape.csv", tuple(readings), ("",) * 9, layout.site.unit))


def _turned(layout: Layout, turn: float) -> dict[str, Point]:
    """Where all places are when the slab is turned about its first corner [deg, clockwise]."""
    places = set_wrong(layout, random.Random(1), 0.0)  # noqa: S311
    pivot, sine, cosine = places[layout.corner_names[0]], math.sin(math.radians(turn)), math.cos(math.radians(turn))
    for name in layout.corner_names:
        east, north = places[name].east - pivot.east, places[name].north - pivot.north
        places[name] = Point(pivot.east + east * cosine + north * sine, pivot.north - east * sine + north * cosine)
    return places


@given(seed=st.integers(0, 10**9), spread=st.floats(0.001, 0.03))
@settings(max_examples=20)
def test_the_same_as_by_coordinates(seed: int, spread: float) -> None:
    """Readings without error on the shed: each figure is that of the corners measured as they stand."""
    at = set_wrong(SHED, random.Random(seed), spread)  # noqa: S311
    by_tape = compared_by_tape(_taped(SHED, exact(SHED, sheet_spans(SHED), at)), TAPED)
    points = [
        MeasuredPoint(each.design.name, at[each.design.name], error=each.measured.error) for each in by_tape.corners
    ]
    there = compare(SHED, points, by_tape.how)
    for one, other in zip(by_tape.corners, there.corners, strict=True):
        assert (one.plan.east, one.plan.north) == pytest.approx((other.plan.east, other.plan.north), abs=1e-6)
        assert one.answer == other.answer
    assert by_tape.placement
    assert there.placement
    assert by_tape.placement.turn == pytest.approx(there.placement.turn, abs=1e-6)
    rooms = [[m.now.room for m in each.margins if m.now] for each in (by_tape, there)]
    assert rooms[0] == pytest.approx(rooms[1], abs=1e-6)


def test_a_turned_slab_stands_so_since_ties_have_no_set_up() -> None:
    """A tenth of a degree: placement and not shape, and no instrument to blame."""
    at = _turned(SHED, 0.1)
    found = compared_by_tape(_taped(SHED, exact(SHED, sheet_spans(SHED), at)), TAPED)
    assert codes(found) == ["measured-placed"]
    said = next(each for each in found.findings if each.code == "measured-placed")
    assert "by ties to lot west, lot front, lot east it stands so" in said.message
    assert "101 stays" in said.remedy
    assert found.placement
    assert found.placement.turn == pytest.approx(0.1, abs=1e-4)
    assert found.placement.largest_shape < 1e-4


def test_standard_errors_are_those_of_many_books() -> None:
    """What the adjustment says of a corner and of a side, against how 400 noisy books scatter."""
    at, rng = set_wrong(SHED, random.Random(1), 0.005), random.Random(2)  # noqa: S311
    spans = sheet_spans(SHED)
    fits = [adjust(Net(SHED, tuple(noisy(SHED, exact(SHED, spans, at), rng)))) for _ in range(400)]
    stated = {point.name: point.error for point in as_measured(fits[0])}
    for name in SHED.corner_names:
        scatter = np.array([(fit.at[name].east - at[name].east, fit.at[name].north - at[name].north) for fit in fits])
        assert stated[name] == pytest.approx(math.sqrt(float(np.mean(scatter**2))), rel=0.12)


@pytest.mark.parametrize("ties", [None, 4])
def test_shift_and_turn_are_known_as_well_as_it_is_said(ties: int | None) -> None:
    """Corners by one tape err together: against how 200 noisy books scatter, all ties and few."""
    at, rng = set_wrong(SHED, random.Random(1), 0.0), random.Random(2)  # noqa: S311
    spans = sheet_spans(SHED, ties, random.Random(3))  # noqa: S311
    books = [_taped(SHED, noisy(SHED, exact(SHED, spans, at), rng)) for _ in range(200)]
    found = [compared_by_tape(each, TAPED).placement for each in books if each.fit and not each.left_out]
    kept = [each for each in found if each is not None]
    assert len(kept) > 150
    east, north = np.std([each.shift.east for each in kept]), np.std([each.shift.north for each in kept])
    assert kept[0].shift_error == pytest.approx(max(east, north), rel=0.2)
    assert kept[0].turn_error == pytest.approx(np.std([each.turn for each in kept]), rel=0.2)


def test_a_reading_left_out_stays_in_sight_and_in_doubt() -> None:
    """A foot read wrong: the corners are those of the others, and the last sentence says it is in doubt."""
    at = set_wrong(SHED, random.Random(1), 0.0)  # noqa: S311
    readings = exact(SHED, sheet_spans(SHED), at)
    first = readings[0]
    wrong = TapeReading(first.span, 2, "41' 3\"", first.read + 0.3048, first.held, first.corrections)
    found = compared_by_tape(_taped(SHED, [wrong, *readings[1:]]), TAPED)
    assert found.taped[0].residual is None
    assert [each.answer for each in found.corners] == ["within"] * 4
    assert "tape-odd-reading" in codes(found)
    assert "in doubt" in found.verdict[-1].text
    assert found.how.method == f"{len(readings) - 1} taped lengths, least squares"


@pytest.mark.parametrize(("ties", "said"), [(0, "where the slab stands"), (None, "")])
def test_without_ties_there_is_no_comparison(ties: int | None, said: str) -> None:
    """The shape alone cannot be held against lines; what to measure besides is named."""
    at, rng = set_wrong(HALL, random.Random(1), 0.0), random.Random(1)  # noqa: S311
    taped = _taped(HALL, exact(HALL, sheet_spans(HALL, ties, rng), at))
    if not said:
        assert {each.answer for each in compared_by_tape(taped, TAPED).corners} == {"within"}
        return
    with pytest.raises(TextError, match=said) as refused:
        compared_by_tape(taped, TAPED)
    assert refused.value.remedy.count("square from") == 3


def test_readings_that_give_no_corners_give_no_comparison() -> None:
    """Too few of them."""
    at = set_wrong(SHED, random.Random(1), 0.0)  # noqa: S311
    with pytest.raises(TextError, match="where the corners are"):
        compared_by_tape(_taped(SHED, exact(SHED, sheet_spans(SHED)[:3], at)), TAPED)
