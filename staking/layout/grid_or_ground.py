"""The same layout in the other values of its system: ground written from grid, or grid from ground.

Solved anew from the given points carried over, so every file is in one kind of values. Slow to import, like pyproj.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Literal

from staking.errors import OutputError, PositionError
from staking.layout.computed import Layout
from staking.layout.positions import ground_system
from staking.layout.solve import solve
from staking.sitefile.coordinates_declared import Coordinates, ScaledAbout
from staking.sitefile.declared import GivenPoint
from staking.survey.ground_systems import GroundSystem
from staking.survey.points import Point
from staking.survey.projected_systems import system

_SAY = 'give crs, combined_factor and scaled_about = "origin" (or the point) in [coordinates]'


def in_values(layout: Layout, values: Literal["grid", "ground"]) -> Layout:
    """The layout in grid or ground values of its system; itself where it is in those already.

    Raises OutputError where the site file does not say how its ground values are made, where the system is none, and
    where a fit is declared, since its measured points belong to the values of the file.
    """
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        raise OutputError("a local site has neither grid nor ground values of a system", _SAY)
    if stated.values == values:
        return layout
    if layout.fitted is not None:
        raise OutputError(f"a site with a fit is not written in {values} values", "write --in given or --in measured")
    if stated.scaled_about is None:
        raise OutputError(f"{values} values cannot be made: the place that is scaled about is not said", _SAY)
    try:
        system(stated.crs)
    except PositionError as error:
        raise OutputError(error.message, error.remedy) from None
    ground = ground_system(layout, stated)
    move = ground.to_ground if values == "ground" else ground.to_grid
    given = {name: _at(point, move(Point(point.east, point.north))) for name, point in layout.site.given.items()}
    return _solved(layout, _other(stated, values, ground), given)


def _at(point: GivenPoint, place: Point) -> GivenPoint:
    return point.model_copy(update={"north": place.north, "east": place.east})


def _other(stated: Coordinates, values: str, ground: GroundSystem) -> Coordinates:
    """The same table for the other values: the factor is the one used, and the place scaled about is on the grid."""
    about = stated.scaled_about
    if about is None or about.point != "origin":
        about = ScaledAbout(north=ground.about.north, east=ground.about.east)
    update = {"values": values, "combined_factor": ground.factor, "scaled_about": about}
    return stated.model_copy(update=update)  # the keys updated count as set, as if the file gave them


def _solved(layout: Layout, stated: Coordinates, given: Mapping[str, GivenPoint]) -> Layout:
    declared = layout.site.declared.model_copy(update={"coordinates": stated})
    return solve(replace(layout.site, declared=declared, given=MappingProxyType(given), written=stated.values))
