"""How is a move said: which way and by what turn, no finer than it is known?

A place is known to within STAYS, for a smaller move counts as none. Over a short move that is a wide angle: 18 minutes
over a foot, 10 seconds over 100 feet.
"""

from __future__ import annotations

import math

from staking.layout.changed import STAYS
from staking.notation import Notation
from staking.survey.points import Vector, azimuth_of


def angle_known(reach: float) -> float:
    """How well a direction is known [deg] over so much [m], above 0, between places known to within STAYS."""
    return math.degrees(math.atan2(STAYS, reach))


def toward(notation: Notation, move: Vector) -> str:
    """Which way a move went."""
    return notation.way(azimuth_of(move), angle_known(move.length))


def turned_by(notation: Notation, turn: float, reach: float) -> str:
    """A turn [deg, clockwise], of something that reaches so far [m] from where it turned."""
    return f"{notation.turn(abs(turn), angle_known(reach))} {'clockwise' if turn > 0 else 'to the left'}"
