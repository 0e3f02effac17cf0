"""Tables from column to column: nothing is lost, and nothing stands where it has no room."""

from __future__ import annotations

from staking.drawing.plan_flow import Area, flowed, least_height
from staking.drawing.plan_text import Block, block_set

ROWS = tuple((f"row {n}", f"{n}' 6-1/2\"") for n in range(12))


def test_a_long_block_goes_on_in_the_next_column() -> None:
    """The rows that found no room stand in the next column, under the same title."""
    block = block_set(Block("Points", ROWS), 100.0, 7.0)
    placed, left = flowed([block], [Area(0, 100, 100, 80), Area(120, 100, 100, 80)])
    assert left == ()
    assert sum(text.text == "Points" for put in placed for text in put.row.texts) == 2
    assert {f"row {n}" for n in range(12)} <= {text.text for put in placed for text in put.row.texts}


def test_a_short_block_is_kept_whole() -> None:
    """Four rows that do not fit below another block go to the next column together."""
    first, short = (block_set(Block(title, ROWS[:4]), 100.0, 7.0) for title in ("first", "short"))
    placed, _ = flowed([first, short], [Area(0, 100, 100, 90), Area(120, 100, 100, 90)])
    assert {put.x for put in placed if put.row.texts[0].text == "short"} == {120}


def test_what_finds_no_room_is_left_over() -> None:
    """Nothing is dropped: what is not placed comes back."""
    placed, left = flowed([block_set(Block("Points", ROWS), 100.0, 7.0)], [Area(0, 60, 100, 60)])
    assert len(placed) - 1 + len(left[0].rows) == 12


def test_least_height_is_least() -> None:
    """A point and a half less, and something is left over; where nothing is enough there is no height."""
    blocks = [block_set(Block("Points", ROWS), 100.0, 7.0)]
    high = least_height(blocks, 2, 100.0, 400.0)
    assert high is not None
    assert flowed(blocks, [Area(0, 0, 100, high)] * 2)[1] == ()
    assert flowed(blocks, [Area(0, 0, 100, high - 1.5)] * 2)[1]
    assert least_height(blocks, 1, 100.0, 20.0) is None
