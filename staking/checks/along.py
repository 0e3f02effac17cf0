"""How is a place on a side of the slab told, so that a crew finds it?"""

from __future__ import annotations

from staking.layout.computed import Layout

AT_CORNER = 0.01  # metres; so near to a corner a place is told by it


def along_side(layout: Layout, side: int, along: float) -> str:
    """So far from the side's first corner [m], or at one of its corners. side: of the outline, from 0."""
    form = layout.slab.form
    label = form.outline.side_label(side)
    for corner, at in ((side, 0.0), ((side + 1) % len(form.corners), form.pieces[side].length)):
        if abs(along - at) < AT_CORNER:
            return f"on {label} at {form.outline.corner_label(corner)}"
    return f"on {label}, {layout.notation.length(along)} from {form.outline.corner_label(side)},"
