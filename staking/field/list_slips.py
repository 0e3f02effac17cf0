"""Is a whole measured list in another unit, foot, order of columns or system than the layout?

Such a list is not compared: every figure would be garbage. Each slip says what would bring the list to the layout; the
first that does so is named. Nothing is corrected.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from staking.field.compared import DesignPoint, MeasuredPoint
from staking.field.matching import plain_name
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.survey.points import Point, distance
from staking.survey.similarity import Pair
from staking.survey.two_systems import MOST_PAIRS, mirror, other_foot, other_unit, ratio_of_distances
from staking.units import SITE_UNITS, UNITS

SHARE = 0.6  # of the points that must come to lie on the layout; own choice
FEW = 0.3  # of the points: where more of them lie on the layout as they are, the list is not slipped; own choice
FAR = 2000.0  # metres; a list of which every point is farther away was not measured on this site; own choice
_FEET = float(UNITS["ftUS"].metres / UNITS["ft"].metres)  # 1.000002
_FOOT = float(UNITS["ft"].metres)
_SIZES = {name: float(UNITS[name].metres) for name in ("ft", "m", "in", "cm", "mm", "yd")}
_NO_FIGURES = "nothing is compared before that"


@dataclass(frozen=True, slots=True)
class _Slip:
    """code, what: is said of the list. remedy. right: where a point lies, from where the list has it, in the file."""

    code: str
    what: str
    remedy: str
    right: Callable[[Point], Point]


def list_slip(
    layout: Layout, points: Sequence[MeasuredPoint], design: Sequence[DesignPoint], *, limit: float, noise: float
) -> Finding | None:
    """What is wrong with the list as a whole; None where it lies on the layout, or nothing explains where it lies.

    limit [m]: how far off a point may be. noise [m]: how well points are set and measured.
    """
    tried = points[:MOST_PAIRS]
    by_name = {plain_name(point.name): point.at for point in design}
    score = _Score(layout, tried, by_name, [point.at for point in design], limit)
    pairs = [(by_name[plain_name(p.name)], p.at) for p in tried if plain_name(p.name) in by_name]
    sure = _one_place(layout, tried) or _wrong_foot(layout, pairs, noise)
    if sure is not None:
        return sure
    if not tried or score.of(lambda place: place) > FEW:
        return None
    for slip in _slips(layout):
        if score.of(slip.right) >= SHARE:
            return Finding(slip.code, Severity.STOP, f"{slip.what}; {_NO_FIGURES}", None, slip.remedy)
    return _by_shape(layout, pairs, noise) or _far_away(layout, score)


class _Score:
    """How much of a list lies on the layout when something is done to it."""

    def __init__(
        self,
        layout: Layout,
        points: Sequence[MeasuredPoint],
        by_name: dict[str, Point],
        places: Sequence[Point],
        limit: float,
    ) -> None:
        self._layout, self._points, self._by_name, self._limit = layout, points, by_name, limit
        self._places = np.array([(place.east, place.north) for place in places])

    def of(self, right: Callable[[Point], Point]) -> float:
        """The share of the points that lie on the point of their name, or where the name is unknown on any."""
        return sum(self._lies(point, right) for point in self._points) / len(self._points)

    def nearest(self) -> float:
        """How far [m] the nearest point of the list is from the point of its name, or from any if it is unknown."""
        return min(map(self._away, self._points))

    def _away(self, point: MeasuredPoint) -> float:
        own = self._by_name.get(plain_name(point.name))
        off = self._places - (point.at.east, point.at.north)
        return distance(own, point.at) if own is not None else float(np.hypot(off[:, 0], off[:, 1]).min())

    def _lies(self, point: MeasuredPoint, right: Callable[[Point], Point]) -> bool:
        frame = self._layout.frame
        there = frame.to_ground(right(frame.to_file(point.at)))
        own = self._by_name.get(plain_name(point.name))
        if own is not None:
            return distance(own, there) <= self._limit
        off = self._places - (there.east, there.north)
        return bool((np.hypot(off[:, 0], off[:, 1]) <= self._limit).any())


def _slips(layout: Layout) -> Iterator[_Slip]:
    """The slips of a list, the likeliest first."""
    yield _Slip(
        code="measured-swapped",
        what="north and east of the measured list are exchanged",
        remedy="exchange the two in its header, or say the order with --columns",
        right=lambda at: Point(at.north, at.east),
    )
    metric, feet = layout.site.unit.name == "m", "ft" if layout.site.unit.name == "m" else layout.site.unit.name
    as_metres = _Slip(
        code="measured-unit",
        what="the measured list is in feet, and was read as metres",
        remedy=f"say --unit {feet}",
        right=_times(_FOOT),
    )
    as_feet = _Slip(
        code="measured-unit",
        what="the measured list is in metres, and was read as feet",
        remedy="say --unit m",
        right=_times(1 / _FOOT),
    )
    yield from (as_metres, as_feet) if metric else (as_feet, as_metres)  # the likelier first: read in the site's unit
    for ratio in (_FEET, 1 / _FEET):
        what = "the measured list is in the other foot"
        remedy = _foot(layout, "ftUS" if ratio > 1 else "ft")
        yield _Slip(code="measured-foot", what=what, remedy=remedy, right=_times(ratio))
    yield from _systems(layout)


def _foot(layout: Layout, told: str) -> str:
    """What to say of the foot. told: the one the list is in, by the way it is off."""
    return "say --unit ft or --unit ftUS, whichever it is" if told == layout.site.unit.name else f"say --unit {told}"


def _times(ratio: float) -> Callable[[Point], Point]:
    return lambda at: Point(at.east * ratio, at.north * ratio)


def _systems(layout: Layout) -> Iterator[_Slip]:
    """The two directions between the given system and the measured one of a fit."""
    fitted, frame = layout.fitted, layout.frame
    if fitted is None or fitted.systems is None or fitted.frame is None:
        return
    given, there = fitted.frame, fitted.systems.similarity
    if layout.site.system == "measured":
        yield _Slip(
            code="measured-system",
            what="the list is in the system of the site file, and not in the measured one of the fit",
            remedy="leave --in measured out, or say --in given",
            right=lambda at: there.apply(given.to_ground(at)),
        )
        return
    back = there.inverse()
    yield _Slip(
        code="measured-system",
        what="the list is in the measured system of the fit, and the site file in the given one",
        remedy="say --in measured",
        right=lambda at: frame.to_file(back.apply(at)),
    )


def _one_place(layout: Layout, points: Sequence[MeasuredPoint]) -> Finding | None:
    """Most of a list in one place to a hair, as where one row was copied down."""
    counts = Counter((round(point.at.east, 4), round(point.at.north, 4)) for point in points)
    (east, north), count = counts.most_common(1)[0] if counts else ((0.0, 0.0), 0)
    if count < 3 or count < SHARE * len(points):
        return None
    write, at = layout.notation, layout.frame.to_file(Point(east, north))
    message = (
        f"{count} of {len(points)} points of the measured list are written in one place, "
        f"north {write.coordinate(at.north)}, east {write.coordinate(at.east)}; {_NO_FIGURES}"
    )
    return Finding("measured-one-place", Severity.STOP, message, None, "write where each of them was measured")


def _wrong_foot(layout: Layout, pairs: Sequence[Pair], noise: float) -> Finding | None:
    """The other foot shows as a shift that is the size of the coordinates times 2 parts in a million."""
    frame = layout.frame
    there = [(frame.to_file(design), frame.to_file(measured)) for design, measured in pairs]
    for ratio in (_FEET, 1 / _FEET) if len(there) > 1 and layout.site.unit.name != "m" else ():
        try:
            wrong = other_foot(there, ratio, expected=noise)
        except ValueError:
            return None
        if wrong:
            shift = abs(ratio - 1) * math.hypot(there[0][0].east, there[0][0].north)
            message = (
                f"every point is off by {layout.notation.length(shift)}, which is what the other foot makes of such "
                f"coordinates; {_NO_FIGURES}"
            )
            # too large figures count a foot that is too short
            return Finding("measured-foot", Severity.STOP, message, None, _foot(layout, "ft" if ratio > 1 else "ftUS"))
    return None


def _by_shape(layout: Layout, pairs: Sequence[Pair], noise: float) -> Finding | None:
    """What distances alone tell, wherever the list begins to count."""
    ratio = ratio_of_distances(pairs) if len(pairs) > 1 else None
    if ratio is None:
        return None
    own = layout.site.unit.name if layout.site.unit.name in _SIZES else "ft"
    true = other_unit(ratio, _SIZES, own)
    if true:
        message = (
            f"distances of the measured list are {ratio:.4g} times those of the layout: it is in {true[0]}, not {own}"
        )
        said = f"say --unit {true[0]}" if true[0] in SITE_UNITS else "write its coordinates in m, ft or ftUS"
        return Finding("measured-unit", Severity.STOP, f"{message}; {_NO_FIGURES}", None, said)
    way = _mirrored(pairs, noise)
    if way is None:
        return None
    message = f"the measured list is the layout seen in a mirror: {_MIRRORED[way]}; {_NO_FIGURES}"
    return Finding("measured-swapped", Severity.STOP, message, None, "say the order of its columns with --columns")


def _far_away(layout: Layout, score: _Score) -> Finding | None:
    """A list of which no point is within reach of an instrument that sees the site."""
    away = score.nearest()
    if away <= FAR:
        return None
    far = f"{layout.notation.decimal(away, 0)} {layout.site.unit.name}"
    message = (
        f"the list lies so far from the site, {far} at its nearest point, that it is in another system; {_NO_FIGURES}"
    )
    remedy = (
        "look first for figures cut off at the front, or an option as --unit or --in; "
        "else write the list in the system of the site file, or fit the two with `staking fit SITE LIST --write NEW`"
    )
    return Finding("measured-system", Severity.STOP, message, None, remedy)


def _mirrored(pairs: Sequence[Pair], noise: float) -> str | None:
    try:
        way = mirror(pairs, expected=noise)
    except ValueError:
        return None
    return way if way in _MIRRORED else None


_MIRRORED = {
    "swapped": "north and east are exchanged",
    "east": "its east is counted to the west",
    "north": "its north is counted to the south",
    "mirrored": "the points were named the other way round, or an axis is counted backwards",
}
