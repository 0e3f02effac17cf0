"""Sections along the sides of the slab as pictures: ground, top of the concrete and subgrade over one another.

Along the side runs to the right; heights are stretched, as the caption says, and counted from a level line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from staking.drawing.marks import Drawing, LineMark, Mark, PathMark, TextMark
from staking.layout.computed import Layout
from staking.layout.earth import Level, Section
from staking.survey.points import Point
from staking.survey.triangles import Stretch

FILLED = 0.24  # of the length that the heights fill at most where they are stretched; own choice, as are all here
STRETCHES = (1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 40, 50)

_LEVELS = 5  # level lines at most, where the side is not very high
_STATIONS = 5  # places along a side at most for which figures are given, without its ends
_CROWDED = 0.4  # of a step; a station nearer to the end than that is left out
_FIGURES = 7.0  # points of paper
_JOINT = 0.001  # metres; ground that goes on within this has no gap
_TOP_AT, _SUBGRADE_AT, _GROUND_AT = 0.12, 0.3, 0.72  # shares of the line where its word stands
_LONG = 1.0  # metres of concrete that can bear a word


@dataclass(frozen=True, slots=True)
class Station:
    """A place along a side: how far [m] from its first corner, and the heights there [m]; None where not known."""

    along: float
    ground: float | None
    top: float | None
    subgrade: float | None

    @property
    def cut(self) -> float | None:
        """From the ground down to the subgrade [m]; below 0 so much is filled."""
        return None if self.ground is None or self.subgrade is None else self.ground - self.subgrade


def stations_of(layout: Layout, section: Section) -> tuple[Station, ...]:
    """Both ends of a side, and between them places at even figures from its first corner."""
    step = _even(section.length / _STATIONS, float(layout.site.unit.metres))
    count = int((section.length - _CROWDED * step) / step)
    places = [0.0, *(step * number for number in range(1, count + 1)), section.length]
    return tuple(_station(section, at) for at in places)


def _even(least: float, unit: float) -> float:
    """The least of 1, 2, 5, 10, 20 ... and their tenths in a unit [m] that is no less than so much [m]."""
    steps = (unit * n * 10.0**power for power in range(-1, 9) for n in (1, 2, 5))
    return next(each for each in steps if each >= least * (1 - 1e-9))


def _station(section: Section, along: float) -> Station:
    ground = next(
        (_between(it.start, it.end, (it.start_up, it.end_up), along) for it in section.ground if _holds(it, along)),
        None,
    )
    level = next((it for it in section.concrete if _holds(it, along)), None)
    top = None if level is None else _between(level.start, level.end, level.top, along)
    deep = level.subgrade if level else None
    subgrade = _between(level.start, level.end, deep, along) if level and deep else None
    return Station(along, ground, top, subgrade)


def _holds(each: Level | Stretch, along: float) -> bool:
    return each.start - _JOINT <= along <= each.end + _JOINT


def _between(start: float, end: float, ups: tuple[float, float], along: float) -> float:
    share = (min(max(along, start), end) - start) / (end - start) if end > start else 0.0
    return ups[0] + (ups[1] - ups[0]) * share


def stretch_of(section: Section) -> int:
    """How many times heights are stretched, so that they can be told apart."""
    ups = _ups(section)
    tall = max(ups) - min(ups) if ups else 0.0
    wanted = FILLED * section.length / max(tall, 0.05)
    return max((each for each in STRETCHES if each <= wanted), default=1)


def section_drawing(layout: Layout, section: Section) -> Drawing | None:
    """The picture; None where no ground lies under the side."""
    ups = _ups(section)
    if not section.ground:
        return None
    step = _even((max(ups) - min(ups)) / _LEVELS, float(layout.site.unit.metres))
    frame = _Frame(math.floor(min(ups) / step) * step, math.ceil(max(ups) / step) * step, stretch_of(section))
    marks = (
        *_levels(layout, section, frame, step),
        *_uprights(layout, section, frame),
        *_concrete(section, frame),
        *_ground(section, frame),
    )
    return Drawing(marks, f"Section along {section.name}: ground, top and subgrade")


@dataclass(frozen=True, slots=True)
class _Frame:
    """From which height to which [m] the picture reaches, and how many times heights are stretched."""

    low: float
    high: float
    scale: int

    def at(self, along: float, up: float) -> Point:
        """A place of the section in the picture."""
        return Point(along, (up - self.low) * self.scale)


def _ups(section: Section) -> list[float]:
    ground = [up for each in section.ground for up in (each.start_up, each.end_up)]
    return ground + [up for each in section.concrete for up in (*each.top, *(each.subgrade or ()))]


def _levels(layout: Layout, section: Section, frame: _Frame, step: float) -> Iterator[Mark]:
    places = 1 if abs(step / float(layout.site.unit.metres) * 10 % 1) < 1e-6 else 2
    for number in range(round((frame.high - frame.low) / step) + 1):
        up = frame.low + number * step
        yield LineMark("LEVEL", frame.at(0.0, up), frame.at(section.length, up))
        text = layout.notation.decimal(up, places)
        yield TextMark("NOTE", frame.at(0.0, up), text, side=270.0, size=_FIGURES)


def _uprights(layout: Layout, section: Section, frame: _Frame) -> Iterator[Mark]:
    """A thin line at every station, with its distance from the first corner below it."""
    for station in stations_of(layout, section):
        foot = frame.at(station.along, frame.low)
        yield LineMark("LEVEL", foot, frame.at(station.along, frame.high))
        if station.along > 0:
            yield TextMark("NOTE", foot, layout.notation.length(station.along), side=180.0, size=_FIGURES)


def _concrete(section: Section, frame: _Frame) -> Iterator[Mark]:
    """Top and subgrade, each with its word on its longest piece."""
    longest = max((each.end - each.start for each in section.concrete), default=0.0)
    for each in section.concrete:
        lines = [("SLAB", "top", each.top, _TOP_AT)]
        if each.subgrade:
            lines.append(("SUBGRADE", "subgrade", each.subgrade, _SUBGRADE_AT))
        for layer, word, ups, share in lines:
            yield LineMark(layer, frame.at(each.start, ups[0]), frame.at(each.end, ups[1]))
            if each.end - each.start >= max(_LONG, longest - _JOINT):
                along = each.start + (each.end - each.start) * share
                side = 180.0 if layer == "SUBGRADE" and _over(section, along) else 0.0
                place = frame.at(along, _between(each.start, each.end, ups, along))
                yield TextMark(layer, place, word, side=side, size=_FIGURES + 1)


def _ground(section: Section, frame: _Frame) -> Iterator[Mark]:
    """The ground as chains, parted where nothing is known of it."""
    chain: list[Point] = []
    for each, after in pairwise([*section.ground, None]):
        if each is None:
            continue
        start, end = frame.at(each.start, each.start_up), frame.at(each.end, each.end_up)
        chain += [start, end] if not chain else [end]
        if after is None or after.start - each.end >= _JOINT:
            yield PathMark("GROUND", tuple(chain))
            chain = []
    along = section.ground[0].start + _GROUND_AT * (section.ground[-1].end - section.ground[0].start)
    under = next((each for each in section.ground if _holds(each, along)), section.ground[-1])
    up = _between(under.start, under.end, (under.start_up, under.end_up), along)
    side = 0.0 if _over(section, along) else 180.0
    yield TextMark("GROUND", frame.at(min(along, under.end), up), "ground", side=side, size=_FIGURES + 1)


def _over(section: Section, along: float) -> bool:
    """Whether the ground lies over the subgrade there: its word then stands above its line, the other one's below."""
    cut = _station(section, along).cut
    return cut is None or cut >= 0
