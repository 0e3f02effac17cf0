"""Level runs against published books, then laws of levelling, then books that cannot be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.levels import (
    CLASSES,
    Adjust,
    Kind,
    Reduced,
    Sight,
    adjusted,
    allowed,
    arithmetic,
    by_rise_and_fall,
    curvature_and_refraction,
    last_foresight,
    length_of,
    level_net,
    out_of_order,
    reduced,
    two_peg,
    unbalance,
)

CASES: Mapping[str, Mapping[str, Any]] = {case["id"]: case for case in published("levels")}
PRINTED = 0.0005 + 1e-9  # half the last printed digit, in metres
KINDS: Mapping[str, Kind] = {"BS": "backsight", "IS": "intermediate", "FS": "foresight"}
READING = st.floats(0, 4)


def _run() -> tuple[Reduced, ...]:
    """The published run between two benchmarks."""
    sights, at = [], "BM1"
    for setup in CASES["d01"]["setups"]:
        sights.append(Sight(at, "backsight", setup["bs"]))
        sights += [Sight(name, "intermediate", reading) for name, reading in setup["is"]]
        at = setup["to"]
        sights.append(Sight(at, "foresight", setup["fs"]))
    return reduced(CASES["d01"]["start"], sights)


def _there(*pairs: tuple[float, float], distance: float | None = None) -> list[Sight]:
    """A run of set-ups from T0, each a backsight and a foresight."""
    sights = []
    for number, (back, fore) in enumerate(pairs):
        sights.append(Sight(f"T{number}", "backsight", back, distance))
        sights.append(Sight(f"T{number + 1}", "foresight", fore, distance))
    return sights


def _heights(rows: tuple[Reduced, ...], values: tuple[float, ...]) -> dict[str, float]:
    pairs = zip(rows, values, strict=True)
    return {row.sight.point: up for row, up in pairs if row.sight.kind != "backsight"}


def test_a_published_run_between_two_benchmarks() -> None:
    """Heights of instrument and all heights are the printed ones."""
    rows, case = _run(), CASES["d01"]
    seen = [row.line_of_sight for row in rows if row.sight.kind == "backsight"]
    assert seen == pytest.approx(case["sights"], abs=PRINTED)
    assert _heights(rows, tuple(row.height for row in rows)) == pytest.approx(case["reduced"], abs=PRINTED)


def test_the_published_sums_and_misclosure() -> None:
    """The sums of the page and the misclosure, known less computed, are the printed ones."""
    sums, case = arithmetic(_run()), CASES["d01"]
    assert (sums.backsights, sums.foresights) == pytest.approx((case["sum_bs"], case["sum_fs"]), abs=PRINTED)
    assert case["end"] - sums.last == pytest.approx(case["misclosure"], abs=PRINTED)
    assert sums.agrees


def test_the_published_adjustment_by_setups() -> None:
    """Each set-up takes its share, and its intermediate sights the same."""
    rows, case = _run(), CASES["d01"]
    final = adjusted(rows, case["misclosure"], "set-ups")
    assert _heights(rows, final) == pytest.approx(case["final"], abs=PRINTED)


def test_published_rises_and_falls() -> None:
    """Every rise and fall, and their sums, are the printed ones."""
    case = CASES["d03"]
    sights = [Sight("P", KINDS[kind], reading) for kind, reading in case["readings"]]
    rows = reduced(0.0, sights)
    steps = [row.rise for row in rows if row.rise is not None]
    assert [step for step in steps if step > 0] == pytest.approx(case["rises"], abs=PRINTED)
    assert [-step for step in steps if step < 0] == pytest.approx(case["falls"], abs=PRINTED)
    sums = arithmetic(rows)
    assert (sums.rises, sums.falls) == pytest.approx((case["sum_rise"], case["sum_fall"]), abs=PRINTED)
    assert sums.backsights - sums.foresights == pytest.approx(case["difference"], abs=PRINTED)


def test_a_published_page_whose_sums_were_seen() -> None:
    """Three set-ups: last height less first is the printed difference, and that of the printed rises and falls."""
    case = CASES["d03 second set"]
    rows = reduced(0.0, _there(*zip(case["backsights"], case["foresights"], strict=True)))
    assert arithmetic(rows).last == pytest.approx(case["difference"], abs=PRINTED)
    assert case["sum_rise"] - case["sum_fall"] == pytest.approx(case["difference"], abs=1e-9)


def test_heights_by_rise_and_fall_are_those_by_the_line_of_sight() -> None:
    """Both ways of reducing the published run come to the same heights."""
    assert by_rise_and_fall(_run()) == pytest.approx([row.height for row in _run()], abs=1e-9)


def test_the_published_two_peg_test() -> None:
    """The slope of the line of sight gives the printed error and both corrections."""
    case = CASES["d05"]
    slope = two_peg(case["middle"], case["beyond"], case["sights"])
    found = (slope * 100, slope * 10, slope * 110)
    assert found == pytest.approx((case["error_in_100m"], case["correction_a"], case["correction_b"]), abs=1e-9)


def test_two_pegs_with_the_same_unbalance_tell_nothing() -> None:
    """Twice from the middle is no test."""
    with pytest.raises(ValueError, match="nothing is learned"):
        two_peg((1, 2), (2, 3), (50, 50, 40, 40))


def test_curvature_and_refraction_squares_the_distance_once() -> None:
    """The right figures come out, and not those of the companion that squares twice."""
    case = CASES["d09"]
    found = [r - curvature_and_refraction(d) for r, d in zip(case["readings"], case["sights"], strict=True)]
    assert found == pytest.approx(case["corrected"], abs=2e-6)  # 0.0673 was rounded from 0.06727
    assert found[0] - found[1] == pytest.approx(case["difference"], abs=2e-6)
    assert abs(found[0] - case["printed_wrong"][0]) > 0.001
    assert abs(found[0] - found[1] - case["printed_wrong_difference"]) > 0.0005


def test_a_net_of_eight_lines() -> None:
    """Heights, residuals and reference variance are those recomputed for the published net."""
    case = CASES["d08"]
    names, found = level_net(case["fixed"], [(a, b, rise, 0.1 * km) for a, b, rise, km in case["lines"]])
    assert dict(zip(names, found.unknowns, strict=True)) == pytest.approx(case["heights"], abs=6e-5)
    assert found.residuals == pytest.approx(case["residuals"], abs=6e-5)
    assert found.weighted_sum / found.redundancy == pytest.approx(case["reference_variance"], abs=6e-5)


def test_a_net_that_hangs_on_nothing_is_refused() -> None:
    """Without a fixed height no height is found."""
    with pytest.raises(ValueError, match="open"):
        level_net({}, [("A", "B", 1.0, 1.0), ("B", "A", -1.0, 1.0)])


@given(st.lists(st.tuples(READING, READING), min_size=1, max_size=12), st.floats(-100, 4000))
def test_out_and_back_closes(pairs: list[tuple[float, float]], start: float) -> None:
    """A run out and back over any ground comes to the height it began with."""
    back = [(fore, sight) for sight, fore in reversed(pairs)]
    rows = reduced(start, _there(*pairs, *back))
    assert rows[-1].height == pytest.approx(start, abs=1e-9)
    assert arithmetic(rows).agrees


@given(st.permutations([("a", 1.0), ("b", 2.5), ("c", 0.3), ("d", 3.9)]))
def test_order_of_intermediate_sights_changes_nothing(shots: list[tuple[str, float]]) -> None:
    """Whichever point is read first, each has its height, and the sums agree."""
    middle = [Sight(name, "intermediate", reading) for name, reading in shots]
    (first, last) = _there((2.0, 1.0))
    rows = reduced(100.0, [first, *middle, last])
    heights = {row.sight.point: row.height for row in rows}
    assert heights == pytest.approx({"T0": 100, "a": 101, "b": 99.5, "c": 101.7, "d": 98.1, "T1": 101})
    assert arithmetic(rows).agrees


@given(st.lists(st.tuples(READING, READING), min_size=1, max_size=6), st.floats(-50, 50))
def test_raising_the_benchmark_raises_all(pairs: list[tuple[float, float]], by: float) -> None:
    """Every height rises with the benchmark, by as much."""
    low, high = (reduced(start, _there(*pairs)) for start in (100.0, 100.0 + by))
    assert [row.height + by for row in low] == pytest.approx([row.height for row in high], abs=1e-9)


@pytest.mark.parametrize("by", ["set-ups", "distance"])
def test_an_adjusted_run_ends_on_the_known_height(by: str) -> None:
    """The whole misclosure is spread at the end, and none of it at the start; equal set-ups have equal shares."""
    rows = reduced(10.0, _there((1, 2), (1, 2), distance=30))
    assert adjusted(rows, 0.02, cast("Adjust", by)) == pytest.approx((10, 9.01, 9.01, 8.02))


def test_a_long_setup_takes_more_by_distance() -> None:
    """Three quarters of the way have three quarters of the misclosure."""
    long, short = _there((1, 1), distance=45), _there((1, 1), distance=15)
    rows = reduced(0.0, [*long, Sight("T1", "backsight", 1, 15), short[1]])
    assert adjusted(rows, 0.04, "distance") == pytest.approx((0, 0.03, 0.03, 0.04))
    assert adjusted(rows, 0.04, "none") == (0, 0, 0, 0)


def test_allowed_misclosure_grows_with_the_root() -> None:
    """Four kilometres are allowed twice the figure of the class; four set-ups twice 0.02 ft."""
    rows = reduced(0.0, _there(*[(1, 1)] * 4, distance=500))
    assert allowed(rows, "third order") == pytest.approx(2 * CLASSES["third order"])
    assert allowed(rows) == pytest.approx(2 * 0.02 * 0.3048)


def test_without_distances_no_class() -> None:
    """What goes by length is refused where lengths are missing, and the run has none."""
    rows = reduced(0.0, _there((1, 1)))
    assert length_of(rows) is unbalance(rows) is None
    with pytest.raises(ValueError, match="lacks distances"):
        allowed(rows, "ordinary")
    with pytest.raises(ValueError, match="needs its distance"):
        adjusted(rows, 0.01, "distance")


def test_unbalanced_sights_are_summed() -> None:
    """Backsights count up, foresights down, intermediate sights not at all."""
    sights = [Sight("A", "backsight", 1, 40), Sight("B", "intermediate", 1, 7), Sight("C", "foresight", 1, 30)]
    assert unbalance(reduced(0.0, sights)) == 10


@pytest.mark.parametrize(
    ("kinds", "said"),
    [("F", "no backsight"), ("I", "no backsight"), ("BB", "foresight that ends"), ("BFF", "no backsight")],
)
def test_an_order_that_cannot_be(kinds: str, said: str) -> None:
    """A sight that is missing is named, and the run is refused."""
    names: Mapping[str, Kind] = {"B": "backsight", "I": "intermediate", "F": "foresight"}
    sights = [Sight("A", names[kind], 1.0) for kind in kinds]
    assert said in next(out_of_order(sights))[1]
    with pytest.raises(ValueError, match=said):
        reduced(0.0, sights)


def test_a_setup_begins_where_the_last_ended() -> None:
    """A backsight on another point than the foresight before is named."""
    sights = [*_there((1, 1)), Sight("X", "backsight", 1)]
    assert list(out_of_order(sights)) == [(2, 'the foresight before was on "T1", this backsight is on "X"')]


def test_no_foresight_no_run() -> None:
    """One set-up that was not closed has no sums."""
    with pytest.raises(ValueError, match="no foresight"):
        last_foresight(reduced(0.0, [Sight("A", "backsight", 1)]))
