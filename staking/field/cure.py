"""What is the least that must be moved so that every check of a form comes out, and which way?

A corner is moved along the strings of its sides, toward a neighbouring corner or away from it, by so many steps of the
tape. The fewest corners are moved; of these ways the one with the fewest moves, then the shortest. Where the corners
on the front side can stay, they do: the crew's base line lies there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np
from numpy.typing import NDArray

from staking.field.compared import Allowed, Answer
from staking.field.taped import Places, Span, rows_of
from staking.survey.points import Point, Vector, moved, vector
from staking.survey.polygons import signed_area

COMFORT = 0.75  # of a tolerance that is aimed at first, so that the next taping does not find it out; own choice
_MOST_WAYS = 16  # ways to move that are tried in every combination; with more they are dropped one by one
_MOST_MOVES = 4
_ONE_LINE = 0.25  # sine of the angle at a corner; flatter ones cannot be moved across by their strings; own choice
_STEPS = 4  # of the search for the amounts; moves of inches on slabs of yards need two

Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Check:
    """A length that must come out. design [m]; allowed: None within where no figure is given, and then not judged."""

    span: Span
    design: float
    allowed: Allowed

    def off(self, at: Places) -> float:
        """Measured less design [m], with the places where they are."""
        return self.span.length(at) - self.design

    def answer(self, at: Places) -> Answer:
        """Whether it is within what is allowed."""
        limit = self.allowed.plus_minus
        if limit is None:
            return "not judged"
        return "within" if abs(self.off(at)) <= limit + 1e-9 else "out"


@dataclass(frozen=True, slots=True)
class Way:
    """A corner can be moved along a direction of length 1, and back: toward a neighbour, or square out of the slab.

    toward: the neighbour; empty for out of the slab.
    """

    corner: str
    toward: str
    unit: Vector


@dataclass(frozen=True, slots=True)
class Move:
    """Move a corner toward another by so much [m]; below 0 away from it."""

    way: Way
    by: float


@dataclass(frozen=True)
class Cure:
    """What to move, and where everything then is. stays: corners that are not moved.

    left: checks that stay out. held_out: those among them that lie between corners that must not move.
    """

    moves: tuple[Move, ...]
    stays: tuple[str, ...]
    after: Places
    left: tuple[Check, ...]
    held_out: tuple[Check, ...]

    @property
    def cures(self) -> bool:
        """Whether every check comes out."""
        return not self.left


def cure(at: Places, corners: Sequence[str], checks: Sequence[Check], held: Sequence[str], step: float) -> Cure:
    """The shortest instruction. corners: in order round the form. held: those that must not move. step [m]: of amounts.

    Where nothing brings all checks in, those between held corners are given up, and the others are brought in if they
    can be; else nothing is moved. Points that are no corners stay where they are, and so count as held.
    """
    free = [name for name in corners if name not in held]
    judged = [check for check in checks if check.allowed.plus_minus is not None]
    stuck = [check for check in judged if not set(check.span.ends) & set(free)]
    held_out = tuple(check for check in stuck if check.answer(at) == "out")
    wanted = [check for check in judged if check not in stuck]
    ways = list(_ways(at, corners, free))
    moves = _shortest(at, ways, wanted, corners, step) or ()
    after = carried(at, moves)
    left = tuple(check for check in judged if check.answer(after) == "out")
    moving = {move.way.corner for move in moves}
    return Cure(moves, tuple(name for name in corners if name not in moving), after, left, held_out)


def carried(at: Places, moves: Sequence[Move]) -> dict[str, Point]:
    """The places after the moves, each corner moved along the strings as they were."""
    places = dict(at)
    for move in moves:
        places[move.way.corner] = moved(places[move.way.corner], move.way.unit, move.by)
    return places


def _ways(at: Places, corners: Sequence[str], free: Sequence[str]) -> Iterator[Way]:
    """Along both strings of every corner that may move; where these run in one line, along it and square to it."""
    count = len(corners)
    left_is_in = signed_area([at[name] for name in corners]) > 0
    for number, name in enumerate(corners):
        if name not in free:
            continue
        before, behind = corners[number - 1], corners[(number + 1) % count]
        back, on = vector(at[name], at[before]).unit(), vector(at[name], at[behind]).unit()
        yield Way(name, before, back)
        if abs(back.cross(on)) > _ONE_LINE:
            yield Way(name, behind, on)
        else:
            yield Way(name, "", on.right() if left_is_in else on.left())


def _worst(at: Places, checks: Sequence[Check]) -> float:
    """The largest misfit over its tolerance."""
    return max((abs(check.off(at)) / (check.allowed.plus_minus or 1.0) for check in checks), default=0.0)


def _shortest(
    at: Places, ways: Sequence[Way], checks: Sequence[Check], corners: Sequence[str], step: float
) -> tuple[Move, ...] | None:
    """The moves; none where nothing is out; None where nothing brings all in."""
    if _worst(at, checks) <= 1:
        return ()
    for enough in (COMFORT, 1.0):
        found = _of_all(at, ways, checks, enough, step) if len(ways) <= _MOST_WAYS else None
        found = found or _one_by_one(at, ways, checks, enough, step)
        if found:
            return min(found, key=lambda moves: _rank(moves, corners))
    return None


def _rank(moves: Sequence[Move], corners: Sequence[str]) -> tuple[int, int, int, float]:
    """Corners, then moves, then corners of the front side, then the sum of amounts."""
    who = {move.way.corner for move in moves}
    return len(who), len(moves), len(who & set(corners[:2])), round(sum(abs(move.by) for move in moves), 6)


def _of_all(
    at: Places, ways: Sequence[Way], checks: Sequence[Check], enough: float, step: float
) -> list[tuple[Move, ...]]:
    """Every set of ways that does, of the smallest number of corners."""
    sets = [chosen for count in range(1, _MOST_MOVES + 1) for chosen in combinations(range(len(ways)), count)]
    sets.sort(key=lambda chosen: (len({ways[i].corner for i in chosen}), len(chosen)))
    problem = _Problem(at, ways, checks)
    found: list[tuple[Move, ...]] = []
    best = (0, 0)
    for chosen in sets:
        size = (len({ways[i].corner for i in chosen}), len(chosen))
        if found and size > best:
            break
        moves = problem.rounded(chosen, enough, step)
        if moves:
            found.append(moves)
            best = size
    return found


def _one_by_one(
    at: Places, ways: Sequence[Way], checks: Sequence[Check], enough: float, step: float
) -> list[tuple[Move, ...]]:
    """From all ways together the one that is missed least is dropped, as long as the rest does."""
    problem = _Problem(at, ways, checks)
    chosen = tuple(range(len(ways)))
    best = problem.rounded(chosen, enough, step)
    while best and len(chosen) > 1:
        amounts = {problem.number[move.way]: abs(move.by) for move in best}
        order = sorted(chosen, key=lambda i: amounts.get(i, 0.0))
        for dropped in order:
            fewer = tuple(i for i in chosen if i != dropped)
            tried = problem.rounded(fewer, enough, step)
            if tried:
                chosen, best = fewer, tried
                break
        else:
            break
    return [best] if best else []


class _Problem:
    """The amounts of chosen moves that bring checks as near to the drawing as they can, each over its tolerance."""

    def __init__(self, at: Places, ways: Sequence[Way], checks: Sequence[Check]) -> None:
        self.at, self.ways, self.checks = at, ways, checks
        self.number: Mapping[Way, int] = {way: i for i, way in enumerate(ways)}
        self.limits = np.array([check.allowed.plus_minus or 1.0 for check in checks])
        index = {name: i for i, name in enumerate(dict.fromkeys(way.corner for way in ways))}
        self.index = index
        self.off = np.array([check.off(at) for check in checks]) / self.limits
        self.design = self._along(at)

    def _along(self, at: Places) -> Matrix:
        """How every check changes with every way, over its tolerance."""
        _, rows = rows_of([check.span for check in self.checks], at, self.index)
        units = np.zeros((2 * len(self.index), len(self.ways)))
        for number, way in enumerate(self.ways):
            place = 2 * self.index[way.corner]
            units[place : place + 2, number] = (way.unit.east, way.unit.north)
        return np.asarray((rows @ units) / self.limits[:, None])

    def rounded(self, chosen: Sequence[int], enough: float, step: float) -> tuple[Move, ...]:
        """The moves in whole steps; none where they do not bring every check within so much of its tolerance."""
        columns = self.design[:, list(chosen)]
        first = np.linalg.lstsq(columns, -self.off, rcond=1e-9)[0]
        if np.max(np.abs(self.off + columns @ first), initial=0.0) > enough + _SLACK:
            return ()
        moves = self._refined(chosen, first)
        whole = tuple(Move(move.way, round(move.by / step) * step) for move in moves)
        whole = tuple(move for move in whole if move.by)
        if not whole or _worst(carried(self.at, whole), self.checks) > enough:
            return ()
        return self._alike(whole, enough, step)

    def _alike(self, moves: tuple[Move, ...], enough: float, step: float) -> tuple[Move, ...]:
        """Amounts that differ by one step made the same, where that does as well: easier to say, and to do."""
        amounts = sorted({round(abs(move.by) / step) for move in moves})
        for small, large in pairwise(amounts):
            if large - small > 1:
                continue
            for one, other in ((small, large), (large, small)):
                tried = tuple(
                    Move(m.way, math.copysign(other * step, m.by)) if round(abs(m.by) / step) == one else m
                    for m in moves
                )
                if _worst(carried(self.at, tried), self.checks) <= enough:
                    return tried
        return moves

    def _refined(self, chosen: Sequence[int], amounts: Matrix) -> tuple[Move, ...]:
        """Distances are not quite linear: the step is repeated from where the corners then are."""
        for _ in range(_STEPS):
            places = carried(self.at, self._moves(chosen, amounts))
            off = np.array([check.off(places) for check in self.checks]) / self.limits
            more = np.linalg.lstsq(self.design[:, list(chosen)], -off, rcond=1e-9)[0]
            amounts = amounts + more
        return self._moves(chosen, amounts)

    def _moves(self, chosen: Sequence[int], amounts: Matrix) -> tuple[Move, ...]:
        return tuple(Move(self.ways[i], float(by)) for i, by in zip(chosen, amounts, strict=True))


_SLACK = 0.25  # of a tolerance that the first, linear step may miss by and still be worth a second one
