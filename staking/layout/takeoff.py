"""From a solved slab to what its quantities are counted from; only where the site file asks for any."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from staking.errors import RuleError
from staking.kinds.slab import CHORD
from staking.layout.boards import Ends, corners_of, runs_of
from staking.layout.computed import NamedPoint, Slab
from staking.layout.design import Design
from staking.layout.form_heights import Beside, form_heights
from staking.layout.quantities import Solid, Takeoff, counted_twice, solid
from staking.layout.surfaces import surface_of
from staking.layout.trouble import Trouble
from staking.layout.walls import gaps, walls_of
from staking.sitefile.declared import Site
from staking.survey.paths import flattened
from staking.survey.points import Point, Vector
from staking.survey.polygons import polygon
from staking.survey.surface import Plane

ALIKE = 1e-6  # square metres; areas that differ by less are one


def asked(site: Site) -> bool:
    """Whether the site file declares anything that quantities are made of."""
    declared = site.declared
    tables = (declared.forms, declared.concrete, declared.base, declared.vapour_sheet, *declared.reinforcement)
    return any(table is not None for table in tables)


def takeoff_of(
    site: Site,
    slab: Slab,
    points: Mapping[str, NamedPoint],
    design: Design | None,
    trouble: Trouble,
    *,
    beside: Beside,
) -> Takeoff | None:
    """What quantities are counted from; None where none is asked for. Without a floor the slab is taken as level."""
    if not asked(site):
        return None
    level = Plane(Point(0.0, 0.0), 0.0, Vector(0.0, 0.0))
    poured = design or surface_of(site, slab, points, level, trouble)
    form, declared = slab.form, site.declared
    below = (*poured.footings, *walls_of(form, declared.slab.footings, poured, trouble))
    complete = all(piece.volume is not None for piece in (*poured.pieces, *below))
    extent = _extent(slab)
    _refuse_covers(site, extent, trouble)
    forms = declared.forms
    ends = Ends(forms.size[0], forms.kind == "panels", forms.inside_corner) if forms else Ends(0.0)
    runs, openings = runs_of(form, ends, forms.opening_allowance) if forms else ((), ())
    beside = beside if design else replace(beside, ground=None)
    return Takeoff(
        solids=tuple(_with_arcs(solid(piece), slab) for piece in (*poured.pieces, *below)) if complete else (),
        twice=counted_twice(below, poured.pieces) if complete else 0.0,
        extent=extent,
        area=slab.area,
        base=_base_area(site, slab),
        runs=runs,
        openings=openings,
        corners=corners_of(form),
        heights=form_heights(form, poured, beside) if forms else (),
        gaps=tuple(gaps(form, declared.slab.footings, poured)),
    )


def _with_arcs(found: Solid, slab: Slab) -> Solid:
    """What is the whole slab has its area with true arcs: within their chords a round one lacks a square decimetre."""
    return replace(found, area=slab.area) if abs(found.area - float(slab.form.shape.area)) < ALIKE else found


def _extent(slab: Slab) -> tuple[float, float]:
    """Of the slab along its own front, and away from it [m]."""
    west, south, east, north = polygon(flattened(slab.form.outline.pieces, CHORD)).bounds
    return east - west, north - south


def _refuse_covers(site: Site, extent: tuple[float, float], trouble: Trouble) -> None:
    for index, steel in enumerate(site.declared.reinforcement):
        with trouble.at("reinforcement", index):
            if 2 * steel.cover >= min(extent):
                raise RuleError("the cover leaves nothing of the slab", key="cover", remedy="a smaller cover")
    trouble.stop()


def _base_area(site: Site, slab: Slab) -> float:
    """Of the base course [m2], reaching past slab and parts; 0 where there is none."""
    base = site.declared.base
    return float(slab.form.whole.buffer(base.beyond, join_style="mitre").area) if base else 0.0
