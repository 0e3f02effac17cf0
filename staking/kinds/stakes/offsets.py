"""A stake on the line of each side, beyond both of its ends, to stretch a string over after digging."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.kinds.fields import PositiveLength, Record
from staking.kinds.slab import Form
from staking.kinds.stakes.placing import Place, SetOut, StringEnd, string_ends


class Offsets(Record):
    """Offset stakes."""

    kind: Literal["offsets"]
    distance: PositiveLength = Field(description="beyond the end of the side, along its own line")

    def set_out(self, form: Form) -> SetOut:
        """Two stakes for each line along which sides run. At an inside corner: beyond the whole outline on it."""
        return SetOut(tuple(self._stake(form, end) for end in string_ends(form)))

    def _stake(self, form: Form, end: StringEnd) -> Place:
        along = end.past + self.distance
        beyond = form.outline.corner_label(end.corner) if end.clear else "the whole outline"
        sides = end.sides_label(form.outline)
        at = end.line.at(along)
        return Place(
            at,
            "offset",
            "offsets",
            side=end.side,
            corner=end.corner,
            along=form.sides[end.side].along(at),
            words=f"{{0}} beyond {beyond} on the line of {sides}",
            lengths=(self.distance,),
        )
