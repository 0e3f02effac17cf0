"""How much is the whole slab shifted and turned, and what remains as its error of shape?

The corners as designed are laid over those measured by a shift and a turn, never stretched; what is left is shape.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from staking.field.compared import Deviation, Placement
from staking.survey.points import distance, vector
from staking.survey.similarity import Pair
from staking.survey.two_systems import TwoSystems, fit_systems

FEWEST = 2  # corners that tell a turn


def placement_of(
    corners: Sequence[Deviation], *, error: float | None = None, left_out: Collection[str] = ()
) -> Placement | None:
    """The parting by the corners measured; None where fewer than two of them, or two in one place, tell no turn.

    error: standard error of a measured coordinate [m]. left_out: names of corners that do not belong.
    Source: `survey.similarity.best_fit`; the parting is by least squares, so the squares of what the corners moved add
    up from those of placement and of shape (the law of the right-angled triangle, tested).
    """
    kept = [each for each in corners if each.design.name not in left_out]
    if len(kept) < FEWEST:
        return None
    try:
        fit = fit_systems([_pair(each) for each in kept], expected=error or 1.0)
    except ValueError:
        return None
    return _parted(corners, fit, error, tuple(each.design.name for each in corners if each not in kept))


def error_of(corners: Sequence[Deviation], stated: float | None) -> float | None:
    """The standard error of a measured coordinate [m]: as stated, else the root mean square of those of the points."""
    own = [each.measured.error for each in corners if each.measured.error is not None]
    if stated is not None or not own or len(own) < len(corners):
        return stated
    return math.sqrt(math.fsum(each**2 for each in own) / len(own))


def _pair(each: Deviation) -> Pair:
    return each.design.at, each.measured.at


def _parted(corners: Sequence[Deviation], fit: TwoSystems, error: float | None, left_out: tuple[str, ...]) -> Placement:
    move, back = fit.similarity, fit.similarity.inverse()
    shape = tuple(
        (each.design.name, back.turned(vector(move.apply(each.design.at), each.measured.at))) for each in corners
    )
    errors = fit.solution.standard_errors(error) if error else None
    return Placement(
        middle=move.pivot,
        shift=vector(move.pivot, move.image),
        turn=move.turn,
        scale=fit.scale,
        shape=shape,
        redundancy=fit.redundancy,
        largest_placed=max(distance(each.design.at, move.apply(each.design.at)) for each in corners),
        largest_shape=max(rest.length for _, rest in shape),
        shift_error=errors[0] if errors else None,
        turn_error=math.degrees(errors[2]) if errors else None,
        left_out=left_out,
    )
