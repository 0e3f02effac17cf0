"""The slab as rules see it: an outline in its own axes, and the same outline set down on the ground.

Own axes: standing in front of the slab and looking at it, x runs right along the front side and y runs away;
a Point's east is x and its north is y. On the ground: east and north.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from staking.errors import RuleError, suggestion
from staking.survey.lines import Line
from staking.survey.overlays import united
from staking.survey.paths import Piece, arriving, flattened, leaving, path_area, pieces_of
from staking.survey.points import Point, Vector, moved
from staking.survey.polygons import polygon, sides_of

SAME = 1e-7  # metres; two coordinates of one outline nearer than this are the same
SHORTEST = 0.01  # metres; a shorter side is a slip of the pen
CHORD = 0.0005  # metres; how far the chords of a flattened arc may leave it
STRAIGHT = 1e-9  # sine of the turn at a corner in the middle of a straight side


@dataclass(frozen=True)
class Outline:
    """Corners in order, counted from 1 in every message; side k runs from corner k to the next."""

    corners: tuple[Point, ...]
    corner_names: tuple[str, ...]
    side_names: tuple[str, ...]
    bulges: tuple[float, ...] = ()  # of each side, 0 where it is straight; left out where all are

    @property
    def counter_clockwise(self) -> bool:
        """Whether the slab lies on the left of its sides as they run."""
        return path_area(self.pieces) > 0

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The sides, true arcs and all."""
        return pieces_of(self.corners, self.bulges)

    def corner(self, wanted: int | str, key: str = "corner") -> int:
        """Which corner is meant, from 0. Raises RuleError with the names there are."""
        return _find(wanted, self.corner_names, "corner", key)

    def side(self, wanted: int | str, key: str = "side") -> int:
        """Which side is meant, from 0. Raises RuleError with the names there are."""
        pairs = {f"{i + 1}-{(i + 1) % len(self.corners) + 1}": i for i in range(len(self.corners))}
        if str(wanted) in pairs:
            return pairs[str(wanted)]
        return _find(wanted, self.side_names, "side", key)

    def corner_label(self, index: int) -> str:
        """A corner in words: its number, and its name where it has one."""
        name = self.corner_names[index]
        return f"corner {index + 1} ({name})" if name else f"corner {index + 1}"

    def side_label(self, index: int) -> str:
        """A side in words: its name where it has one, and the corners it joins."""
        ends = f"{index + 1}-{(index + 1) % len(self.corners) + 1}"
        name = self.side_names[index]
        return f"{name} side {ends}" if name else f"side {ends}"

    def chord_label(self, index: int) -> str:
        """What joins the two corners of a side straight, in words: the side itself, or the chord of its arc."""
        return f"chord of {self.side_label(index)}" if self.curved(index) else self.side_label(index)

    def curved(self, index: int) -> bool:
        """Whether a side is an arc."""
        return bool(self.bulges) and self.bulges[index] != 0


def _find(wanted: int | str, names: Sequence[str], what: str, key: str) -> int:
    """The index of a corner or side given by number (from 1) or by name."""
    if isinstance(wanted, int) or wanted.isdecimal():
        number = int(wanted)
        if 1 <= number <= len(names):
            return number - 1
        raise RuleError(f"there is no {what} {number}", key=key, remedy=f"the {what}s are 1 to {len(names)}")
    if wanted in names:
        return list(names).index(wanted)
    known = [name for name in names if name]
    hint = suggestion(wanted, known)
    raise RuleError(f'there is no {what} "{wanted}"', key=key, remedy=f"{hint} (or its number, 1 to {len(names)})")


def names_by_direction(corners: Sequence[Point]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of corners and sides that lie on the edges of the box around an outline; empty for the others.

    A corner of the box that is a corner of the outline is "front-left" and so on. The only side along the front
    edge of the box is "front"; where several lie on one edge, none of them takes the name.
    """
    left, right = min(c.east for c in corners), max(c.east for c in corners)
    front, back = min(c.north for c in corners), max(c.north for c in corners)
    edges = {"front": ("north", front), "right": ("east", right), "back": ("north", back), "left": ("east", left)}
    on = {name: [abs(getattr(c, axis) - at) < SAME for c in corners] for name, (axis, at) in edges.items()}
    count = len(corners)
    corner_names = [""] * count
    for depth in ("front", "back"):
        for hand in ("left", "right"):
            for i in range(count):
                if on[depth][i] and on[hand][i]:
                    corner_names[i] = f"{depth}-{hand}"
    side_names = [""] * count
    for name, flags in on.items():
        along = [i for i in range(count) if flags[i] and flags[(i + 1) % count]]
        if len(along) == 1:
            side_names[along[0]] = name
    return tuple(corner_names), tuple(side_names)


@dataclass(frozen=True, slots=True)
class Pose:
    """Where the slab's own axes lie on the ground: the place of x = y = 0 and the direction in which x runs."""

    origin: Point
    right: Vector

    def on_ground(self, point: Point) -> Point:
        """A point of the slab's own axes, on the ground."""
        return moved(moved(self.origin, self.right, point.east), self.right.left(), point.north)

    def direction(self, step: Vector) -> Vector:
        """A direction of the slab's own axes, on the ground."""
        along, away = self.right, self.right.left()
        return Vector(
            along.east * step.east + away.east * step.north, along.north * step.east + away.north * step.north
        )


@dataclass(frozen=True)
class Form:
    """The formed outline on the ground with everything attached to it: what stakes are set out around.

    whole: the formed outline together with its parts, none of which a stake may stand in.
    """

    outline: Outline  # names and numbers; its corners are in the slab's own axes
    pose: Pose
    corners: tuple[Point, ...]
    parts: tuple[tuple[str, tuple[Point, ...]], ...] = ()  # name and corners of each part, first two on the slab

    @cached_property
    def sides(self) -> tuple[Line, ...]:
        """Side k straight from corner k to the next: the chord where the side is an arc."""
        return sides_of(self.corners)

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The sides, true arcs and all."""
        return pieces_of(self.corners, self.outline.bulges)

    @cached_property
    def drawn(self) -> tuple[Point, ...]:
        """The formed outline as shapely needs it: arcs as chords within CHORD of them."""
        return flattened(self.pieces, CHORD) if any(self.outline.bulges) else self.corners

    @cached_property
    def shape(self) -> shapely.Polygon:
        """The formed outline as shapely knows it."""
        return polygon(self.drawn)

    @cached_property
    def whole(self) -> BaseGeometry:
        """Formed outline and parts in one."""
        pieces = [self.shape, *(polygon(corners) for _, corners in self.parts)]
        return united(pieces)

    def straight(self, index: int) -> bool:
        """Whether a corner lies in the middle of a straight side."""
        both = (self.pieces[index - 1], self.pieces[index])
        return abs(self._turn(index)) <= STRAIGHT and all(isinstance(piece, Line) for piece in both)

    def _turn(self, index: int) -> float:
        """Sine of the turn at a corner, from the side that arrives to the one that leaves; positive to the left."""
        return arriving(self.pieces[index - 1]).cross(leaving(self.pieces[index]))

    def outward(self, index: int) -> Vector:
        """Square to a side, away from the slab."""
        direction = self.sides[index].direction
        return direction.right() if self.outline.counter_clockwise else direction.left()
