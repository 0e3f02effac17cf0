"""Which names and which coordinates does a list of [[stakeout]] hold, and what keeps it from being written?

A name that the form cannot take is never cut. It is replaced by the lowest number that no point of the site bears, and
what was replaced by what is kept. Grid and ground are one scaled into the other about a point that stays:

    grid = point + factor x (ground - point)        factor = grid distance / ground distance

where the point is the one named under `about`, else north 0, east 0, as is usual for coordinates that an office calls
scaled to ground (common practice, no source). Elevations are not scaled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from staking.layout.computed import Layout
from staking.sitefile.coordinates_declared import Coordinates
from staking.sitefile.stakeout_declared import StakeList
from staking.survey.points import Point


@dataclass(frozen=True, slots=True)
class Names:
    """changed: for each name that the form cannot take, the new one. left: those for which there is no number."""

    changed: Mapping[str, str]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Scaling:
    """From the values of the site file to those of a list: stretched by `factor` about a place that stays [m]."""

    values: str
    factor: float
    about: Point

    def apply(self, north: float, east: float) -> tuple[float, float]:
        """North and east in the list [m]. With the factor 1 not a bit changes."""
        if self.factor == 1:
            return north, east
        centre = self.about
        return centre.north + (north - centre.north) * self.factor, centre.east + (east - centre.east) * self.factor


def listed(layout: Layout, asked: StakeList) -> tuple[str, ...]:
    """The names of the points of a list, in its order."""
    given = tuple(layout.points) if asked.points == "all" else ()
    return given + tuple(stake.name for stake in layout.stakes)


def names_of(layout: Layout, asked: StakeList) -> Names:
    """Names that the form of a list can take, for all that it cannot."""
    refused = [name for name in listed(layout, asked) if not _fits(name, asked)]
    free = _free_numbers(layout, asked.longest_name)
    changed = dict(zip(refused, free, strict=False))
    return Names(changed, tuple(refused[len(changed) :]))


def _fits(name: str, asked: StakeList) -> bool:
    digits = name.isascii() and name.isdecimal()
    short = asked.longest_name is None or len(name) <= asked.longest_name
    whole = asked.delimiter != "space" or " " not in name
    return short and whole and (digits or asked.point_names == "any")


def _free_numbers(layout: Layout, longest: int | None) -> Iterator[str]:
    used = {*layout.points, *(stake.name for stake in layout.stakes)}
    numbers = range(1, 10 ** min(longest or 9, 9))
    return (str(number) for number in numbers if str(number) not in used)


def scaling_of(layout: Layout, asked: StakeList) -> Scaling | None:
    """How the values of the site file become those asked for; None where the factor between them is not known."""
    stated = layout.site.declared.coordinates
    here = stated.values if stated else "ground"
    wanted = asked.values or here
    if wanted == here:
        return Scaling(here, 1.0, Point(0.0, 0.0))
    if stated is None or "combined_factor" not in stated.model_fields_set:
        return None
    factor = stated.combined_factor if wanted == "grid" else 1 / stated.combined_factor
    if asked.about:
        return Scaling(wanted, factor, layout.frame.to_file(layout.points[asked.about].at))
    return Scaling(wanted, factor, _stated_place(layout, stated))


def _stated_place(layout: Layout, stated: Coordinates) -> Point:
    """The place that [coordinates] says is scaled about, in the file's values [m]; else the origin."""
    if stated.scaled_about is None:
        return Point(0.0, 0.0)
    # pyproj is slow to import: only lists on a stated ground system pay for it
    from staking.layout.positions import ground_system  # noqa: PLC0415

    return ground_system(layout, stated).about


def obstacles(layout: Layout, asked: StakeList) -> Iterator[tuple[str, str]]:
    """Why a list cannot be written, each with what to do."""
    if scaling_of(layout, asked) is None:
        yield (
            f"{asked.values} values are asked for, and the combined factor is not known",
            "write combined_factor in [coordinates], as the surveyor gives it, or take values out",
        )
    stated = layout.site.declared.coordinates
    if stated and stated.truncated and asked.values not in (None, "", stated.values):
        yield (
            f"{asked.values} values are asked for, and a constant is taken off the ground values",
            f"take values out, and write all files by `staking make SITE --in {asked.values}`",
        )
    if left := names_of(layout, asked).left:
        yield (
            f"no number of {asked.longest_name} digits is left for {left[0]}",
            "allow a larger longest_name, or name fewer points",
        )
    unknown = _unknown_elevation(layout, asked)
    if asked.delimiter == "space" and "elevation" in asked.columns and unknown:
        yield (
            f"the elevation of {unknown} is not known, and between blanks an empty column would be lost",
            "take elevation out of columns, or choose another delimiter",
        )


def _unknown_elevation(layout: Layout, asked: StakeList) -> str:
    given = [(name, point.at.up) for name, point in layout.points.items()] if asked.points == "all" else []
    stakes = [(stake.name, stake.at.up) for stake in layout.stakes]
    return next((name for name, up in (*given, *stakes) if up is None), "")
