"""How well will the stakes be known with this instrument, and is that enough for the sides and the setbacks?

Total station: what one shot adds (survey.error_budget.shot) and what the station adds to all (set_up or resection).
Rover: fixed part and ppm. Tape: each coordinate as one length from the nearest given point, with the permissible error
of its class, I 0.1 + 0.1 L, II 0.3 + 0.2 L, III 0.6 + 0.4 L millimetres (L in whole metres, rounded up; OIML R 35, from
memory) as a rectangular spread, so divided by the root of 3 (Guide to the expression of uncertainty, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.layout.computed import Layout, Margin, SideLength, Stake
from staking.layout.setups import SetUp, Unsolved, control_of, setup_of, total_station
from staking.layout.tolerances import of_length
from staking.sitefile.instrument_declared import RoverDeclared, TapeDeclared
from staking.survey.error_budget import LINE_95, Covariance, circle_95, round_error, satellite, set_up, shot
from staking.survey.points import Point, distance, vector

_CLASSES: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"I": (0.1e-3, 0.1e-3), "II": (0.3e-3, 0.2e-3), "III": (0.6e-3, 0.4e-3)}
)
SLAB_TOP = 0.75 * 0.0254  # metres: +/- 3/4 in, top of a slab on grade, ACI 117-90 as a criteria document quotes it


@dataclass(frozen=True, slots=True)
class StakeDoubt:
    """The 95 % circle of a stake [m], and what one stake does not share with the others [m2]."""

    stake: Stake
    circle: float
    own: Covariance


@dataclass(frozen=True, slots=True)
class SideDoubt:
    """A side between two stakes: its length is known to so much at 95 % [m]; allowed [m], None without a figure."""

    side: SideLength
    doubt: float
    allowed: float | None


@dataclass(frozen=True, slots=True)
class MarginDoubt:
    """Room to a line, and the 95 % circle of the corner stake that is nearest to where the room is least [m]."""

    margin: Margin
    stake: str
    doubt: float


@dataclass(frozen=True, slots=True)
class Accuracy:
    """What the instrument can do. height [m]: of a rover's height at 95 %; None for others."""

    stakes: tuple[StakeDoubt, ...]
    sides: tuple[SideDoubt, ...]
    margins: tuple[MarginDoubt, ...]
    height: float | None = None

    def circle(self, name: str) -> float | None:
        """The 95 % circle of a stake by its name [m]."""
        return next((each.circle for each in self.stakes if each.stake.name == name), None)


def accuracy_of(layout: Layout) -> Accuracy | None:
    """The error budget; None where there is no instrument, or a total station and no setup to count from."""
    told = layout.site.declared.instrument
    setup = setup_of(layout)
    if told is None or not layout.stakes:
        return None
    if not isinstance(told, (RoverDeclared, TapeDeclared)) and not isinstance(setup, SetUp):
        return None
    doubts = tuple(_doubt(layout, setup, stake) for stake in layout.stakes if _apart(setup, stake))
    return Accuracy(doubts, _sides(layout, doubts), _margins(layout, doubts), _height(layout))


def _apart(setup: SetUp | Unsolved | None, stake: Stake) -> bool:
    return not isinstance(setup, SetUp) or distance(setup.station, stake.at) > 1e-3


def _doubt(layout: Layout, setup: SetUp | Unsolved | None, stake: Stake) -> StakeDoubt:
    told = layout.site.declared.instrument
    control = control_of(layout)
    if isinstance(told, RoverDeclared):
        each = {"fixed": told.distance, "ppm": told.ppm, "base": told.base, "pole": told.pole}
        own = satellite(**each, control=0.0)
        return StakeDoubt(stake, circle_95(own + round_error(control)), own)
    if isinstance(told, TapeDeclared):
        away = min((distance(point.at, stake.at) for point in layout.points.values()), default=0.0)
        own = round_error(math.hypot(tape_sigma(told.grade, away), told.reading))
        return StakeDoubt(stake, circle_95(own + round_error(control)), own)
    if not isinstance(setup, SetUp):
        raise ValueError("a total station without a setup")
    instrument = total_station(layout)
    own = shot(instrument, setup.station, stake.at)
    if setup.resection is not None:
        common = setup.resection.carried(stake.at)
        if setup.resection.orientation is None:
            common = set_up(instrument, setup.station, setup.backsight, stake.at) + common
    else:
        common = set_up(instrument, setup.station, setup.backsight, stake.at, control=control)
    return StakeDoubt(stake, circle_95(own + common), own)


def tape_sigma(grade: str, length: float) -> float:
    """The standard deviation of a length [m] by a tape of class I, II or III. Source: as the module says.

    >>> round(tape_sigma("II", 29.2) * 1000, 3)
    3.637
    """
    fixed, growing = _CLASSES[grade]
    return (fixed + growing * math.ceil(length)) / math.sqrt(3)


def _sides(layout: Layout, doubts: tuple[StakeDoubt, ...]) -> tuple[SideDoubt, ...]:
    """Sides of which both corners are staked. What all stakes share does not change a length."""
    told = layout.site.declared.instrument
    fixed = told.tolerance if told is not None else None
    own = {each.stake.name: each.own for each in doubts}
    corners = dict(zip(layout.corner_names, layout.slab.form.corners, strict=True))
    found = []
    for side in layout.sides:
        if side.start in own and side.end in own and side.chord > 0:
            way = vector(corners[side.start], corners[side.end]).unit()
            doubt = LINE_95 * (own[side.start] + own[side.end]).along(way)
            found.append(SideDoubt(side, doubt, fixed or of_length(side.length).plus_minus))
    return tuple(found)


def _margins(layout: Layout, doubts: tuple[StakeDoubt, ...]) -> tuple[MarginDoubt, ...]:
    corners = [each for each in doubts if each.stake.series == "corners"] or list(doubts)
    nearest = [(margin, _nearest(corners, margin.at)) for margin in layout.margins] if corners else []
    return tuple(MarginDoubt(margin, near.stake.name, near.circle) for margin, near in nearest)


def _nearest(doubts: list[StakeDoubt], place: Point) -> StakeDoubt:
    return min(doubts, key=lambda each: (round(distance(each.stake.at, place), 6), each.stake.name))


def _height(layout: Layout) -> float | None:
    told = layout.site.declared.instrument
    if not isinstance(told, RoverDeclared):
        return None
    return LINE_95 * told.height_factor * math.hypot(told.distance, told.ppm * 1e-6 * told.base)
