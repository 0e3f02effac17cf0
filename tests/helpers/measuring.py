"""Measured points for tests: those of a layout as they are, moved, or with something done to one of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from staking import HowMeasured, Layout, MeasuredPoint
from staking.field.compared import Comparison
from staking.field.design_points import design_points
from staking.survey.points import Point
from staking.survey.similarity import Similarity

HOW = HowMeasured("as_set.csv", "")
INCH = 0.0254


def as_designed(layout: Layout, *names: str) -> list[MeasuredPoint]:
    """The corners, or points by their names, measured exactly where they belong."""
    wanted = names or layout.corner_names
    return [MeasuredPoint(each.name, each.at, each.up) for each in design_points(layout) if each.name in wanted]


def carried(points: Sequence[MeasuredPoint], move: Callable[[Point], Point]) -> list[MeasuredPoint]:
    """The same, each where a move puts it."""
    return [replace(each, at=move(each.at)) for each in points]


def turned(about: Point, degrees: float, east: float = 0.0, north: float = 0.0) -> Callable[[Point], Point]:
    """A turn clockwise about a place, then a shift."""
    return Similarity(about, Point(about.east + east, about.north + north), degrees).apply


def off(point: MeasuredPoint, east: float = 0.0, north: float = 0.0, up: float = 0.0) -> MeasuredPoint:
    """A point measured so far off [m]."""
    at = Point(point.at.east + east, point.at.north + north)
    return replace(point, at=at, up=None if point.up is None else point.up + up)


def codes(found: Comparison) -> list[str]:
    """The codes of what was found."""
    return [each.code for each in found.findings]


def message(found: Comparison, code: str) -> str:
    """What a finding says."""
    (each,) = (each for each in found.findings if each.code == code)
    return each.message
