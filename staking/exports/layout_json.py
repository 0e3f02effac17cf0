"""What was computed, all of it, for another program to read?

Every length is there twice: as a number in the site's unit (6 decimals) and as the text that is printed. Coordinates
are in the file's frame; areas are in squares of the site's unit; directions are degrees clockwise from north. Where
stakes are withheld, no coordinate of a stake and no tie that would set one out is given, and the findings that
withhold them are named.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from pathlib import PurePath
from typing import Any

import shapely

from staking.exports.ground_json import ground_json, surface_json
from staking.exports.rows import PointRow, given_rows, stake_rows
from staking.findings import Finding, Severity
from staking.kinds.slab import Form
from staking.layout.computed import Layout
from staking.layout.other_system import system_words
from staking.layout.records import RecordReport
from staking.survey.paths import Arc
from staking.survey.points import Point, azimuth_of

DECIMALS = 6  # of numbers for programs; a thousandth of a millimetre or less
FORMAT = 1  # raised when a reader of the file would have to change

Json = dict[str, Any]


def layout_json(
    layout: Layout,
    findings: Sequence[Finding],
    *,
    withheld: bool = False,
    despite: Sequence[str] = (),
    stakeout: Sequence[Json] = (),
) -> bytes:
    """The layout as JSON. withheld: leave out where stakes stand. despite: codes of findings that were overruled.

    stakeout: what each list of stakes holds, and in which form.
    """
    content = {
        "format": FORMAT,
        "site": _site(layout),
        "frame": frame_facts(layout),
        "stakes_withheld": withheld,
        "withheld_because": _stops(findings, despite) if withheld else [],
        "despite": list(despite),
        "findings": [_finding(finding) for finding in findings],
        "points": [_row(layout, row) for row in given_rows(layout)],
        "lot": _lot(layout),
        "references": _references(layout),
        "slab": _slab(layout, withheld=withheld),
        "margins": [_margin(layout, index, withheld=withheld) for index in range(len(layout.margins))],
        "buildable_area": _areas(layout, layout.buildable),
        "keep_clear": [{"name": area.name, "areas": _areas(layout, area.shape)} for area in layout.kept_clear],
        "stakes": [_stake(layout, index, row, withheld=withheld) for index, row in enumerate(stake_rows(layout))],
        "stakeout": list(stakeout),
        "batter_boards": [] if withheld else [_board(layout, index) for index in range(len(layout.boards))],
        "heights": _heights(layout, withheld=withheld),
        "ground": None if layout.earth is None else ground_json(layout, layout.earth, withheld=withheld),
        "sides": _sides(layout),
        "diagonals": _diagonals(layout),
        "ties": [] if withheld else _ties(layout),
        "double_ties": [] if withheld else _double_ties(layout),
    }
    return (json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def _stops(findings: Sequence[Finding], despite: Sequence[str]) -> list[str]:
    """Codes of the stops that nobody overruled."""
    return sorted({finding.code for finding in findings if finding.severity is Severity.STOP} - set(despite))


def frame_facts(layout: Layout) -> Json:
    """What the coordinates of every file count in, and from where."""
    stated = layout.site.declared.coordinates
    which = {"system": layout.site.system, "system_words": system_words(layout)} if layout.fitted else {}
    return which | {
        "unit": layout.site.unit.name,
        "unit_words": layout.site.unit.words,
        "unit_metres": str(layout.site.unit.metres),
        "crs": (stated.crs if stated else "") or None,
        "values": stated.values if stated else "ground",
        "combined_factor": _factor(layout),
        **_ground(layout),
        "vertical": (stated.vertical if stated else "") or None,
        "anchor": _place(layout, Point(0.0, 0.0)),
    }


def _ground(layout: Layout) -> Json:
    """How ground values are made from grid ones, where the site file says it; in the site's unit."""
    stated = layout.site.declared.coordinates
    if stated is None or stated.scaled_about is None:
        return {}
    about, off = stated.scaled_about, stated.truncated
    by_place = about.north is not None and about.east is not None
    place = {"north": _number(layout, about.north or 0.0), "east": _number(layout, about.east or 0.0)}
    return {
        "scaled_about": place if by_place else about.point,
        "truncated": {"north": _number(layout, off.north), "east": _number(layout, off.east)} if off else None,
    }


def _factor(layout: Layout) -> float | None:
    """The combined factor, as given or as computed; None where there is none."""
    stated = layout.site.declared.coordinates
    if stated is None or not (stated.factor_given or stated.height_given):
        return None
    return stated.combined_factor if stated.factor_given else layout.frame.factor


