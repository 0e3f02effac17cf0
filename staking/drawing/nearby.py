"""Which rectangles and lines on a paper lie near a place, when there are too many to look at each of them?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Generic

from staking.drawing.paper import Area, Box, Segment, near

_FEW = 40  # are looked at one by one
_CELL = 24.0  # points: about the length of a name


class Nearby(Generic[Area]):
    """Rectangles or lines that are added one by one; nothing is taken out.

    Where there are many they are sorted into the squares of a grid that their upright boxes meet.
    """

    def __init__(self, areas: Iterable[Area] = ()) -> None:
        self._areas: list[Area] = []
        self._cells: dict[tuple[int, int], list[Area]] = {}
        for area in areas:
            self.add(area)

    def add(self, area: Area) -> None:
        """Put one more in."""
        self._areas.append(area)
        if len(self._areas) == _FEW:
            for each in self._areas:
                self._sort(each)
        elif len(self._areas) > _FEW:
            self._sort(area)

    def _sort(self, area: Area) -> None:
        for x in range(int(area.low_x // _CELL), int(area.high_x // _CELL) + 1):
            for y in range(int(area.low_y // _CELL), int(area.high_y // _CELL) + 1):
                self._cells.setdefault((x, y), []).append(area)

    def near(self, one: Box | Segment, gap: float = 0.0) -> Iterable[Area]:
        """Those whose upright boxes come nearer than `gap` [points], in no order; some more than once."""
        return near(one, self._areas, gap) if len(self._areas) < _FEW else self._found(one, gap)

    def _found(self, one: Box | Segment, gap: float) -> Iterator[Area]:
        low_x, high_x, low_y, high_y = one.low_x - gap, one.high_x + gap, one.low_y - gap, one.high_y + gap
        for x in range(int(low_x // _CELL), int(high_x // _CELL) + 1):
            for y in range(int(low_y // _CELL), int(high_y // _CELL) + 1):
                for other in self._cells.get((x, y), ()):
                    if other.low_x < high_x and other.high_x > low_x and other.low_y < high_y and other.high_y > low_y:
                        yield other
