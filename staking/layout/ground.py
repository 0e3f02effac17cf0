"""How high is the ground at every corner and stake, and how much earth is moved under the slab?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from staking.errors import RuleError
from staking.kinds.slab import Form
from staking.layout.design import Design, Grade, Piece
from staking.layout.earth import Earth, Level, PieceEarth, Section, Spot
from staking.layout.frames import Frame
from staking.layout.pit import Pit
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.sitefile.ground_declared import GroundState
from staking.survey.earthwork import apart_at_zero, end_area_volume
from staking.survey.lines import Line
from staking.survey.points import Point, Vector, moved, vector
from staking.survey.surface import Plane
from staking.survey.triangles import Array, GroundError, Stretch, Triangles, Volume, triangles_of

INSIDE = 0.002  # metres; a section along a side runs so far inside it, so that the side itself is not missed
CELL_FEET, CELL_METRES = 0.3048, 0.25  # metres, where the site file does not say; own choice
MOST_CELLS = 250_000
MOST_SECTIONS = 500


@dataclass(frozen=True)
class Surfaces:
    """The ground as it is and as it is to be, and the pit between it and the design; None where not known."""

    existing: Triangles | None
    finished: Triangles | None
    pit: Pit | None


def triangles_under(site: Site, frame: Frame, state: GroundState, trouble: Trouble) -> Triangles | None:
    """The surface of the ground as it is or is to be; None where no [[ground]] tells.

    Raises SolveError where no surface can be made.
    """
    sources = [(at, each) for at, each in enumerate(site.declared.ground) if each.state == state]
    if not sources:
        return None
    points = site.ground if state == "existing" else site.finished
    names = list(points)
    places = [frame.to_ground(Point(p.east, p.north, p.elevation)) for p in points.values()]
    index = {name: number for number, name in enumerate(names)}
    lines = [[index[name] for name in line.points] for _, each in sources for line in each.break_lines]
    made: Triangles | None = None
    with trouble.at("ground", sources[0][0]):
        try:
            made = triangles_of(np.array([(p.east, p.north, p.up) for p in places], dtype=float), lines)
        except GroundError as error:
            which = " and ".join(" - ".join(names[number] for number in group) for group in error.names)
            words = f"{error}: {which}" if which else str(error)
            what = "the ground" if state == "existing" else "the finished ground"
            raise RuleError(f"no surface of {what}: {words}", remedy=_REMEDIES[bool(lines)]) from None
    trouble.stop()
    return made


_REMEDIES = (
    "correct the points, or measure more of them, all round the slab",
    "correct the points, or take the break line out; ends of break lines that meet share one point",
)  # without break lines, and with them


def earth_of(
    site: Site, surfaces: Surfaces, design: Design | None, form: Form, listed: Sequence[Grade]
) -> Earth | None:
    """Spots, volumes and sections; None without [[ground]]. listed: corners and stakes, with their design heights."""
    triangles, finished = surfaces.existing, surfaces.finished
    if triangles is None:
        return None
    spots = tuple(_spot(surfaces, design, site.declared.earthwork.base, each) for each in listed)
    sections = tuple(_sections(triangles, design, form, site.declared.earthwork.base))
    earth = Earth(triangles, len(site.ground), spots, sections=sections, finished=finished)
    deep = [(p, p.bottom.lowered(site.declared.earthwork.base)) for p in (design.pieces if design else ()) if p.bottom]
    if design is None or len(deep) < len(design.pieces):
        return earth
    cell = cell_of(site)
    return replace(
        earth,
        pieces=tuple(PieceEarth(p.name, p.kind, p.shape.area, triangles.volume(p.shape, b)) for p, b in deep),
        grid=by_grid(triangles, deep, form.sides[0], cell),
        ends=by_end_areas(triangles, deep, form.sides[0], cell),
        pit=surfaces.pit,
    )


def cell_of(site: Site) -> float:
    """Side of the cells and distance between the sections that check a volume [m]."""
    return site.declared.earthwork.cell or (CELL_METRES if site.declared.site.unit == "m" else CELL_FEET)


def corners_of(form: Form, names: Sequence[str]) -> tuple[Grade, ...]:
    """The corners of the formed outline without heights, for a site without a floor."""
    corners = enumerate(zip(names, form.corners, strict=True))
    return tuple(Grade(name, at, "corner", form.outline.corner_label(index)) for index, (name, at) in corners)


def _spot(surfaces: Surfaces, design: Design | None, base: float, of: Grade) -> Spot:
    ground, finished = (each.height(of.at) if each else None for each in (surfaces.existing, surfaces.finished))
    piece = design.piece(of.at) if design else None
    bottom = piece.bottom if piece else None
    under = None if bottom is None else bottom.height(of.at) - base
    return Spot(of.name, of.kind, of.what, of.at, ground, of.at.up if design else None, under, finished)


Deep = Sequence[tuple[Piece, Plane]]  # pieces with their subgrades


def by_grid(triangles: Triangles, deep: Deep, along: Line, cell: float) -> Volume:
    """The volume by square cells parallel to a side: each counts whole where its middle lies on the piece, with the
    height in its middle. Cells are made larger where there would be too many. Source: common practice, no source.
    """
    total = Volume(0.0, 0.0, 0.0)
    for piece, plane in deep:
        middles, area = _cells(piece.shape, along, cell)
        inside = middles[shapely.contains_xy(piece.shape, middles[:, 0], middles[:, 1])]
        over = triangles.heights(inside) - np.array([plane.height(Point(e, n)) for e, n in inside.tolist()])
        over = over[~np.isnan(over)]
        cut, fill = float(over[over > 0].sum()), float(-over[over < 0].sum())
        total = total + Volume(cut * area, fill * area, len(over) * area)
    return total


def _cells(shape: shapely.Polygon, along: Line, cell: float) -> tuple[Array, float]:
    """Middles of the cells over a shape, and the area of one."""
    extents = [_extent(shape, along.start, way) for way in (along.direction, along.direction.left())]
    size = max(cell, math.sqrt(math.prod(high - low for low, high in extents) / MOST_CELLS))
    ways = [np.arange(low + size / 2, high + size / 2, size) for low, high in extents]
    right, away = (each.ravel() for each in np.meshgrid(*ways))
    step = along.direction
    east = along.start.east + right * step.east - away * step.north
    return np.column_stack([east, along.start.north + right * step.north + away * step.east]), size * size


def _extent(shape: shapely.Polygon, start: Point, way: Vector) -> tuple[float, float]:
    """From where to where a shape reaches along a direction, counted from a place [m]."""
    steps = [vector(start, Point(e, n)).dot(way) for e, n in shapely.get_coordinates(shape).tolist()]
    return min(steps), max(steps)


def by_end_areas(triangles: Triangles, deep: Deep, along: Line, spacing: float) -> Volume:
    """The volume by sections square to a side, at most so far apart [m], one at each end of every piece; average end
    areas, each area exact. Source: as `staking.survey.earthwork.end_area_volume`.
    """
    total = Volume(0.0, 0.0, 0.0)
    for piece, plane in deep:
        low, high = _extent(piece.shape, along.start, along.direction)
        count = min(MOST_SECTIONS, max(2, math.ceil((high - low) / spacing) + 1))
        stations = np.linspace(low + INSIDE, high - INSIDE, count).tolist()
        away = _extent(piece.shape, along.start, along.direction.left())
        lines = [_across(along, station, away) for station in stations]
        areas = [_section_areas(triangles, piece.shape, plane, line) for line in lines]
        ends = [low, *stations[1:-1], high]
        total = total + Volume(*(end_area_volume(ends, [area[index] for area in areas]) for index in range(3)))
    return total


def _across(along: Line, station: float, away: tuple[float, float]) -> Line:
    at, left = moved(along.start, along.direction, station), along.direction.left()
    return Line(moved(at, left, away[0] - 1), moved(at, left, away[1] + 1))


def _section_areas(
    triangles: Triangles, shape: shapely.Polygon, plane: Plane, line: Line
) -> tuple[float, float, float]:
    """Areas of cut and fill of a section [m2], and how much of its length is covered [m]."""
    cut = fill = covered = 0.0
    for each in _within(triangles.along(line.start, line.end), _intervals(shape, line)):
        over = [up - plane.height(line.at(at)) for at, up in ((each.start, each.start_up), (each.end, each.end_up))]
        more, less = apart_at_zero(each.end - each.start, *over)
        cut, fill, covered = cut + more, fill + less, covered + each.end - each.start
    return cut, fill, covered


def _intervals(shape: shapely.Polygon, line: Line) -> list[tuple[float, float]]:
    """From where to where a line runs inside a shape [m from its beginning]."""
    drawn = shapely.LineString([(line.start.east, line.start.north), (line.end.east, line.end.north)])
    found = []
    for part in shapely.get_parts(shapely.intersection(drawn, shape)):
        ends = [line.along(Point(e, n)) for e, n in shapely.get_coordinates(part).tolist()]
        if ends and max(ends) - min(ends) > INSIDE / 2:
            found.append((min(ends), max(ends)))
    return sorted(found)


def _within(stretches: Sequence[Stretch], intervals: Sequence[tuple[float, float]]) -> Iterator[Stretch]:
    for low, high in intervals:
        for each in stretches:
            start, end = max(low, each.start), min(high, each.end)
            if end > start:
                rise = (each.end_up - each.start_up) / (each.end - each.start)
                ups = (each.start_up + (at - each.start) * rise for at in (start, end))
                yield Stretch(start, end, *ups)


def _sections(triangles: Triangles, design: Design | None, form: Form, base: float) -> Iterator[Section]:
    for index, side in enumerate(form.sides):
        inward = form.outward(index).reversed()
        line = Line(moved(side.start, inward, INSIDE), moved(side.end, inward, INSIDE))
        concrete = [level for piece in (design.pieces if design else ()) for level in _levels(piece, line, base)]
        ground = triangles.along(line.start, line.end)
        concrete.sort(key=lambda level: level.start)
        yield Section(form.outline.chord_label(index), side.length, ground, tuple(concrete))


def _levels(piece: Piece, line: Line, base: float) -> Iterator[Level]:
    for start, end in _intervals(piece.shape, line):
        ends = line.at(start), line.at(end)
        top = piece.top.height(ends[0]), piece.top.height(ends[1])
        bottom = piece.bottom.lowered(base) if piece.bottom else None
        yield Level(start, end, top, (bottom.height(ends[0]), bottom.height(ends[1])) if bottom else None)
