"""The lot on the ground, the lines its sides make, and the areas that must stay clear."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from staking.errors import RuleError
from staking.kinds.ground import ON_LINE, BaseLine
from staking.kinds.slab import SHORTEST
from staking.layout.computed import KeptClear, Lot, LotSide, NamedPoint
from staking.layout.trouble import Trouble
from staking.sitefile.declared import AlongSide, AroundPoint, KeepClear, Site
from staking.survey.lines import Line
from staking.survey.points import Point
from staking.survey.polygons import first_fault, line_string, polygon, sides_of, signed_area

ROUND = 64  # chords a quarter circle: the edge of a 25 ft strip is drawn within 0.6 mm; margins do not use it


def lot_of(site: Site, points: Mapping[str, NamedPoint], trouble: Trouble) -> Lot | None:
    """The lot by its corners; None where the file has none."""
    declared = site.declared.lot
    if declared is None:
        return None
    corners = tuple(points[name].at for name in declared.corners)
    with trouble.at("lot", "corners"):
        _refuse_faults(corners, declared.corners)
    trouble.stop()
    names = declared.corners
    sides = tuple(
        LotSide(name, line, names[i], names[(i + 1) % len(names)])
        for i, (name, line) in enumerate(zip(declared.sides, sides_of(corners), strict=True))
    )
    return Lot(corners, sides, declared.given_by or "", abs(signed_area(corners)))


def _refuse_faults(corners: tuple[Point, ...], names: tuple[str, ...]) -> None:
    fault = first_fault(corners, SHORTEST)
    if fault is None:
        return
    what, a, b = fault
    first, second = (f"{names[i]} to {names[(i + 1) % len(names)]}" for i in (a, b))
    sentences = {
        "short": f"the lot side {first} has no length",
        "spike": f"the lot side {second} runs back along {first}",
        "touching": f"the lot sides {first} and {second} touch",
        "crossing": f"the lot sides {first} and {second} cross",
    }
    raise RuleError(sentences[what], code="lot-faulty", remedy="name the corners in order around the lot, each once")


def lot_lines(site: Site, lot: Lot | None) -> tuple[dict[str, BaseLine], dict[str, str]]:
    """The base lines "lot front" and so on; and for sides that are not straight, why they are none."""
    lines: dict[str, BaseLine] = {}
    bent: dict[str, str] = {}
    if lot is None:
        return lines, bent
    inside_left = signed_area(lot.corners) > 0
    for name in dict.fromkeys(side.name for side in lot.sides):
        pieces = _in_order([side for side in lot.sides if side.name == name])
        line = Line(pieces[0].line.start, pieces[-1].line.end)
        off = max(abs(line.offset(piece.line.end)) for piece in pieces)
        joined = all(a.end_name == b.start_name for a, b in pairwise(pieces))
        if off > ON_LINE or not joined:
            bent[f"lot {name}"] = f'the lot side "{name}" is not one straight line'
            continue
        left = line.direction.left()
        lines[f"lot {name}"] = BaseLine(
            f"lot {name}",
            line,
            pieces[0].start_name,
            pieces[-1].end_name,
            given_by=lot.given_by,
            inside=left if inside_left else left.reversed(),
            required=site.declared.setbacks.get(name),
        )
    return lines, bent


def _in_order(pieces: list[LotSide]) -> list[LotSide]:
    """Pieces of one side from its beginning, also where the side runs over the end of the list of corners."""
    ends = {piece.end_name for piece in pieces}
    first = next((i for i, piece in enumerate(pieces) if piece.start_name not in ends), 0)
    return pieces[first:] + pieces[:first]


def kept_clear(site: Site, points: Mapping[str, NamedPoint], lot: Lot | None) -> tuple[KeptClear, ...]:
    """The shapes of [[keep_clear]], in file order."""
    return tuple(_area(area, points, lot) for area in site.declared.keep_clear)


def _area(area: KeepClear, points: Mapping[str, NamedPoint], lot: Lot | None) -> KeptClear:
    if isinstance(area, AroundPoint):
        centre = points[area.around].at
        return KeptClear(
            area.name, shapely.Point(centre.east, centre.north).buffer(area.radius, ROUND), centre, area.radius
        )
    if isinstance(area, AlongSide):
        strip = shapely.union_all(side_strips(lot, area.along, area.width))
        inside = strip.intersection(polygon(lot.corners)) if lot else strip
        return KeptClear(area.name, inside, along=area.along, width=area.width)
    return KeptClear(area.name, polygon([points[name].at for name in area.points]))


def side_strips(lot: Lot | None, name: str, width: float) -> list[BaseGeometry]:
    """Everything within a width [m] of the pieces of a lot side."""
    pieces = [side.line for side in lot.sides if side.name == name] if lot else []
    return [line_string(line).buffer(width, ROUND) for line in pieces]


def buildable_area(site: Site, lot: Lot | None, clear: tuple[KeptClear, ...]) -> BaseGeometry | None:
    """The lot less every setback strip, less the areas to keep clear; None without a lot."""
    if lot is None:
        return None
    taken = [area.shape for area in clear]
    for name, width in site.declared.setbacks.items():
        if width > 0:
            taken.extend(side_strips(lot, name, width))
    return polygon(lot.corners).difference(shapely.union_all(taken)) if taken else polygon(lot.corners)
