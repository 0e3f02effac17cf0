"""How points look on paper: six small shapes that are told apart without colour."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from staking.drawing.marks import SymbolShape
from staking.drawing.paper import PaperCircle, PaperLine, PaperPolygon, Shape, Spot, Stroke

_EMPHASIS = 1.3  # how much larger the points are that a drawing is about
_WHITE = "#ffffff"

_RADIUS: Mapping[SymbolShape, float] = MappingProxyType(
    {"stake": 3.4, "given": 3.3, "nail": 2.9, "foot": 1.8, "pin": 2.6, "thing": 3.0}
)


def symbol_radius(shape: SymbolShape, *, emphasis: bool = False) -> float:
    """How far a symbol reaches from its point [points]."""
    return _RADIUS[shape] * (_EMPHASIS if emphasis else 1.0)


def symbol(shape: SymbolShape, at: Spot, colour: str, *, emphasis: bool = False) -> tuple[Shape, ...]:
    """The shapes that show a point at `at`, lowest first."""
    return _SHAPES[shape](at, symbol_radius(shape, emphasis=emphasis), colour)


def _stake(at: Spot, radius: float, colour: str) -> tuple[Shape, ...]:
    # A filled triangle; the white dot in its centre of gravity is the point.
    corners = (
        at.moved(0, radius),
        at.moved(-radius * 0.866, -radius / 2),
        at.moved(radius * 0.866, -radius / 2),
    )
    return PaperPolygon(corners, fill=colour), PaperCircle(at, radius * 0.2, fill=_WHITE)


def _given(at: Spot, radius: float, colour: str) -> tuple[Shape, ...]:
    return (
        PaperCircle(at, radius, Stroke(0.9, colour), _WHITE),
        PaperCircle(at, radius * 0.3, fill=colour),
    )


def _nail(at: Spot, radius: float, colour: str) -> tuple[Shape, ...]:
    arm, stroke = radius * 0.8, Stroke(0.9, colour)
    return (
        PaperLine(at.moved(-arm, -arm), at.moved(arm, arm), stroke),
        PaperLine(at.moved(-arm, arm), at.moved(arm, -arm), stroke),
    )


def _foot(at: Spot, radius: float, colour: str) -> tuple[Shape, ...]:
    return (PaperLine(at.moved(-radius, -radius), at.moved(radius, radius), Stroke(0.9, colour)),)


def _pin(at: Spot, radius: float, colour: str) -> tuple[Shape, ...]:
    half = radius * 0.9
    corners = (
        at.moved(-half, -half),
        at.moved(half, -half),
        at.moved(half, half),
        at.moved(-half, half),
    )
    return (PaperPolygon(corners, stroke=Stroke(0.9, colour), fill=_WHITE),)


def _thing(at: Spot, radius: float, colour: str) -> tuple[Shape, ...]:
    corners = (at.moved(0, radius), at.moved(-radius, 0), at.moved(0, -radius), at.moved(radius, 0))
    return (PaperPolygon(corners, fill=colour),)


_SHAPES: Mapping[SymbolShape, Callable[[Spot, float, str], tuple[Shape, ...]]] = MappingProxyType(
    {"stake": _stake, "given": _given, "nail": _nail, "foot": _foot, "pin": _pin, "thing": _thing}
)
