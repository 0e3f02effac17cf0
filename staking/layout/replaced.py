"""Which numbers in [placement] would put the slab at another place, turned as it is?"""

from __future__ import annotations

from collections.abc import Mapping

from staking.kinds.ground import ON_LINE, BaseLine
from staking.kinds.placements import AtPoint, Centered, FromLines
from staking.layout.computed import Layout
from staking.survey.points import Point, Vector, mean, vector

Entries = Mapping[str, str | int | float | tuple[float, float]]  # lengths are floats [m]


def replaced(layout: Layout, by: Vector) -> Entries | None:
    """The keys of a [placement] that has the slab moved by a step [m]; None where its lines cannot say that place.

    `from_lines` and `at_point` keep their kind. `centered` stands midway wherever it is, so it becomes `from_lines`
    with the corner that is nearest to the first of its two lines.
    """
    match layout.site.declared.placement:
        case AtPoint() as placement:
            right = layout.slab.form.pose.right
            shift = (placement.shift[0] + by.dot(right), placement.shift[1] + by.dot(right.left()))
            direction = {"bearing": placement.bearing, "toward": placement.toward}
            given = {key: value for key, value in direction.items() if value is not None}
            return {
                "kind": "at_point",
                "corner": placement.corner,
                "at": placement.at,
                "side": placement.side,
                **given,
                "shift": shift,
            }
        case FromLines() as placement:
            second, corner = placement.from_, placement.corner
            return _from_lines(layout, by, placement, second=second, corner=corner)
        case Centered() as placement:
            second = placement.between[0]
            return _from_lines(layout, by, placement, second=second, corner=_nearest(layout, second))


def _from_lines(
    layout: Layout, by: Vector, placement: FromLines | Centered, *, second: str, corner: int | str
) -> Entries | None:
    form, first, other = layout.slab.form, layout.lines[placement.reference], layout.lines[second]
    side, at = form.outline.side(placement.side), form.corners[form.outline.corner(corner)]
    ahead = _clearance(form.corners[side], first, form.outward(side).reversed(), by)
    sideways = _toward_slab(layout, other)
    aside = _clearance(at, other, sideways, by)
    if ahead < 0 or aside < 0:
        return None
    toward = placement.toward
    if toward is None and other.inside is None and isinstance(placement, Centered):
        toward = _beacon(layout, {first.name: form.outward(side).reversed(), second: sideways})
    return {
        "kind": "from_lines",
        "side": placement.side,
        "reference": placement.reference,
        "distance": ahead,
        "corner": corner,
        "from": second,
        "clear": aside,
        **({"toward": toward} if toward else {}),
    }


def _clearance(point: Point, base: BaseLine, inward: Vector, by: Vector) -> float:
    return vector(base.line.start, point).dot(inward) + by.dot(inward)


def _toward_slab(layout: Layout, base: BaseLine) -> Vector:
    left = base.line.direction.left()
    return left if base.line.offset(mean(layout.slab.form.corners)) > 0 else left.reversed()


def _nearest(layout: Layout, name: str) -> int | str:
    """The corner that is nearest to a line: its name, or where it has none its number from 1."""
    line, form = layout.lines[name].line, layout.slab.form
    index = min(range(len(form.corners)), key=lambda each: abs(line.offset(form.corners[each])))
    return form.outline.corner_names[index] or index + 1


def _beacon(layout: Layout, inward: Mapping[str, Vector]) -> str | None:
    """A given point on the slab's side of some lines, the one farthest from them; None where there is none."""
    rooms = {
        point.name: min(vector(layout.lines[name].line.start, point.at).dot(way) for name, way in inward.items())
        for point in layout.points.values()
    }
    best = max(rooms, key=lambda name: rooms[name], default=None)
    return best if best is not None and rooms[best] > ON_LINE else None
