"""What a record says of a circular curve: its elements from any two of them, whether they agree, and which way it lies.

With x half the central angle and R the radius: arc 2Rx, chord 2R sin x, tangent R tan x, external R (1/cos x - 1),
middle ordinate R (1 - cos x). Source: the elements of a simple circular curve, from memory; the published cases of
tests/published/curves.toml give the same. Lengths in metres, angles in degrees, azimuths clockwise from north.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from operator import attrgetter
from types import MappingProxyType

from staking.survey.angles import difference, direction, fold
from staking.survey.paths import Arc
from staking.survey.points import Point, moved

STATION = 30.48  # metres: a full station of 100 ft, over which the degree of curve is counted

_EXACT = 1e-9  # of the radius, or degrees: what is left of arithmetic when nothing was rounded in print
_LOWEST = 1e-7  # radians: flatter than this, arc and chord cannot tell a curve from a line
_TOUCHING = 1e-13  # share of an element: two roots so near to each other are one

# name: its ratio to the radius for half the central angle [rad], and back
_RATIOS: Mapping[str, tuple[Callable[[float], float], Callable[[float], float]]] = MappingProxyType(
    {
        "arc": (lambda x: 2 * x, lambda ratio: ratio / 2),
        "tangent": (math.tan, math.atan),
        "middle_ordinate": (lambda x: 2 * math.sin(x / 2) ** 2, lambda ratio: 2 * math.asin(math.sqrt(ratio / 2))),
        "external": (lambda x: 1 / math.cos(x) - 1, lambda ratio: math.acos(1 / (1 + ratio))),
        "chord": (lambda x: 2 * math.sin(x), lambda ratio: math.asin(ratio / 2)),
    }
)
_MEETING = ("tangent", "external")  # they need tangents that meet: below 180 degrees
ELEMENTS = ("radius", "central_angle", *_RATIOS)


@dataclass(frozen=True)
class Printed:
    """A number of the record and half of its last printed digit, both in metres or both in degrees."""

    value: float
    half: float = 0.0


@dataclass(frozen=True)
class Curve:
    """A circular curve; lengths [m], central_angle [deg]. At 180 degrees and beyond no tangents meet: None."""

    radius: float
    central_angle: float
    arc: float
    chord: float
    middle_ordinate: float
    tangent: float | None
    external: float | None


@dataclass(frozen=True)
class CurveGiven:
    """What the record says of a curve. chord_azimuth: along travel; start_radial: from its beginning to its centre.

    more_than_half: whether it runs round more than half of its circle; None where the record does not say.
    """

    left: bool
    radius: Printed | None = None
    central_angle: Printed | None = None
    arc: Printed | None = None
    chord: Printed | None = None
    tangent: Printed | None = None
    external: Printed | None = None
    middle_ordinate: Printed | None = None
    chord_azimuth: Printed | None = None
    start_radial: Printed | None = None
    more_than_half: bool | None = None


@dataclass(frozen=True)
class Contradiction:
    """An element of the record that the others deny; computed is None where they leave no such thing."""

    element: str
    given: float
    computed: float | None
    tolerance: float


@dataclass(frozen=True)
class Tangency:
    """How far a curve is turned clockwise from a course it joins [deg], and how much of that is rounding in print."""

    off: float
    tolerance: float

    @property
    def tangent(self) -> bool:
        """Whether the record lets the curve be tangent there."""
        return abs(self.off) <= self.tolerance


class TwoCurvesError(ValueError):
    """Two curves fit what is given, and nothing says whether it is more than half a circle."""

    def __init__(self, smaller: Curve, larger: Curve) -> None:
        self.curves = (smaller, larger)
        super().__init__(
            f"two curves fit: one of {smaller.central_angle:.4f} degrees and {smaller.arc:.4f} m along the arc, the "
            f"other of {larger.central_angle:.4f} degrees and {larger.arc:.4f} m"
        )


def radius_of_degree(degree: Printed, *, by_chord: bool, station: float = STATION) -> Printed:
    """The radius of a curve given by its degree: the central angle of one station [m] of arc, or of chord.

    Raises ValueError unless the degree is above 0 and below 180.
    Source: arc and chord definition of the degree of curve, from memory: R = 5729.578 ft / D, R = 50 ft / sin(D/2).
    """
    if not 0 < degree.value < 180:
        raise ValueError(f"no curve has the degree {degree.value}")
    half = math.radians(degree.value) / 2
    radius = station / 2 / (math.sin(half) if by_chord else half)
    return Printed(radius, radius * degree.half / degree.value)


def solved(given: CurveGiven) -> Curve:
    """The curve of the first sufficient pair: the radius with angle, arc, tangent, middle ordinate, external or chord;
    the angle with one of these; two of these.

    Raises TwoCurvesError where two curves fit, and ValueError for too little, or for what cannot be.
    """
    return _from_pair(_basis(given), given.more_than_half)


def contradictions(given: CurveGiven, before: Printed | None = None) -> tuple[Contradiction, ...]:
    """Every redundant element of the record that does not agree with the pair the curve is computed from.

    before: azimuth of the course before, where the record calls the curve tangent to it. Raises what `solved` raises.
    Rule: an element may differ by half of its own last printed digit and by as much as the computed one moves when
    every number it was computed from moves by half of its last printed digit, the moves added up. For directions a
    length rounded by h so gives an angle of h / radius: 0.005 ft on a radius of 15 ft are 69 seconds.
    """
    return (*_of_elements(given), *_of_directions(given, before))


def _of_elements(given: CurveGiven) -> Iterator[Contradiction]:
    basis, curve = _basis(given), solved(given)
    for name in ELEMENTS:
        said: Printed | None = getattr(given, name)
        if said is None or name in basis:
            continue
        computed: float | None = getattr(curve, name)
        tolerance = said.half + _spread(given, attrgetter(name)) + _EXACT * curve.radius
        if computed is None or abs(computed - said.value) > tolerance:
            yield Contradiction(name, said.value, computed, tolerance)
    more = curve.central_angle > 180
    if given.more_than_half not in (None, more) and abs(curve.central_angle - 180) > _spread(given, _angle_of) + _EXACT:
        yield Contradiction("more_than_half", float(not more), float(more), 0.0)


def _of_directions(given: CurveGiven, before: Printed | None) -> Iterator[Contradiction]:
    starts = list(_starts(given, before))
    for name, said, start in starts[1:]:
        first = starts[0][2]
        off, tolerance = difference(start.value, first.value), first.half + start.half + _EXACT
        if abs(off) > tolerance:
            yield Contradiction(name, said.value, fold(said.value + off), tolerance)


def start_azimuth(given: CurveGiven, before: Printed | None = None) -> Printed:
    """Which way the curve leaves its beginning [deg]: by its chord, else by its radial, else as the course before.

    Raises ValueError where none of the three is given.
    """
    for _, _, azimuth in _starts(given, before):
        return azimuth
    raise ValueError("nothing says which way the curve starts")


def _starts(given: CurveGiven, before: Printed | None) -> Iterator[tuple[str, Printed, Printed]]:
    """What says which way the curve starts, as printed, and the direction that follows from it."""
    side = 1.0 if given.left else -1.0
    if (chord := given.chord_azimuth) is not None:
        half_angle, spread = solved(given).central_angle / 2, _spread(given, _angle_of) / 2
        yield "chord_azimuth", chord, Printed(fold(chord.value + side * half_angle), chord.half + spread)
    if (radial := given.start_radial) is not None:
        yield "start_radial", radial, Printed(fold(radial.value + side * 90.0), radial.half)
    if before is not None:
        yield "tangent", before, before


def end_azimuth(given: CurveGiven, before: Printed | None = None) -> Printed:
    """Which way the curve arrives at its end [deg]; from its chord where that is given. Raises as `start_azimuth`."""
    start, angle = start_azimuth(given, before), solved(given).central_angle
    turn = -angle if given.left else angle
    # by the chord the angle is half behind and half ahead, so its error is no larger at the end than at the start
    spread = 0.0 if given.chord_azimuth is not None else _spread(given, _angle_of)
    return Printed(fold(start.value + turn), start.half + spread)


def tangency(course: Printed, curve: Printed) -> Tangency:
    """How well a curve that leaves or arrives at one azimuth carries on a course, or a curve, of another."""
    return Tangency(difference(course.value, curve.value), course.half + curve.half + _EXACT)


def placed(start: Point, curve: Curve, azimuth: float, *, left: bool) -> Arc:
    """The curve on the ground: from start, leaving at an azimuth [deg], turning left or right."""
    side = -1.0 if left else 1.0
    centre = moved(start, direction(azimuth + side * 90.0), curve.radius)
    end = moved(start, direction(azimuth + side * curve.central_angle / 2), curve.chord)
    return Arc(start, end, centre, left)


def _basis(given: CurveGiven) -> Mapping[str, Printed]:
    """The two elements the curve is computed from."""
    said = {name: value for name in ELEMENTS if (value := getattr(given, name)) is not None}
    if len(said) < 2:
        raise ValueError(f"a curve needs two elements, and {len(said)} is given")
    for name, value in said.items():
        if not (value.value > 0 and math.isfinite(value.value)):
            raise ValueError(f"the {name.replace('_', ' ')} of a curve is above 0, not {value.value}")
    return dict(list(said.items())[:2])


def _spread(given: CurveGiven, pick: Callable[[Curve], float | None]) -> float:
    """How far an element of the curve moves while its basis moves by half of the last printed digits."""
    basis = _basis(given)
    here = pick(solved(given))
    if here is None:
        return 0.0
    return math.fsum(
        max((abs(moved - here) for moved in _moved(given, basis, name, pick)), default=0.0) for name in basis
    )


def _moved(
    given: CurveGiven, basis: Mapping[str, Printed], name: str, pick: Callable[[Curve], float | None]
) -> Iterator[float]:
    for sign in (1, -1):
        shifted = {**basis, name: replace(basis[name], value=basis[name].value + sign * basis[name].half)}
        try:
            found = pick(_from_pair(shifted, given.more_than_half))
        except ValueError:
            continue  # beyond what a curve can be: the other sign tells
        if found is not None:
            yield found


def _angle_of(curve: Curve) -> float:
    return curve.central_angle


def _from_pair(basis: Mapping[str, Printed], more: bool | None) -> Curve:
    (first, a), (second, b) = basis.items()
    if first == "radius":
        slack = (b.half + 2 * a.half) / a.value
        return _chosen([_curve(a.value, x) for x in _inverse(second, b.value, a.value, slack)], more)
    if first == "central_angle":
        return _curve(b.value / _ratio(second, math.radians(a.value) / 2), math.radians(a.value) / 2)
    halves = _roots(first, second, a.value / b.value)
    return _chosen([_curve(a.value / _ratio(first, x), x) for x in halves], more)


def _curve(radius: float, half_angle: float) -> Curve:
    sizes = {name: radius * ratio(half_angle) for name, (ratio, _) in _RATIOS.items()}
    meet = half_angle < math.pi / 2
    return Curve(
        radius=radius,
        central_angle=math.degrees(2 * half_angle),
        arc=sizes["arc"],
        chord=sizes["chord"],
        middle_ordinate=sizes["middle_ordinate"],
        tangent=sizes["tangent"] if meet else None,
        external=sizes["external"] if meet else None,
    )


def _inverse(name: str, value: float, radius: float, slack: float) -> tuple[float, ...]:
    """Half the central angle [rad] for an element and the radius; two of them for a chord.

    slack: by so much, as a share of the radius, a chord may be longer than the diameter for rounding in print.
    """
    if name == "central_angle":
        return (_within(math.radians(value) / 2),)
    ratio = value / radius
    if name == "chord" and 2 < ratio <= 2 + slack:
        return (math.pi / 2,)
    if ratio > {"chord": 2.0, "middle_ordinate": 2.0}.get(name, math.inf):
        raise ValueError(f"a circle of radius {radius:.4f} m has no {name.replace('_', ' ')} of {value:.4f} m")
    half_angle = _within(_RATIOS[name][1](ratio))
    return (half_angle, math.pi - half_angle) if name == "chord" and ratio < 2 else (half_angle,)


def _ratio(name: str, half_angle: float) -> float:
    """An element as a share of the radius."""
    if _within(half_angle) >= math.pi / 2 and name in _MEETING:
        raise ValueError(f"a curve of {math.degrees(2 * half_angle):.4f} degrees has no {name}")
    return _RATIOS[name][0](half_angle)


def _within(half_angle: float) -> float:
    if not 0 < half_angle < math.pi:
        raise ValueError(f"a curve turns by more than 0 and less than 360 degrees, not by {2 * half_angle:.6f} radians")
    return half_angle


def _roots(first: str, second: str, wanted: float) -> list[float]:
    """Half central angles [rad] at which two elements stand in a wanted ratio; up to two."""
    top = math.pi / 2 if {first, second} & set(_MEETING) else math.pi

    def gap(x: float) -> float:
        return _RATIOS[first][0](x) - wanted * _RATIOS[second][0](x)

    steps = [_LOWEST, *(top * i / 256 for i in range(1, 256)), top - _LOWEST]
    turns = list(_turns(gap, steps))
    marks = sorted([*steps, *turns])
    crossed = [_bisected(gap, low, high) for low, high in pairwise(marks) if (gap(low) > 0) != (gap(high) > 0)]
    return crossed or [x for x in turns if abs(gap(x)) <= _TOUCHING * _RATIOS[first][0](x)]


def _turns(gap: Callable[[float], float], steps: list[float]) -> Iterator[float]:
    """Where the gap comes nearest to zero between steps: two roots may lie there within one step, or be one."""
    for low, middle, high in zip(steps, steps[1:], steps[2:], strict=False):
        if abs(gap(middle)) <= min(abs(gap(low)), abs(gap(high))):
            yield _lowest(gap if gap(middle) > 0 else lambda x: -gap(x), low, high)


def _lowest(value: Callable[[float], float], low: float, high: float) -> float:
    for _ in range(90):
        third = (high - low) / 3
        if value(low + third) < value(high - third):
            high -= third
        else:
            low += third
    return (low + high) / 2


def _bisected(gap: Callable[[float], float], low: float, high: float) -> float:
    rising = gap(high) > 0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if (gap(middle) > 0) == rising else (middle, high)
    return (low + high) / 2


def _chosen(curves: list[Curve], more: bool | None) -> Curve:
    if not curves:
        raise ValueError("no curve has these elements together")
    fitting = [curve for curve in curves if more is None or (curve.central_angle > 180) == more] or curves
    if len(fitting) > 1:
        raise TwoCurvesError(*sorted(fitting, key=_angle_of))
    return fitting[0]
