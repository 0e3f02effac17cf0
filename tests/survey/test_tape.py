"""Tape corrections against published cases, traps among them, then laws of measuring and setting out."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from making import published
from scipy.integrate import quad
from scipy.optimize import brentq

from staking.survey.tape import (
    Held,
    Tape,
    corrected,
    corrections,
    hung,
    length_correction,
    level_of,
    normal_tension,
    pull_correction,
    pull_from,
    reading_for,
    rise_within,
    sag_correction,
    slope_correction,
    temperature_correction,
    temperature_from,
)

CASES: Mapping[str, Mapping[str, Any]] = {case["id"]: case for case in published("tapes")}
FULL = 1e-9  # sources that print every digit of a double


def test_a_long_tape_adds_when_measuring_and_takes_off_when_setting() -> None:
    """The rule of signs: 500 read is 500.10, and 499.90 must be read to set 500."""
    case = CASES["c01"]
    tape = Tape(case["nominal"], case["true_length"])
    assert corrected(case["measured"], tape, Held()) == pytest.approx(case["true_distance"], abs=case["within"])
    assert reading_for(500.0, tape, Held()) == pytest.approx(case["reading_to_set"], abs=case["within"])


def test_slope_by_angle_and_by_rise() -> None:
    """Both give the printed level distance."""
    case = CASES["c02"]
    assert level_of(case["along"], case["angle"]) == pytest.approx(case["level"], abs=case["within"])
    by_rise = case["along"] + slope_correction(case["along"], case["rise"])
    assert by_rise == pytest.approx(case["level"], abs=case["within"])


def test_a_cold_tape_reads_too_much() -> None:
    """Degrees Fahrenheit with a coefficient for them."""
    case = CASES["c03"]
    found = temperature_correction(case["measured"], case["field"] - case["standard"], case["expansion"])
    assert found == pytest.approx(case["correction"], abs=case["within"])
    assert case["measured"] + found == pytest.approx(case["true_distance"], abs=case["within"])


def test_pull_and_normal_tension() -> None:
    """The stretch is the printed one; the printed tension solves nothing, and scipy finds the same root as here."""
    case = CASES["c05"]
    found = pull_correction(case["length"], case["pull"] - case["standard"], case["section"], case["elasticity"])
    assert found == pytest.approx(case["correction"], abs=case["within"])
    per = case["weight"] / case["length"]
    tape = Tape(100, 100, 68, case["standard"], per, case["section"], elasticity=case["elasticity"])
    stiff = case["section"] * case["elasticity"]
    root = brentq(lambda p: (p - case["standard"]) / stiff - case["weight"] ** 2 / 24 / p**2, 13, 1000)
    assert normal_tension(case["length"], tape) == pytest.approx(root)
    assert root == pytest.approx(case["tension"], abs=0.005)


@pytest.mark.parametrize("bays", [1, 2])
def test_temperature_pull_and_sag_together(bays: int) -> None:
    """A line of 26 tape lengths, hung in one bay or two a length."""
    case = CASES["c06"]
    tape = Tape(
        case["length"],
        case["length"],
        case["standard_temperature"],
        case["standard_pull"],
        case["weight"] / case["length"],
        case["section"],
        case["expansion"],
        case["elasticity"],
    )
    one = corrections(case["length"], tape, Held(case["temperature"], case["pull"], hung(30, 30, count=bays)))
    assert one.temperature == pytest.approx(case["of_temperature"], abs=FULL)
    assert one.pull == pytest.approx(case["of_pull"], abs=FULL)
    assert one.sag == pytest.approx(case["of_sag"][bays - 1], abs=FULL)
    line = Held(case["temperature"], case["pull"], hung(case["measured"], 30, count=bays))
    assert corrected(case["measured"], tape, line) == pytest.approx(case["true_distance"][bays - 1], abs=FULL)


@pytest.mark.parametrize("at", [0, 1])
def test_one_tape_at_two_pulls(at: int) -> None:
    """At the weaker pull sag makes the tape short; at the stronger one stretch makes up for it."""
    case = CASES["c08"]
    tape = Tape(30, 30, 20, case["standard_pull"], 0.66 / 30, case["section"], case["expansion"], case["elasticity"])
    found = corrections(30, tape, Held(case["temperature"], case["pull"][at], (30.0,)))
    assert found.sag == pytest.approx(case["of_sag"][at], abs=FULL)
    assert found.pull == pytest.approx(case["of_pull"][at], abs=FULL)
    assert 30 + found.total == pytest.approx(case["true_distance"][at], abs=FULL)


def test_a_tape_that_grows_is_corrected_stage_by_stage() -> None:
    """Each stage by the mean of the tape at its ends."""
    case = CASES["c10"]
    whole = case["measured"] + length_correction(case["measured"], case["nominal"], case["true_length"])
    assert whole == pytest.approx(case["true_distance"], abs=FULL)
    stages = [measured + length_correction(measured, 20, mean) for measured, mean, _ in case["stages"]]
    assert stages == pytest.approx([true for *_, true in case["stages"]], abs=FULL)
    assert sum(stages) == pytest.approx(case["total"], abs=FULL)


def test_slopes_then_the_length_of_the_tape() -> None:
    """By angle and by rise, and a gradient given three ways."""
    case = CASES["c11"]
    level = math.fsum(level_of(s, a) for s, a in zip(case["along"], case["angles"], strict=True))
    assert level == pytest.approx(case["level"], abs=FULL)
    assert level + length_correction(level, *case["tape"]) == pytest.approx(case["true_distance"], abs=FULL)
    runs = zip(case["rises_along"], case["rises"], strict=True)
    level = math.fsum(s + slope_correction(s, h) for s, h in runs)
    assert level == pytest.approx(case["rises_level"], abs=FULL)
    assert level + length_correction(level, *case["rises_tape"]) == pytest.approx(case["rises_true"], abs=FULL)
    ways = [level_of(280, 10), level_of(280, math.degrees(math.atan(0.1))), 280 + slope_correction(280, 8)]
    assert ways == pytest.approx(case["gradient"], abs=FULL)


def test_how_warm_and_how_hard_pulled_a_tape_was() -> None:
    """From a length that is known."""
    case = CASES["c13"]
    tape = Tape(
        30, 30, case["standard_temperature"], case["standard_pull"], 0, case["section"], case["expansion"], 2100000
    )
    warm = temperature_from(case["measured"], case["corrected_for_temperature"], tape)
    assert warm == pytest.approx(case["temperature"], abs=case["within"])
    hard = pull_from(case["measured"], case["corrected_for_pull"], tape)
    assert hard == pytest.approx(case["pull"], abs=case["within"])


def test_questions_of_a_navy_course() -> None:
    """Of the choices on the page the nearest is the right one."""
    case = CASES["c14"]
    sag = -sag_correction([case["distance"]], case["weight"] / 100, case["pull"])
    assert min(case["choices_sag"], key=lambda choice: abs(choice - sag)) == case["sag"]
    level = case["slope"] + slope_correction(case["slope"], case["rise"])
    assert min(case["choices_level"], key=lambda choice: abs(choice - level)) == case["level"]
    assert level == pytest.approx(case["level"], abs=0.0005)


def test_sag_is_taken_span_by_span() -> None:
    """The trap: the whole line taken for one span of a tape of 100 ft gives 0.5702, which is printed and wrong."""
    case = CASES["c16"]
    assert hung(case["recorded"], 100) == tuple(case["spans"])
    found = sag_correction(case["spans"], case["weight"] / 100, case["pull"])
    assert found == pytest.approx(case["correction"], abs=0.00001)
    assert abs(found - case["printed_wrong"][0]) > 0.02
    assert case["recorded"] + found == pytest.approx(case["true_distance"], abs=0.00005)


def test_how_far_off_level_a_tape_may_be_held() -> None:
    """The trap: the printed 0.14 ft holds for a part in a million."""
    case = CASES["c17"]
    assert rise_within(case["length"], case["ratio"]) == pytest.approx(case["rise"], abs=case["within"])
    assert rise_within(case["length"], 1_000_000) == pytest.approx(case["printed_wrong"], abs=0.005)


@pytest.mark.parametrize("run", CASES["c18"]["run"])
def test_all_corrections_at_once(run: Mapping[str, Any]) -> None:
    """US units all through: each part and the sum."""
    (nominal, true), (warm, pull) = run["tape"], run["standard"]
    tape = Tape(nominal, true, warm, pull, run["weight"], run["section"], run["expansion"], run["elasticity"])
    found = corrections(run["measured"], tape, Held(run["today"][0], run["today"][1], tuple(run["spans"])))
    parts = [found.length, found.temperature, found.pull, found.sag]
    assert parts == pytest.approx(run["parts"], abs=CASES["c18"]["within"])
    assert run["measured"] + found.total == pytest.approx(run["true_distance"], abs=0.0005)


@given(st.floats(1, 90), st.floats(-20, 50), st.floats(30, 150), st.floats(-0.05, 0.05), st.booleans())
def test_what_is_set_is_what_is_measured(wanted: float, warm: float, pull: float, rise: float, hangs: bool) -> None:
    """A distance set with the reading asked for measures that distance."""
    tape = Tape(30.48, 30.49, 20, 50, 0.15, 3e-6)
    held = Held(warm, pull, hung(wanted, 30.48) if hangs else (), rise * wanted)
    assert corrected(reading_for(wanted, tape, held), tape, held) == pytest.approx(wanted, abs=1e-9)


@given(st.floats(5, 60), st.floats(0.05, 0.4), st.floats(40, 200))
def test_sag_is_that_of_a_catenary(span: float, weight: float, pull: float) -> None:
    """The parabola agrees with the arc of the hanging tape, integrated by scipy, to a hundredth of the sag."""
    assume(weight * span <= 8 * pull * 0.05)  # deeper than that the formula is refused
    low = pull / weight  # of the catenary y = low cosh(x / low); its level pull is what a spring balance nearly reads
    half = brentq(lambda x: low * math.sinh(x / low) - span / 2, 0, span)
    arc = 2 * quad(lambda x: math.cosh(x / low), 0, half)[0]
    assert arc == pytest.approx(span)
    sag = sag_correction([span], weight, pull)
    assert sag == pytest.approx(2 * half - span, rel=0.12 * (span / low) ** 2 + 0.001, abs=1e-9)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: sag_correction([30], 0.2, 0),
        lambda: sag_correction([30], 2.0, 10),
        lambda: slope_correction(1.0, 2.0),
        lambda: Tape(0, 30),
        lambda: Tape(30, 30, pull=-1),
        lambda: normal_tension(30, Tape(30, 30)),
        lambda: temperature_from(0, 1, Tape(30, 30)),
        lambda: pull_from(30, 30, Tape(30, 30)),
    ],
)
def test_what_cannot_be_is_refused(wrong: Any) -> None:
    """No pull, a tape that hangs like a rope, a rise beyond the length, a tape of no length."""
    with pytest.raises(ValueError, match=r"\w"):
        wrong()


def test_what_nobody_noted_is_not_corrected() -> None:
    """A bare reading is corrected for the length of the tape alone."""
    found = corrections(10.0, Tape(30, 30.003, 20, 50, 0.15, 3e-6), Held(spans=(10.0,)))
    assert (found.temperature, found.pull, found.sag, found.slope) == (0, 0, 0, 0)
    assert found.length == pytest.approx(0.001)
