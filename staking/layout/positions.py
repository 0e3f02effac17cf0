"""In which system, if any, a site's numbers are places on the earth.

Slow to import, like pyproj itself: only who needs it opens it.
"""

from __future__ import annotations

from staking.errors import PositionError
from staking.layout.computed import Layout
from staking.survey.projections import System, system

_NO_SYSTEM = "the site's coordinates are local, so its place on the earth is not known"
_NAME_SYSTEM = 'name the system in [coordinates], crs = "EPSG:...", and say values = "grid" or "ground"'


def position(layout: Layout) -> System:
    """The system in which the site file's numbers are true as they stand. Raises PositionError where there is none."""
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        raise PositionError(_NO_SYSTEM, _NAME_SYSTEM)
    if stated.values == "ground" and "combined_factor" not in stated.model_fields_set:
        raise PositionError(
            f"the site's numbers are ground values, and how they differ from the grid of {stated.crs} is not said",
            'give grid values and say values = "grid"; where grid and ground are one, say combined_factor = 1',
        )
    if stated.values == "ground" and stated.combined_factor != 1:
        raise PositionError(
            "ground values cannot be put on the earth without the origin of their scaling",
            'give grid values and say values = "grid"',
        )
    return system(stated.crs)
