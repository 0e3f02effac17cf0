"""Where does the instrument stand, and what does it read toward backsight, check point and every stake?"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from staking.layout.computed import Layout
from staking.sitefile.instrument_declared import SetupDeclared, TotalStationDeclared
from staking.survey.error_budget import SECOND, TotalStation
from staking.survey.lines import Line
from staking.survey.points import Point, azimuth, distance
from staking.survey.polar import Rise, angle_right, rise, walk
from staking.survey.resection import Resection, Sight, adjusted, stations

# what shots are weighed by where the file names no total station; own choice, said on the sheet
USUAL = TotalStation(direction=5.0, fixed=0.003, ppm=2.0, centring=0.0015, pole=0.003)
_UNKNOWN = 30.0  # metres: how far a mark is taken to be before the station is known
FREE = "free station"


@dataclass(frozen=True, slots=True)
class Unsolved:
    """Why there is no station, and what to do."""

    reason: str
    remedy: str


@dataclass(frozen=True)
class SetUp:
    """The station and what it is turned from. heights [m] may not be known. resection: of a free station."""

    station_name: str
    station: Point
    backsight_name: str
    backsight: Point
    check_name: str
    check: Point | None
    instrument_height: float | None
    prism_height: float | None
    resection: Resection | None = None
    sights: tuple[Sight, ...] = ()


@dataclass(frozen=True, slots=True)
class Target:
    """What is read toward a place: azimuth and angle right [deg], level distance [m], heights where they are known."""

    name: str
    at: Point
    note: str
    azimuth: float
    right: float
    level: float
    rise: Rise | None


def total_station(layout: Layout) -> TotalStation:
    """The instrument of the site file, or the usual one."""
    told = layout.site.declared.instrument
    if not isinstance(told, TotalStationDeclared):
        return USUAL
    return TotalStation(told.seconds, told.distance, told.ppm, told.centring, told.pole)


def control_of(layout: Layout) -> float:
    """The standard deviation of given points [m]; 0 where the file says nothing."""
    told = layout.site.declared.instrument
    return (told.control if told is not None else None) or 0.0


def setup_of(layout: Layout) -> SetUp | Unsolved | None:
    """The setup that the site file declares; None where it declares none."""
    told = layout.site.declared.setup
    if told is None:
        return None
    made = _free(layout, told) if told.shots else _over(layout, told)
    if isinstance(made, Unsolved):
        return made
    for name, place in ((made.backsight_name, made.backsight), (made.check_name, made.check)):
        if place is not None and distance(made.station, place) < 1e-3:
            return Unsolved(
                f"{made.station_name} and {name} stand in one place, so there is nothing to aim at",
                "name another point, or check the coordinates of the two",
            )
    return made


def _over(layout: Layout, told: SetupDeclared) -> SetUp:
    return _made(layout, told, told.station, layout.points[told.station].at)


def _made(layout: Layout, told: SetupDeclared, name: str, station: Point) -> SetUp:
    backsight = told.backsight or told.shots[0].to
    return SetUp(
        name,
        station,
        backsight,
        layout.points[backsight].at,
        told.check,
        layout.points[told.check].at if told.check else None,
        told.instrument_height,
        told.prism_height,
    )


def _free(layout: Layout, told: SetupDeclared) -> SetUp | Unsolved:
    sights = tuple(Sight(layout.points[shot.to].at, shot.angle, shot.distance) for shot in told.shots)
    rough = tuple(_weighed(layout, sight, sight.length or _UNKNOWN) for sight in sights)
    found = [fixed for fixed in stations(rough) if _on_hand(told, rough, fixed.place)]
    if not found:
        side = f" on the {told.hand} of the line from {told.shots[0].to} to {told.shots[1].to}" if told.hand else ""
        return Unsolved(
            f"the shots meet in no place{side}",
            "check the names, readings and distances of the shots, or read one point more",
        )
    if len(found) > 1:
        return Unsolved(
            f"the shots fit {len(found)} places, "
            f"{layout.notation.both(distance(found[0].place, found[1].place))} apart",
            'read one point more, or write hand = "left" or "right": on which side of the line from '
            f"{told.shots[0].to} to {told.shots[1].to} the instrument stands",
        )
    fine = tuple(_weighed(layout, sight, distance(found[0].place, sight.to)) for sight in sights)
    fixed = adjusted(fine, found[0].place)
    place = replace(fixed.place, up=told.station_elevation)
    return replace(_made(layout, told, FREE, place), resection=fixed, sights=fine)


def _on_hand(told: SetupDeclared, sights: tuple[Sight, ...], place: Point) -> bool:
    if told.hand is None:
        return True
    left = Line(sights[0].to, sights[1].to).offset(place) > 0
    return left == (told.hand == "left")


def _weighed(layout: Layout, sight: Sight, away: float) -> Sight:
    """The shot with its standard deviations: pointing, prism over the mark, and the mark itself."""
    instrument = total_station(layout)
    mark = math.hypot(instrument.pole, control_of(layout))
    pointing = math.hypot(instrument.direction * SECOND, mark / away)
    return replace(
        sight,
        reading_sigma=math.degrees(pointing),
        length_sigma=math.hypot(instrument.length(away), mark),
    )


def target(setup: SetUp, name: str, at: Point, note: str = "") -> Target:
    """What is read toward one place."""
    heights = (setup.instrument_height, setup.prism_height)
    seen = None
    if heights[0] is not None and heights[1] is not None:
        seen = rise(setup.station, at, instrument=heights[0], prism=heights[1])
    return Target(
        name,
        at,
        note,
        azimuth(setup.station, at),
        angle_right(setup.station, setup.backsight, at),
        distance(setup.station, at),
        seen,
    )


def targets(layout: Layout, setup: SetUp) -> tuple[Target, ...]:
    """Every stake but those under the instrument, in the order of a short walk.

    A stake without an elevation of its own is taken at the floor elevation of the plan, where that is given.
    """
    floor = layout.site.declared.plan.floor_elevation
    staked = [stake for stake in layout.stakes if distance(setup.station, stake.at) > 1e-3]
    order = walk(setup.station, [stake.at for stake in staked])
    return tuple(
        target(setup, stake.name, stake.at if stake.at.up is not None else replace(stake.at, up=floor), stake.note)
        for stake in (staked[index] for index in order)
    )
