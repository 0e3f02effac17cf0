"""Earth dug and filled, in place: how much, and of what is it made up?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.layout.computed import Layout
from staking.layout.earth import Earth, PieceEarth
from staking.sheets.takeoff_row import Row, volume_row
from staking.survey.triangles import NOTHING

GROUP = "Earth"
TERMS = 8  # a longer sum is not written out
NO_EARTH = 0.005  # cubic metres; what would be written as 0.00 or 0.01


def earth_rows(layout: Layout) -> Iterator[Row]:
    """Dug, part by part and together, and filled; none where no ground or no subgrade is known."""
    earth = layout.earth
    if earth is None or not earth.pieces:
        return
    dug = dug_apart(layout, earth)
    for name, volume, how in dug:
        yield volume_row(layout, GROUP, name, volume, how or _straight(layout, earth))
    if len(dug) > 1:
        terms = " + ".join(layout.notation.volume(volume) for _, volume, _ in dug)
        yield volume_row(layout, GROUP, "dug in all", sum(volume for _, volume, _ in dug), terms)
    how = "where the ground lies lower than the subgrade; without what is put back around the concrete"
    yield volume_row(layout, GROUP, "filled under the concrete", earth.total.fill, how)


def dug_apart(layout: Layout, earth: Earth) -> list[tuple[str, float, str]]:
    """What is dug: name, volume in place [m3], where it lies. Each place counts once, for the deepest there."""
    rows = [("dug straight down, below slab and parts", earth.total.cut, "")]
    if earth.pit is None:
        return rows
    if layout.site.declared.overdig:
        rows.append(("dug beside that, room to work in and sloped sides", earth.beside, "outside the concrete"))
    if earth.pit.footings:
        rows.append(("trenches of footings", earth.pit.trenches, "below and beside what is dug for slab and parts"))
    return rows


def _straight(layout: Layout, earth: Earth) -> str:
    """The cut of every piece, summed by name, where they are few."""
    base = layout.site.declared.earthwork.base
    below = f" less {layout.notation.length(base)} of base" if base else ""
    how = f"from the ground down to the underside{below}, by triangles"
    names = dict.fromkeys(piece.name for piece in earth.pieces if piece.volume.cut > NO_EARTH)
    if not 1 < len(names) <= TERMS:
        return how
    return f"{how}: {' + '.join(f'{name} {_cut(layout, earth.pieces, name)}' for name in names)}"


def _cut(layout: Layout, pieces: tuple[PieceEarth, ...], name: str) -> str:
    return layout.notation.volume(sum((piece.volume for piece in pieces if piece.name == name), NOTHING).cut)
