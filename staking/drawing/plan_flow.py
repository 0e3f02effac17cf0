"""How do tables flow from column to column of a page, and how high must the columns be?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from staking.drawing.plan_text import Measured, SetBlock, SetRow

_KEPT = 8  # rows of a block that is not broken


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of the page: left end, top, width and height [points]."""

    x: float
    top: float
    width: float
    height: float


class PutRow(NamedTuple):
    """A row and the place of its upper left corner; nothing is moved there before it is drawn."""

    row: SetRow | Measured
    x: float
    y: float

    def moved(self) -> SetRow:
        """The row in its place."""
        return self.row.moved(self.x, self.y)


def flowed(blocks: Iterable[SetBlock], columns: Sequence[Area]) -> tuple[tuple[PutRow, ...], tuple[SetBlock, ...]]:
    """Blocks one below the other from column to column: what is placed, and what found no room.

    A block goes on in the next column under the same title; at least two of its rows stand together, and a short
    block is kept whole.
    """
    placed: list[PutRow] = []
    waiting = list(blocks)
    for column in columns:
        y = column.top
        while waiting:
            count = _fitting(waiting[0], y - (column.top - column.height), column.height)
            if not count:
                break
            block = waiting.pop(0)
            for row in (block.top, *block.rows[:count]):
                placed.append(PutRow(row, column.x, y))
                y -= row.height
            if block.rows[count:]:
                waiting.insert(0, SetBlock(block.top, block.rows[count:]))
                break
    return tuple(placed), tuple(waiting)


def _fitting(block: SetBlock, room: float, whole: float) -> int:
    """How many rows of a block fit; none where too few would stand together, or where a short one would be broken.

    whole: height of the column [points]; what is higher is broken in any case.
    """
    room -= block.top.height
    count = 0
    for row in block.rows:
        if row.height > room + 1e-6:
            break
        room -= row.height
        count += 1
    if count == len(block.rows):
        return count
    short = len(block.rows) <= _KEPT and block.top.height + sum(row.height for row in block.rows) <= whole
    if room + 1e-6 >= whole - block.top.height - sum(row.height for row in block.rows[:count]):
        return count  # a column of its own: nothing better will come
    count = min(count, len(block.rows) - 2)
    return 0 if short or count < 2 else count


def least_height(blocks: Sequence[SetBlock], columns: int, width: float, most: float) -> float | None:
    """The least height [points] in which blocks fit into columns side by side; None where `most` is too low."""

    def fits(height: float) -> bool:
        return not flowed(blocks, [Area(0, 0, width, height)] * columns)[1]

    if not fits(most):
        return None
    low, high = 0.0, most
    while high - low > 1.0:
        middle = (low + high) / 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high