def _site(layout: Layout) -> Json:
    about = layout.site.declared.site
    return {
        "name": about.name,
        "address": about.address,
        "lot": about.lot,
        "owner": about.owner,
        "prepared_by": about.prepared_by,
        "date": about.date.isoformat() if about.date else None,
        "revision": layout.site.revision,
        "file": PurePath(layout.site.file).name,
        "fingerprints": dict(layout.site.sources),
        "fingerprint": layout.site.fingerprint,
    }


def _finding(finding: Finding) -> Json:
    place = finding.place
    return {
        "code": finding.code,
        "severity": finding.severity.words,
        "message": finding.message,
        "remedy": finding.remedy,
        "place": {"file": PurePath(place.file).name, "line": place.line, "key": place.key} if place else None,
    }


def _number(layout: Layout, metres: float) -> float:
    return float(layout.notation.decimal(metres, DECIMALS))


def _length(layout: Layout, metres: float) -> Json:
    return {"value": _number(layout, metres), "text": layout.notation.length(metres)}


def _direction(layout: Layout, azimuth: float) -> Json:
    return {"azimuth": round(azimuth, 9), "text": layout.notation.bearing(azimuth)}


def _square(layout: Layout, square_metres: float) -> Json:
    size = float(layout.site.unit.metres) ** 2
    return {"value": round(square_metres / size, DECIMALS), "text": layout.notation.area(square_metres)}


def _place(layout: Layout, ground: Point) -> Json:
    at = layout.frame.to_file(ground)
    return {"north": _number(layout, at.north), "east": _number(layout, at.east)}


def _row(layout: Layout, row: PointRow) -> Json:
    north, east = _number(layout, row.north), _number(layout, row.east)
    up = None if row.elevation is None else _number(layout, row.elevation)
    return {"name": row.name, "north": north, "east": east, "elevation": up, "kind": row.kind, "note": row.note}


def _stake(layout: Layout, index: int, row: PointRow, *, withheld: bool) -> Json:
    stake, side_names = layout.stakes[index], layout.slab.form.outline
    places = {"north": None, "east": None, "elevation": None} if withheld else {}
    side = side_names.side_label(stake.side) if stake.side is not None else None
    corner = side_names.corner_label(stake.corner) if stake.corner is not None else None
    return _row(layout, row) | places | {"side": side, "corner": corner, "part": stake.part or None}


def _lot(layout: Layout) -> Json | None:
    if layout.lot is None:
        return None
    sides = [
        {
            "name": side.name,
            "from": side.start_name,
            "to": side.end_name,
            "length": _length(layout, side.piece.length),
            "direction": _direction(layout, azimuth_of(side.line.direction)),
        }
        | (_arc(layout, side.piece) if isinstance(side.piece, Arc) else {})
        for side in layout.lot.sides
    ]
    lot = {"given_by": layout.lot.given_by, "area": _square(layout, layout.lot.area), "sides": sides}
    return lot if layout.lot.record is None else lot | {"record": _record(layout, layout.lot.record)}


def _arc(layout: Layout, arc: Arc) -> Json:
    return {
        "radius": _length(layout, arc.radius),
        "chord": _length(layout, arc.chord.length),
        "turn": "left" if arc.left else "right",
        "angle": round(arc.sweep, 9),
        "centre": _place(layout, arc.centre),
    }


def _record(layout: Layout, record: RecordReport) -> Json:
    """How the courses of a record close, and how the pins found fit them."""
    gap = record.closure
    closing = {
        "north": _number(layout, gap.north),
        "east": _number(layout, gap.east),
        "distance": _length(layout, gap.distance),
        "perimeter": _length(layout, gap.perimeter),
        "one_part_in": None if gap.ratio is None else round(gap.ratio),
    }
    if record.fit is None:
        return {"misclosure": closing}
    pins = [
        {"corner": corner, "north": _number(layout, left.north), "east": _number(layout, left.east)}
        for corner, left in zip(record.pins, record.fit.residuals, strict=True)
    ]
    fit = {"turn": round(record.fit.similarity.turn, 9), "scale": round(record.fit.scale, 9), "residuals": pins}
    return {"misclosure": closing, "fit": fit}


