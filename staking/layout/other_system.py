"""The same layout in the system in which its points were measured: solved anew from the points carried over."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from staking.errors import OutputError
from staking.layout.computed import Layout
from staking.layout.solve import solve
from staking.sitefile.coordinates_declared import ORIGIN, Coordinates
from staking.sitefile.declared import GivenPoint, Site
from staking.survey.points import Point


def in_measured(layout: Layout) -> Layout:
    """The layout with every coordinate and bearing in the measured system; lengths on the ground stay as they are.

    With fit.scale coordinates are stretched too. Elevations are shifted only with fit.heights = "shift". Raises
    OutputError where the site file holds no fit that can be used.
    """
    fitted = layout.fitted
    if fitted is None or fitted.systems is None:
        raise OutputError(
            "the site file holds no fit to a measured system that could be used",
            "`staking fit SITE MEASURED.csv --write NEW.toml` writes one that does; `staking check SITE` says what "
            "is wrong",
        )
    site = layout.site
    lift = fitted.heights.shift if fitted.heights and fitted.asked.heights == "shift" else 0.0
    given = {name: _carried(layout, point, lift) for name, point in site.given.items()}
    stated = site.declared.coordinates
    scale = fitted.systems.similarity.scale
    coordinates = Coordinates.model_construct(
        crs="",
        values="grid" if scale != 1 else "ground",
        combined_factor=scale,
        vertical=stated.vertical if stated and not lift else "",
        _fields_set={"values", "combined_factor"} if scale != 1 else {"values"},
    )
    plan = site.declared.plan
    raised = {
        key: value + lift
        for key in ("floor_elevation", "street_elevation")
        if (value := getattr(plan, key)) is not None
    }
    floor = site.declared.floor
    if floor is not None and floor.elevation is not None:
        floor = floor.model_copy(update={"elevation": floor.elevation + lift})
    tops = site.declared.stake_tops
    tops = tops.model_copy(update={"elevations": {name: up + lift for name, up in tops.elevations.items()}})
    moved = {"plan": plan.model_copy(update=raised), "floor": floor, "stake_tops": tops}
    declared = site.declared.model_copy(update={"coordinates": coordinates, "pairs": (), **moved})
    turned: Site = replace(
        site,
        declared=declared,
        given=MappingProxyType(given),
        levelled=tuple(run.lifted(lift) for run in site.levelled),
        ground=MappingProxyType({name: _carried(layout, point, lift) for name, point in site.ground.items()}),
        system="measured",
        turn=fitted.systems.similarity.turn,
    )
    return replace(solve(turned), fitted=fitted)


def _carried(layout: Layout, point: GivenPoint, lift: float) -> GivenPoint:
    assert layout.fitted is not None  # noqa: S101 # asked for only where there is a fit
    assert layout.fitted.systems is not None  # noqa: S101
    at = layout.fitted.systems.similarity.apply(layout.frame.to_ground(Point(point.east, point.north)))
    up = None if point.elevation is None else point.elevation + lift
    return point.model_copy(update={"north": at.north, "east": at.east, "elevation": up})


def system_words(layout: Layout) -> str:
    """Which of the two systems the coordinates are in, and how it was got; empty where a site has only one."""
    fitted = layout.fitted
    if fitted is None:
        return ""
    if layout.site.system == "given" or fitted.systems is None:
        return "given system"
    systems = fitted.systems
    date = f" on {fitted.asked.date.isoformat()}" if fitted.asked.date else ""
    scale = f"scale {systems.similarity.scale:.8f} applied" if fitted.asked.scale else "no scale applied"
    heights = "shifted" if fitted.asked.heights == "shift" and fitted.heights else "as given"
    return (
        f"measured system, fitted at {len(fitted.used)} points{date}: turned {systems.similarity.turn:+.5f} degrees "
        f"clockwise, {scale}, elevations {heights}"
    )


def ground_words(layout: Layout) -> str:
    """How the ground values of a layout were made from grid ones; empty for grid values, and where it is not said."""
    stated = layout.site.declared.coordinates
    if stated is None or stated.values != "ground" or stated.scaled_about is None:
        return ""
    write, unit, about, off = layout.notation.coordinate, layout.site.unit.name, stated.scaled_about, stated.truncated
    place = "the origin" if about.point == ORIGIN else about.point
    if about.north is not None and about.east is not None:
        place = f"grid north {write(about.north)}, east {write(about.east)} {unit}"
    taken = f", then north {write(off.north)}, east {write(off.east)} {unit} taken off" if off else ""
    return f"grid / {stated.combined_factor:.8g} about {place}{taken}"


def file_name(name: str, layout: Layout) -> str:
    """The name of a file, with its system where that is another than the site file's: instruments show no words."""
    other = "measured" if layout.site.system == "measured" else layout.site.written
    stem, _, suffix = name.rpartition(".")
    return f"{stem}_{other}.{suffix}" if other else name
