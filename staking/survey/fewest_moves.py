"""Which marks of a form must be moved, as few as can be, so that all are near their heights and level to one another?

Differences are measured less design [m], one a mark. A step is what two marks may differ by; it adds up along marks
between them. Marks that are left stay as they are, so any two of those must agree; the rest can then always be set.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

_NOISE = 1e-7  # metres; a mark that is off by exactly what is allowed is not moved
_CLOSE = 97  # grades of how near a left mark is to design; they choose between equal numbers of marks


def within_reach(steps: ArrayLike) -> NDArray[np.float64]:
    """The most that any two marks may differ by [m]: the least sum of steps on any way from one to the other.

    steps: a square of what two marks may differ by [m], inf where nothing is said of them. Source: shortest ways
    between all nodes of a graph, R. W. Floyd (1962), from memory; scipy is the oracle in the tests.
    """
    reach = np.array(steps, float)
    np.fill_diagonal(reach, 0.0)
    for middle in range(len(reach)):
        np.minimum(reach, reach[:, middle, None] + reach[None, middle, :], out=reach)
    return reach


def fewest_moves(differences: Sequence[float], plus_minus: float, reach: ArrayLike) -> tuple[float, ...]:
    """What to raise each mark by [m], below 0 to lower it; 0 for as many marks as can be.

    plus_minus [m]: of every mark. reach: as `within_reach`. A moved mark goes to its design height, or as near to it
    as the marks that are left allow. Of equal numbers those are left that are nearer to design.

    "Lower than the other by more than their reach" puts the marks in order, since reach obeys the triangle inequality;
    marks that can be left together are those of which none is before another. The largest such set comes out of a
    least cut (R. P. Dilworth 1950, D. Konig 1931); that the rest can be set is E. J. McShane's extension (1934); all
    from memory, with an exhaustive search and scipy's milp as oracles in the tests.
    """
    off, far = np.asarray(differences, float), np.asarray(reach, float)
    near = [int(i) for i in np.flatnonzero(np.abs(off) <= plus_minus + _NOISE)]
    before = [[j for j, other in enumerate(near) if off[other] - off[one] > far[one, other] + _NOISE] for one in near]
    weights = [_CLOSE * len(off) + round(_CLOSE * (1 - abs(off[one]) / (plus_minus + _NOISE))) for one in near]
    left = sorted(near[i] for i in heaviest_apart(before, weights))
    return tuple(0.0 if i in left else _set_to(i, off, far, left, plus_minus) - float(off[i]) for i in range(len(off)))


def _set_to(mark: int, off: NDArray[np.float64], far: NDArray[np.float64], left: list[int], most: float) -> float:
    """Where a moved mark goes, above its design height [m]."""
    if not left:
        return 0.0
    lowest = max(-most, float(np.max(off[left] - far[mark, left])))
    highest = min(most, float(np.min(off[left] + far[mark, left])))
    return max(lowest, min(0.0, highest))


def heaviest_apart(before: Sequence[Sequence[int]], weights: Sequence[int]) -> frozenset[int]:
    """Members of an order, none before another, whose weights add up to the most.

    before: for each member all that it is before (of three in a row the first is before the third too). weights: whole
    numbers above 0.
    """
    net = _Net(before, weights)
    seen = net.cut()
    return frozenset(i for i in range(len(weights)) if ("from", i) in seen and ("to", i) not in seen)


_Node = tuple[str, int]
_START, _END = ("start", 0), ("end", 0)


@dataclass
class _Net:
    """What can still flow from each node to the next: from the start over pairs of the order to the end."""

    before: Sequence[Sequence[int]]
    weights: Sequence[int]
    room: dict[_Node, dict[_Node, int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for i, weight in enumerate(self.weights):
            self._pipe(_START, ("from", i), weight)
            self._pipe(("to", i), _END, weight)
            for j in self.before[i]:
                self._pipe(("from", i), ("to", j), sum(self.weights))

    def _pipe(self, one: _Node, other: _Node, size: int) -> None:
        self.room.setdefault(one, {})[other] = size
        self.room.setdefault(other, {}).setdefault(one, 0)

    def cut(self) -> set[_Node]:
        """What the start still reaches once as much flows as can (L. R. Ford and D. R. Fulkerson)."""
        while True:
            came = self._reached()
            if _END not in came:
                return set(came)
            way = [_END]
            while way[-1] != _START:
                way.append(came[way[-1]])
            legs = [(way[i + 1], way[i]) for i in range(len(way) - 1)]
            flow = min(self.room[one][other] for one, other in legs)
            for one, other in legs:
                self.room[one][other] -= flow
                self.room[other][one] += flow

    def _reached(self) -> dict[_Node, _Node]:
        came, waiting = {_START: _START}, deque([_START])
        while waiting:
            one = waiting.popleft()
            for other, room in self.room.get(one, {}).items():
                if room and other not in came:
                    came[other] = one
                    waiting.append(other)
        return came
