"""What a level book gives beside the heights that are known."""

from __future__ import annotations

import pytest

from staking.errors import InputError
from staking.sitefile.level_book import read_book
from staking.sitefile.levelled import Levelled, level_run
from staking.sitefile.levels_declared import Levels

BOOK = "point,backsight (m),foresight\nA,2,\nT,1,1\nB,,1.01\n"


def _run(book: str = BOOK, known: dict[str, float] | None = None, **asked: str) -> Levelled:
    read = read_book(book, "book.csv", unit="", rod=4.0)
    return level_run(read, {"A": 100.0} if known is None else known, Levels.model_validate({"book": "b.csv", **asked}))


def test_an_open_run_has_no_misclosure() -> None:
    """Heights are found, and nothing is said to close."""
    run = _run()
    assert (run.closing, run.misclosure, run.closes) == ("", None, False)
    assert run.found == pytest.approx({"A": 100, "T": 101, "B": 100.99})


def test_a_known_end_is_kept_and_the_rest_is_spread() -> None:
    """Half of the misclosure after half of the set-ups."""
    run = _run(known={"A": 100.0, "B": 100.994}, adjust="set-ups")
    assert run.misclosure == pytest.approx(0.004)
    assert run.found == pytest.approx({"A": 100, "T": 101.002, "B": 100.994})


def test_more_than_allowed_is_not_spread() -> None:
    """Heights stay as they were computed."""
    run = _run(known={"A": 100.0, "B": 102.0}, adjust="set-ups")
    assert not run.closes
    assert run.found["T"] == pytest.approx(101)


def test_the_site_goes_before_the_book() -> None:
    """A height of the book counts only where the site states none."""
    book = BOOK.replace("foresight\nA,2,", "foresight,elevation\nA,2,,50")
    assert _run(book).found["A"] == 100
    assert _run(book, known={}).found["A"] == 50


@pytest.mark.parametrize(("known", "asked", "said"), [({}, {}, "no elevation"), (None, {"class": "ordinary"}, "lacks")])
def test_what_cannot_be_computed(known: dict[str, float] | None, asked: dict[str, str], said: str) -> None:
    """No height to begin with, or no distances for a class."""
    with pytest.raises(InputError, match=said):
        _run(known=known, **asked)
