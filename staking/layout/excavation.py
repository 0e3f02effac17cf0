"""Where does the edge of the excavation lie, and where may boards and offset stakes stand beside it?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from types import MappingProxyType

import shapely

from staking.kinds.slab import Form
from staking.kinds.stakes.placing import ANYWHERE, KeptOut
from staking.layout.computed import Lot
from staking.layout.design import Design
from staking.layout.earth import Excavation, Rim
from staking.layout.frames import Frame
from staking.layout.ground import Surfaces, triangles_under
from staking.layout.pit import FARTHEST, Pit, pit_of
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.survey.lines import Line
from staking.survey.overlays import united
from staking.survey.points import Point, Vector, moved
from staking.survey.polygons import line_string, ring_corners

# run over height, for excavations under 20 ft: 29 CFR 1926 Subpart P App. B, table B-1, as restated in public;
# depth times slope is the largest where soils differ, so the steeper figure is never taken
SLOPES = MappingProxyType({"rock": 0.0, "A": 0.75, "B": 1.0, "C": 1.5})
STEP_FEET, STEP_METRES = 0.0762, 0.05  # metres (3 in, 5 cm): a distance that is made longer ends on a multiple of it
SHARES = (1.0, 0.75, 0.5, 0.25)  # of the distance from the edge, where the lot leaves no more; own choice
APART = 0.3  # metres; a stake that is moved stands no nearer to another one; own choice
ON_EDGE = 1e-6  # metres; stakes so near to where they may stand do


def slope_of(site: Site) -> float:
    """Run over height of the sides; 0 without [overdig]."""
    asked = site.declared.overdig
    if asked is None:
        return 0.0
    return SLOPES[asked.soil] if asked.soil is not None else asked.slope or 0.0


def surfaces_of(site: Site, frame: Frame, form: Form, design: Design | None, trouble: Trouble) -> Surfaces:
    """The ground as it is and as it is to be, and the pit: without [overdig] straight down.

    Raises SolveError where no surface can be made of the points.
    """
    existing, finished = (triangles_under(site, frame, state, trouble) for state in ("existing", "finished"))
    if design is None or existing is None:
        return Surfaces(existing, finished, None)
    room = site.declared.overdig.room if site.declared.overdig else 0.0
    base = site.declared.earthwork.base
    return Surfaces(existing, finished, pit_of(form, design, existing, base, (room, slope_of(site))))


def excavation_of(site: Site, form: Form, design: Design | None, pit: Pit | None) -> Excavation | None:
    """The edge of the excavation; None without [overdig], or where nothing says how deep it is."""
    asked = site.declared.overdig
    if asked is None or (asked.depth is None and pit is None):
        return None
    if asked.depth is not None or pit is None:
        depth = asked.depth or 0.0
        concrete = united([form.whole, *(piece.shape for piece in (design.footings if design else ()))])
        grown = shapely.buffer(concrete, asked.room + depth * slope_of(site), join_style="mitre")
        edge, stated = shapely.Polygon(grown.exterior), True
    else:
        depth, edge, stated = pit.depth, pit.edge, False
    return Excavation(
        depth, slope_of(site), edge, tuple(_rim(form, side, edge) for side in range(len(form.sides))), stated
    )


def _rim(form: Form, side: int, edge: shapely.Polygon) -> Rim:
    """Measured square out from both ends of a side, and from wherever the edge bends beside it."""
    line, out = form.sides[side], form.outward(side)
    bends = (line.along(corner) for corner in ring_corners(edge.exterior))
    stations = [0.0, *sorted(each for each in bends if 0 < each < line.length), line.length]
    reaches = [_reach(line.at(each), out, edge) for each in stations]
    return Rim(form.outline.chord_label(side), reaches[0], reaches[-1], min(reaches), max(reaches))


def _reach(start: Point, out: Vector, edge: shapely.Polygon) -> float:
    """How far a ray runs inside the edge [m]; 0 where it begins outside, as on the chord of an arc that turns in."""
    ray = Line(start, moved(start, out, 4 * FARTHEST))
    runs = []
    for part in shapely.get_parts(shapely.intersection(line_string(ray), edge)):
        along = [ray.along(Point(east, north)) for east, north in shapely.get_coordinates(part).tolist()]
        runs.append((min(along), max(along)))
    first, last = min(runs, default=(0.0, 0.0))
    return last if first < ON_EDGE else 0.0


def kept_out(site: Site, excavation: Excavation | None, lot: Lot | None) -> KeptOut:
    """Where boards and offset stakes may stand: so far beyond the edge as [overdig] boards asks, and on the lot.

    Where the lot leaves no room for that, three, two or one quarter of it on the lot; else all of it, off the lot.
    """
    asked = site.declared.overdig
    if asked is None or excavation is None:
        return ANYWHERE
    bands = [excavation.edge.buffer(asked.boards * share - ON_EDGE) for share in SHARES]
    land = lot.shape if lot else shapely.box(*excavation.edge.buffer(4 * FARTHEST).bounds)
    for shape in (*bands, land):
        shapely.prepare(shape)

    def at_home(band: shapely.Polygon) -> Callable[[Sequence[Point]], bool]:
        return lambda places: land.covers(_drawn(places)) and not band.intersects(_drawn(places))

    step = STEP_METRES if site.declared.site.unit == "m" else STEP_FEET
    return KeptOut((*map(at_home, bands), lambda places: not bands[0].intersects(_drawn(places))), step)


def beside(kept: KeptOut, taken: Sequence[Point]) -> KeptOut:
    """The same, and not on stakes that are placed already."""
    if not kept.wishes or not taken:
        return kept
    stakes = shapely.MultiPoint([(place.east, place.north) for place in taken])
    return replace(kept, free=lambda places: stakes.distance(_drawn(places)) > APART)


def _drawn(places: Sequence[Point]) -> shapely.Point | shapely.LineString:
    """One place, or the boards from each to the next."""
    coords = [(place.east, place.north) for place in places]
    return shapely.Point(coords[0]) if len(coords) == 1 else shapely.LineString(coords)
