"""Drawings read back by GDAL and by ezdxf's own audit, for every version of the format."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import ezdxf._options
import pyogrio.raw
import pytest
import shapely
from ezdxf.filemanagement import read
from making import sample

from staking.drawing.draw import plan
from staking.drawing.layers import LAYERS, OF_LAYOUT
from staking.drawing.marks import Drawing
from staking.errors import OutputError
from staking.exports.dxf import VERSIONS, dxf
from staking.exports.rows import point_rows
from staking.layout.computed import Layout

Make = Callable[..., Layout]
Draw = Callable[[Layout], Drawing]
FIFTIETH = 5e-5  # metres; what a DXF must keep


def gdal(raw: bytes, folder: Path) -> list[tuple[str, str, Any]]:
    """Layer, text and geometry of every entity that GDAL sees."""
    path = folder / "layout.dxf"
    path.write_bytes(raw)
    meta, _, shapes, fields = pyogrio.raw.read(path)
    seen = dict(zip(meta["fields"], fields, strict=True))
    return list(zip(seen["Layer"], (text or "" for text in seen["Text"]), shapely.from_wkb(shapes), strict=True))


def document(raw: bytes) -> Any:
    """What ezdxf reads."""
    return read(io.StringIO(raw.decode("ascii")))


@pytest.mark.parametrize("version", VERSIONS)
def test_every_point_is_where_the_list_says(oregon: Layout, drawing: Draw, tmp_path: Path, version: str) -> None:
    """GDAL finds a point with a label beginning next to it for every row, within 0.05 mm, in every version."""
    entities = gdal(dxf(oregon, drawing(oregon), version=version), tmp_path)
    marks = [shape for _, text, shape in entities if shape.geom_type == "Point" and not text]
    labels = {text: shape for _, text, shape in entities if text}
    assert len(marks) == len(point_rows(oregon))
    for row in point_rows(oregon):
        nearest = min(marks, key=labels[row.name].distance)
        assert math.hypot(nearest.x * 0.3048 - row.east, nearest.y * 0.3048 - row.north) < FIFTIETH


@pytest.mark.parametrize("version", VERSIONS)
def test_the_audit_is_clean(local: Layout, drawing: Draw, version: str) -> None:
    """The writing library's own audit finds nothing to mend."""
    auditor = document(dxf(local, drawing(local), version=version)).audit()
    assert (auditor.errors, auditor.fixes) == ([], [])


def test_the_real_plan_goes_in(oregon: Layout, tmp_path: Path) -> None:
    """The plan that is drawn for the sheets goes into a DXF with every point once."""
    entities = gdal(dxf(oregon, plan(oregon)), tmp_path)
    marks = [shape for _, text, shape in entities if shape.geom_type == "Point" and not text]
    assert len(marks) == len(point_rows(oregon))


def test_elevations_are_z(local: Layout, drawing: Draw) -> None:
    """A known elevation is the point's Z in the site's unit, an unknown one is 0."""
    points = document(dxf(local, drawing(local))).modelspace().query("POINT")
    heights = [round(point.dxf.location.z, 6) for point in points]
    assert heights[:3] == [412.07, 0.0, 0.0]


def test_outlines_are_closed(local: Layout, drawing: Draw) -> None:
    """Slab and lot are closed polylines; the frame is none, so that nobody stakes it."""
    space = document(dxf(local, drawing(local))).modelspace()
    closed = {line.dxf.layer: len(line) for line in space.query("LWPOLYLINE") if line.closed}
    assert closed == {"LOT": 4, "SLAB": 4}
    assert [line.dxf.layer for line in space.query("LWPOLYLINE") if not line.closed] == ["STRING"]


def test_r12_has_old_polylines(local: Layout, drawing: Draw) -> None:
    """R12 knows no LWPOLYLINE; its outlines are POLYLINE."""
    space = document(dxf(local, drawing(local), version="r12")).modelspace()
    assert (len(space.query("LWPOLYLINE")), len(space.query("POLYLINE"))) == (0, 3)


