"""How large is a board that is sold as 2x6? Dressed sizes of softwood."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from types import MappingProxyType

INCH = 0.0254  # metres, exactly
SOURCE = "PS 20, American Softwood Lumber Standard, dressed sizes, as tabulated in public"
THICK: Mapping[str, float] = MappingProxyType({"1": 0.75, "2": 1.5})  # nominal, dressed [in]; source: SOURCE
WIDE: Mapping[str, float] = MappingProxyType({"4": 3.5, "6": 5.5, "8": 7.25, "10": 9.25, "12": 11.25})  # the same

DRESSED: Mapping[str, tuple[float, float]] = MappingProxyType(
    {f"{a}x{b}": (THICK[a] * INCH, WIDE[b] * INCH) for a, b in product(THICK, WIDE)}
)  # name: thickness and width [m]
_NOMINAL = MappingProxyType({f"{a}x{b}": (int(a) * INCH, int(b) * INCH) for a, b in product(THICK, WIDE)})


def nominal(thickness: float, height: float) -> str:
    """The name of the board whose nominal size is exactly this [m]; empty where none is."""
    near = (
        name for name, size in _NOMINAL.items() if max(abs(size[0] - thickness), abs(size[1] - height)) < INCH / 1000
    )
    return next(near, "")
