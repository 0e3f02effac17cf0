"""One slip in a sound book is found where it can be, and nothing is claimed where it cannot."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.survey.level_slips import Suspect, open_rows, read_apart, single_digit, suspects
from staking.survey.levels import Reduced, Sight, reduced

# a loop from BM by A and B and back over both: point, back, fore
SOUND = (
    ("BM", "4.21", "A", "2.13"),
    ("A", "6.87", "B", "1.59"),
    ("B", "1.40", "A", "6.68"),
    ("A", "3.13", "BM", "5.21"),
)
WITHIN = 0.015


def _loop(**wrong: str) -> tuple[Reduced, ...]:
    """The loop with other readings: b0 is the first backsight, f3 the last foresight."""
    sights = []
    for number, (at, back, to, fore) in enumerate(SOUND):
        for point, kind, text in ((at, "b", back), (to, "f", fore)):
            written = wrong.get(f"{kind}{number}", text)
            full = "backsight" if kind == "b" else "foresight"
            sights.append(Sight(point, full, float(written), line=number, written=written))  # type: ignore[arg-type]
    return reduced(100.0, sights)


def _named(rows: tuple[Reduced, ...]) -> tuple[Suspect, ...]:
    return suspects(rows, 100.0 - rows[-1].height, 1.0, WITHIN)


@pytest.mark.parametrize(
    ("where", "wrong", "right"), [("b1", "6.78", 6.87), ("f2", "6.86", 6.68), ("f3", "2.51", 5.21)]
)
def test_swapped_digits_are_found(where: str, wrong: str, right: float) -> None:
    """The reading whose digits were swapped is among the suspects, with the right figure."""
    rows = _loop(**{where: wrong})
    assert [s.instead for s in _named(rows) if s.sight.written == wrong] == [right]


def test_a_point_reached_twice_confines_the_slip() -> None:
    """Where A agrees out and back, what lies between is cleared; where it does not, the slip is between."""
    assert open_rows(_loop(b1="7.87"), 100.0 - _loop(b1="7.87")[-1].height, WITHIN) == {2, 3, 4, 5}
    assert open_rows(_loop(b0="5.21"), -1.0, WITHIN) == {0, 1, 6, 7}


def test_a_second_reading_that_closes_the_book_comes_first() -> None:
    """A rod that was read twice, the second time with the figure that closes, is the only one named."""
    rows = _loop()
    first = rows[0].sight
    changed = Sight("BM", "backsight", 4.71, second=4.21, written="4.71")
    found = _named(reduced(100.0, [changed, *(row.sight for row in rows[1:])]))
    assert [(s.sight.point, s.instead) for s in found] == [(first.point, 4.21)]


def test_feet_and_inches_are_not_taken_for_digits() -> None:
    """A reading in feet and inches has no neighbouring digits to swap."""
    sights = [Sight("A", "backsight", 4.0, written="4' 0\""), Sight("A", "foresight", 3.0, written="3' 0\"")]
    assert suspects(reduced(0.0, sights), -1.0, 1.0, WITHIN) == ()


def test_readings_apart() -> None:
    """Two readings of one rod that differ by more than the limit are given."""
    rows = reduced(0.0, [Sight("A", "backsight", 4.0, second=4.02), Sight("B", "foresight", 3.0, second=3.0)])
    assert [sight.point for sight in read_apart(rows, 0.01)] == ["A"]


@pytest.mark.parametrize(
    ("size", "words"), [(1.0, "1"), (-0.3, "0.3"), (2.005, "2"), (0.34, ""), (0.1, ""), (0.0, ""), (10.0, "10")]
)
def test_a_size_of_one_digit(size: float, words: str) -> None:
    """Only a size that is one digit and large beside chance is called so."""
    assert single_digit(size, 1.0, WITHIN) == words


@given(st.sampled_from(["b0", "b1", "b2", "b3", "f0", "f1", "f2", "f3"]), st.integers(1, 4))
def test_a_whole_foot_is_never_laid_to_a_cleared_reading(where: str, feet: int) -> None:
    """The reading that is a foot or more wrong is always among those still open."""
    number = int(where[1])
    text = SOUND[number][1 if where[0] == "b" else 3]
    rows = _loop(**{where: f"{float(text) + feet:.2f}"})
    assert 2 * number + (where[0] == "f") in open_rows(rows, 100.0 - rows[-1].height, WITHIN)


@pytest.mark.parametrize(("stated", "free"), [(102.08, {2, 3}), (101.08, {0, 1}), (99.0, {0, 1, 2, 3})])
def test_a_known_point_on_the_way_confines_the_slip(stated: float, free: set[int]) -> None:
    """A run that meets it has its slip behind it; one that misses it by the misclosure before it."""
    assert open_rows(_open_run(), -1.0, WITHIN, {"A": stated}) == free


def _open_run() -> tuple[Reduced, ...]:
    """The first two set-ups, from BM by A to B."""
    return reduced(100.0, [row.sight for row in _loop()[:4]])
