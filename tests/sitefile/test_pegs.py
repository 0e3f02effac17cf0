"""A two-peg test as people write it, and the readings it corrects."""

from __future__ import annotations

import pytest
from making import published

from staking.errors import InputError, TextError
from staking.sitefile.level_book import read_book
from staking.sitefile.levelled import Levelled, level_run
from staking.sitefile.levels_declared import Levels
from staking.sitefile.pegs import peg_test
from staking.units import UNITS

(CASE,) = [case for case in published("levels") if case["id"] == "d05"]
TEXT = "1.875@50 1.790@50 1.630@10 1.560@110"
BOOK = "point,backsight (m),intermediate,foresight,distance\nA,1.630,,,10\nK,,1.600,,50\nB,,,1.560,110\n"


def _run(book: str = BOOK, pegs: str = TEXT) -> Levelled:
    read = read_book(book, "b.csv", unit="", rod=4.0)
    return level_run(read, {"A": 100.0}, Levels.model_validate({"book": "b.csv", "pegs": pegs}))


def test_the_published_test() -> None:
    """The slope is that of the book, whatever the unit: both lengths of it are in one."""
    assert peg_test(TEXT, UNITS["m"]).slope == pytest.approx(CASE["error_in_100m"] / 100, abs=1e-9)
    assert peg_test(TEXT, UNITS["ft"]).slope == pytest.approx(CASE["error_in_100m"] / 100, abs=1e-9)


def test_corrected_readings_give_the_published_true_difference() -> None:
    """From the second place, with sights of 10 and 110 m, the pegs differ by what the middle found: 0.085 m."""
    rows = _run().rows
    assert rows[-1].height - rows[0].height == pytest.approx(CASE["true_difference"], abs=1e-9)
    taken_off = [row.sight.corrected for row in rows]
    assert taken_off == pytest.approx([CASE["correction_a"], 0.0075, CASE["correction_b"]], abs=1e-9)


def test_without_the_test_nothing_is_corrected() -> None:
    """The apparent difference stays."""
    read = read_book(BOOK, "b.csv", unit="", rod=4.0)
    rows = level_run(read, {"A": 100.0}, Levels(book="b.csv")).rows
    assert rows[-1].height - rows[0].height == pytest.approx(CASE["apparent_difference"])


def test_equal_sights_need_no_correction() -> None:
    """It cancels between backsight and foresight of one length."""
    rows = _run(BOOK.replace(",110", ",10")).rows
    assert rows[-1].height == pytest.approx(100.07)


def test_a_second_reading_is_corrected_too() -> None:
    """So the two still differ by what they did."""
    rows = _run("point,backsight (m),foresight,distance,second\nA,1.630,,10,1.631\nB,,1.560,110,1.560\n").rows
    assert rows[0].sight.second == pytest.approx(1.631 - 0.0015)


def test_a_missing_distance_is_named() -> None:
    """Nothing is corrected by half."""
    with pytest.raises(InputError, match="the intermediate on K has no distance, so it cannot be corrected"):
        _run(BOOK.replace(",50", ","))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "four readings"),
        ("1@2 3@4 5@6", "four readings"),
        ("1@5 1@5 1@5 1@5", "nothing is learned"),
        ("1.8@50 1.7@50 1.6@10 2.5@110", "1 in 100"),
        ("a@50 1@50 1@10 1@110", "cannot be read"),
    ],
)
def test_what_is_no_test(text: str, said: str) -> None:
    """Each is refused with a reason."""
    with pytest.raises(TextError, match=said):
        peg_test(text, UNITS["m"])
