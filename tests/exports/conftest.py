"""Sites to export, invented, and a drawing of each made by hand."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.findings import Place
from staking.layout.computed import Layout
from staking.layout.solve import solve
from staking.sitefile.declared import Declared, Site

FINGERPRINT = "0f" * 32
SHED = """
[site]
name = "Tamarack Road equipment shed"
revision = "B"
unit = "{unit}"
{coordinates}
[points]
P1 = {{ north = {north}, east = {east}, elevation = 412.07, note = "5/8 rebar found" }}
P2 = {{ north = {north}, east = {east120}, note = "=SUM(A1:A9)" }}
P3 = {{ north = {north150}, east = {east120}, elevation = 0.0 }}
P4 = {{ north = {north150}, east = {east}, note = "hub, 1/2\\" down; \\"north\\"" }}
W1 = {{ north = {north80}, east = {east15}, note = "well" }}
[lot]
corners = ["P1", "P2", "P3", "P4"]
sides = ["front", "east", "rear", "west"]
[setbacks]
front = 25
east = 7.5
rear = 20
[[keep_clear]]
name = "well"
around = "W1"
radius = 10
[[references]]
name = "shop wall"
kind = "parallel"
to = "lot front"
distance = 130
toward = "P3"
[slab]
width = 36
depth = 48.5
[[slab.parts]]
name = "ramp"
kind = "ramp"
side = "front"
from = "front-left"
start = 10
width = 12
depth = 4
[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = 40
corner = "front-right"
from = "lot east"
clear = 9.25
[[stakes]]
kind = "corners"
[[stakes]]
kind = "offsets"
distance = 5
[[stakes]]
kind = "batter_boards"
back = 9
[[stakes]]
kind = "along"
spacing = 10
"""
OREGON = """[coordinates]
crs = "EPSG:6559"
values = "grid"
combined_factor = 0.99985
"""

MakeLayout = Callable[..., Layout]


def shed(unit: str, coordinates: str, *, north: float, east: float, **changes: Any) -> Layout:
    """The shed, its lot's first corner at north, east [unit]. changes: keys of the site file to put in place."""
    ways = {f"north{way}": north + way for way in (80, 150)} | {f"east{way}": east + way for way in (15, 120)}
    text = SHED.format(unit=unit, coordinates=coordinates, north=north, east=east, **ways)
    return solve(_site(tomllib.loads(text) | changes, unit))


def _site(table: dict[str, Any], unit: str) -> Site:
    declared = Declared.model_validate(table, context={"unit": unit})
    return Site(
        declared,
        given=dict(declared.points),
        file="site.toml",
        fingerprint=FINGERPRINT,
        sources={"site.toml": FINGERPRINT},
        locate=lambda path: Place("site.toml", 7, key=".".join(map(str, path))),
    )


@pytest.fixture
def make_layout() -> MakeLayout:
    """Builds the shed: its unit, coordinate table, first corner, and changes of the table by key."""

    def made(
        unit: str = "ft", coordinates: str = "", *, north: float = 1204.3237, east: float = 3310.55, **changes: Any
    ) -> Layout:
        return shed(unit, coordinates, north=north, east=east, **changes)

    return made


@pytest.fixture
def local(make_layout: MakeLayout) -> Layout:
    """In feet, without a coordinate system."""
    return make_layout()


@pytest.fixture
def oregon(make_layout: MakeLayout) -> Layout:
    """On the state plane of Oregon North in international feet, grid values."""
    return make_layout("ft", OREGON, north=812_345.6789, east=7_654_321.0123)


def drawn(layout: Layout) -> Drawing:
    """A plan with a mark of every kind."""
    symbols = [SymbolMark("CORNER", stake.at, stake.name) for stake in layout.stakes]
    symbols += [SymbolMark("GIVEN", point.at, point.name, "given") for point in layout.points.values()]
    slab = layout.slab.form
    lot = layout.lot.corners if layout.lot else ()
    tie = layout.ties[0]
    first = slab.sides[0]
    marks: list[Mark] = [
        PathMark("LOT", lot, closed=True),
        PathMark("SLAB", slab.corners, closed=True, filled=True),
        PathMark("STRING", (slab.corners[0], slab.corners[2])),
        LineMark("TIE", tie.at, tie.foot, arrows=True),
        SymbolMark("TIE", tie.foot, "", "foot"),
        *(CircleMark("KEEP-CLEAR", area.centre, area.radius) for area in layout.kept_clear if area.centre),
        TextMark("DIMENSION", first.at(first.length / 2), "36′ 0½″", along=270.0, side=180.0),
        TextMark("NOTE", slab.corners[3], "square 90°"),
    ]
    return Drawing((*marks, *symbols), "plan")


@pytest.fixture
def drawing() -> Callable[[Layout], Drawing]:
    """Draws a layout by hand."""
    return drawn
