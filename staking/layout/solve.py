"""The table of contents of the job: from what is declared to everything that follows from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from staking.errors import PositionError, RuleError
from staking.kinds.ground import BaseLine, Ground
from staking.layout.computed import Layout, NamedPoint
from staking.layout.diagonals import diagonals_of
from staking.layout.excavation import excavation_of, kept_out, surfaces_of
from staking.layout.form_heights import Beside
from staking.layout.frames import Frame, frame_about
from staking.layout.grades import grades_of, raised
from staking.layout.ground import corners_of, earth_of
from staking.layout.level_setups import setups_of, tops_of
from staking.layout.lots import buildable_area, kept_clear, lot_lines, lot_of, refuse_crossed_areas, with_corners
from staking.layout.margins import margins_of
from staking.layout.names import corner_names
from staking.layout.references import with_references
from staking.layout.setting_out import stakes_of
from staking.layout.slabs import slab_of
from staking.layout.surfaces import design_of
from staking.layout.systems import fitted_of
from staking.layout.takeoff import takeoff_of
from staking.layout.ties import double_ties_of, side_lengths, ties_of
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Site
from staking.survey.points import Point


def solve(site: Site) -> Layout:
    """Everything that follows from a site file. Raises SolveError, with every mistake of the step it stopped at."""
    trouble = Trouble(site)
    frame = _frame(site, trouble)
    given = _points(site, frame)
    lot = lot_of(site, given, trouble)
    refuse_crossed_areas(site, given, trouble)
    points = with_corners(given, lot)
    lines, bent = lot_lines(site, lot)
    bare = Ground({name: p.at for name, p in points.items()}, lines, lot.drawn if lot else (), bent, site.turn)
    ground = with_references(site, bare, trouble)
    slab = slab_of(site, ground, trouble)
    clear = kept_clear(site, points, lot)
    design = design_of(site, slab, points, trouble)
    surfaces = surfaces_of(site, frame, slab.form, design, trouble)
    excavation = excavation_of(site, slab.form, design, surfaces.pit)
    beside = Beside(surfaces.existing, excavation is not None, slab.thickness)
    stakes, boards = stakes_of(site, slab.form, trouble, kept_out(site, excavation, lot))
    names = corner_names(slab.form, stakes, points)
    stakes = raised(stakes, design, slab.form)
    crossings, diagonals = diagonals_of(slab.form, names, points)
    grades = grades_of(design, slab.form, names, stakes, site.notation.length)
    return Layout(
        site=site,
        frame=frame,
        points=points,
        lines=ground.lines,
        lot=lot,
        slab=slab,
        buildable=buildable_area(site, lot, clear),
        kept_clear=clear,
        margins=margins_of(site, lot, ground.lines, clear, slab),
        stakes=stakes,
        boards=boards,
        corner_names=names,
        sides=side_lengths(slab.form, names),
        crossings=crossings,
        diagonals=diagonals,
        fitted=fitted_of(site, frame, dict(zip(names, slab.form.corners, strict=True))),
        ties=ties_of(slab.form, names, ground.lines),
        double_ties=double_ties_of(
            slab.form, names, tuple(points.values()), site.declared.tape.length, _firm(site, ground.lines)
        ),
        design=design,
        grades=grades,
        setups=setups_of(site, points, stakes, trouble),
        stake_tops=tops_of(site, stakes, trouble),
        takeoff=takeoff_of(site, slab, points, design, trouble, beside=beside),
        earth=earth_of(site, surfaces, design, slab.form, grades or corners_of(slab.form, names)),
        excavation=excavation,
    )


def _firm(site: Site, lines: Mapping[str, BaseLine]) -> frozenset[str]:
    """The given points that surely stand on the ground as marks: lot corners, pins found, ends of lines.

    Corners that a record's calls lead to are computed, and may bear no mark.
    """
    ends = {name for base in lines.values() for name in (base.start_name, base.end_name)}
    declared = site.declared.lot
    marks = {*declared.corners, declared.start, *declared.found.values()} if declared else set()
    return frozenset((ends | marks) & site.given.keys())


def _frame(site: Site, trouble: Trouble) -> Frame:
    """The frame of the file's numbers: scaled only where they are grid values."""
    frame = frame_about((Point(p.east, p.north) for p in site.given.values()), 1.0)
    stated = site.declared.coordinates
    if stated is None or stated.values == "ground":
        return frame
    if stated.factor_given or not stated.height_given:
        return replace(frame, factor=stated.combined_factor)
    # pyproj is slow to import: only sites that have a factor computed pay for it
    from staking.layout.factors import factors_by_height  # noqa: PLC0415

    factor = 1.0
    with trouble.at("coordinates"):
        try:
            factor = factors_by_height(stated, frame.anchor).combined
        except PositionError as error:
            raise RuleError(f"no combined factor: {error.message}", remedy=error.remedy) from None
    trouble.stop()
    return replace(frame, factor=factor)


def _points(site: Site, frame: Frame) -> dict[str, NamedPoint]:
    """Every given point on the ground, in file order."""
    corners = set(site.declared.lot.corners) if site.declared.lot else set()
    return {
        name: NamedPoint(
            name,
            frame.to_ground(Point(p.east, p.north, p.elevation)),
            p.note,
            p.given_by,
            lot_corner=name in corners,
        )
        for name, p in site.given.items()
    }
