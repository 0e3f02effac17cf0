"""How far may a point, a length or a height be off, and where does that figure come from?

Three questions are kept apart. Whether the forms are true to the drawing, these figures judge; whether placed concrete
is acceptable, the second set judges; whether the slab clears a line has no tolerance at all: a setback has no plus.
"""

from __future__ import annotations

from dataclasses import dataclass

from staking.field.compared import Allowed
from staking.layout import tolerances
from staking.layout.computed import Layout

INCH = tolerances.INCH
BALLAST = "Ballast, Handbook of Construction Tolerances, as quoted in JLC; not read in the handbook itself"
ACI = "ACI 117-90 as tabulated in the UFGS criteria for 03700; not read in ACI 117 itself"
GIVEN = 0.015  # metres, 0.05 ft: a given point measured again agrees to this; own choice
_SQUARE = "3/4 in per 100 ft and 1/8 in at the least"
_FAQ = "any two points within 20 ft, remodelers' performance standard, as an FAQ has it"
_LEVEL = (
    (10 * tolerances.FOOT, Allowed(INCH / 4, f"foundation level within 10 ft, {BALLAST}")),
    (20 * tolerances.FOOT, Allowed(INCH / 2, _FAQ)),
)


@dataclass(frozen=True, slots=True)
class Tolerances:
    """What is allowed of one layout. placed: of concrete that is placed, else of forms, strings and stakes."""

    layout: Layout
    placed: bool = False

    def position(self, corner: int | None) -> Allowed:
        """Of a point in plan, in any direction; by the longer side at a corner, else by the longest side."""
        declared = self.layout.site.declared.as_built
        if declared.position is not None:
            return Allowed(declared.position, self._own)
        if self.placed:
            return Allowed(INCH, f"lateral alignment, {ACI}")
        sides = [side.chord for side in self.layout.sides]
        longest = max(sides) if corner is None else max(sides[corner], sides[corner - 1])
        return self._laid_out(longest)

    def length(self, length: float) -> Allowed:
        """Of a side or a tie so long [m]."""
        declared = self.layout.site.declared.as_built
        if declared.side is not None:
            return Allowed(declared.side, self._own)
        return self._none if self.placed else self._laid_out(length)

    def diagonal(self, length: float) -> Allowed:
        """Of a diagonal so long [m]."""
        declared = self.layout.site.declared.as_built
        if declared.diagonal is not None:
            return Allowed(declared.diagonal, self._own)
        if self.placed:
            return self._none
        return Allowed(tolerances.of_diagonal(length).plus_minus, f"squareness, {_SQUARE}, {BALLAST}")

    def height(self) -> Allowed:
        """Of a height against its design."""
        declared = self.layout.site.declared.as_built
        if declared.height is not None:
            return Allowed(declared.height, self._own)
        if self.placed:
            return Allowed(0.75 * INCH, f"elevation of slabs on grade, {ACI}")
        return Allowed(INCH / 2, f"foundation level over the whole, {BALLAST}")

    def level(self) -> tuple[tuple[float, Allowed], ...]:
        """Over which distances [m] how much two marks may be off level to one another."""
        declared = self.layout.site.declared.as_built
        if declared.level is not None:
            return ((declared.level_over, Allowed(declared.level, self._own)),)
        return _LEVEL

    def given(self) -> Allowed:
        """Of a given point measured again."""
        return Allowed(GIVEN, "given points measured again, 0.05 ft, own choice")

    @property
    def _own(self) -> str:
        return self.layout.site.declared.as_built.source or "[as_built] in the site file"

    @property
    def _none(self) -> Allowed:
        return Allowed(None, "no figure for placed concrete; its corners are judged")

    def _laid_out(self, length: float) -> Allowed:
        figure = tolerances.of_length(length).plus_minus
        return Allowed(figure, f"horizontal building layout, {BALLAST}" if figure else f"{BALLAST} ends at 100 ft")
