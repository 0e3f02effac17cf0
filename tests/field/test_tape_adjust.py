"""Corners by all readings: against published adjustments, against scipy, and what too few readings leave open."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import layout_of, published, sample
from scipy.optimize import least_squares
from taping import exact, noisy, set_wrong, sheet_spans, taped

from staking.field.by_tape import as_measured
from staking.field.tape_adjust import Net, adjust, next_readings, shape_gaps
from staking.field.taped import Span, rows_of
from staking.survey.least_squares import Solution, nonlinear
from staking.survey.points import Point, distance

CASES: Mapping[str, Mapping[str, Any]] = {case["id"]: case for case in published("least_squares")}
SHED, ELL = sample("tape_only_shed"), sample("ell_house_on_grid")


def _new_point(case: Mapping[str, Any], held_north: float | None = None) -> Solution:
    """The place of one point by its distances from stations, by the rows that tape readings have."""
    stations = {f"S{i}": Point(*place) for i, place in enumerate(case["stations"])}
    spans = [Span("N", name, "other", "") for name in stations]

    def model(numbers: Any) -> Any:
        return rows_of(spans, {**stations, "N": Point(float(numbers[0]), float(numbers[1]))}, {"N": 0})

    held = None if held_north is None else lambda n: (np.array([n[1] - held_north]), np.array([[0.0, 1.0]]))
    start = [sum(p[i] for p in case["stations"]) / 3 + 1 for i in (0, 1)]
    return nonlinear(model, start, case["distances"], constraints=held)


def test_a_point_from_three_stations_as_published() -> None:
    """Its place and its residuals are the printed ones."""
    found, case = _new_point(CASES["g01"]), CASES["g01"]
    assert found.unknowns == pytest.approx(case["place"], abs=5e-9)
    assert found.residuals == pytest.approx(case["residuals"], abs=5e-9)


def test_a_point_free_and_held_on_a_line_as_published() -> None:
    """With and without the constraint."""
    case = CASES["g05"]
    assert _new_point(case).unknowns == pytest.approx(case["free"], abs=5e-7)
    assert _new_point(case, case["held_north"]).unknowns == pytest.approx(case["held"], abs=5e-7)


def test_a_braced_quadrilateral_as_published() -> None:
    """Six distances between four corners, in a book: the adjusted ones are those recomputed for the printed case."""
    case = CASES["g07"]
    layout = layout_of(
        '[site]\nname = "quad"\nunit = "m"\n[points]\nA = [0, 0]\n[slab]\nkind = "traced"\n'
        "vertices = [[0, 0], [1525.5, 0], [1793.6, 2160.5], [151.2, 2396.7]]\n"
        '[placement]\nkind = "at_point"\ncorner = 1\nat = "A"\nside = 1\nbearing = 90\n'
    )
    pairs = [(1, 2), (2, 3), (3, 4), (1, 4), (1, 3), (2, 4)]
    rows = [f"{a},{b},{d},1" for (a, b), d in zip(pairs, case["measured"], strict=True)]
    book = taped(layout, "from,to,reading,error\n" + "\n".join(rows)).book
    found = adjust(Net(layout, book.readings))
    lengths = [reading.span.length(found.at) for reading in book.readings]
    assert lengths == pytest.approx(case["adjusted"], abs=0.00006)
    assert found.net.redundancy == 1


@given(seed=st.integers(0, 10**9), spread=st.floats(0.001, 0.05), ties=st.sampled_from([0, 8]))
@settings(max_examples=25, deadline=None)
def test_corners_agree_with_scipy(seed: int, spread: float, ties: int) -> None:
    """The weighted sum is the one that scipy's solver finds, and so is every distance."""
    rng = random.Random(seed)  # noqa: S311
    at = set_wrong(SHED, rng, spread)
    net = Net(SHED, tuple(noisy(SHED, exact(SHED, sheet_spans(SHED, ties, rng), at), rng)))
    found = adjust(net)
    observed = np.array([reading.value for reading in net.readings])
    errors = np.array(net.errors)
    other = least_squares(
        lambda x: (net.rows(net.spans, x)[0] - observed) / errors, net.start, xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    assert found.solution.weighted_sum == pytest.approx(2 * other.cost, abs=1e-6)
    lengths = net.rows(net.spans, other.x)[0]
    assert net.rows(net.spans, found.solution.unknowns)[0] == pytest.approx(lengths, abs=1e-6)


@pytest.mark.parametrize("layout", [SHED, ELL], ids=["shed", "ell"])
@given(seed=st.integers(0, 10**9), spread=st.floats(0.001, 0.05))
@settings(max_examples=15, deadline=None)
def test_readings_without_error_give_the_corners(layout: Any, seed: int, spread: float) -> None:
    """With all ties of the sheet they are where they were set."""
    at = set_wrong(layout, random.Random(seed), spread)  # noqa: S311
    found = adjust(Net(layout, tuple(exact(layout, sheet_spans(layout), at))))
    assert found.tied
    assert all(distance(found.at[name], at[name]) < 1e-6 for name in layout.corner_names)
    assert [point.name for point in as_measured(found)] == list(layout.corner_names)


def test_without_ties_the_shape_is_laid_on_what_is_held() -> None:
    """The held side lies on the drawing, the front side where none is held; one held corner lies there exactly."""
    at = set_wrong(SHED, random.Random(5), 0.02)  # noqa: S311
    net = Net(SHED, tuple(exact(SHED, sheet_spans(SHED, 0, random.Random(1)), at)))  # noqa: S311
    for held, on in (((), ("101", "102")), (("103", "104"), ("103", "104")), (("102",), ("102",))):
        found = adjust(net, held)
        assert found.laid_on == on
        gaps = [distance(found.at[name], net.design[name]) for name in on]
        assert max(gaps) < (1e-9 if len(on) == 1 else 0.03)
    assert net.datum_open == 3


def test_too_few_readings_name_the_one_that_is_missing() -> None:
    """Four sides leave one freedom, and a diagonal takes it; two diagonals leave three, and sides take them."""
    sides = "101,102,40' 3\"\n102,103,30' 3\"\n103,104,40' 3\"\n104,101,30' 3\"\n"
    open_shape = taped(SHED, f"from,to,reading\n{sides}").net
    assert open_shape.shape_open == 1
    assert [span.kind for span in next_readings(open_shape)] == ["diagonal"]
    with pytest.raises(ValueError, match="leave the shape open"):
        adjust(open_shape)
    diagonals = taped(SHED, "from,to,reading\n101,103,50' 4\"\n102,104,50' 4\"\n").net
    assert [span.kind for span in next_readings(diagonals)] == ["side"] * 3


@given(st.sets(st.integers(0, 5), max_size=5))
@settings(max_examples=60, deadline=None)
def test_the_readings_asked_for_close_the_shape(chosen: set[int]) -> None:
    """Whatever of sides and diagonals was measured: those named, and no fewer, give the corners, and the place."""
    at = set_wrong(SHED, random.Random(3), 0.01)  # noqa: S311
    spans = [span for number, span in enumerate(sheet_spans(SHED)) if number in chosen]
    net = Net(SHED, tuple(exact(SHED, spans, at)))
    more = next_readings(net)
    assert len(more) == net.shape_open
    assert Net(SHED, tuple(exact(SHED, [*spans, *more], at))).shape_open == 0
    placed = next_readings(net, placed=True)
    assert Net(SHED, tuple(exact(SHED, [*spans, *placed], at))).open.shape[1] == 0


def test_gaps_do_not_depend_on_where_an_untied_shape_lies() -> None:
    """A slab of the right shape has none, wherever it is laid."""
    net = Net(SHED, tuple(exact(SHED, sheet_spans(SHED, 0, random.Random(1)), set_wrong(SHED, random.Random(1), 0))))  # noqa: S311
    found = adjust(net, ("103",))
    assert math.fsum(shape_gaps(net, found.at).values()) < 1e-6
