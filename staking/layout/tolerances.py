"""How far a measured length may be from the computed one before something is to be done about it.

These judge whether a layout is true to the plan. They say nothing about placed concrete, and nothing about a setback,
which has no plus tolerance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

FOOT = 0.3048  # metres; Federal Register 85 FR 62698 (2020)
INCH = FOOT / 12
LEAST = INCH / 8  # as of the shortest side: no tape judges a diagonal finer than that; own choice

SOURCE = (
    "Ballast, Handbook of Construction Tolerances (McGraw-Hill), as quoted in JLC's questions and answers on "
    "foundation and framing tolerances: horizontal building layout 1/8 in under 10 ft, 1/4 in from 10 to 100 ft; "
    "diagonals 3/4 in per 100 ft (taken here as 1/8 in where it would be less). Not read in the handbook itself. Your "
    "contract or authority may ask for less or allow more."
)


_NOISE = 1e-6  # metres; a computed 10 ft is 10 ft whatever its last digits


@dataclass(frozen=True, slots=True)
class Tolerance:
    """plus_minus [m]; None where the source gives no figure for such a length."""

    plus_minus: float | None


def of_length(length: float) -> Tolerance:
    """For a side or a tie of a given length [m]. Source: SOURCE; it ends at 100 ft.

    >>> round(of_length(12.0).plus_minus / INCH, 6)
    0.25
    """
    if length < 10 * FOOT - _NOISE:
        return Tolerance(INCH / 8)
    return Tolerance(INCH / 4 if length <= 100 * FOOT + _NOISE else None)


def of_diagonal(length: float) -> Tolerance:
    """For a diagonal of a given length [m], pro rata, but not below LEAST. Source: SOURCE.

    >>> round(of_diagonal(72.111 * FOOT).plus_minus / INCH, 2)
    0.54
    """
    return Tolerance(max(0.75 * INCH * length / (100 * FOOT), LEAST))


def sideways_by_diagonal(width: float, depth: float, change: float) -> float:
    """How far the far corners of a rectangle slide along the far line when one diagonal changes [m].

    width, depth [m]; change: of the diagonal [m]. From the sides of a parallelogram, d2 = w2 + h2 + 2 w s, so that
    s = change * diagonal / width for a small change.

    >>> round(sideways_by_diagonal(4.0, 3.0, 0.001), 5)
    0.00125
    """
    return change * math.hypot(width, depth) / width