def _references(layout: Layout) -> list[Json]:
    return [
        {
            "name": line.name,
            "given_by": line.given_by,
            "start": _place(layout, line.line.start),
            "end": _place(layout, line.line.end),
            "off_the_line": {name: _length(layout, off) for name, off in line.residuals},
        }
        for line in layout.lines.values()
        if line.inside is None
    ]


def _slab(layout: Layout, *, withheld: bool) -> Json:
    slab, form = layout.slab, layout.slab.form
    outline = [
        {"name": name, "label": form.outline.corner_label(index)}
        | ({} if withheld else _place(layout, corner) | _bulge(form, index))
        for index, (name, corner) in enumerate(zip(layout.corner_names, form.corners, strict=True))
    ]
    parts = [
        {"name": name} | ({} if withheld else {"corners": [_place(layout, corner) for corner in corners]})
        for name, corners in form.parts
    ]
    return {
        "area": _square(layout, slab.area),
        "ledge": _length(layout, slab.ledge),
        "thickness": None if slab.thickness is None else _length(layout, slab.thickness),
        "corners": outline,
        "parts": parts,
    }


def _bulge(form: Form, index: int) -> Json:
    """Of the side that leaves a corner, tan(angle/4), positive where it turns left; nothing where it is straight."""
    bulge = form.outline.bulges[index] if form.outline.bulges else 0.0
    return {"bulge": round(bulge, 9)} if bulge else {}


def _margin(layout: Layout, index: int, *, withheld: bool) -> Json:
    margin = layout.margins[index]
    places = {} if withheld else {"at": _place(layout, margin.at), "foot": _place(layout, margin.foot)}
    return {
        "rule": margin.rule,
        "of": margin.of,
        "what": margin.what,
        "distance": _length(layout, margin.distance),
        "required": _length(layout, margin.required),
        "room": _length(layout, margin.room),
        "severity": margin.severity.words,
        "uncertainty": None if margin.uncertainty is None else _length(layout, margin.uncertainty),
    } | places


def _areas(layout: Layout, shape: shapely.Geometry | None) -> list[list[Json]]:
    """The outer rings of a shape, first corner not repeated."""
    pieces = [] if shape is None else [p for p in shapely.get_parts(shape) if isinstance(p, shapely.Polygon)]
    return [_ring(layout, piece.exterior.coords[:-1]) for piece in pieces if not piece.is_empty]


def _ring(layout: Layout, coordinates: Iterable[tuple[float, ...]]) -> list[Json]:
    return [_place(layout, Point(coordinate[0], coordinate[1])) for coordinate in coordinates]


def _board(layout: Layout, index: int) -> Json:
    board = layout.boards[index]
    return {
        "side": layout.slab.form.outline.side_label(board.side),
        "posts": [_place(layout, post) for post in board.posts],
        "nail": _place(layout, board.nail),
    }


def _heights(layout: Layout, *, withheld: bool) -> Json | None:
    """The floor, the design height of every corner, mark and recess, and the surface; None without [floor]."""
    if layout.design is None or withheld:
        return None
    points = {grade.name: _number(layout, grade.up) for grade in layout.grades}
    floor = layout.design.floor
    named = {"floor": _number(layout, floor.up), "fall": floor.steepness, "points": points}
    return named | {"surface": surface_json(layout, layout.design)}


def _sides(layout: Layout) -> list[Json]:
    return [
        {
            "label": side.label,
            "from": side.start,
            "to": side.end,
            "length": _length(layout, side.length),
            "direction": _direction(layout, side.azimuth),
            "chord": _length(layout, side.chord),
            "radius": None if side.radius is None else _length(layout, side.radius),
        }
        for side in layout.sides
    ]


def _diagonals(layout: Layout) -> list[Json]:
    return [
        {"from": line.start, "to": line.end, "of": line.of, "length": _length(layout, line.length)}
        for line in layout.diagonals
    ]


def _ties(layout: Layout) -> list[Json]:
    return [
        {
            "corner": tie.corner,
            "line": tie.line,
            "distance": _length(layout, tie.distance),
            "along": _length(layout, tie.along),
            "along_from": tie.from_name,
            "beyond": tie.beyond,
        }
        for tie in layout.ties
    ]


def _double_ties(layout: Layout) -> list[Json]:
    return [
        {
            "corner": tie.corner,
            "first": tie.first,
            "first_distance": _length(layout, tie.first_distance),
            "second": tie.second,
            "second_distance": _length(layout, tie.second_distance),
            "angle": round(tie.angle, 9),
            "hand": tie.hand,
        }
        for tie in layout.double_ties
    ]
