"""A tape book whose corners are counted otherwise than on the plan is told so, and nothing is moved for it."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import sample
from taping import exact, set_wrong, sheet_spans

from staking import Layout
from staking.field.tape_book import TapeBook, TapeReading
from staking.field.tape_check import Taped
from staking.field.tape_findings import tape_findings
from staking.field.tape_numbering import other_corners
from staking.survey.points import Point

SHED, ELL = sample("tape_only_shed"), sample("ell_house_on_grid")


def _counted(layout: Layout, order: Sequence[int], seed: int = 1, ties: int = 0) -> list[TapeReading]:
    """A book that calls the corner at `order[0]` by the name of the first, and so on."""
    rng, names = random.Random(seed), layout.corner_names  # noqa: S311
    there = set_wrong(layout, rng, 0.008)
    called: dict[str, Point] = {name: there[names[at]] for name, at in zip(names, order, strict=True)}
    return exact(layout, sheet_spans(layout, ties, rng), {**there, **called})


def _taped(layout: Layout, readings: Sequence[TapeReading]) -> Taped:
    return Taped(layout, TapeBook("tape.csv", tuple(readings), ("",) * 9, layout.site.unit))


@pytest.mark.parametrize("order", [(0, 3, 2, 1), (1, 2, 3, 0)])
def test_a_rectangle_counted_otherwise(order: tuple[int, ...]) -> None:
    """One finding instead of one for each side, with who is who; nothing is worked out."""
    taped = _taped(SHED, _counted(SHED, order))
    (found,) = tape_findings(taped)
    assert found.code == "tape-other-corners"
    assert "102 is 104 of the drawing, 104 is 102 of the drawing" in found.message
    assert taped.fit is None
    assert taped.cure is None


@given(start=st.integers(0, 5), way=st.sampled_from([1, -1]), seed=st.integers(0, 1000), ties=st.sampled_from([0, 4]))
def test_an_ell_has_one_order_only(start: int, way: int, seed: int, ties: int) -> None:
    """Every other way of counting is found as it is; its own is no finding."""
    names = ELL.corner_names
    order = [(start + way * at) % len(names) for at in range(len(names))]
    found = other_corners(ELL, _counted(ELL, order, seed, ties))
    expected = tuple((name, names[at]) for name, at in zip(names, order, strict=True))
    assert found == (() if (start, way) == (0, 1) else expected)


def test_one_reading_far_off_is_no_other_count() -> None:
    """Ten feet read wrong are a slip of that reading."""
    readings = _counted(SHED, (0, 1, 2, 3))
    wrong = [_counted(SHED, (1, 2, 3, 0))[0], *readings[1:]]
    assert other_corners(SHED, wrong) == ()


def test_a_few_readings_prove_no_other_count() -> None:
    """Three lengths fit some order of the corners by chance."""
    assert other_corners(SHED, _counted(SHED, (0, 3, 2, 1))[:3]) == ()
