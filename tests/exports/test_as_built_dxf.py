"""What was measured beside what was computed, in a DXF."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from typing import Any

import pytest
from ezdxf.document import Drawing
from ezdxf.filemanagement import read
from reported import measured

from staking import Layout
from staking.errors import OutputError
from staking.exports.as_built_csv import as_built_csv
from staking.exports.as_built_dxf import as_built_dxf
from staking.exports.dxf import dxf


def rows(layout: Layout) -> list[dict[str, str]]:
    """The table of what was measured."""
    return list(csv.DictReader(io.StringIO(as_built_csv(measured(layout)).decode("utf-8"), newline="")))


def document(layout: Layout, version: str = "r2000") -> Drawing:
    """The drawing as a reader has it."""
    return read(io.StringIO(as_built_dxf(measured(layout), version=version).decode("ascii")))


@pytest.mark.parametrize("version", ["r12", "r2000", "r2018"])
def test_a_point_stands_for_each_measured_point_and_nothing_else(oregon: Layout, version: str) -> None:
    """At the places of as_built.csv, to its last digit, with the elevation that was measured."""
    points = document(oregon, version).modelspace().query("POINT")
    wanted = [(float(row["east"]), float(row["north"]), float(row["elevation"] or 0)) for row in rows(oregon)]
    found = [tuple(point.dxf.location) for point in points]
    assert len(found) == len(wanted)
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=0.00006)


def test_outlines_are_at_true_size_on_layers_of_their_own(oregon: Layout) -> None:
    """Design and measured side by side, closed, an inch apart at one corner; nothing is enlarged."""
    lines: list[Any] = list(document(oregon).modelspace().query("LWPOLYLINE"))
    first = {line.dxf.layer: line for line in reversed(lines)}
    design, as_measured = (list(first[layer].get_points("xy")) for layer in ("DESIGN", "MEASURED"))
    apart = [math.dist(one, other) * 12 for one, other in zip(design, as_measured, strict=True)]
    assert sorted(apart)[:3] == pytest.approx([0, 0, 0], abs=1e-6)
    assert max(apart) == pytest.approx(1.0, abs=0.001)
    assert all(line.closed for line in lines)


def test_the_note_says_what_was_measured_and_by_whom(oregon: Layout) -> None:
    """Site, unit and fingerprint as in every drawing, and list, fingerprint, who and when beside them."""
    texts = " ".join(text.dxf.text for text in document(oregon).modelspace().query("TEXT"))
    assert "as_set.csv, SHA-256 3fa93fa9" in texts
    assert "measured by the crew, 2026-05-06" in texts
    assert "UNIT: international feet" in texts
    assert "1 in OUT" in texts


def test_layers_of_both_drawings_are_told_apart(oregon: Layout, drawing: Callable[[Layout], Any]) -> None:
    """A reader finds no empty layers of the other drawing."""
    own = {layer.dxf.name for layer in document(oregon).layers} - {"0", "Defpoints"}
    assert own == {"DESIGN", "MEASURED", "DEVIATION", "NOTE"}
    job = read(io.StringIO(dxf(oregon, drawing(oregon)).decode("ascii")))
    assert not {"DESIGN", "MEASURED", "DEVIATION"} & {layer.dxf.name for layer in job.layers}


def test_other_versions_are_refused(oregon: Layout) -> None:
    """As for the drawing of the job."""
    with pytest.raises(OutputError, match='no DXF version "r99"'):
        as_built_dxf(measured(oregon), version="r99")
