"""The slab on the ground: its outline, ledge and parts, set down where the placement says."""

from __future__ import annotations

from dataclasses import replace

from staking.errors import RuleError
from staking.kinds.ground import Ground
from staking.kinds.outlines.slab import Part
from staking.kinds.slab import SHORTEST, STRAIGHT, Form, Outline
from staking.layout.computed import Slab
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.survey.intersections import crossing
from staking.survey.lines import Line
from staking.survey.overlays import shared, united
from staking.survey.paths import Piece, arriving, leaving, path_area, pieces_of
from staking.survey.paths import first_fault as path_fault
from staking.survey.points import Point, moved
from staking.survey.polygons import first_fault, offset_outward, polygon

SMOOTH = 1e-6  # sine of the turn; an arc that turns no more than this where it meets its neighbour is tangent to it
OVERLAP = 1e-4  # square metres; parts that share less only touch


def slab_of(site: Site, ground: Ground, trouble: Trouble) -> Slab:
    """Everything about the slab but its stakes. Raises SolveError with what cannot be done."""
    declared = site.declared.slab
    with trouble.at("slab"):
        outline = site.outline()
        _refuse_faults(outline, "steps" if getattr(declared, "steps", ()) else "")
        formed = _with_ledge(outline, declared.ledge)
    trouble.stop()
    with trouble.at("placement"):
        pose = site.declared.placement.pose(formed, ground)
    trouble.stop()
    bare = Form(formed, pose, tuple(pose.on_ground(corner) for corner in formed.corners))
    parts: list[tuple[Part, tuple[Point, ...]]] = []
    for index, part in enumerate(declared.parts):
        with trouble.at("slab", "parts", index):
            parts.append((part, _part_corners(bare, part, [corners for _, corners in parts])))
    trouble.stop()
    return _assembled(site, bare, outline, parts)


def _assembled(site: Site, bare: Form, outline: Outline, parts: list[tuple[Part, tuple[Point, ...]]]) -> Slab:
    declared = site.declared.slab
    counted_parts = tuple(corners for part, corners in parts if not part.exempt)
    counted = [bare.shape, *(polygon(corners) for corners in counted_parts)]
    building = tuple(bare.pose.on_ground(corner) for corner in outline.corners)
    return Slab(
        form=replace(bare, parts=tuple((part.name, corners) for part, corners in parts)),
        building=building,
        counted=united(counted),
        counted_parts=counted_parts,
        eaves=_offset(outline, building, declared.eaves) if declared.eaves else (),
        ledge=declared.ledge,
        thickness=declared.thickness,
        area=abs(path_area(bare.pieces)),
    )


def _refuse_faults(outline: Outline, key: str) -> None:
    """Raise RuleError for sides without length, sides that cross or touch, and spikes."""
    curved = any(outline.bulges)
    fault = path_fault(outline.pieces, SHORTEST) if curved else first_fault(outline.corners, SHORTEST)
    if fault is None:
        return
    what, a, b = fault
    first, second = outline.side_label(a), outline.side_label(b)
    sentences = {
        "short": f"{first} has no length",
        "spike": f"{second} runs back along {first}",
        "touching": f"{first} and {second} touch",
        "crossing": f"{first} and {second} cross",
    }
    step = f"{key}.{b}" if key else ""
    raise RuleError(
        sentences[what], key=step, code="outline-faulty", remedy="correct the steps or sizes of the outline"
    )


def _with_ledge(outline: Outline, ledge: float) -> Outline:
    if ledge == 0:
        return outline
    try:
        corners = _offset(outline, outline.corners, ledge)
    except ValueError:
        raise RuleError("the ledge is too wide for a short side", key="ledge", remedy="a narrower ledge") from None
    return replace(outline, corners=corners)


def _offset(outline: Outline, corners: tuple[Point, ...], by: float) -> tuple[Point, ...]:
    """The outline's corners moved outward. With arcs, only where these run smoothly into their neighbours.

    A smooth corner moves square to both its sides, so that an arc keeps its angle and with it its bulge.
    """
    out = by if outline.counter_clockwise else -by
    if not any(outline.bulges):
        return offset_outward(corners, out)
    pieces = pieces_of(corners, outline.bulges)
    return tuple(_moved_out(pieces[i - 1], pieces[i], out) for i in range(len(pieces)))


def _moved_out(before: Piece, after: Piece, out: float) -> Point:
    way, onward = arriving(before), leaving(after)
    if isinstance(before, Line) and isinstance(after, Line):
        shifted = [
            Line(moved(p.start, p.direction.right(), out), moved(p.end, p.direction.right(), out))
            for p in (before, after)
        ]
        return crossing(*shifted) if abs(way.cross(onward)) > STRAIGHT else shifted[1].start
    if abs(way.cross(onward)) > SMOOTH:
        raise RuleError(
            "the outline has an arc that meets its neighbour in a corner, and a ledge or eaves round it are not known",
            key="ledge",
            remedy="leave ledge and eaves out, or let the arc run smoothly into its neighbours",
        )
    return moved(after.start, onward.right(), out)


def _part_corners(form: Form, part: Part, others: list[tuple[Point, ...]]) -> tuple[Point, ...]:
    """The part's corners: where it starts on the slab, where it ends there, then the two outer ones."""
    side, corner = form.outline.side(part.side), form.outline.corner(part.from_, "from")
    line, ends = form.pieces[side], (side, (side + 1) % len(form.corners))
    if not isinstance(line, Line):
        raise RuleError(f"{form.outline.side_label(side)} is an arc; a part needs a straight side", key="side")
    if corner not in ends:
        raise RuleError(
            f"{form.outline.corner_label(corner)} is no end of {form.outline.side_label(side)}",
            key="from",
            remedy=f"corner {ends[0] + 1} or {ends[1] + 1}",
        )
    over = part.start + part.width - line.length
    if over > SHORTEST / 10:
        raise RuleError(
            f"the part reaches {{0}} past the end of {form.outline.side_label(side)}",
            key="width",
            lengths=(over,),
            remedy="a smaller width or start; a part stays on one side",
        )
    along = [part.start, part.start + part.width]
    if corner == ends[1]:
        along = [line.length - a for a in along]
    start, end = (line.at(a) for a in along)
    out = form.outward(side)
    corners = (start, end, moved(end, out, part.depth), moved(start, out, part.depth))
    _refuse_overlap(form, corners, others)
    return corners


def _refuse_overlap(form: Form, corners: tuple[Point, ...], others: list[tuple[Point, ...]]) -> None:
    shape = polygon(corners)
    if shared(shape, form.shape).area > OVERLAP:
        raise RuleError("the part lies in the slab", key="depth", remedy="a smaller depth, or another side")
    if any(shared(shape, polygon(other)).area > OVERLAP for other in others):
        raise RuleError("the part lies in another part", key="start", remedy="move it along the side with start")
