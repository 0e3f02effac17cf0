"""Does it matter on this slab whether a distance is on the grid or on the ground?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.errors import PositionError
from staking.layout.computed import Layout

_SIXTEENTHS = 192  # of a foot


def scale_lines(layout: Layout) -> Iterator[str]:
    """The factors with their parts, and what they come to over the longest distance of the slab.

    Nothing for sites that name no system or no factor, or lie where no factor can be computed.
    """
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        return
    # pyproj is slow to import: only sites that name a system pay for it
    from staking.layout.factors import factors_of  # noqa: PLC0415

    try:
        found = factors_of(layout)
    except PositionError:
        return  # the check of the position says it
    if found is None:
        return
    high = f"{layout.notation.decimal(found.height, 1)} {layout.site.unit.name}"
    by = f"computed by {found.by}, {high}" if found.by else f"as given, which belongs to an ellipsoid height of {high}"
    yield (
        f"grid scale {found.grid_scale:.8f} x elevation factor {found.elevation:.8f} = combined factor "
        f"{found.combined:.8f}, {by}"
    )
    longest = max(
        [*(side.chord for side in layout.sides), *(diagonal.length for diagonal in layout.diagonals)], default=0.0
    )
    yield (
        f"grid against ground over the slab: {layout.notation.both(longest)} on the ground is "
        f"{_small(layout, longest * (found.combined - 1))} on the grid"
    )


def _small(layout: Layout, more: float) -> str:
    word = "longer" if more > 0 else "shorter"
    if layout.site.unit.name == "m":
        return f"{abs(more) * 1000:.1f} mm {word}"
    return f"{abs(more) / float(layout.site.unit.metres) * _SIXTEENTHS:.1f} sixteenths of an inch {word}"
