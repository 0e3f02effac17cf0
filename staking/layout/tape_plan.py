"""How two people with a steel tape and string set the slab: what is measured from what, in which order.

   4 ------------- far line ------------- 3        The base line is pulled square off the reference, the far line
   |                                      |        off the base line. The first corner comes from a second line,
   |           slab (any outline)         |        the next by the width, the far two by the diagonals on the far
   |                                      |        line. Their distance from each other closes the frame and has
   1 ------------- base line ------------ 2        not been used to set anything. Other corners stand by ordinates:
   :                                      :        so far along base and far line, so far along the string between.
===+====== reference line ================+===
                                                   Order of work: US Army course EN0069 (Carpentry), figure 1-36.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import shapely

from staking.kinds.ground import BaseLine
from staking.kinds.slab import Form
from staking.layout.computed import Layout, Stake
from staking.layout.names import fresh_names
from staking.layout.setting_out import TOGETHER
from staking.survey.intersections import angle_between, crossing
from staking.survey.lines import Line
from staking.survey.paths import Arc
from staking.survey.points import Point, Vector, distance, moved, vector
from staking.survey.polygons import spots

SAME = 0.0005  # metres; a corner nearer to a frame line than this stands on it
STEEP = 45.0  # degrees; a line more across the base than along it cannot serve as its reference
LONGEST_STEP = 2.0  # metres along an arc between two places that are set off its chord
FIRM = 20.0  # degrees; the second line must cross the base at least this squarely


@dataclass(frozen=True, slots=True)
class Pull:
    """A tape pulled square off the reference: from `foot` on it, so far, to `end` on the base line.

    along [m]: from the named end of the reference to the foot; below 0 beyond that end.
    """

    mark: str
    from_name: str
    along: float
    distance: float
    foot: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Start:
    """Where the first mark of the base line comes from: where the base string crosses a second line.

    along [m]: along the base string from there to the mark. square [m]: the mark's square distance from that line.
    """

    mark: int  # of the frame, 0 or 1
    line: str
    along: float
    square: float
    crossing: Point


@dataclass(frozen=True, slots=True)
class Ordinate:
    """A corner by how far along the base it stands from the frame's first mark, and how far off it [m].

    off below 0: on the reference's side of the base line.
    """

    name: str
    label: str
    along: float
    off: float
    at: Point


@dataclass(frozen=True, slots=True)
class PartByTape:
    """A part: where it begins and ends on its side, from that side's first corner; its depth and its diagonal [m]."""

    name: str
    names: tuple[str, str, str, str]
    corners: tuple[Point, ...]
    side: int
    from_name: str
    along: tuple[float, float]
    depth: float
    diagonal: float


@dataclass(frozen=True, slots=True)
class OffChord:
    """A place on an arc: so far along its chord from the start, so far square off it [m]."""

    along: float
    off: float
    foot: Point
    at: Point


@dataclass(frozen=True, slots=True)
class ArcByTape:
    """A curved side, set off its chord. radius, chord [m]; outward: whether it bulges out of the slab."""

    side: int
    start_name: str
    end_name: str
    start: Point
    end: Point
    radius: float
    chord: float
    outward: bool
    places: tuple[OffChord, ...]


@dataclass(frozen=True, slots=True)
class BeyondCorner:
    """An offset stake or a nail: on the line of a side, so far beyond one of its corners [m].

    posts: names of the two that carry the board of a nail.
    """

    stake: Stake
    corner: str
    distance: float
    posts: tuple[str, ...] = ()


@dataclass(frozen=True)
class TapePlan:
    """The whole of it. corners: of the frame, 1 to 4 as in the sketch above; names: what they are called.

    real: which of them are corners of the slab; the others are marks that are taken away again.
    """

    reference: BaseLine
    side: int
    right: Vector
    inward: Vector
    corners: tuple[Point, Point, Point, Point]
    names: tuple[str, str, str, str]
    real: tuple[bool, bool, bool, bool]
    width: float
    depth: float
    pulls: tuple[Pull, Pull]
    start: Start | None
    ordinates: tuple[Ordinate, ...]
    arcs: tuple[ArcByTape, ...]
    parts: tuple[PartByTape, ...]
    ends: tuple[BeyondCorner, ...]

    @property
    def diagonal(self) -> float:
        """Of the frame [m]."""
        return math.hypot(self.width, self.depth)


def tape_plan(layout: Layout) -> TapePlan | None:
    """The plan; None where nothing on the ground gives a direction that a tape can follow."""
    chosen = _base(layout)
    if chosen is None:
        return None
    side, reference = chosen
    form = layout.slab.form
    along = form.sides[side].direction if form.outline.counter_clockwise else form.sides[side].direction.reversed()
    axes = Line(form.sides[side].start, moved(form.sides[side].start, along, 1.0))
    corners = _frame(axes, form.corners)
    names, real = _frame_names(layout, corners)
    return TapePlan(
        reference=reference,
        side=side,
        right=along,
        inward=along.left(),
        corners=corners,
        names=names,
        real=real,
        width=distance(corners[0], corners[1]),
        depth=distance(corners[0], corners[3]),
        pulls=(_pull(reference, names[0], corners[0]), _pull(reference, names[1], corners[1])),
        start=_start(layout, reference, corners),
        ordinates=tuple(_ordinates(layout, corners, along)),
        arcs=tuple(_arcs(layout)),
        parts=tuple(_parts(layout)),
        ends=tuple(_ends(layout)),
    )


