"""Which boards or panels cover a length, what is left to fill, and from how little lumber is it cut?"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations_with_replacement

SAME = 1e-6  # metres; what is shorter is a crumb of arithmetic
KERF = 0.003175  # metres, 1/8 in; what a saw takes; common practice, no source
TOGETHER = 8  # fillers that are tried in every way of sawing them; more are parted into such lots
UNIT = 1e-5  # metres; to which the lengths of panels are told apart
LEAST = 0.3048  # metres, a foot; a shorter filler of boards is not laid; own choice
MOST = 200_000  # lengths that may be reached by panels before no further ones are tried


@dataclass(frozen=True, slots=True)
class Cut:
    """A board: taken from a stock length [m], used over a length [m]."""

    stock: float
    used: float


@dataclass(frozen=True, slots=True)
class Sawn:
    """A board as it is bought [m], and the pieces it is sawn into [m]."""

    stock: float
    pieces: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Packed:
    """Whole panels along a length [m], longer ones first, and the filler that is left [m]."""

    panels: tuple[float, ...]
    filler: float


def lay(length: float, stock: Sequence[float], lap: float, least: float = 0.0) -> tuple[Cut, ...]:
    """Boards that cover a length [m], each lapping the next: the fewest, whole ones first, then a filler.

    The filler comes from the shortest stock that gives it. least [m]: where it would be shorter, the board before it is
    shortened by what it lacks. Raises ValueError where the lap is no shorter than the longest board.
    """
    longest = max(stock)
    if lap >= longest:
        raise ValueError("the lap is as long as the board")
    whole = max(math.ceil((length - lap - SAME) / (longest - lap)) - 1, 0)
    rest = length - whole * (longest - lap)
    short = least - rest if whole and rest < least < longest / 2 else 0.0
    filler = min(each for each in stock if each >= rest + short - SAME)
    eased = (Cut(longest, longest - short),) if whole else ()
    return (*(Cut(longest, longest),) * (whole - 1), *eased, Cut(filler, min(rest + short, filler)))


def pack(length: float, panels: Sequence[float]) -> Packed:
    """Whole panels that leave the least filler of a length [m], and of those the fewest.

    Every length that panels add up to is reached with the fewest of them first, until `MOST` are.
    """
    sizes = sorted({round(panel / UNIT) for panel in panels}, reverse=True)
    limit, came, line = round(length / UNIT), {0: 0}, deque([0])
    while line and len(came) < MOST:
        at = line.popleft()
        for size in sizes:
            if at + size <= limit and at + size not in came:
                came[at + size] = size
                line.append(at + size)
    at, laid = max(came), []
    while at:
        laid.append(came[at] * UNIT)
        at -= came[at]
    exact = [min(panels, key=lambda panel: abs(panel - each)) for each in sorted(laid, reverse=True)]
    return Packed(tuple(exact), max(length - math.fsum(exact), 0.0))


def stack(need: float, heights: Sequence[float]) -> tuple[float, ...]:
    """Panels one above another that reach a height [m] with the least over, and of those the fewest."""
    most = max(math.ceil((need - SAME) / max(heights)), 1) + 1
    ways = (way for count in range(1, most + 1) for way in combinations_with_replacement(sorted(heights)[::-1], count))
    return min((way for way in ways if sum(way) >= need - SAME), key=lambda way: (round(sum(way), 6), len(way)))


def sawn(pieces: Sequence[float], stock: Sequence[float]) -> tuple[Sawn, ...]:
    """Boards that pieces [m] are sawn from: of the least length in all, and of those the fewest.

    Up to `TOGETHER` pieces are tried in every way; more are parted into lots of like mixture first. No piece may be
    longer than the longest stock: ValueError.
    """
    if pieces and max(pieces) > max(stock) + SAME:
        raise ValueError("no stock is so long")
    order = sorted(pieces, reverse=True)
    lots = max(math.ceil(len(order) / TOGETHER), 1)
    return tuple(board for lot in range(lots) for board in _least(order[lot::lots], stock))


def _least(pieces: Sequence[float], stock: Sequence[float]) -> tuple[Sawn, ...]:
    """Every way of putting pieces together, each first piece with every set of the others."""

    @cache
    def best(left: int) -> tuple[float, int, tuple[Sawn, ...]]:
        if not left:
            return 0.0, 0, ()
        found = []
        for group in _groups(left):
            board = _board([piece for bit, piece in enumerate(pieces) if group >> bit & 1], stock)
            if board is not None:
                length, count, boards = best(left ^ group)
                found.append((round(board.stock + length, 6), count + 1, (board, *boards)))
        return min(found, key=lambda way: way[:2])

    return best((1 << len(pieces)) - 1)[2]


def _groups(left: int) -> Iterator[int]:
    """Every set of pieces, as bits, that holds the first of those left."""
    first = left & -left
    rest = others = left ^ first
    while others:
        yield first | others
        others = (others - 1) & rest
    yield first


def _board(pieces: Sequence[float], stock: Sequence[float]) -> Sawn | None:
    """The shortest stock that holds the pieces and the saw cuts between them."""
    needed = math.fsum(pieces) + (len(pieces) - 1) * KERF
    long = [each for each in stock if each >= needed - SAME]
    return Sawn(min(long), tuple(pieces)) if long else None
