"""Measured points find their partners: by name, else the nearest, none twice."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staking.field.matching import matched, plain_name

places = st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=1, max_size=12, unique=True)


def _array(points: list[tuple[int, int]]) -> np.ndarray:
    return np.array(points, dtype=float)


@settings(deadline=None)
@given(places, places, st.floats(0.5, 6.0))
def test_nearest_first_and_none_twice(
    measured: list[tuple[int, int]], design: list[tuple[int, int]], limit: float
) -> None:
    """The same partners as one by one, the smallest distance first, by plain loops."""
    mine, theirs = _array(measured) + 0.001 * np.arange(len(measured))[:, None], _array(design)
    names = [f"m{i}x" for i in range(len(mine))]
    match = matched(names, mine, [f"d{i}" for i in range(len(theirs))], theirs, limit=limit)
    apart = np.hypot(*(mine[:, None] - theirs[None]).transpose(2, 0, 1))
    pairs = sorted((apart[i, j], j, i) for i in range(len(mine)) for j in range(len(theirs)) if apart[i, j] <= limit)
    used: dict[int, int] = {}
    for off, j, i in sorted(pairs, key=lambda each: (each[0], each[2], each[1])):
        if i not in used and j not in used.values():
            used[i] = j
            assert off <= limit
    assert dict(zip(match.measured.tolist(), match.design.tolist(), strict=True)) == used
    assert not match.by_name.any()


def test_names_go_before_nearness() -> None:
    """A point measured beside another is still the one it is named."""
    places = np.array([[0.0, 0.0], [10.0, 0.0]])
    match = matched(["B", "A"], places, ["A", "B"], places, limit=1.0)
    assert match.design.tolist() == [1, 0]
    assert match.by_name.all()


def test_a_named_point_is_not_taken_by_a_nearer_one() -> None:
    """The design point that has its partner by name is no longer free."""
    match = matched(["x", "A"], np.array([[0.0, 0.0], [0.2, 0.0]]), ["A"], np.array([[0.0, 0.0]]), limit=1.0)
    assert match.measured.tolist() == [1]


def test_what_is_not_sure_is_said() -> None:
    """Two places nearly as near: the nearer one is taken, and the other told; clearly nearer says nothing."""
    design = np.array([[0.0, 0.0], [0.3, 0.0], [9.0, 0.0]])
    match = matched(["x", "y"], np.array([[0.14, 0.0], [9.1, 0.0]]), ["A", "B", "C"], design, limit=0.5)
    assert match.design.tolist() == [0, 2]
    assert match.unsure == ((0, 1),)


def test_a_name_that_comes_again() -> None:
    """The first is the partner; the second finds none, not even by nearness."""
    spots = np.array([[0.0, 0.0], [0.01, 0.0]])
    match = matched(["A", "A"], spots, ["A", "B"], spots, limit=1.0)
    assert match.measured.tolist() == [0]
    assert match.again == (1,)


@pytest.mark.parametrize(("names", "partners"), [(["a01"], []), (["A1"], [0]), (["a1"], []), (["A-01"], [1])])
def test_a_plain_name_that_two_points_have_tells_nothing(names: list[str], partners: list[int]) -> None:
    """A1 and A-01 are one but for harmless differences: only the exact names tell."""
    design = np.array([[0.0, 0.0], [50.0, 0.0]])
    match = matched(names, np.array([[99.0, 99.0]]), ["A1", "A-01"], design, limit=1.0)
    assert match.design.tolist() == partners


def test_nothing_at_all() -> None:
    """No measured points, or no design, is an empty match."""
    none = np.empty((0, 2))
    assert len(matched([], none, ["A"], np.zeros((1, 2)), limit=1.0).measured) == 0
    assert len(matched(["A"], np.zeros((1, 2)), [], none, limit=1.0).measured) == 0


@pytest.mark.parametrize(
    ("written", "plain"),
    [("P-01", "p1"), ("0101", "101"), ("100", "100"), ("000", "0"), ("a.b 07", "ab7"), ("--", "--")],
)
def test_plain_names(written: str, plain: str) -> None:
    """Zeros in front of a number go, those in it stay."""
    assert plain_name(written) == plain
