"""Marks along each side, corners included, no farther apart than asked."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import PositiveLength, Record
from staking.kinds.slab import Form
from staking.kinds.stakes.placing import Place, SetOut

MOST = 5000  # marks on one slab; more is a slip of the pen


class Along(Record):
    """Evenly spaced marks."""

    kind: Literal["along"]
    spacing: PositiveLength = Field(description="the greatest distance between marks; they are spaced evenly")

    def set_out(self, form: Form) -> SetOut:
        """Each side divided evenly. Raises RuleError for a spacing that asks for thousands of marks."""
        parts = [max(1, math.ceil(side.length / self.spacing - 1e-9)) for side in form.pieces]
        if sum(parts) > MOST:
            raise RuleError(f"this asks for {sum(parts)} marks", key="spacing", remedy=f"{MOST} at the most")
        places = []
        for index, (side, count) in enumerate(zip(form.pieces, parts, strict=True)):
            for step in range(count):
                along = side.length * step / count
                arc = "the arc of " if form.outline.curved(index) else ""
                words = f"{{0}} from corner {index + 1} along {arc}{form.outline.side_label(index)}"
                corner = index if step == 0 else None
                places.append(
                    Place(
                        side.at(along),
                        "mark",
                        "marks",
                        side=index,
                        corner=corner,
                        along=along,
                        words=words,
                        lengths=(along,),
                    )
                )
        return SetOut(tuple(places))
