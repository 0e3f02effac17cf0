"""How high must the form stand along each side: from the top of the concrete down to what closes it below?

Below, the form is closed by the ground that stands beside it, or it ends at the underside of the concrete. Where no
ground is known, what reaches deeper than the slab itself is taken as cast against its trench; where an excavation is
dug all round, nothing stands beside the concrete, and the form goes down to the underside.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely

from staking.kinds.slab import CHORD, Form
from staking.layout.cutting import SAME, stack
from staking.layout.design import Design
from staking.sitefile.takeoff_declared import Forms
from staking.survey.lines import Line
from staking.survey.paths import flattened
from staking.survey.points import Point, moved
from staking.survey.triangles import Triangles

INSIDE = 0.002  # metres; looked at so far inside the edge, so that the edge itself is not missed
NUDGE = 1e-4  # metres; and so far beside a place where something ends


@dataclass(frozen=True, slots=True)
class FormHeight:
    """label: of the side, or of the edge of a part. need [m]: greatest height of the form along it.

    along [m]: of that place from the beginning of the side. ground: whether ground closes the form there.
    """

    label: str
    need: float
    along: float
    ground: bool


def tiers_of(forms: Forms, needed: FormHeight | None) -> tuple[float, ...]:
    """Heights of the boards or panels one above another [m], as many as are needed; of boards no more than declared."""
    if forms.kind == "panels":
        return stack(needed.need if needed else 0.0, forms.heights)
    high = forms.size[1]
    count = math.ceil((needed.need - SAME) / high) if needed else forms.tiers
    return (high,) * min(max(count, 1), forms.tiers)


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands beside the concrete. ground: None where not known. dug: an excavation all round.

    thickness [m]: of the slab.
    """

    ground: Triangles | None
    dug: bool
    thickness: float | None


def form_heights(form: Form, design: Design, beside: Beside) -> tuple[FormHeight, ...]:
    """The greatest of every side and every edge of a part; none where no thickness is known."""
    found: dict[str, FormHeight] = {}
    for label, part, start, line in _edges(form):
        for along, need, ground in _along(line, part, design, beside):
            if label not in found or need > found[label].need:
                found[label] = FormHeight(label, need, start + along, ground)
    return tuple(found.values())


def _edges(form: Form) -> Iterator[tuple[str, str, float, Line]]:
    """Label, part, distance from the beginning of the side, and a straight line just inside the edge."""
    for index, piece in enumerate(form.pieces):
        start = 0.0
        for chord in (
            [piece] if isinstance(piece, Line) else [Line(*ends) for ends in pairwise(flattened([piece], CHORD))]
        ):
            yield form.outline.side_label(index), "", start, _inside(chord, form.outline.counter_clockwise)
            start += chord.length
    for name, corners in form.parts:
        left = Line(corners[0], corners[1]).offset(corners[2]) > 0
        for label, (one, two) in zip(("edge 1", "outer edge", "edge 2"), ((1, 2), (2, 3), (3, 0)), strict=True):
            yield f"{name}, {label}", name, 0.0, _inside(Line(corners[one], corners[two]), left)


def _inside(line: Line, left: bool) -> Line:
    """The line moved a little to the left, or to the right."""
    inward = line.direction.left() if left else line.direction.right()
    return Line(moved(line.start, inward, INSIDE), moved(line.end, inward, INSIDE))


def _along(line: Line, part: str, design: Design, beside: Beside) -> Iterator[tuple[float, float, bool]]:
    """At every place where ground or concrete change, on both hands of it: how far along, how high, and to what."""
    for at in _places(line, design, beside.ground):
        spot = line.at(at)
        piece = design.piece(spot, part)
        if piece is not None and piece.bottom is not None:
            top = piece.top.height(spot)
            yield at, *_need(top, top - piece.bottom.height(spot), spot, beside)


def _need(top: float, deep: float, spot: Point, beside: Beside) -> tuple[float, bool]:
    """How high the form stands at a place [m], and whether it ends on ground."""
    if beside.dug:
        return deep, False
    ground = beside.ground.height(spot) if beside.ground else None
    if ground is not None:
        return min(max(top - ground, 0.0), deep), top - ground < deep
    return min(deep, beside.thickness or deep), False


def _places(line: Line, design: Design, ground: Triangles | None) -> list[float]:
    drawn = shapely.LineString([(line.start.east, line.start.north), (line.end.east, line.end.north)])
    crossed = (shapely.intersection(drawn, piece.shape) for piece in design.pieces)
    ends = [line.along(Point(e, n)) for each in crossed for e, n in shapely.get_coordinates(each).tolist()]
    if ground is not None:
        ends += [at for each in ground.along(line.start, line.end) for at in (each.start, each.end)]
    beside = {at + by for at in (0.0, line.length, *ends) for by in (-NUDGE, NUDGE)}
    return sorted(at for at in beside if 0.0 <= at <= line.length)