@pytest.mark.parametrize("version", ["r12", "r2000"])
@pytest.mark.parametrize(
    ("unit", "code", "words"), [("m", 6, b"metres"), ("ft", 2, b"0.3048"), ("ftUS", 2, b"1200/39")]
)
def test_the_unit_is_told(
    make_layout: Make, drawing: Draw, *, version: str, unit: str, code: int, words: bytes
) -> None:
    """$INSUNITS says metres or feet, and comment and note say which foot."""
    layout = make_layout(unit)
    raw = dxf(layout, drawing(layout), version=version)
    assert re.search(rb"\$INSUNITS\n *70\n *%d\n" % code, raw)
    assert raw.startswith(b"999\nUNIT: ")
    assert raw.count(words) == 2


def test_text_is_ascii_on_known_layers(local: Layout, drawing: Draw) -> None:
    """Text is ASCII with %%d for degrees, and everything lies on a layer of the table."""
    raw = dxf(local, drawing(local), remarks=["made despite the stop “margin-setback”"])
    space = document(raw).modelspace()
    texts = [text.dxf.text for text in space.query("TEXT")]
    assert {"36' 0-1/2\"", "square 90%%d", 'REMARK: made despite the stop "margin-setback"'} <= set(texts)
    assert {entity.dxf.layer for entity in space} <= set(OF_LAYOUT)


def test_the_note_tells_frame_and_origin(oregon: Layout, drawing: Draw) -> None:
    """Revision, unit, system, factor and fingerprint are written below the drawing."""
    space = document(dxf(oregon, drawing(oregon))).modelspace()
    note = "\n".join(text.dxf.text for text in space.query("TEXT[layer=='NOTE']"))
    for fact in ("REVISION: B", "EPSG:6559; grid values, combined factor 0.99985", "0f0f0f0f", "not a boundary"):
        assert fact in note


def test_extents_hold_everything(oregon: Layout, drawing: Draw) -> None:
    """The extents in the header are finite and hold every point and every text's beginning."""
    drawn = document(dxf(oregon, drawing(oregon)))
    west, south, _ = drawn.header["$EXTMIN"]
    east, north, _ = drawn.header["$EXTMAX"]
    for entity in drawn.modelspace().query("POINT TEXT"):
        at = entity.dxf.insert if entity.dxftype() == "TEXT" else entity.dxf.location
        assert west < at.x < east
        assert south < at.y < north
    assert max(east - west, north - south) < 400


def test_paper_limits_are_in_drawing_units(local: Layout, drawing: Draw) -> None:
    """Paper of 17 x 11 in is given in feet, since one reader sizes its page by that."""
    limits = document(dxf(local, drawing(local))).layout("Layout1").dxf.limmax
    assert tuple(limits)[:2] == pytest.approx((17 / 12, 11 / 12))


def test_labels_keep_to_their_own_stake(local: Layout, drawing: Draw) -> None:
    """A label begins nearer to its own point than half the way to the next, and is at most a third of it high."""
    space = document(dxf(local, drawing(local))).modelspace()
    spots = [(point.dxf.location.x, point.dxf.location.y) for point in space.query("POINT")]
    labels = list(space.query("TEXT"))[: len(spots)]
    for at, label in zip(spots, labels, strict=True):
        room = min(math.dist(at, other) for other in spots if other != at)
        assert math.dist(at, tuple(label.dxf.insert)[:2]) < room / 2
        assert label.dxf.height <= room / 3 + 1e-9


def test_points_in_one_place_keep_their_labels_apart(local: Layout, drawing: Draw) -> None:
    """Two points in one place have labels below one another, not one upon the other."""
    twin = replace(local, stakes=(local.stakes[0], replace(local.stakes[0], name="999")))
    space = document(dxf(twin, drawing(twin))).modelspace()
    first, second = (space.query(f"TEXT[text=='{name}']").first.dxf for name in ("101", "999"))
    assert first.insert.y - second.insert.y > first.height