def _base(layout: Layout) -> tuple[int, BaseLine] | None:
    """The side that becomes the base line, and the line it is pulled off: the placement's own where it names them."""
    placement, form = layout.site.declared.placement, layout.slab.form
    reference = layout.lines.get(getattr(placement, "reference", ""))
    if reference is not None:
        return form.outline.side(placement.side), reference
    lines = list(layout.lines.values()) or _between_points(layout)
    tries = [
        (_awkwardness(side, base), index, base)
        for index, side in enumerate(form.sides)
        for base in lines
        if angle_between(side.direction, base.line.direction) <= STEEP
    ]
    best = min(tries, key=lambda found: found[:2], default=None)
    return (best[1], best[2]) if best else None


def _awkwardness(side: Line, base: BaseLine) -> float:
    """How poorly a line serves a side: far off, or off its ends."""
    return sum(
        abs(base.line.offset(end)) + max(0.0, -base.line.along(end), base.line.along(end) - base.line.length)
        for end in (side.start, side.end)
    )


def _between_points(layout: Layout) -> list[BaseLine]:
    """Where no line is declared, the line between the two given points that are farthest apart.

    They are corners of the hull round all points, so that a list of many thousands takes no long time.
    """
    hull = shapely.convex_hull(shapely.multipoints(spots(point.at for point in layout.points.values())))
    rim = set(map(tuple, shapely.get_coordinates(hull).tolist()))
    outer = [point for point in layout.points.values() if (point.at.east, point.at.north) in rim]
    apart = ((distance(a.at, b.at), a, b) for a, b in combinations(outer, 2))
    length, a, b = max(apart, key=lambda found: found[0], default=(0.0, None, None))
    if a is None or b is None or length < SAME:
        return []
    return [BaseLine(f"{a.name} to {b.name}", Line(a.at, b.at), a.name, b.name)]


def _frame(axes: Line, outline: Sequence[Point]) -> tuple[Point, Point, Point, Point]:
    """The rectangle on the base line that holds the outline, as far as it lies beyond the base line."""
    along = [axes.along(corner) for corner in outline]
    far = max(axes.offset(corner) for corner in outline)
    left, right = min(along), max(along)
    return axes.at(left), axes.at(right), axes.at(right, far), axes.at(left, far)


def _frame_names(
    layout: Layout, corners: Sequence[Point]
) -> tuple[tuple[str, str, str, str], tuple[bool, bool, bool, bool]]:
    """The corner of the slab that stands there, else a temporary mark T1, T2 ..."""
    found = [
        next(
            (n for n, c in zip(layout.corner_names, layout.slab.form.corners, strict=True) if distance(c, q) < SAME), ""
        )
        for q in corners
    ]
    fresh = fresh_names("T", layout.points)
    names = [name or next(fresh) for name in found]
    return (names[0], names[1], names[2], names[3]), (bool(found[0]), bool(found[1]), bool(found[2]), bool(found[3]))


def _pull(reference: BaseLine, mark: str, corner: Point) -> Pull:
    along = reference.line.along(corner)
    foot = reference.line.at(along)
    if along > reference.line.length / 2:
        return Pull(mark, reference.end_name, reference.line.length - along, distance(foot, corner), foot, corner)
    return Pull(mark, reference.start_name, along, distance(foot, corner), foot, corner)


def _start(layout: Layout, reference: BaseLine, corners: Sequence[Point]) -> Start | None:
    """From the line the placement names second; else from the one that crosses the base line nearest to a mark."""
    base = Line(corners[0], corners[1])
    named = getattr(layout.site.declared.placement, "from_", "")
    lines = [layout.lines[named]] if named in layout.lines else list(layout.lines.values())
    tries: list[Start] = []
    for line in lines:
        if line.name == reference.name or angle_between(line.line.direction, base.direction) < FIRM:
            continue
        place = crossing(base, line.line)
        tries.extend(
            Start(mark, line.name, distance(place, corners[mark]), abs(line.line.offset(corners[mark])), place)
            for mark in (0, 1)
        )
    return min(tries, key=lambda start: start.along, default=None)


def _ordinates(layout: Layout, frame: Sequence[Point], along: Vector) -> Iterator[Ordinate]:
    """Every corner of the outline that is not a corner of the frame."""
    axes = Line(frame[0], moved(frame[0], along, 1.0))
    outline = layout.slab.form.outline
    for index, (name, corner) in enumerate(zip(layout.corner_names, layout.slab.form.corners, strict=True)):
        if all(distance(corner, mark) >= SAME for mark in frame):
            yield Ordinate(name, outline.corner_label(index), axes.along(corner), axes.offset(corner), corner)


