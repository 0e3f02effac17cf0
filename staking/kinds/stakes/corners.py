"""A stake in every corner of the formed outline and of its parts."""

from __future__ import annotations

from typing import Literal

from staking.kinds.fields import Record
from staking.kinds.slab import Form
from staking.kinds.stakes.placing import Place, SetOut


class Corners(Record):
    """Stakes in the corners."""

    kind: Literal["corners"]

    def set_out(self, form: Form) -> SetOut:
        """Corners in order, then those of the parts: two on the slab, two out from it."""
        places = [
            Place(at, "corner", "corners", corner=index, words=form.outline.corner_label(index))
            for index, at in enumerate(form.corners)
        ]
        for name, corners in form.parts:
            where = ("start at the slab", "end at the slab", "end, outer corner", "start, outer corner")
            places.extend(
                Place(at, "part corner", "corners", part=name, words=f"{name}, {words}")
                for at, words in zip(corners, where, strict=True)
            )
        return SetOut(tuple(places))
