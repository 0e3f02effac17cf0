"""Which height does not belong with the others, where no other is out the same way?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from statistics import fmean

from staking.survey.points import Point
from staking.survey.two_systems import Heights, fit_heights


def fit_with_odd(places: Sequence[Point], off: Sequence[float], *, expected: float, most: float) -> Heights:
    """The shift of all heights, and the one that does not belong, unless another is out the same way: a form sags so.

    expected [m]: standard error of a height. most [m]: how far a height may be from the mean of those without the odd
    one, to be one of them.
    """
    fit = fit_heights(places, off, expected=expected)
    if fit.odd is None:
        return fit
    rest = [each for index, each in enumerate(off) if index != fit.odd]
    middle = fmean(rest)
    way = math.copysign(1, off[fit.odd] - middle)
    return replace(fit, odd=None) if max(way * (each - middle) for each in rest) > most else fit
