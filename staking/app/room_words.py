"""What does `staking room` say: in plain words, and as JSON?"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import shapely

from staking.layout.collisions import Collision
from staking.layout.computed import Layout, Margin
from staking.layout.replaced import Entries, replaced
from staking.layout.room import Place, Room
from staking.layout.ways import FINE, Way
from staking.survey.points import Point, Vector

ENOUGH = 0.02  # metres of room at the best place, below which its numbers are not rounded to the tape's fractions
_DECIMALS = 6  # of numbers for programs
_SQUARE = 1e-6  # sine; a rule turned less than this against the slab meets its true width or depth
_GOES = {"right": "to the right", "left": "to the left", "toward": "toward its front"}
_HERE = "clears everything where it is"
_VERDICT = "the slab clears everything"


def room_lines(layout: Layout, room: Room) -> Iterator[str]:
    """The answer in lines; the last one is the verdict."""
    if not room.margins:
        yield "there is nothing to clear: the site file gives no lot, no area to keep clear and no separation"
        return
    yield from _now(layout, room)
    yield from _region(layout, room)
    if room.fits:
        yield from _ways(layout, room)
        yield from _best(layout, room)
    yield "the lines are the surveyor's to locate, the figures the authority's to give; nothing here approves a place"
    yield _VERDICT if room.clears else "stop: stake files would be withheld"


def _now(layout: Layout, room: Room) -> Iterator[str]:
    write = layout.notation.both
    least = min(room.margins, key=lambda margin: margin.room)
    if room.clears:
        yield f"the slab {_HERE}: {write(least.room)} to spare at the least, from the {_of(least)}"
        return
    yield "the slab does not clear everything where it is:"
    for margin in room.margins:
        if margin.room < 0:
            yield f"  {_of(margin)}: {write(-margin.room)} too near"


def _region(layout: Layout, room: Room) -> Iterator[str]:
    if not room.bounded:
        yield "there is no lot, so nothing bounds the places where it could stand"
    elif not room.fits:
        yield "turned as it is, it fits nowhere:"
        yield from (f"  {_collision(layout, each)}" for each in room.collisions)
    elif room.region.is_empty:
        yield "it fits to a hair: the places where it clears have no breadth"
    else:
        pieces = f", in {room.pieces} pieces that it cannot slide between" if room.pieces > 1 else ""
        yield f"places for corner 1 where it clears: {layout.notation.area(room.area)}{pieces}"


def _collision(layout: Layout, collision: Collision) -> str:
    write = layout.notation.length
    rules = [f"{_of(rule)}{_figure(layout, rule)}" for rule in collision.rules]
    if collision.size == 0:
        named = f"{', '.join(rules[:-1])} and {rules[-1]} together" if len(rules) > 1 else rules[0]
        return f"{named} leave too little: at best {write(collision.short)} is missing at each"
    size, left = write(collision.size), f"leave {write(collision.left)}" if collision.left > 0 else "leave nothing"
    return (
        f"{rules[0]} and {rules[1]} {left}; the slab is {size} {_extent(layout, collision.across)}: "
        f"{write(collision.short)} too little"
    )


def _extent(layout: Layout, across: Vector) -> str:
    right = layout.slab.form.pose.right
    if abs(across.cross(right)) < _SQUARE:
        return "wide"
    return "deep" if abs(across.dot(right)) < _SQUARE else "from one to the other, turned as it is"


def _figure(layout: Layout, margin: Margin) -> str:
    return f" {layout.notation.length(margin.required)}" if margin.required else ""


def _of(margin: Margin) -> str:
    what = "" if margin.what == "outline" or margin.rule == "separation" else f" for {margin.what}"
    return {
        "setback": f"{margin.of} setback{what}",
        "lot line": f"{margin.of} line of the lot",
        "street centre": f"street centre at {margin.of}",
        "separation": f'separation "{margin.of}"',
        "keep clear": f'area "{margin.of}"',
    }[margin.rule]


def _ways(layout: Layout, room: Room) -> Iterator[str]:
    if room.clears:
        yield "as seen from its front, and by the compass, it can still go, rounded down:"
        yield from (f"  {way.name:<7}{_reach(layout, way)}" for way in room.ways)
        return
    out = [way for way in room.ways if way.clears_at is not None]
    if out:
        yield "it would clear after going, as seen from its front and by the compass:"
    yield from (f"  {way.name:<7}{_safe(layout, way.clears_at or 0.0, up=True)}" for way in out)


def _reach(layout: Layout, way: Way) -> str:
    if way.stop is None:
        return "as far as anybody looks"
    return f"{_safe(layout, way.reach, up=False)}, up to the {_of(way.stop)}"


def _safe(layout: Layout, metres: float, *, up: bool) -> str:
    """A limit, rounded to the side on which the slab clears: a setback has no plus tolerance."""
    write, unit = layout.notation, float(layout.site.unit.metres)
    step = 10.0**-write.decimals if layout.site.unit.name == "m" else unit / 12 / write.fraction
    steps = math.ceil(metres / step - FINE / step * 2) if up else math.floor(metres / step + FINE / step * 2)
    return write.both(steps * step)


def _best(layout: Layout, room: Room) -> Iterator[str]:
    best = room.best
    if best is None:
        return
    least = min(best.margins, key=lambda margin: margin.room)
    spare = f"{layout.notation.both(best.least)} to spare at the least, from the {_of(least)}"
    yield f"most room: {_going(layout, best.by)}; {spare}"
    entries = replaced(layout, best.by)
    if entries is None:
        yield "  the lines of [placement] cannot say that place: it lies beyond one of them"
    elif layout.site.declared.placement.kind == "centered":
        yield "  centered keeps the slab midway between two lines; that place from lines:"
    yield from _toml(layout, entries, best) if entries else ()


def _going(layout: Layout, by: Vector) -> str:
    right = layout.slab.form.pose.right
    steps = (by.dot(right), "right", "left"), (by.dot(right.left()), "away", "toward")
    words = [
        f"{layout.notation.length(abs(far))} {_GOES.get(name, name)}"
        for far, name in ((far, ahead if far > 0 else back) for far, ahead, back in steps)
        if layout.notation.length(abs(far)) != layout.notation.length(0.0)
    ]
    return " and ".join(words) or "where it is"


def _toml(layout: Layout, entries: Entries, best: Place) -> Iterator[str]:
    """The table to paste, lengths as a tape reads them where that leaves room."""
    exact = best.least < ENOUGH
    yield "[placement]"
    for key, value in entries.items():
        yield f"{key} = {_value(layout, key, value, exact=exact)}"


def _value(layout: Layout, key: str, value: object, *, exact: bool) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(_value(layout, key, each, exact=exact) for each in value)}]"
    if not isinstance(value, float) or key == "bearing":
        return json.dumps(value, ensure_ascii=False)
    if exact or layout.site.unit.name == "m":
        return layout.notation.decimal(value, _DECIMALS if exact else None)
    text = layout.notation.length(value).removesuffix('"')
    if "'" not in text:
        return json.dumps(f"{text} in")
    return layout.notation.decimal(value, 4) if value < 0 else json.dumps(text)


def room_json(layout: Layout, room: Room) -> str:
    """The same for another program: lengths in the site's unit and as they are printed, places in the file's frame."""
    best, entries = room.best, replaced(layout, room.best.by) if room.best else None
    content = {
        "format": 1,
        "unit": layout.site.unit.name,
        "clears": room.clears,
        "fits": room.fits,
        "bounded": room.bounded,
        "corner": _place(layout, room.corner),
        "margins": [_margin(layout, margin) for margin in room.margins],
        "region": {"area": _square(layout, room.area), "pieces": _pieces(layout, room)},
        "ways": [_way(layout, way) for way in room.ways],
        "best": _best_json(layout, best, entries) if best else None,
        "collisions": [_collision_json(layout, each) for each in room.collisions],
    }
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)


def _number(layout: Layout, metres: float) -> float:
    return float(layout.notation.decimal(metres, _DECIMALS))


def _length(layout: Layout, metres: float) -> dict[str, Any]:
    return {"value": _number(layout, metres), "text": layout.notation.length(metres)}


def _square(layout: Layout, area: float) -> dict[str, Any]:
    value = round(area / float(layout.site.unit.metres) ** 2, _DECIMALS)
    return {"value": value, "text": layout.notation.area(area)}


def _place(layout: Layout, at: Point) -> dict[str, float]:
    there = layout.frame.to_file(at)
    return {"north": _number(layout, there.north), "east": _number(layout, there.east)}


def _pieces(layout: Layout, room: Room) -> list[dict[str, Any]]:
    parts = [part for part in shapely.get_parts(room.region) if isinstance(part, shapely.Polygon) and not part.is_empty]
    return [
        {
            "corners": _ring(layout, part.exterior),
            "holes": [_ring(layout, shapely.LinearRing(hole.coords)) for hole in part.interiors],
        }
        for part in parts
    ]


def _ring(layout: Layout, ring: shapely.LinearRing) -> list[dict[str, float]]:
    return [_place(layout, Point(float(x), float(y))) for x, y in ring.coords[:-1]]


def _margin(layout: Layout, margin: Margin) -> dict[str, Any]:
    return {
        "rule": margin.rule,
        "of": margin.of,
        "what": margin.what,
        "required": _length(layout, margin.required),
        "room": _length(layout, margin.room),
    }


def _way(layout: Layout, way: Way) -> dict[str, Any]:
    return {
        "way": way.name,
        "reach": None if math.isinf(way.reach) else _length(layout, way.reach),
        "stopped_by": None if way.stop is None else {"rule": way.stop.rule, "of": way.stop.of, "what": way.stop.what},
        "clears_at": None if way.clears_at is None else _length(layout, way.clears_at),
    }


def _best_json(layout: Layout, best: Place, entries: Entries | None) -> dict[str, Any]:
    right = layout.slab.form.pose.right
    return {
        "corner": _place(layout, best.corner),
        "right": _length(layout, best.by.dot(right)),
        "away": _length(layout, best.by.dot(right.left())),
        "least": _length(layout, best.least),
        "margins": [_margin(layout, margin) for margin in best.margins],
        "toml": "\n".join(_toml(layout, entries, best)) if entries else None,
    }


def _collision_json(layout: Layout, collision: Collision) -> dict[str, Any]:
    pair = collision.size > 0
    return {
        "rules": [_margin(layout, rule) for rule in collision.rules],
        "short": _length(layout, collision.short),
        "size": _length(layout, collision.size) if pair else None,
        "left": _length(layout, collision.left) if pair else None,
        "text": _collision(layout, collision),
    }
