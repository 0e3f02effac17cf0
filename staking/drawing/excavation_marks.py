"""The edge of the excavation as a mark of a drawing."""

from __future__ import annotations

from collections.abc import Iterator

from staking.drawing.marks import Mark, PathMark
from staking.layout.computed import Layout
from staking.survey.polygons import ring_corners


def excavation_marks(layout: Layout) -> Iterator[Mark]:
    """The edge of the excavation at the ground."""
    if layout.excavation is not None:
        yield PathMark("EXCAVATION", ring_corners(layout.excavation.edge.exterior), closed=True)
