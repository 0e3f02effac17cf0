"""A stake on the line of each side, beyond both of its ends, to stretch a string over after digging."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, Strict

from staking.kinds.fields import PositiveLength, Record
from staking.kinds.slab import Form
from staking.kinds.stakes.placing import ANYWHERE, KeptOut, Place, SetOut, StringEnd, string_ends


class Offsets(Record):
    """Offset stakes."""

    kind: Literal["offsets"]
    distance: PositiveLength = Field(description="beyond the end of the side, along its own line")

    fixed: Annotated[bool, Strict()] = Field(
        default=False, description="true: the distance stays, even inside an excavation; a finding says so"
    )

    def set_out(self, form: Form, kept: KeptOut = ANYWHERE) -> SetOut:
        """Two stakes for each line along which sides run. At an inside corner: beyond the whole outline on it."""
        return SetOut(tuple(self._stake(form, end, kept) for end in string_ends(form)))

    def _stake(self, form: Form, end: StringEnd, kept: KeptOut) -> Place:
        away = kept.distance(self.distance, lambda far: (end.line.at(end.past + far),))
        beyond = form.outline.corner_label(end.corner) if end.clear else "the whole outline"
        sides = end.sides_label(form.outline)
        at = end.line.at(end.past + away)
        return Place(
            at,
            "offset",
            "offsets",
            side=end.side,
            corner=end.corner,
            along=form.sides[end.side].along(at),
            words=f"{{0}} beyond {beyond} on the line of {sides}",
            lengths=(away,),
            moved=away - self.distance,
        )
