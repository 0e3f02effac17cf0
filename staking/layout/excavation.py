"""Where does the edge of the excavation lie, so that boards and offset stakes stand outside it?"""

from __future__ import annotations

from types import MappingProxyType

import shapely

from staking.kinds.slab import Form
from staking.kinds.stakes import Offsets
from staking.kinds.stakes.batter_boards import BatterBoards
from staking.layout.design import Design
from staking.layout.earth import Excavation
from staking.sitefile.declared import Site, StakesKind
from staking.survey.triangles import Triangles

# run over height, for excavations under 20 ft: 29 CFR 1926 Subpart P App. B, table B-1, as restated in public;
# depth times slope is the largest where soils differ, so the steeper figure is never taken
SLOPES = MappingProxyType({"rock": 0.0, "A": 0.75, "B": 1.0, "C": 1.5})


def excavation_of(site: Site, form: Form, design: Design | None, triangles: Triangles | None) -> Excavation | None:
    """The edge of the excavation; None without [overdig], or where nothing says how deep it is."""
    asked = site.declared.overdig
    if asked is None:
        return None
    depth = asked.depth if asked.depth is not None else _deepest(site, form, design, triangles)
    if depth is None:
        return None
    slope = SLOPES[asked.soil] if asked.soil is not None else asked.slope or 0.0
    concrete = [form.whole, *(piece.shape for piece in (design.footings if design else ()))]
    reach = asked.room + depth * slope
    edge = shapely.buffer(shapely.union_all(concrete), reach, join_style="mitre")
    return Excavation(depth, slope, reach, shapely.Polygon(edge.exterior))


def _deepest(site: Site, form: Form, design: Design | None, triangles: Triangles | None) -> float | None:
    """The greatest cut at a corner of the formed outline, footings counted; None where nothing is known."""
    if design is None or triangles is None:
        return None
    lowest = [piece.bottom.up for piece in design.footings if piece.bottom]
    cuts = []
    for corner in form.corners:
        ground, bottom = triangles.height(corner), design.bottom(corner.east, corner.north)
        deep = min([*lowest, *([bottom - site.declared.earthwork.base] if bottom is not None else [])], default=None)
        if ground is not None and deep is not None:
            cuts.append(ground - deep)
    return max(0.0, *cuts) if cuts else None


def kept_out(wanted: StakesKind, excavation: Excavation | None, boards: float) -> StakesKind:
    """An entry of stakes with its boards or offsets moved out of the excavation, and so much beyond it [m]."""
    if excavation is None:
        return wanted
    least = excavation.reach + boards
    if isinstance(wanted, Offsets) and wanted.distance < least:
        return wanted.model_copy(update={"distance": least})
    if isinstance(wanted, BatterBoards) and wanted.back < least:
        return wanted.model_copy(update={"back": least})
    return wanted
