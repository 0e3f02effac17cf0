"""The one table of layers: what each is called, how it looks on paper, on screen and in a DXF.

Line widths survive a phone photo and greys survive a black-and-white copier: nothing is told by colour alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer. colour: RGB hex; dxf_colour: colour number of a DXF file (group code 62)."""

    name: str
    words: str
    width: float  # points of paper
    colour: str = "#000000"
    dxf_colour: int = 7
    dash: tuple[float, ...] = ()  # points of paper
    drawings: Literal["layout", "measured", "section", "all"] = "layout"  # that have it; a section is in no DXF


_TABLE = (
    Layer("LOT", "lot lines", 1.4, "#000000", 7, (14, 3, 3, 3)),
    Layer("SETBACK", "setback lines", 0.8, "#444444", 8, (6, 3)),
    Layer("KEEP-CLEAR", "keep-clear areas", 0.8, "#444444", 30, (2, 2)),
    Layer("REFERENCE", "reference lines", 1.0, "#1f3f7f", 5, (10, 4)),
    Layer("SLAB", "formed outline", 2.2, "#000000", 1),
    Layer("PART", "parts of the slab", 1.4, "#000000", 1),
    Layer("EXCAVATION", "edge of the excavation", 0.9, "#444444", 34, (7, 3, 1.5, 3)),
    Layer("BUILDING-LINE", "building line, inside the ledge", 0.8, "#444444", 8, (4, 2)),
    Layer("STRING", "strings", 0.7, "#1f3f7f", 4, (1, 2)),
    Layer("CORNER", "corner stakes", 1.0, "#000000", 1),
    Layer("OFFSET", "offset stakes", 1.0, "#000000", 3),
    Layer("BOARD", "batter boards", 1.2, "#000000", 6),
    Layer("MARK", "marks along the sides", 0.8, "#000000", 4),
    Layer("GIVEN", "given points", 1.0, "#000000", 7),
    Layer("TIE", "ties and check distances", 0.6, "#7f1f1f", 9),
    Layer("DIMENSION", "dimensions", 0.6, "#000000", 7),
    Layer("FEATURE", "drives, walks, buildings, trees", 0.9, "#000000", 8),
    Layer("UTILITY", "utilities, septic, wells", 0.9, "#000000", 4, (8, 2, 1.5, 2, 1.5, 2)),
    Layer("FENCE", "fences", 0.9, "#000000", 32, (5, 1.5, 1, 1.5)),
    Layer("EAVE", "eaves and overhangs", 0.7, "#000000", 8, (3, 1.5)),
    Layer("DRAINAGE", "way water runs off", 0.9, "#000000", 4),
    Layer("CONTOUR", "contours of ground", 0.35, "#444444", 8),
    Layer("CONTOUR-FIFTH", "every fifth contour", 0.85, "#444444", 8),
    Layer("BREAK-LINE", "break lines of ground", 0.5, "#444444", 8, (1, 2)),
    Layer("HEIGHT", "heights of floor and ground", 0.6, "#000000", 3),
    Layer("FALL", "falls this way", 0.9, "#000000", 4),
    Layer("GROUND", "ground, in a section", 1.1, "#000000", 7, drawings="section"),
    Layer("SUBGRADE", "subgrade, in a section", 0.9, "#000000", 7, (5, 2.5), drawings="section"),
    Layer("LEVEL", "levels and stations of a section", 0.3, "#666666", 7, drawings="section"),
    Layer("NOTE", "notes", 0.6, "#000000", 7, drawings="all"),
    Layer("DESIGN", "outline and points as computed, beside what was measured", 0.8, "#333333", 8, (5, 3), "measured"),
    Layer("MEASURED", "outline and points as measured", 1.9, "#000000", 1, drawings="measured"),
    Layer("DEVIATION", "from a point as computed to the same as measured", 1.3, "#000000", 6, drawings="measured"),
)

LAYERS: Mapping[str, Layer] = MappingProxyType({layer.name: layer for layer in _TABLE})
OF_LAYOUT = tuple(layer.name for layer in _TABLE if layer.drawings in ("layout", "all"))  # in layout.dxf
OF_MEASURED = tuple(layer.name for layer in _TABLE if layer.drawings in ("measured", "all"))  # in as_built.dxf
