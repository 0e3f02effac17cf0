"""How does the top of the form stand against its design heights, and which marks are to be raised or lowered?

Differences are measured less design, so a floor that falls is judged against its own plane. Nothing here approves
anything: these are figures for forms, before the pour.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from staking.field.allowed import Tolerances
from staking.field.compared import Allowed, Answer, LevelsSet, RaiseOrLower, Raising
from staking.field.levels_doubts import MOST, READ, doubts
from staking.field.odd_height import fit_with_odd
from staking.layout.computed import Layout
from staking.layout.design import Grade
from staking.layout.grades import ON_CONCRETE
from staking.survey.fewest_moves import fewest_moves, within_reach
from staking.survey.levels import Sight
from staking.survey.points import Vector, mean, vector
from staking.survey.surface import LEVEL as LEVEL_PLANE
from staking.survey.two_systems import Heights, fit_heights

ON_FORM = (*ON_CONCRETE, "recess")  # kinds of grades; the string over a stake is none
_NOISE = 1e-7  # metres
_ALIKE = 7  # decimals of a metre to which differences are one; of marks that are alike the first is named

Pair = tuple[float, float, str, str]


def levels_set(
    layout: Layout,
    heights: Mapping[str, float],
    *,
    allowed: Allowed | None = None,
    level: Sequence[tuple[float, Allowed]] | None = None,
    sights: Mapping[str, Sight] | None = None,
) -> LevelsSet | None:
    """Heights of the form's top [m] by the names of marks, held against design; None where no mark has both.

    allowed: of each mark. level: over so far [m] so much, between every two marks no farther apart; both are
    those of the layout where left out. sights: how the rod was read, for a guess at the slip behind a reading that does
    not belong.
    """
    allowed = Tolerances(layout).height() if allowed is None else allowed
    level = Tolerances(layout).level() if level is None else level
    marks = [grade for grade in layout.grades if grade.kind in ON_FORM]
    read = [grade for grade in marks if grade.name in heights]
    if not read:
        return None
    off = [heights[grade.name] - grade.up for grade in read]
    most = allowed.plus_minus or 2 * READ
    fit = fit_with_odd([grade.at for grade in read], off, expected=most / 2, most=most)
    flatness = tuple(_worst(read, off, over) for over, _ in level)
    tilt, rests = _plane(read, off, fit)
    moves = _moves(read, off, allowed, level)
    judged = zip(read, off, rests, moves, strict=True)
    return LevelsSet(
        tuple(_mark(*each, allowed) for each in judged),
        mean=fit.shift,
        tilt=tilt,
        high=read[int(np.argmax(np.round(off, _ALIKE)))].name,
        low=read[int(np.argmin(np.round(off, _ALIKE)))].name,
        range=max(off) - min(off),
        flatness=flatness,
        findings=tuple(doubts(layout, read, off, fit.odd, allowed=allowed, sights=sights or {})),
        allowed=allowed,
        flat=tuple((much, _answer(pair[1], much)) for pair, (_, much) in zip(flatness, level, strict=True)),
        raising=_raising(read, off, moves, allowed, level),
        missing=tuple(grade.name for grade in marks if grade.name not in heights),
        odd="" if fit.odd is None else read[fit.odd].name,
    )


def _answer(size: float, allowed: Allowed) -> Answer:
    if allowed.plus_minus is None:
        return "not judged"
    return "within" if abs(size) <= allowed.plus_minus + _NOISE else "out"


def _mark(grade: Grade, off: float, rest: float, move: float, allowed: Allowed) -> RaiseOrLower:
    return RaiseOrLower(grade.name, grade.what, grade.at, off, rest, move, allowed, _answer(off, allowed))


def _plane(read: Sequence[Grade], off: Sequence[float], fit: Heights) -> tuple[Vector | None, list[float]]:
    """The tilt of the best plane through the differences, and what each is off it [m]; level where they lie on a line.

    The mark that does not belong takes no part: one foot misread would tilt a whole form.
    """
    kept = [index for index in range(len(off)) if index != fit.odd]
    places = [read[index].at for index in kept]
    best = fit_heights(places, [off[index] for index in kept], expected=READ)
    middle, tilt = mean(places), best.tilt or LEVEL_PLANE
    plane = [best.shift + vector(middle, grade.at).dot(tilt) for grade in read]
    return best.tilt, [each - there for each, there in zip(off, plane, strict=True)]


def _worst(read: Sequence[Grade], off: Sequence[float], over: float) -> Pair:
    """The two marks no farther apart than so much [m] that differ most; one mark twice where there are no two."""
    far = _apart(read)
    gaps = np.where(far <= over + _NOISE, np.subtract.outer(np.asarray(off), np.asarray(off)), -1.0)
    high, low = np.unravel_index(int(np.argmax(np.round(gaps, _ALIKE))), gaps.shape)
    return over, float(gaps[high, low]), read[int(high)].name, read[int(low)].name


def _apart(read: Sequence[Grade]) -> NDArray[np.float64]:
    """Level distances between all marks [m]."""
    east, north = (np.array([getattr(grade.at, way) for grade in read]) for way in ("east", "north"))
    far: NDArray[np.float64] = np.hypot(np.subtract.outer(east, east), np.subtract.outer(north, north))
    return far


def _reach(read: Sequence[Grade], level: Sequence[tuple[float, Allowed]]) -> NDArray[np.float64]:
    """What every two marks may differ by [m], so that all who are near are level to one another."""
    far = _apart(read)
    steps = np.full(far.shape, np.inf)
    for over, much in level:
        if much.plus_minus is not None:
            steps = np.where(far <= over + _NOISE, np.minimum(steps, much.plus_minus), steps)
    return within_reach(steps) if len(read) <= MOST else np.full(far.shape, np.inf)


def _moves(
    read: Sequence[Grade], off: Sequence[float], allowed: Allowed, level: Sequence[tuple[float, Allowed]]
) -> tuple[float, ...]:
    """What to raise each mark by [m]; nothing where no figure says what is allowed."""
    if allowed.plus_minus is None:
        return (0.0,) * len(off)
    return fewest_moves(off, allowed.plus_minus, _reach(read, level))


def _raising(
    read: Sequence[Grade],
    off: Sequence[float],
    moves: Sequence[float],
    allowed: Allowed,
    level: Sequence[tuple[float, Allowed]],
) -> Raising:
    singly = sum(move != 0 for move in moves)
    if singly == 0 or allowed.plus_minus is None:
        return Raising()
    whole = -_middle_of_most(off, allowed.plus_minus)
    after = _moves(read, [each + whole for each in off], allowed, level)
    but = tuple((grade.name, whole + move) for grade, move in zip(read, after, strict=True) if move != 0)
    fewer = singly == len(off) and len(but) < singly
    return Raising(singly, whole, but, "whole" if fewer else "singly")


def _middle_of_most(off: Sequence[float], plus_minus: float) -> float:
    """The middle [m] of the largest group of differences that fit between plus and minus of it.

    Raising all by as much the other way leaves the fewest out, each for itself.
    """
    inside = sorted(off)
    groups = ([x for x in inside[i:] if x <= first + 2 * plus_minus + _NOISE] for i, first in enumerate(inside))
    most = max(groups, key=len)
    return (most[0] + most[-1]) / 2
