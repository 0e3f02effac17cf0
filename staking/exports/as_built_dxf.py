"""What was measured beside what was computed, in a DXF at true size: nothing in it is enlarged.

A POINT stands for each row of as_built.csv, which is what was measured, and for nothing else; Z is its elevation, and 0
where none was measured. The design is an outline and small circles on the layer DESIGN.
"""

from __future__ import annotations

from pathlib import PurePath

from staking.drawing.as_built import true_size_drawing
from staking.drawing.layers import OF_MEASURED
from staking.exports.dxf import Content, dxf_of
from staking.exports.rows import PointRow
from staking.field.compared import Comparison, MeasuredPoint
from staking.layout.computed import Layout


def as_built_dxf(comparison: Comparison, *, version: str = "r2000") -> bytes:
    """The comparison as a DXF. Raises OutputError for another version, and for names that look the same in ASCII."""
    layout, how = comparison.layout, comparison.how
    measured = (*(each.measured for each in comparison.deviations), *comparison.strangers)
    rows = tuple(_row(layout, point) for point in measured)
    remarks = (
        f"as measured, from {PurePath(how.file).name}, SHA-256 {how.fingerprint}",
        f"measured by {how.by or 'not stated'}, {how.date or 'date not stated'}",
        "everything is at its true size; points are as measured, circles without points as computed",
    )
    return dxf_of(layout, Content(rows, true_size_drawing(comparison), OF_MEASURED, remarks), version=version)


def _row(layout: Layout, point: MeasuredPoint) -> PointRow:
    at = layout.frame.to_file(point.at)
    return PointRow(point.name, at.north, at.east, point.up, "measured", point.note, "MEASURED")
