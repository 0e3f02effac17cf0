"""The lot on the ground, the lines its sides make, and the areas that must stay clear."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from staking.errors import RuleError
from staking.kinds.ground import ON_LINE, BaseLine
from staking.kinds.slab import CHORD, SHORTEST
from staking.layout.computed import KeptClear, Lot, LotSide, NamedPoint
from staking.layout.records import RecordReport, lay_out, slip_words
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.sitefile.lot_declared import AlongSide, AroundPoint, InsidePoints, KeepClear
from staking.survey.lines import Line
from staking.survey.overlays import shared, united, without
from staking.survey.paths import Arc, Piece, flattened, path_area, pieces_of
from staking.survey.paths import first_fault as path_fault
from staking.survey.polygons import first_fault, polygon

ROUND = 64  # chords a quarter circle: the edge of a 25 ft strip is drawn within 0.6 mm; margins do not use it


def lot_of(site: Site, points: Mapping[str, NamedPoint], trouble: Trouble) -> Lot | None:
    """The lot by its corners, or by a record's courses; None where the file has none."""
    declared = site.declared.lot
    if declared is None:
        return None
    if declared.courses:
        places = {name: point.at for name, point in points.items()}
        pieces, names, record = lay_out(declared, places, trouble, turn=site.turn)
        sides: Sequence[str] = [course.side for course in declared.courses]
    else:
        names, sides, record = declared.corners, declared.sides, None
        pieces = pieces_of(tuple(points[name].at for name in names), site.bulges)
    with trouble.at("lot", "courses" if record else "corners"):
        _refuse_faults(pieces, names, record)
    trouble.stop()
    joined = zip(sides, pieces, names, (*names[1:], names[0]), strict=True)
    return Lot(
        corners=tuple(piece.start for piece in pieces),
        sides=tuple(LotSide(side, piece, start, end) for side, piece, start, end in joined),
        given_by=declared.given_by or "",
        area=abs(path_area(pieces)),
        record=record,
    )


def with_corners(points: Mapping[str, NamedPoint], lot: Lot | None) -> dict[str, NamedPoint]:
    """All points, with the lot's corners that only a record knows."""
    result = dict(points)
    for side in lot.sides if lot else ():
        if side.start_name not in result:
            note = "lot corner by the record"
            result[side.start_name] = NamedPoint(side.start_name, side.piece.start, note, lot_corner=True)
    return result


def _refuse_faults(pieces: Sequence[Piece], names: Sequence[str], record: RecordReport | None) -> None:
    straight = not any(isinstance(piece, Arc) for piece in pieces)
    fault = first_fault([p.start for p in pieces], SHORTEST) if straight else path_fault(pieces, SHORTEST)
    if fault is None:
        return
    remedy = "name the corners in order around the lot, each once"
    if record is not None:
        remedy = f"compare the calls with the record. {slip_words(record)}".strip()
    raise RuleError(_fault_words("the lot", names, fault), code="lot-faulty", remedy=remedy)


def _fault_words(whose: str, names: Sequence[str], fault: tuple[str, int, int]) -> str:
    """What is wrong with the sides of a ring of named corners."""
    what, a, b = fault
    first, second = (f"{names[i]} to {names[(i + 1) % len(names)]}" for i in (a, b))
    return {
        "short": f"the side {first} of {whose} has no length",
        "spike": f"the side {second} of {whose} runs back along {first}",
        "touching": f"the sides {first} and {second} of {whose} touch",
        "crossing": f"the sides {first} and {second} of {whose} cross",
    }[what]


def refuse_crossed_areas(site: Site, points: Mapping[str, NamedPoint], trouble: Trouble) -> None:
    """Raise SolveError for areas to keep clear and features whose named corners make no plain ring."""
    declared = site.declared
    rings = [
        *(
            ("keep_clear", i, "points", it.name, it.points)
            for i, it in enumerate(declared.keep_clear)
            if isinstance(it, InsidePoints)
        ),
        *(("features", i, "outline", it.name, it.outline) for i, it in enumerate(declared.features) if it.outline),
    ]
    for table, index, key, name, corners in rings:
        fault = first_fault([points[corner].at for corner in corners], SHORTEST)
        with trouble.at(table, index):
            if fault:
                words = _fault_words(f'"{name}"' if name else "the outline", corners, fault)
                remedy = "name the corners in order around it, each once"
                raise RuleError(words, key=key, code="outline-faulty", remedy=remedy)
    trouble.stop()


def lot_lines(site: Site, lot: Lot | None) -> tuple[dict[str, BaseLine], dict[str, str]]:
    """The base lines "lot front" and so on; and for sides that are not straight, why they are none."""
    lines: dict[str, BaseLine] = {}
    bent: dict[str, str] = {}
    if lot is None:
        return lines, bent
    inside_left = path_area(lot.pieces) > 0
    for name in dict.fromkeys(side.name for side in lot.sides):
        pieces = _in_order([side for side in lot.sides if side.name == name])
        line = Line(pieces[0].line.start, pieces[-1].line.end)
        off = max(abs(line.offset(piece.line.end)) for piece in pieces)
        joined = all(a.end_name == b.start_name for a, b in pairwise(pieces))
        curved = any(isinstance(piece.piece, Arc) for piece in pieces)
        if off > ON_LINE or curved or not joined:
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
            required=_required(site, name),
        )
    return lines, bent


def _required(site: Site, name: str) -> float | None:
    rule = site.declared.setbacks.get(name)
    return None if rule is None else rule.required


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
        strip = united(side_strips(lot, area.along, area.width))
        inside = shared(strip, lot.shape) if lot else strip
        return KeptClear(area.name, inside, along=area.along, width=area.width)
    return KeptClear(area.name, polygon([points[name].at for name in area.points]))


def side_strips(lot: Lot | None, name: str, width: float) -> list[BaseGeometry]:
    """Everything within a width [m] of the pieces of a lot side."""
    pieces = [side.piece for side in lot.named(name)] if lot else []
    return [as_shape(piece).buffer(width, ROUND) for piece in pieces]


def as_shape(piece: Piece) -> shapely.LineString:
    """A piece of a boundary as shapely needs it: an arc as chords."""
    return shapely.LineString([(p.east, p.north) for p in flattened([piece], CHORD)])


def buildable_area(site: Site, lot: Lot | None, clear: tuple[KeptClear, ...]) -> BaseGeometry | None:
    """The lot less every setback strip, less the areas to keep clear; None without a lot."""
    if lot is None:
        return None
    taken = [area.shape for area in clear]
    for name, rule in site.declared.setbacks.items():
        if rule.required > 0:
            taken.extend(side_strips(lot, name, rule.required))
    # one after another: what reaches out of the lot is never joined to anything
    left: BaseGeometry = lot.shape
    for shape in taken:
        left = without(left, shape)
    return left
