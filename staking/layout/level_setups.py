"""Where does the level stand, how high is its line of sight, and how high are the tops of stakes?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from staking.errors import RuleError, suggestion
from staking.layout.computed import NamedPoint, Stake
from staking.layout.design import SetUp
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.sitefile.heights_declared import LevelSetup
from staking.survey.points import Point, distance
from staking.survey.surface import height_of_instrument, height_read


def setups_of(
    site: Site, points: Mapping[str, NamedPoint], stakes: Sequence[Stake], trouble: Trouble
) -> tuple[SetUp, ...]:
    """The set-ups of the level in order; a turning point read in one may begin a later one."""
    known = {name: up for run in site.levelled for name, up in run.found.items()}
    known |= {name: point.at.up for name, point in points.items() if point.at.up is not None}
    places = {name: point.at for name, point in points.items()} | {stake.name: stake.at for stake in stakes}
    found: list[SetUp] = []
    for index, declared in enumerate(site.declared.level_setups):
        with trouble.at("level_setups", index):
            at = points[declared.at].at if declared.at else None
            ground = _Ground(places, at, (site.declared.rod.pegs or 0.0) if at else 0.0)
            found.append(_set_up(declared, known, frozenset(stake.name for stake in stakes), ground))
            known |= _turned(declared, found[-1], ground)
    trouble.stop()
    return tuple(found)


@dataclass(frozen=True)
class _Ground:
    """Where things stand about one set-up, and how much its line of sight rises a metre."""

    places: Mapping[str, Point]
    at: Point | None
    slope: float

    def away(self, name: str, key: str) -> float:
        """How far a point is [m]; 0 where nothing hangs on it. Raises RuleError for one without a place."""
        if self.at is None or self.slope == 0:
            return 0.0
        if name not in self.places:
            words = f'"{name}" has no place, so the length of its sight is not known'
            raise RuleError(words, key=key, remedy="give it north and east under [points], or leave out at")
        return distance(self.at, self.places[name])

    def level(self, reading: float, name: str, key: str) -> float:
        """What a level line of sight would have read on a point [m]."""
        return reading - self.slope * self.away(name, key)


def _turned(declared: LevelSetup, setup: SetUp, ground: _Ground) -> dict[str, float]:
    """The turning points of a set-up with their heights [m]."""
    sight = setup.sight
    if sight is None:
        return {}
    read = declared.turning.items()
    return {name: height_read(sight, ground.level(reading, name, "turning")) for name, reading in read}


def _set_up(declared: LevelSetup, known: Mapping[str, float], stakes: frozenset[str], ground: _Ground) -> SetUp:
    height = known.get(declared.benchmark)
    if height is None:
        words = suggestion(declared.benchmark, known) or "give it an elevation under [points]"
        raise RuleError(f'the benchmark "{declared.benchmark}" has no elevation', key="benchmark", remedy=words)
    wrong = next((name for name in declared.readings if name not in stakes), None)
    if wrong is not None:
        key = "readings_file" if declared.readings_file else "readings"
        raise RuleError(f'there is no stake "{wrong}"', key=key, remedy=suggestion(wrong, stakes))
    away = ground.away(declared.benchmark, "benchmark")
    if declared.backsight is None:
        return SetUp(declared.benchmark, height, None, None, {}, ground.at, ground.slope, away)
    sight = height_of_instrument(height, ground.level(declared.backsight, declared.benchmark, "benchmark"))
    read = declared.readings.items()
    tops = {name: height_read(sight, ground.level(reading, name, "readings")) for name, reading in read}
    return SetUp(declared.benchmark, height, declared.backsight, sight, tops, ground.at, ground.slope, away)


def tops_of(site: Site, stakes: Sequence[Stake], trouble: Trouble) -> Mapping[str, float]:
    """The heights [m] of tops of stakes that were found otherwise than from a set-up, by name."""
    declared, names = site.declared.stake_tops, {stake.name for stake in stakes}
    with trouble.at("stake_tops"):
        wrong = next((name for name in declared.elevations if name not in names), None)
        if wrong is not None:
            key = "path" if declared.path else "elevations"
            raise RuleError(f'there is no stake "{wrong}"', key=key, remedy=suggestion(wrong, names))
    trouble.stop()
    return dict(declared.elevations)
