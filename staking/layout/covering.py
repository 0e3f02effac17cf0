"""How many strips, rolls, sheets and bars cover a slab?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from staking.layout.boards import spaces
from staking.layout.cutting import SAME, lay


def strips(across: float, width: float, lap: float) -> int:
    """How many strips of a width [m] cover a breadth [m], each lapping the next."""
    return max(math.ceil((across - lap - SAME) / (width - lap)), 1)


@dataclass(frozen=True, slots=True)
class Panels:
    """What joints part a slab into. counts: along the front and away from it; size [m]: of one, alike."""

    counts: tuple[int, int]
    size: tuple[float, float]

    @property
    def ratio(self) -> float:
        """Long side over short side."""
        return max(self.size) / min(self.size)


def panels(extent: tuple[float, float], apart: float) -> Panels:
    """The fewest equal panels whose sides are no longer than that [m]."""
    along, away = (spaces(each, apart) for each in extent)
    return Panels((along, away), (extent[0] / along, extent[1] / away))


@dataclass(frozen=True, slots=True)
class Rolls:
    """How many rolls, and how many laps where one ends within a strip."""

    count: int
    laps: int


def rolls(count: int, each: float, roll: float, lap: float) -> Rolls:
    """Rolls for so many strips of a length [m], one after another; where a roll ends the next one laps it.

    What is left of a roll goes into the next strip unless it is no longer than the lap. Raises ValueError where the
    lap is as long as the roll.
    """
    if lap >= roll:
        raise ValueError("the lap is as long as the roll")
    used, laps, left = 1, 0, roll
    for _ in range(count):
        if left <= lap + SAME:
            used, left = used + 1, roll
        rest = each
        while rest > left + SAME:
            rest, left = rest - left + lap, roll
            used, laps = used + 1, laps + 1
        left -= rest
    return Rolls(used, laps)


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars one way. count: of runs; run [m]: from end to end; laps: of one run; length [m]: of one with its laps.

    whole: stock bars in a run; filler [m]: the piece after them; per: of such pieces from one stock bar.
    """

    count: int
    run: float
    laps: int
    length: float
    whole: int
    filler: float
    per: int

    @property
    def stock(self) -> int:
        """How many stock bars it takes."""
        return self.count * self.whole + math.ceil(self.count / self.per)


def bars(extent: tuple[float, float], spacing: float, stock: float, lap: float) -> Bars:
    """Bars along the first extent [m], spread over the second, none wider apart than the spacing."""
    return runs_of_bars(spaces(extent[1], spacing) + 1, extent[0], stock, lap)


def runs_of_bars(count: int, along: float, stock: float, lap: float) -> Bars:
    """So many bars of a length [m], each pieced together from stock bars that lap."""
    cuts = lay(along, (stock,), lap)
    laps, filler = len(cuts) - 1, cuts[-1].used
    per = max(math.floor((stock + SAME) / filler), 1)
    return Bars(count, along, laps, along + laps * lap, laps, filler, per)
