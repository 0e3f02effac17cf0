"""The slab on the ground: its outline, ledge and parts, set down where the placement says."""

from __future__ import annotations

from dataclasses import replace

import shapely

from staking.errors import RuleError
from staking.kinds.ground import Ground
from staking.kinds.outlines.slab import Part
from staking.kinds.slab import SHORTEST, Form, Outline
from staking.layout.computed import Slab
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.survey.points import Point, moved
from staking.survey.polygons import first_fault, offset_outward, polygon, signed_area

OVERLAP = 1e-4  # square metres; parts that share less only touch


def slab_of(site: Site, ground: Ground, trouble: Trouble) -> Slab:
    """Everything about the slab but its stakes. Raises SolveError with what cannot be done."""
    declared = site.declared.slab
    with trouble.at("slab"):
        outline = declared.outline()
        _refuse_faults(outline, "steps" if getattr(declared, "steps", ()) else "")
        formed = replace(outline, corners=_with_ledge(outline, declared.ledge))
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
    counted = [polygon(bare.corners), *(polygon(corners) for part, corners in parts if not part.exempt)]
    return Slab(
        form=replace(bare, parts=tuple((part.name, corners) for part, corners in parts)),
        building=tuple(bare.pose.on_ground(corner) for corner in outline.corners),
        counted=shapely.union_all(counted) if len(counted) > 1 else counted[0],
        ledge=declared.ledge,
        thickness=declared.thickness,
        area=abs(signed_area(bare.corners)),
    )


def _refuse_faults(outline: Outline, key: str) -> None:
    """Raise RuleError for sides without length, sides that cross or touch, and spikes."""
    fault = first_fault(outline.corners, SHORTEST)
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


def _with_ledge(outline: Outline, ledge: float) -> tuple[Point, ...]:
    if ledge == 0:
        return outline.corners
    try:
        return offset_outward(outline.corners, ledge if outline.counter_clockwise else -ledge)
    except ValueError:
        raise RuleError("the ledge is too wide for a short side", key="ledge", remedy="a narrower ledge") from None


def _part_corners(form: Form, part: Part, others: list[tuple[Point, ...]]) -> tuple[Point, ...]:
    """The part's corners: where it starts on the slab, where it ends there, then the two outer ones."""
    side, corner = form.outline.side(part.side), form.outline.corner(part.from_, "from")
    line, ends = form.sides[side], (side, (side + 1) % len(form.corners))
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
    if shape.intersection(polygon(form.corners)).area > OVERLAP:
        raise RuleError("the part lies in the slab", key="depth", remedy="a smaller depth, or another side")
    if any(shape.intersection(polygon(other)).area > OVERLAP for other in others):
        raise RuleError("the part lies in another part", key="start", remedy="move it along the side with start")
