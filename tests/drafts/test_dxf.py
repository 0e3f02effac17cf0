"""DXF files: what is read as a line, what is refused and in which words."""

from __future__ import annotations

import contextlib
import io

import pytest
from drawings import BAY, SQUARE, blank, drawn, heavy, polyline, saved
from hypothesis import given
from hypothesis import strategies as st

from staking.drafts.contents import DraftError
from staking.drafts.dxf import read_dxf

BY_HAND = """0
SECTION
2
ENTITIES
0
LINE
8
WALLS
10
1.5
20
2.5
11
4.5
21
2.5
0
ENDSEC
0
EOF
"""


@pytest.mark.parametrize(
    ("code", "unit"), [(1, "in"), (2, "ft"), (4, "mm"), (5, "cm"), (6, "m"), (21, "ftUS"), (0, "")]
)
def test_the_unit_is_the_one_of_the_header(code: int, unit: str) -> None:
    """Each unit code of the header is the unit a site file would name, and none where there is no code."""
    document = blank()
    document.header["$INSUNITS"] = code
    polyline(document.modelspace(), SQUARE)
    assert read_dxf(saved(document)).unit == unit


def test_a_drawing_written_by_hand_in_r12() -> None:
    """A bare R12 file of one line, without header or tables, is read, and says no unit."""
    draft = read_dxf(BY_HAND.encode())
    assert (draft.form, draft.unit) == ("DXF R12", "")
    assert [(p.east, p.north) for p in draft.strokes[0].points] == [(1.5, 2.5), (4.5, 2.5)]
    assert draft.strokes[0].layer == "WALLS"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "the drawing is empty"),
        (b" \n", "the drawing is empty"),
        (b"AC1015\x00\x00\x01", "DWG"),
        (b"<html></html>", "no DXF file"),
        (b"PK\x03\x04zip", "no DXF file"),
        (BY_HAND.removesuffix("0\nEOF\n").encode(), "cut short"),
        (BY_HAND.replace("4.5", "abc").encode(), "broken"),
        (BY_HAND.replace("4.5", "nan").encode(), "no number"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00\x00SECTION\x00", "cut short"),
    ],
)
def test_what_is_no_drawing_is_refused(data: bytes, words: str) -> None:
    """Empty, broken, cut and foreign files get a sentence with a remedy."""
    with pytest.raises(DraftError, match=words) as refused:
        read_dxf(data)
    assert refused.value.remedy


@pytest.mark.parametrize("size", [40, 400, 4000])
def test_a_file_cut_short_anywhere_is_refused(size: int) -> None:
    """A drawing without its end is never read as a smaller drawing."""
    with pytest.raises(DraftError):
        read_dxf(drawn()[:size])


def test_binary_and_text_are_read_alike() -> None:
    """A drawing saved in binary gives the same lines as the same one saved as text."""
    document = blank()
    polyline(document.modelspace(), BAY)
    stream = io.BytesIO()
    document.write(stream, fmt="bin")
    assert read_dxf(stream.getvalue()).strokes == read_dxf(saved(document)).strokes


def test_both_kinds_of_polyline_are_read_alike() -> None:
    """The older polyline gives the points and bulges of the light one."""
    light, older = blank(), blank("R12")
    polyline(light.modelspace(), BAY)
    heavy(older.modelspace(), BAY)
    first, second = (read_dxf(saved(each)).strokes[0] for each in (light, older))
    assert (first.points, first.bulges, first.closed) == (second.points, second.bulges, second.closed)


def test_a_plane_that_faces_down_mirrors_points_and_arcs() -> None:
    """With the extrusion 0, 0, -1 east changes sign, and arcs turn the other way."""
    document = blank()
    polyline(document.modelspace(), BAY, extrusion=(0, 0, -1))
    stroke = read_dxf(saved(document)).strokes[0]
    assert (stroke.points[1].east, stroke.points[1].north) == (-12, 0)
    assert stroke.bulges[2] == -0.5


def test_content_of_a_block_on_layer_0_is_on_the_layer_of_its_reference() -> None:
    """What is drawn in a block on layer 0 takes the layer where the block is placed, and keeps the block's name."""
    document = blank()
    polyline(document.blocks.new("HOUSE"), SQUARE, "0")
    document.modelspace().add_blockref("HOUSE", (5, 6), dxfattribs={"layer": "PLAN"})
    stroke = read_dxf(saved(document)).strokes[0]
    assert (stroke.layer, stroke.block) == ("PLAN", "HOUSE")
    assert (stroke.points[0].east, stroke.points[0].north) == (5, 6)


def test_curves_without_a_radius_and_lines_that_rise_are_named() -> None:
    """Free curves, ellipses, and lines of three dimensions are not read, and the draft says why."""
    document = blank()
    space = document.modelspace()
    space.add_spline([(0, 0), (1, 1), (2, 0)])
    space.add_ellipse((0, 0), (2, 0), 0.5)
    space.add_line((0, 0, 0), (1, 1, 3))
    space.add_circle((0, 0), 1, dxfattribs={"extrusion": (0, 1, 1)})
    why = {other.what: other.why for other in read_dxf(saved(document)).unread}
    assert "no radius" in why["SPLINE"]
    assert "no radius" in why["ELLIPSE"]
    assert "not flat" in why["LINE"]
    assert "tilted" in why["CIRCLE"]


def test_layers_that_are_off_or_frozen_are_hidden() -> None:
    """Layers that are switched off or frozen are told apart."""
    document = blank()
    document.layers.add("A").off()
    document.layers.add("B").freeze()
    assert read_dxf(saved(document)).hidden == {"A", "B"}


MORE = """ARC 8 A 10 1 20 1 40 2 50 0 51 90 0 POLYLINE 8 A 66 1 70 1 0 VERTEX 8 A 10 0 20 0 42 1 0 VERTEX 8 A 10 5 20 0
0 SEQEND 0 CIRCLE 8 A 10 1 20 1 40 2 0 INSERT 8 A 2 B 10 0 20 0 0 ENDSEC"""
DAMAGED = BY_HAND.replace("ENDSEC", "\n".join(MORE.split()))


@given(st.integers(0, 10_000), st.sampled_from(["0", "nan", "1e300", "x", "", "SECTION", "999999", "-1"]))
def test_a_damaged_line_is_read_or_refused(where: int, instead: str) -> None:
    """With any line of the file replaced, a drawing is read or refused in words; nothing breaks down."""
    lines = DAMAGED.split("\n")
    lines[where % len(lines)] = instead
    with contextlib.suppress(DraftError):
        assert read_dxf("\n".join(lines).encode()).form.startswith("DXF")
