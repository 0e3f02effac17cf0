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
from staking.field.taped import Apart, OnString, Places, Span
from staking.survey.intersections import crossing
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, moved, vector
from staking.survey.polygons import signed_area

# Of a tolerance that is aimed at first, so that the next taping does not find it out, and a corner that is off both its
# lines by so much is still within what its place may differ; own choice.
COMFORT = 0.7
_MOST_WAYS = 16  # ways to move that are tried in every combination; with more they are dropped one by one
_MOST_MOVES = 4
_ONE_LINE = 0.25  # sine of the angle at a corner; flatter ones cannot be moved across by their strings; own choice
_STEPS = 4  # of the search for the amounts; moves of inches on slabs of yards need two

Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Check:
    """A length that must come out. design [m]; allowed: None within where no figure is given, and then not judged."""

    span: Span | Apart
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


def cure(
    at: Places,
    corners: Sequence[str],
    checks: Sequence[Check],
    held: Sequence[str],
    *,
    step: float,
    strings: Sequence[OnString] = (),
) -> Cure:
    """The shortest instruction. corners: in order round the form. held: those that must not move. step [m]: of amounts.

    strings: what holds crossings of strings in their places, which follow the corners.

    Where nothing brings all checks in, those between held corners are given up, and the others are brought in if they
    can be; else nothing is moved. Points that are no corners stay where they are, and so count as held.
    """
    free = [name for name in corners if name not in held]
    judged = [check for check in checks if check.allowed.plus_minus is not None]
    moving = {*free, *(string.place for string in strings if {string.first, string.second} & set(free))}
    stuck = [check for check in judged if not set(check.span.ends) & moving]
    held_out = tuple(check for check in stuck if check.answer(at) == "out")
    wanted = [check for check in judged if check not in stuck]
    problem = _Problem(at, list(_ways(at, corners, free)), wanted, strings)
    moves = _shortest(problem, corners, step) or ()
    after = carried(at, moves, strings)
    left = tuple(check for check in judged if check.answer(after) == "out")
    who = {move.way.corner for move in moves}
    return Cure(moves, tuple(name for name in corners if name not in who), after, left, held_out)


def carried(at: Places, moves: Sequence[Move], strings: Sequence[OnString] = ()) -> dict[str, Point]:
    """The places after the moves, each corner moved along the strings as they were, and where strings then cross."""
    places = dict(at)
    for move in moves:
        places[move.way.corner] = moved(places[move.way.corner], move.way.unit, move.by)
    for one, other in zip(strings[::2], strings[1::2], strict=True):
        lines = [Line(places[string.first], places[string.second]) for string in (one, other)]
        places[one.place] = crossing(lines[0], lines[1])
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


def _shortest(problem: _Problem, corners: Sequence[str], step: float) -> tuple[Move, ...] | None:
    """The moves; none where nothing is out; None where nothing brings all in."""
    if problem.worst(()) <= 1:
        return ()
    for enough in (COMFORT, 1.0):
        found = _of_all(problem, enough, step) if len(problem.ways) <= _MOST_WAYS else None
        found = found or _one_by_one(problem, enough, step)
        if found:
            return min(found, key=lambda moves: _rank(moves, corners))
    return None


def _rank(moves: Sequence[Move], corners: Sequence[str]) -> tuple[int, int, int, float]:
    """Corners, then moves, then corners of the front side, then the sum of amounts."""
    who = {move.way.corner for move in moves}
    return len(who), len(moves), len(who & set(corners[:2])), round(sum(abs(move.by) for move in moves), 6)


def _of_all(problem: _Problem, enough: float, step: float) -> list[tuple[Move, ...]]:
    """Every set of ways that does, of the smallest number of corners."""
    ways = problem.ways
    sets = [chosen for count in range(1, _MOST_MOVES + 1) for chosen in combinations(range(len(ways)), count)]
    sets.sort(key=lambda chosen: (len({ways[i].corner for i in chosen}), len(chosen)))
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


