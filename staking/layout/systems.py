"""Where does the site lie in the system in which its points were measured, and what is wrong with the pairs?

Given places are brought to the ground first; measured ones are taken as they are. So without a scale, distances in the
measured system are those on the ground.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from staking.layout.frames import Frame
from staking.sitefile.declared import Site
from staking.sitefile.fit_declared import FitAsked, Pair
from staking.survey.points import Point, Vector, distance, vector
from staking.survey.two_systems import (
    MOST_PAIRS,
    Geometry,
    Heights,
    TwoSystems,
    fit_heights,
    fit_systems,
    geometry,
    interchanged,
    mirror,
    odd_pairs,
    other_foot,
    other_unit,
    ratio_of_distances,
)
from staking.units import UNITS

_SIZES = MappingProxyType(  # units that a list may be in by mistake; the two feet are told otherwise
    {name: float(UNITS[name].metres) for name in ("ft", "m", "in", "cm", "mm", "yd")}
)
_FEET = float(UNITS["ftUS"].metres / UNITS["ft"].metres)  # 1.000002


@dataclass(frozen=True)
class Fitted:
    """What came of a fit. places: of the pairs, as given on the ground and as measured [m], used or not.

    refused: "few", "many", "place", "unit", "swapped", "east", "north", "mirrored" where there is no fit to use; units:
    that a list was read in, and that it is in, where it is "unit". ratio: of distances. hidden: the pairs fit mirrored
    as well. foot: the ratio of the two feet, 1 where all is well. frame: of the site file as given. swapped: two pairs
    of which the names were exchanged. odd: groups of pairs that do not belong. near: of an odd pair, the other point of
    the site at its measured place. scaled: the pairs fit with a scale and not without. corner: of the slab, the
    farthest from the middle of the pairs.
    """

    asked: FitAsked
    pairs: tuple[Pair, ...]
    places: tuple[tuple[Point, Point], ...]
    refused: str = ""
    units: tuple[str, ...] = ()
    ratio: float = 1.0
    systems: TwoSystems | None = None
    hidden: bool = False
    foot: float = 1.0
    swapped: tuple[str, ...] = ()
    odd: tuple[tuple[str, ...], ...] = ()
    near: Mapping[str, str] = field(default_factory=dict)
    scaled: bool = False
    stand: Geometry | None = None
    corner: str = ""
    corner_error: float = 0.0
    heights: Heights | None = None
    high: tuple[str, ...] = ()  # the pairs that heights were fitted to
    frame: Frame | None = None

    @property
    def used(self) -> tuple[str, ...]:
        """Names of the pairs that were fitted."""
        return tuple(pair.point for pair in self.pairs if pair.use)

    def off(self, name: str) -> Vector:
        """How far a pair was measured from its place by the fit of those that belong [m]."""
        odd = {group[0] for group in self.odd} | {name}
        kept = [pl for pair, pl in zip(self.pairs, self.places, strict=True) if pair.use and pair.point not in odd]
        if len(kept) < 2 or self.systems is None:
            raise ValueError("what is left gives no fit")
        fit = fit_systems(kept, scale=self.asked.scale, expected=self.asked.expected)
        given, measured = self.places[[pair.point for pair in self.pairs].index(name)]
        return vector(fit.similarity.apply(given), measured)

    def one_digit(self, name: str, unit: float) -> bool:
        """Whether a pair is off in one coordinate alone, by a digit in one decimal place of the unit [m]."""
        off = self.off(name)
        far, near = sorted((abs(off.east), abs(off.north)), reverse=True)
        noise = 3 * self.asked.expected
        step = 10.0 ** math.floor(math.log10(max(far, 1e-9) / unit + noise / unit))
        return near < noise and abs(far / unit - round(far / unit / step) * step) * unit < noise < far


def fitted_of(site: Site, frame: Frame, corners: Mapping[str, Point]) -> Fitted | None:
    """The fit that a site file declares; None without pairs. corners: of the slab on the ground, by name."""
    if not site.declared.pairs:
        return None
    asked = site.declared.fit or FitAsked()
    pairs = site.declared.pairs
    ground = {name: frame.to_ground(Point(p.east, p.north, p.elevation)) for name, p in site.given.items()}
    places = tuple((ground[pair.point], Point(pair.east, pair.north, pair.elevation)) for pair in pairs)
    fitted = _fitted(Fitted(asked, pairs, places), frame, ground, corners, unit=site.unit.name)
    return replace(fitted, frame=frame)


def _fitted(
    bare: Fitted, frame: Frame, ground: Mapping[str, Point], corners: Mapping[str, Point], *, unit: str
) -> Fitted:
    asked, all_pairs = bare.asked, list(zip(bare.pairs, bare.places, strict=True))
    used = [place for pair, place in all_pairs if pair.use]
    own = [pair.uncertainty or asked.expected for pair in bare.pairs if pair.use]
    refusal = _refusal(used, asked.expected, unit)
    if refusal:
        return Fitted(asked, bare.pairs, bare.places, **refusal)
    names = bare.used
    systems = fit_systems(used, scale=asked.scale, expected=asked.expected, own=own)
    free = fit_systems(used, scale=True, expected=asked.expected, own=own)
    scaled = not asked.scale and systems.chance < 0.01 <= free.chance and free.redundancy > 0
    swapped = interchanged(used, expected=asked.expected) if systems.chance < 0.01 and not scaled else None
    found = () if swapped or scaled else odd_pairs(used, scale=asked.scale, expected=asked.expected, own=own)
    odd = tuple(tuple(names[i] for i in group) for group in found)
    stand = geometry([a for a, _ in used], list(corners.values()))
    far = list(corners)[stand.farthest] if stand.farthest is not None else ""
    heights, high = _heights(bare, asked.expected)
    return Fitted(
        asked,
        bare.pairs,
        bare.places,
        ratio=systems.scale,
        systems=systems,
        hidden=mirror(used, expected=asked.expected) == "hidden",
        foot=_foot(used, frame, asked.expected),
        swapped=tuple(names[i] for i in swapped or ()),
        odd=odd,
        near=_near(used, names, found, ground, asked),
        scaled=scaled,
        stand=stand,
        corner=far,
        corner_error=systems.error_at(corners[far]) if far else 0.0,
        heights=heights,
        high=high,
    )


def _refusal(used: Sequence[tuple[Point, Point]], expected: float, unit: str) -> dict[str, Any]:
    """Why there can be no fit at all; empty where there can."""
    if not 2 <= len(used) <= MOST_PAIRS:
        return {"refused": "few" if len(used) < 2 else "many"}
    ratio = ratio_of_distances(used)
    if not ratio or min(distance(used[0][0], place) for place, _ in used[1:]) == 0:
        return {"refused": "place"}
    own = unit if unit in _SIZES else "ft"
    likely = [(read, true) for read in (own, "ft", "m") for true in other_unit(ratio, dict(_SIZES), read)]
    units = next(iter(likely), ())
    if units or not 0.5 < ratio < 2:
        return {"refused": "unit", "units": units, "ratio": ratio}
    way = mirror(used, expected=expected)
    return {"refused": way} if way not in (None, "hidden") else {}


def _foot(used: Sequence[tuple[Point, Point]], frame: Frame, expected: float) -> float:
    """The ratio of the two feet by which the measured coordinates are those of the file; 1 where they are not."""
    pairs = [(frame.to_file(given), measured) for given, measured in used]
    return next((ratio for ratio in (_FEET, 1 / _FEET) if other_foot(pairs, ratio, expected=expected)), 1.0)


def _near(
    used: Sequence[tuple[Point, Point]],
    names: Sequence[str],
    odd: Sequence[Sequence[int]],
    ground: Mapping[str, Point],
    asked: FitAsked,
) -> dict[str, str]:
    """Other points of the site at which odd pairs were measured, by the fit of those that belong."""
    first = [group[0] for group in odd]
    kept = [place for i, place in enumerate(used) if i not in first]
    if not first or len(kept) < 2:
        return {}
    back = fit_systems(kept, scale=asked.scale, expected=asked.expected).similarity.inverse()
    found: dict[str, str] = {}
    for index in first:
        there = back.apply(used[index][1])
        close = [n for n, p in ground.items() if n != names[index] and distance(p, there) < 5 * asked.expected]
        found |= {names[index]: close[0]} if close else {}
    return found


def _heights(bare: Fitted, expected: float) -> tuple[Heights | None, tuple[str, ...]]:
    known = [
        (pair.point, given, measured.up - given.up)
        for pair, (given, measured) in zip(bare.pairs, bare.places, strict=True)
        if pair.use and given.up is not None and measured.up is not None
    ]
    if not known:
        return None, ()
    names, places, differences = zip(*known, strict=True)
    return fit_heights(places, differences, expected=expected), names
