"""What a tape can prove: the sides, each corner square from the nearest lines, and each corner by two tapes."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from itertools import combinations

from staking.kinds.ground import ON_LINE, BaseLine
from staking.kinds.slab import Form
from staking.layout.computed import DoubleTie, NamedPoint, SideLength, Tie
from staking.survey.intersections import angle_at, angle_between
from staking.survey.lines import Line
from staking.survey.paths import Arc
from staking.survey.points import Point, azimuth_of, distance, vector

CROSSING = 20.0  # degrees; two lines nearer to parallel do not fix a corner between them
WEAK = 30.0  # degrees; two tapes that meet at less, or at more than 180 less this, fix a corner poorly: from memory
ALIKE = 1e-6  # metres, or of a cosine; differences below this are noise
NEAREST = 8  # given points tried for each corner


def side_lengths(form: Form, names: Sequence[str]) -> tuple[SideLength, ...]:
    """Every side of the formed outline."""
    count = len(names)
    return tuple(
        SideLength(
            i,
            form.outline.side_label(i),
            names[i],
            names[(i + 1) % count],
            piece.length,
            azimuth_of(chord.direction),
            chord.length,
            piece.radius if isinstance(piece, Arc) else None,
        )
        for i, (piece, chord) in enumerate(zip(form.pieces, form.sides, strict=True))
    )


def ties_of(form: Form, names: Sequence[str], lines: Mapping[str, BaseLine]) -> tuple[Tie, ...]:
    """From each corner to the nearest line, and to the nearest that crosses that one.

    Two lines that run side by side would leave the corner free to slide along both.
    """
    result: list[Tie] = []
    for name, corner in zip(names, form.corners, strict=True):
        first = _nearest(corner, list(lines.values()))
        if first is None:
            return ()
        second = _nearest(corner, [base for base in lines.values() if _crosses(first, base)])
        result.extend(_tie(name, corner, base, form) for base in (first, second) if base is not None)
    return tuple(result)


def slab_side(base: BaseLine, form: Form) -> int:
    """On which side of a line the slab lies: 1 left of its direction, -1 right; where it runs through, the most of it.

    A lot side knows where the lot is, and a slab wholly outside lies beyond it.
    """
    if base.inside is not None:
        return 1 if base.line.direction.left().dot(base.inside) > 0 else -1
    middle = form.shape.centroid
    return 1 if base.line.offset(Point(middle.x, middle.y)) >= 0 else -1


def _tie(name: str, corner: Point, base: BaseLine, form: Form) -> Tie:
    along, off = base.line.along(corner), base.line.offset(corner)
    beyond = slab_side(base, form) * off < -ON_LINE
    return Tie(name, base.name, abs(off), base.line.at(along), along, base.start_name, corner, beyond)


def _nearest(corner: Point, lines: Sequence[BaseLine]) -> BaseLine | None:
    """The nearest line; of lines equally near the one declared first, so that noise in the last bit decides nothing."""
    reaches = [_reach(base, corner) for base in lines]
    least = min(reaches, default=0.0)
    return next((base for base, reach in zip(lines, reaches, strict=True) if reach < least + ALIKE), None)


def _reach(base: BaseLine, at: Point) -> float:
    """Distance to the piece of line between its ends: a foot far beyond them is no use to a crew."""
    along = base.line.along(at)
    past = max(0.0, -along, along - base.line.length)
    return abs(base.line.offset(at)) + past


def _crosses(first: BaseLine, second: BaseLine) -> bool:
    return angle_between(first.line.direction, second.line.direction) >= CROSSING


def double_ties_of(
    form: Form, names: Sequence[str], points: Sequence[NamedPoint], tape: float, firm: Collection[str] = ()
) -> tuple[DoubleTie, ...]:
    """For each corner the two given points, within a tape [m], from which two tapes meet most squarely.

    firm: names of those to try first. The others (a lid, a tree) serve where they give no crossing. Corners for which
    no two points give one of 30 degrees or better are left out.
    """
    first = [point for point in points if point.name in firm]
    result = []
    for name, corner in zip(names, form.corners, strict=True):
        pair = _squarest(corner, _near(corner, first, tape)) or _squarest(corner, _near(corner, points, tape))
        if pair is not None:
            result.append(_double(name, corner, *pair))
    return tuple(result)


_Read = tuple[float, NamedPoint]  # a distance from a given point


def _near(corner: Point, points: Sequence[NamedPoint], tape: float) -> list[_Read]:
    """The nearest points that a tape reaches."""
    near = sorted(
        ((distance(point.at, corner), point) for point in points),
        key=lambda found: (round(found[0], 6), found[1].name),
    )
    return [(length, point) for length, point in near if 0.01 < length <= tape][:NEAREST]


def _squarest(corner: Point, tries: Sequence[_Read]) -> tuple[_Read, _Read] | None:
    """The two from which tapes meet most squarely, none if all meet weakly; of those alike, the first."""
    ways = [vector(corner, point.at) for _, point in tries]
    best, squarest = None, math.cos(math.radians(WEAK))
    for a, b in combinations(range(len(tries)), 2):
        cosine = abs(ways[a].dot(ways[b])) / (tries[a][0] * tries[b][0])
        if cosine < squarest - ALIKE:
            best, squarest = (tries[a], tries[b]), cosine
    return best


def _double(name: str, corner: Point, first: _Read, second: _Read) -> DoubleTie:
    (length_a, a), (length_b, b) = first, second
    hand = "left" if Line(a.at, b.at).offset(corner) > 0 else "right"
    return DoubleTie(name, a.name, length_a, b.name, length_b, angle_at(corner, a.at, b.at), hand)