def _arcs(layout: Layout) -> Iterator[ArcByTape]:
    """The curved sides, each with three places on it, or more where it is long."""
    form, names = layout.slab.form, layout.corner_names
    for index, piece in enumerate(form.pieces):
        if not isinstance(piece, Arc):
            continue
        count = max(4, math.ceil(piece.length / LONGEST_STEP))
        places = (piece.at(piece.length * i / count) for i in range(1, count))
        chord = form.sides[index]
        yield ArcByTape(
            index,
            names[index],
            names[(index + 1) % len(names)],
            piece.start,
            piece.end,
            piece.radius,
            chord.length,
            piece.left == form.outline.counter_clockwise,
            tuple(OffChord(chord.along(p), abs(chord.offset(p)), chord.foot(p), p) for p in places),
        )


def _parts(layout: Layout) -> Iterator[PartByTape]:
    form, declared = layout.slab.form, layout.site.declared.slab.parts
    for part, (name, corners) in zip(declared, form.parts, strict=True):
        side = form.outline.side(part.side)
        first = form.outline.corner(part.from_, "from")
        names = part_corner_names(layout, name, corners)
        yield PartByTape(
            name,
            names,
            corners,
            side,
            layout.corner_names[first],
            (part.start, part.start + part.width),
            part.depth,
            distance(corners[0], corners[2]),
        )


def part_corner_names(layout: Layout, part: str, corners: Sequence[Point]) -> tuple[str, str, str, str]:
    """What the corners of a part are called: the stakes that stand there, else letters after the part's name."""
    marking = [stake for stake in layout.stakes if stake.kind in ("corner", "part corner")]
    names = [
        next((stake.name for stake in marking if distance(stake.at, corner) < 2 * TOGETHER), f"{part} {letter}")
        for corner, letter in zip(corners, "abcd", strict=True)
    ]
    return names[0], names[1], names[2], names[3]


def _ends(layout: Layout) -> Iterator[BeyondCorner]:
    form: Form = layout.slab.form
    posts = _posts_of_nails(layout)
    for stake in layout.stakes:
        if stake.kind not in ("offset", "nail") or stake.side is None:
            continue
        length = form.sides[stake.side].length
        corner = stake.side if stake.along < 0 else (stake.side + 1) % len(form.corners)
        beyond = -stake.along if stake.along < 0 else stake.along - length
        yield BeyondCorner(stake, layout.corner_names[corner], beyond, posts.get(stake.name, ()))


def _posts_of_nails(layout: Layout) -> dict[str, tuple[str, ...]]:
    """For each nail the names of the two posts of its board. Boards know places only, since stakes get names later."""
    nails = [stake for stake in layout.stakes if stake.kind == "nail"]
    posts = [stake for stake in layout.stakes if stake.kind == "post"]
    if not nails:
        return {}
    boards = shapely.STRtree(spots(board.nail for board in layout.boards))
    tree = shapely.STRtree(spots(post.at for post in posts))
    found = {}
    for nail, index in zip(nails, boards.nearest(spots(nail.at for nail in nails)).tolist(), strict=True):
        nearest = tree.nearest(spots(layout.boards[index].posts)).tolist()
        found[nail.name] = tuple(posts[index].name for index in nearest)
    return found


def far_end(plan: TapePlan, ordinate: Ordinate) -> Point:
    """Where the cross string of an ordinate meets the far line."""
    return moved(plan.corners[3], vector(plan.corners[3], plan.corners[2]).unit(), ordinate.along)


def longest_pull(layout: Layout, plan: TapePlan | None) -> tuple[float, str]:
    """The longest length [m] that the tape sheet asks a tape for, and what it is; the first of those alike."""
    return max(_pulls(layout, plan), key=lambda pull: round(pull[0], 6))


def _pulls(layout: Layout, plan: TapePlan | None) -> Iterator[tuple[float, str]]:
    yield from ((side.chord, side.label) for side in layout.sides)
    yield from ((line.length, f"the diagonal {line.start} to {line.end}") for line in layout.diagonals)
    yield from ((tie.distance, f"{tie.corner} square from {tie.line}") for tie in layout.ties)
    for double in layout.double_ties:
        yield double.first_distance, f"{double.corner} from {double.first}"
        yield double.second_distance, f"{double.corner} from {double.second}"
    if plan is None:
        return
    base, (one, two, three, four) = plan.reference, plan.names
    for pull in plan.pulls:
        yield pull.distance, f"the pull from {base.name} to {pull.mark}"
        yield abs(pull.along), f"along {base.name} from {pull.from_name}"
    if plan.start is not None:
        yield plan.start.along, f"along the base string to {plan.names[plan.start.mark]}"
    yield plan.width, f"{one} to {two}"
    yield plan.depth, f"{one} to {four}"
    yield plan.diagonal, f"the diagonal {one} to {three}"
    yield from ((abs(length), f"to {o.name}") for o in plan.ordinates for length in (o.along, o.off))
    for part in plan.parts:
        yield max(part.along), f"along the side to {part.name}"
        yield part.diagonal, f"the diagonal of {part.name}"
    yield from ((end.distance, f"{end.corner} to {end.stake.name}") for end in plan.ends)
