"""Sections along the sides of the slab as pictures: ground, top of the concrete and subgrade over one another.

Along the side runs to the right; heights are stretched, as the caption says, and counted from a level line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from staking.drawing.marks import Drawing, LineMark, Mark, PathMark, TextMark
from staking.layout.computed import Layout
from staking.layout.earth import Section
from staking.survey.points import Point

FLATTEST = 0.22  # of the length that the heights fill at least; own choice
STRETCHES = (1, 2, 5, 10, 20, 50)


def stretch_of(section: Section) -> int:
    """How many times heights are stretched, so that they can be told apart."""
    ups = _ups(section)
    tall = max(ups) - min(ups) if ups else 0.0
    wanted = FLATTEST * section.length / max(tall, 0.05)
    return max((each for each in STRETCHES if each <= wanted), default=1)


def section_drawing(layout: Layout, section: Section) -> Drawing | None:
    """The picture; None where no ground lies under the side."""
    ups = _ups(section)
    if not section.ground:
        return None
    step = float(layout.site.unit.metres) if layout.site.unit.name != "m" else 0.5
    low = math.floor(min(ups) / step) * step
    scale = stretch_of(section)
    marks = tuple(_marks(layout, section, (low, step, scale)))
    return Drawing(marks, f"Section along {section.name}: ground, top and subgrade")


def _ups(section: Section) -> list[float]:
    ground = [up for each in section.ground for up in (each.start_up, each.end_up)]
    return ground + [up for each in section.concrete for up in (*each.top, *(each.subgrade or ()))]


def _marks(layout: Layout, section: Section, frame: tuple[float, float, int]) -> Iterator[Mark]:
    low, step, scale = frame
    high = max(_ups(section))
    for number in range(math.ceil((high - low) / step) + 1):
        up = number * step * scale
        yield LineMark("NOTE", Point(0.0, up), Point(section.length, up))
        text = layout.notation.decimal(low + number * step, 1)
        yield TextMark("NOTE", Point(0.0, up), text, side=270.0, size=7.0)
    for each in section.concrete:
        yield from _concrete(each.start, each.end, each.top, ("SLAB", low, scale))
        if each.subgrade:
            yield from _concrete(each.start, each.end, each.subgrade, ("BUILDING-LINE", low, scale))
    ground = section.ground
    corners = [Point(each.start, (each.start_up - low) * scale) for each in ground]
    corners.append(Point(ground[-1].end, (ground[-1].end_up - low) * scale))
    for one, other in pairwise(range(len(corners))):
        if other == len(ground) or ground[other].start - ground[one].end < 0.001:
            yield PathMark("REFERENCE", (corners[one], corners[other]))
    middle = ground[len(ground) // 2]
    yield TextMark("REFERENCE", Point(middle.start, (middle.start_up - low) * scale), "ground", side=0.0)


def _concrete(start: float, end: float, ups: tuple[float, float], how: tuple[str, float, int]) -> Iterator[Mark]:
    layer, low, scale = how
    yield LineMark(layer, Point(start, (ups[0] - low) * scale), Point(end, (ups[1] - low) * scale))
    if end - start > 1.0:
        word = "top" if layer == "SLAB" else "subgrade"
        place = Point(start + (end - start) * 0.15, (ups[0] * 0.85 + ups[1] * 0.15 - low) * scale)
        yield TextMark(layer, place, word, side=0.0 if word == "top" else 180.0)
