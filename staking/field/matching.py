"""Which measured point is which point of the design: by name, else the nearest within a limit, none used twice?

Works on whole columns, so that a hundred thousand points take about as long as asking for their nearest.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

Numbers = npt.NDArray[np.float64]
Whole = npt.NDArray[np.int64]

CLEARLY = 2.0  # times: the next nearest must be so much farther away, or it is not sure which is meant; own choice
_ZEROS = re.compile(r"(?<![0-9])0+(?=[0-9])")
_SIGNS = re.compile(r"[\s_.-]+")


@dataclass(frozen=True)
class Match:
    """measured, design: the partners, by their indices, in the order of the measured points.

    by_name: for each of them, whether the name told. unsure: pairs (measured, design) that would have been nearly as
    near. again: measured points that bear a name once more.
    """

    measured: Whole
    design: Whole
    by_name: npt.NDArray[np.bool_]
    unsure: tuple[tuple[int, int], ...] = ()
    again: tuple[int, ...] = ()


def plain_name(name: str) -> str:
    """A name without what people write differently: case, blanks, dashes, dots and zeros in front.

    >>> plain_name("p-01"), plain_name("P 1"), plain_name("0101")
    ('p1', 'p1', '101')
    """
    return _ZEROS.sub("", _SIGNS.sub("", name.casefold())) or name


def matched(
    names: Sequence[str], places: Numbers, design_names: Sequence[str], design: Numbers, *, limit: float
) -> Match:
    """places, design: a row of east and north a point [m]. limit [m]: how far off a point without a name may be.

    Names tell first, as written, then but for harmless differences. The rest goes to the nearest that is left, the
    smallest distances first, so no two measured points become one point of the design.
    """
    partner, again = _by_name(names, design_names)
    named = partner >= 0
    loose = np.flatnonzero(~named)
    loose = loose[~np.isin(loose, again)]
    free = np.ones(len(design), dtype=bool)
    free[partner[named]] = False
    left = np.flatnonzero(free)
    mine, theirs, unsure = nearest_pairs(places[loose], design[left], limit)
    partner[loose[mine]] = left[theirs]
    found = np.flatnonzero(partner >= 0)
    doubts = tuple((int(loose[i]), int(left[j])) for i, j in unsure)
    return Match(found, partner[found], named[found], doubts, tuple(again))


def _by_name(names: Sequence[str], design_names: Sequence[str]) -> tuple[Whole, list[int]]:
    """For each measured point the index of the design point of its name, -1 for none; and names that come again."""
    exact = {name: index for index, name in enumerate(design_names)}
    partner = np.array([exact.get(name, -1) for name in names], dtype=np.int64)
    taken, again = set[int](), list[int]()
    for index in np.flatnonzero(partner >= 0).tolist():
        if int(partner[index]) in taken:
            again.append(index)
            partner[index] = -1
        taken.add(int(exact[names[index]]))
    if (partner < 0).any():
        _but_for_harmless(names, design_names, partner, taken)
    return partner, again


def _but_for_harmless(names: Sequence[str], design_names: Sequence[str], partner: Whole, taken: set[int]) -> None:
    """The same with names made plain; a plain name that two points have tells nothing."""
    plain: dict[str, list[int]] = {}
    for index, name in enumerate(design_names):
        plain.setdefault(plain_name(name), []).append(index)
    exact = set(design_names)
    for index in np.flatnonzero(partner < 0).tolist():
        found = plain.get(plain_name(names[index]), [])
        if len(found) == 1 and found[0] not in taken and names[index] not in exact:
            partner[index] = found[0]
            taken.add(found[0])


def nearest_pairs(places: Numbers, design: Numbers, limit: float) -> tuple[Whole, Whole, list[tuple[int, int]]]:
    """Partners within a limit, the smallest distances first, each point once; and the next ones nearly as near."""
    empty = np.empty(0, dtype=np.int64)
    if not len(places) or not len(design):
        return empty, empty, []
    tree = shapely.STRtree(np.asarray(shapely.points(design)))
    mine, theirs = tree.query(shapely.points(places), predicate="dwithin", distance=limit)
    apart = np.hypot(*(places[mine] - design[theirs]).T)
    order = np.lexsort((theirs, mine, apart))
    mine, theirs, apart = mine[order], theirs[order], apart[order]
    first = _smallest_first(mine, theirs, len(places), len(design))
    return mine[first], theirs[first], _unsure(mine, theirs, apart, first)


def _smallest_first(mine: Whole, theirs: Whole, count: int, others: int) -> Whole:
    """Of pairs from the nearest on, those that come first for both their points, again and again until none is left."""
    left = np.arange(len(mine))
    kept = []
    free_mine, free_theirs = np.ones(count, dtype=bool), np.ones(others, dtype=bool)
    while len(left):
        firsts = np.full(count, len(mine)), np.full(others, len(mine))
        np.minimum.at(firsts[0], mine[left], left)
        np.minimum.at(firsts[1], theirs[left], left)
        both = left[(firsts[0][mine[left]] == left) & (firsts[1][theirs[left]] == left)]
        kept.append(both)
        free_mine[mine[both]] = free_theirs[theirs[both]] = False
        left = left[free_mine[mine[left]] & free_theirs[theirs[left]]]
    return np.sort(np.concatenate(kept)) if kept else np.empty(0, dtype=np.int64)


def _unsure(mine: Whole, theirs: Whole, apart: Numbers, chosen: Whole) -> list[tuple[int, int]]:
    """For each measured point that has a second one nearly as near as its own: that second one."""
    own = np.full(mine.max(initial=-1) + 1, -1.0)
    own[mine[chosen]] = apart[chosen]
    other = np.ones(len(mine), dtype=bool)
    other[chosen] = False
    near = np.flatnonzero(other & (apart < CLEARLY * own[mine]))
    points, first = np.unique(mine[near], return_index=True)
    return list(zip(points.tolist(), theirs[near[first]].tolist(), strict=True))
