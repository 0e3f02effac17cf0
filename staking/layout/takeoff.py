"""From a solved slab to what its quantities are counted from; only where the site file asks for any."""

from __future__ import annotations

from collections.abc import Mapping

import shapely

from staking.errors import RuleError
from staking.kinds.slab import CHORD
from staking.layout.boards import runs_of
from staking.layout.computed import NamedPoint, Slab
from staking.layout.design import Design
from staking.layout.quantities import Takeoff, counted_twice, solid
from staking.layout.surfaces import surface_of
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.survey.paths import flattened
from staking.survey.points import Point, Vector
from staking.survey.polygons import polygon
from staking.survey.surface import Plane


def asked(site: Site) -> bool:
    """Whether the site file declares anything that quantities are made of."""
    declared = site.declared
    tables = (declared.forms, declared.concrete, declared.base, declared.vapour_sheet, *declared.reinforcement)
    return any(table is not None for table in tables)


def takeoff_of(
    site: Site, slab: Slab, points: Mapping[str, NamedPoint], design: Design | None, trouble: Trouble
) -> Takeoff | None:
    """What quantities are counted from; None where none is asked for. Without a floor the slab is taken as level."""
    if not asked(site):
        return None
    level = Plane(Point(0.0, 0.0), 0.0, Vector(0.0, 0.0))
    poured = design or surface_of(site, slab, points, level, trouble)
    form, declared = slab.form, site.declared
    known = [piece for piece in (*poured.pieces, *poured.footings) if piece.volume is not None]
    complete = len(known) == len(poured.pieces) + len(poured.footings)
    own = polygon(flattened(form.outline.pieces, CHORD)).bounds
    extent = (own[2] - own[0], own[3] - own[1])
    for index, steel in enumerate(declared.reinforcement):
        with trouble.at("reinforcement", index):
            if 2 * steel.cover >= min(extent):
                raise RuleError("the cover leaves nothing of the slab", key="cover", remedy="a smaller cover")
    trouble.stop()
    base, forms = declared.base, declared.forms
    runs, openings = runs_of(form, forms.size[0], forms.opening_allowance) if forms else ((), ())
    grown = form.whole.buffer(base.beyond, join_style="mitre") if base else shapely.Polygon()
    return Takeoff(
        solids=tuple(solid(piece) for piece in known) if complete else (),
        twice=counted_twice(poured.footings, poured.pieces) if complete else 0.0,
        extent=extent,
        area=slab.area,
        base=float(grown.area),
        runs=runs,
        openings=openings,
    )