def test_dimensions_are_never_upside_down(local: Layout, drawing: Draw) -> None:
    """Text along a line due west is written from the left."""
    space = document(dxf(local, drawing(local))).modelspace()
    assert [t.dxf.rotation for t in space.query("TEXT[layer=='DIMENSION']")] == [0.0]


def test_same_layout_same_bytes(local: Layout, drawing: Draw) -> None:
    """Written twice, the bytes are the same, and the library's options are as they were."""
    before = ezdxf._options.options.write_fixed_meta_data_for_testing
    assert dxf(local, drawing(local)) == dxf(local, drawing(local))
    assert ezdxf._options.options.write_fixed_meta_data_for_testing == before


def test_an_empty_drawing_is_still_a_drawing(local: Layout) -> None:
    """Without any point or mark there is a note in a frame."""
    bare = replace(local, points={}, stakes=())
    drawn = document(dxf(bare, Drawing((), "nothing")))
    assert len(drawn.modelspace().query("POINT")) == 0
    assert len(drawn.modelspace().query("LINE")) == 4


def test_unknown_versions_are_refused(local: Layout, drawing: Draw) -> None:
    """A version that is not written is refused with those that are."""
    with pytest.raises(OutputError, match="r14") as refused:
        dxf(local, drawing(local), version="r14")
    assert "r12" in refused.value.remedy


def test_names_alike_in_ascii_are_refused(local: Layout, drawing: Draw) -> None:
    """Names that differ by an accent alone are not written into one drawing."""
    stakes = (replace(local.stakes[0], name="É1"), replace(local.stakes[1], name="E1"))
    with pytest.raises(OutputError, match="E1"):
        dxf(replace(local, stakes=stakes), drawing(local))


@pytest.mark.parametrize("version", ["r12", "r2000", "r2018"])
def test_contours_have_their_height(tmp_path: Path, version: str) -> None:
    """GDAL and ezdxf find every contour at its elevation, in the site's unit, on layers of their own."""
    layout = sample("sloping_lot")
    raw = dxf(layout, plan(layout), version=version)
    lines = [
        each for each in document(raw).modelspace() if each.dxf.layer.startswith("CONTOUR") and "LINE" in each.dxftype()
    ]
    ups = {round(float(each.dxf.elevation[2] if version == "r12" else each.dxf.elevation), 6) for each in lines}
    assert ups == {99.0, 100.0, 101.0, 102.0, 103.0, 104.0, 105.0}
    seen = [shape for layer, text, shape in gdal(raw, tmp_path) if layer.startswith("CONTOUR") and not text]
    assert {round(at[2], 6) for shape in seen for at in shape.coords} == ups


def test_heights_are_texts_and_no_points() -> None:
    """Nothing that a crew could stake stands on the layers of heights, contours and falls."""
    layout = sample("sloping_lot")
    space = document(dxf(layout, plan(layout))).modelspace()
    own = [each for each in space if each.dxf.layer in ("HEIGHT", "FALL", "CONTOUR", "CONTOUR-FIFTH", "BREAK-LINE")]
    assert not any(each.dxftype() in ("POINT", "CIRCLE") for each in own)
    assert {each.dxf.text for each in own if each.dxf.layer == "HEIGHT"} == {
        "F 102.31 / G 100.23 low",
        "F 102.31 / G 100.40",
        "F 102.60 / G 101.30 high",
        "F 102.60 / G 101.09",
    }


def test_layers_of_sections_stay_out(local: Layout, drawing: Draw) -> None:
    """A DXF has the layers of the site; how sections are drawn on paper is nothing to it."""
    names = {layer.dxf.name for layer in document(dxf(local, drawing(local))).layers}
    assert set(OF_LAYOUT) <= names
    assert not names & set(LAYERS) - set(OF_LAYOUT)