def _one_by_one(problem: _Problem, enough: float, step: float) -> list[tuple[Move, ...]]:
    """From all ways together the one that is missed least is dropped, as long as the rest does."""
    chosen = tuple(range(len(problem.ways)))
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

    def __init__(self, at: Places, ways: Sequence[Way], checks: Sequence[Check], strings: Sequence[OnString]) -> None:
        self.at, self.ways, self.checks, self.strings = at, ways, checks, strings
        self.number: Mapping[Way, int] = {way: i for i, way in enumerate(ways)}
        self.limits = np.array([check.allowed.plus_minus or 1.0 for check in checks])
        self.off = self._off(())
        self.design = self._along()

    def worst(self, moves: Sequence[Move]) -> float:
        """The largest misfit over its tolerance after some moves."""
        return float(np.max(np.abs(self._off(moves)), initial=0.0))

    def _along(self) -> Matrix:
        """How every check changes with every way, over its tolerance: by trying it."""
        columns = [
            (self._off((Move(way, _TRIED),)) - self._off((Move(way, -_TRIED),))) / (2 * _TRIED) for way in self.ways
        ]
        return np.array(columns).T.reshape(len(self.checks), len(self.ways))

    def _off(self, moves: Sequence[Move]) -> Matrix:
        """The misfits over their tolerances after some moves."""
        places = carried(self.at, moves, self.strings)
        return np.asarray(np.array([check.off(places) for check in self.checks]) / self.limits, float)

    def rounded(self, chosen: Sequence[int], enough: float, step: float) -> tuple[Move, ...]:
        """The moves in whole steps; none where they do not bring every check within so much of its tolerance."""
        columns = self.design[:, list(chosen)]
        first = np.asarray(np.linalg.lstsq(columns, -self.off, rcond=_RANK)[0], float)
        if np.max(np.abs(self.off + columns @ first), initial=0.0) > enough + _SLACK:
            return ()
        moves = self._refined(chosen, first)
        whole = tuple(Move(move.way, round(move.by / step) * step) for move in moves)
        if self.worst(whole) > enough and len(whole) <= _MOST_WAYS:
            whole = self._nudged(whole, enough, step)
        whole = tuple(move for move in whole if move.by)
        if not whole or self.worst(whole) > enough:
            return ()
        return self._alike(whole, enough, step)

    def _nudged(self, moves: tuple[Move, ...], enough: float, step: float) -> tuple[Move, ...]:
        """Amounts a step more or less, one after the other, as long as that helps: rounding alone may miss."""
        for _ in moves:
            if self.worst(moves) <= enough:
                break
            tries = [
                (*moves[:at], Move(move.way, move.by + by), *moves[at + 1 :])
                for at, move in enumerate(moves)
                for by in (-step, step)
            ]
            best = min(tries, key=self._strain)
            if self._strain(best) >= self._strain(moves):
                break
            moves = best
        return moves

    def _strain(self, moves: Sequence[Move]) -> float:
        """A sum in which the largest misfits count most."""
        return float(np.sum(self._off(moves) ** 8))

    def _alike(self, moves: tuple[Move, ...], enough: float, step: float) -> tuple[Move, ...]:
        """Amounts that differ by one step made the same, where that does as well: easier to say, and to do."""
        amounts = sorted({round(abs(move.by) / step) for move in moves})
        for small, large in pairwise(amounts):
            if large - small > 1:
                continue
            tries = [
                tuple(
                    Move(m.way, math.copysign(to * step, m.by)) if round(abs(m.by) / step) in (small, large) else m
                    for m in moves
                )
                for to in (small, large)
            ]
            best = min(tries, key=self.worst)
            if self.worst(best) <= enough:
                return best
        return moves

    def _refined(self, chosen: Sequence[int], amounts: Matrix) -> tuple[Move, ...]:
        """Distances are not quite linear: the step is repeated from where the corners then are."""
        for _ in range(_STEPS):
            off = self._off(self._moves(chosen, amounts))
            more = np.linalg.lstsq(self.design[:, list(chosen)], -off, rcond=_RANK)[0]
            amounts = amounts + more
        return self._moves(chosen, amounts)

    def _moves(self, chosen: Sequence[int], amounts: Matrix) -> tuple[Move, ...]:
        return tuple(Move(self.ways[i], float(by)) for i, by in zip(chosen, amounts, strict=True))


_RANK = 1e-5  # of the largest: a singular value below it is a move of all corners together
_TRIED = 0.001  # metres; a move that is tried to see what it changes
_SLACK = 0.25  # of a tolerance that the first, linear step may miss by and still be worth a second one
