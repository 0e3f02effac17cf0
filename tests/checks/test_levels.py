"""What is said of a level book that does not close: no more than can be known."""

from __future__ import annotations

import pytest

from staking.checks.levels import level_findings
from staking.findings import Finding
from staking.notation import Notation
from staking.sitefile.level_book import read_book
from staking.sitefile.levelled import level_run
from staking.sitefile.levels_declared import Levels

HEAD = "point,backsight (ft),intermediate,foresight,second\n"
LOOP = f"{HEAD}BM,4.21\nTP1,6.87,,2.13\nTP2,1.40,,1.59\nTP1,3.13,,6.68\nBM,,,5.21\n"


def _found(old: str = "", new: str = "", text: str = LOOP, **known: float) -> list[Finding]:
    assert old in text
    book = read_book(text.replace(old, new, 1) if old else text, "b.csv", unit="", rod=4.0)
    heights = {"BM": 30.48, **{name: up * 0.3048 for name, up in known.items()}}
    return list(level_findings(level_run(book, heights, Levels(book="b.csv")), Notation(book.unit)))


def test_a_sound_loop_is_not_talked_of() -> None:
    """Nothing is found in a book that closes."""
    assert _found() == []


def test_a_swapped_pair_of_digits_is_named() -> None:
    """One reading fits: line, kind and figure are said, with the word likely."""
    (found,) = [f for f in _found("6.87", "6.78") if f.code == "level-misclosed"]
    assert found.remedy.startswith("most likely: line 3, backsight 6.78 on TP1: with two neighbouring digits swapped")


def test_a_whole_foot_names_no_reading() -> None:
    """The size is said, the reading is not, and the lines that stay open are."""
    (found,) = [f for f in _found("6.87", "7.87") if f.code == "level-misclosed"]
    assert "one wrong digit (1 ft); at which reading cannot be told" in found.remedy
    assert "on line 3, 4, 5\n" in found.remedy
    assert "most likely" not in found.remedy


def test_any_other_size_is_called_unknown() -> None:
    """No guess where nothing fits."""
    (found,) = [f for f in _found("6.87", "7.13") if f.code == "level-misclosed"]
    assert "no single reading is likelier than the others" in found.remedy


def test_what_fits_by_chance_is_no_more_than_possible() -> None:
    """Swapped digits that leave more than a quarter of what is allowed are not called likely."""
    (found,) = [f for f in _found("6.87", "7.21") if f.code == "level-misclosed"]
    assert found.remedy.startswith("possibly: line 4, foresight 1.59 on TP2")


@pytest.mark.parametrize(("up", "count"), [(102.08, 0), (102.5, 2)])
def test_a_stated_height_within_the_run_is_compared(up: float, count: int) -> None:
    """The point is reached twice, and each time it is compared."""
    assert [f.code for f in _found(TP1=up)] == ["level-contradicts"] * count


def test_two_heights_of_an_intermediate_point() -> None:
    """An intermediate sight that does not repeat is told, though the run closes."""
    text = LOOP.replace("TP1,6.87", "K,,3.00\nTP1,6.87") + "BM,4.00\nK,,2.00\n"
    assert [f.code for f in _found(text=text)] == ["level-contradicts"]
