"""Lots out of the parcels of LandXML files."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staking import Layout, read_site, solve
from staking.errors import InputError
from staking.findings import as_text
from staking.survey.paths import Arc
from staking.survey.points import Point

POINTS = "".join(
    f'<CgPoint name="{n}">{place}</CgPoint>' for n, place in zip("1234", ("0 0", "0 40", "60 40", "60 0"), strict=True)
)
HEAD = '<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2"><Units><Metric linearUnit="meter"/></Units>'
SITE = """[site]
name = "lot 7"
unit = "m"
[lot]
{lot}
[slab]
width = 10
depth = 8
[placement]
kind = "from_lines"
side = "front"
reference = "lot {front}"
distance = 10
corner = "front-left"
from = "lot {left}"
clear = 10
"""
PARCEL = 'parcel = { path = "s.xml", name = "LOT 7" }'
LISTED = f'{PARCEL}\nsides = ["front", "right", "rear", "left"]'


def line(start: str, end: str) -> str:
    """A line between two points by name."""
    return f'<Line><Start pntRef="{start}"/><End pntRef="{end}"/></Line>'


RECTANGLE = line("1", "2") + line("2", "3") + line("3", "4") + line("4", "1")


def made(folder: Path, geometry: str, lot: str = LISTED, **words: str) -> Layout:
    """The layout of a site on a parcel."""
    parcel = words.get("parcel", f'<Parcel name="LOT 7"><CoordGeom>{geometry}</CoordGeom></Parcel>')
    text = f"{HEAD}<CgPoints>{POINTS}</CgPoints><Parcels>{parcel}</Parcels></LandXML>"
    (folder / "s.xml").write_text(text, encoding="utf-8")
    names = {"front": "front", "left": "left"} | words
    (folder / "site.toml").write_text(SITE.format(lot=lot, **names), encoding="utf-8")
    return solve(read_site(folder / "site.toml"))


def refused(folder: Path, geometry: str, lot: str = LISTED, **words: str) -> str:
    """All that is said of a parcel that is refused."""
    with pytest.raises(InputError) as caught:
        made(folder, geometry, lot, **words)
    return "\n".join(as_text(finding) for finding in caught.value.findings)


def curve(start: str, end: str, centre: str, rot: str = "ccw", more: str = "") -> str:
    """A curve by its three points."""
    places = f"<Start>{start}</Start><Center>{centre}</Center><End>{end}</End>"
    return f'<Curve rot="{rot}" crvType="arc" {more}>{places}</Curve>'


def test_corners_are_the_points_referred_to(tmp_path: Path) -> None:
    """Corners bear the names of the points, and the listed names are those of the sides."""
    lot = made(tmp_path, RECTANGLE).lot
    assert lot is not None
    assert [(side.name, side.start_name) for side in lot.sides] == [
        ("front", "1"),
        ("right", "2"),
        ("rear", "3"),
        ("left", "4"),
    ]
    assert lot.area == pytest.approx(2400)


def test_a_chain_is_its_lines(tmp_path: Path) -> None:
    """A chain of names runs from point to point."""
    lot = made(tmp_path, "<Chain>1 2 3 4 1</Chain>").lot
    assert lot is not None
    assert [side.start_name for side in lot.sides] == ["1", "2", "3", "4"]


def test_corners_without_names(tmp_path: Path) -> None:
    """A corner that stands on a point has its name; one that stands nowhere gets one."""
    geometry = line("1", "2") + "<Line><Start>0.0004 40</Start><End>70 40</End></Line>"
    geometry += "<Line><Start>70 40</Start><End>60 0</End></Line>" + line("4", "1")
    lot = made(tmp_path, geometry).lot
    assert lot is not None
    assert [side.start_name for side in lot.sides] == ["1", "2", "B1", "4"]


@pytest.mark.parametrize("turned", [False, True])
def test_sides_by_the_way_they_face(tmp_path: Path, turned: bool) -> None:
    """Without names sides are called by the way they look out, whichever way the parcel runs."""
    order = ("1", "2", "3", "4") if not turned else ("4", "3", "2", "1")
    geometry = "".join(line(a, b) for a, b in zip(order, (*order[1:], order[0]), strict=True))
    lot = made(tmp_path, geometry, PARCEL, front="south", left="west").lot
    assert lot is not None
    faces = {frozenset((side.start_name, side.end_name)): side.name for side in lot.sides}
    assert [faces[frozenset(pair)] for pair in ("12", "23", "34", "41")] == ["south", "east", "north", "west"]


def test_sides_by_the_names_of_the_file(tmp_path: Path) -> None:
    """Where the file names every line, those are the names, and a note lists them."""
    names = iter(("street", "right", "back", "left"))
    geometry = "".join(f'<Line name="{next(names)}"{part}' for part in RECTANGLE.split("<Line")[1:])
    layout = made(tmp_path, geometry, PARCEL, front="street")
    assert '"street" 1 to 2, "right" 2 to 3' in layout.site.notes[0].message


@settings(max_examples=40, deadline=None)
@given(st.floats(-0.9, 3.0).filter(lambda bulge: abs(bulge) > 0.02), st.integers(4, 7), st.booleans())
def test_curves_of_any_sweep(
    tmp_path_factory: pytest.TempPathFactory, bulge: float, decimals: int, turned: bool
) -> None:
    """A curve to either hand, of more than half a circle too, is the arc that was written, by rounded figures."""
    arc = Arc.through_bulge(Point(40.0, 60.0), Point(0.0, 60.0), bulge)
    centre = f"{arc.centre.north:.{decimals}f} {arc.centre.east:.{decimals}f}"
    ends, ring = ["60 40", "60 0"], ["60 0", "-200 0", "-200 40", "60 40"]
    if turned:
        arc, ends, ring = arc.reversed(), ends[::-1], ring[::-1]
    geometry = curve(ends[0], ends[1], centre, "ccw" if arc.left else "cw", f'length="{arc.length:.4f}"')
    geometry += "".join(f"<Line><Start>{a}</Start><End>{b}</End></Line>" for a, b in pairwise(ring))
    names = ["rear", "left", "front", "right"] if not turned else ["rear", "right", "front", "left"]
    layout = made(tmp_path_factory.mktemp("curve"), geometry, f"{PARCEL}\nsides = {names}")
    assert layout.lot is not None
    found = layout.lot.pieces[0]
    assert isinstance(found, Arc)
    assert (found.left, math.isclose(found.bulge, arc.bulge, abs_tol=1e-4)) == (arc.left, True)


OPEN_GAP = line("1", "2") + line("2", "3") + "<Line><Start pntRef='3'/><End>60 0.002</End></Line>"
OPEN_GAP += "<Line><Start>60 0.002</Start><End>0.5 0</End></Line>"
BAD = {
    "does not close: 0.5000 m lie between": OPEN_GAP,
    "a side does not begin where the last ends: 72.1110 m lie between": line("1", "2") + line("4", "1"),
    "it seems to run the other way round": line("1", "2") + line("3", "2") + line("3", "4") + line("4", "1"),
    "a spiral is in it": f'{RECTANGLE}<Spiral length="3"/>',
    "an irregular line is in it": f"{RECTANGLE}<IrregularLine/>",
    "<Wiggle> is none of Line, Curve and Chain": f"{RECTANGLE}<Wiggle/>",
    "it has 0 sides": "",
    "a line ends where it begins": line("1", "1"),
    "a line has no End": "<Line><Start>0 0</Start></Line>",
    'no CgPoint "9" to refer to': line("1", "9"),
    "a chain names two points or more": "<Chain>1</Chain>",
    "a whole circle is no side": curve("0 0", "0 0", "0 5"),
    "does not say which way it turns": curve("0 0", "0 40", "0 20", "left"),
    "10.0000 m and 30.0000 m from its centre": curve("0 0", "0 40", "0 10"),
    "the radius of a curve is 25.0000 m, but by its centre": curve("0 0", "0 40", "0 20", more='radius="25"'),
    "the length of a curve is 10.0000 m, but by its centre": curve("0 0", "0 40", "0 20", more='length="10"'),
    'the radius of a curve: "wide" is no number': curve("0 0", "0 40", "0 20", more='radius="wide"'),
}


@pytest.mark.parametrize("says", BAD)
def test_boundaries_that_are_refused(tmp_path: Path, says: str) -> None:
    """What makes no closed boundary of lines and arcs is refused with what is wrong, and where."""
    said = refused(tmp_path, BAD[says])
    assert says in said
    assert "s.xml:1: stop: the parcel" in said


@pytest.mark.parametrize(
    ("parcel", "says"),
    [
        ('<Parcel name="LOT 8"/>', 'holds no parcel "LOT 7" [unknown-name]\n'),
        ('<Parcel name="LOT 7"/><Parcel name="LOT 7"/>', '2 parcels are named "LOT 7"'),
        ('<Parcel name="LOT 7"/>', "it has no CoordGeom"),
        ('<Parcel name="LOT 7"><CoordGeom/><CoordGeom/></Parcel>', "more than one boundary"),
        ('<Parcel name="LOT 7"><CoordGeom/><Exclusions/></Parcel>', "a piece taken out of it"),
    ],
)
def test_parcels_that_are_refused(tmp_path: Path, parcel: str, says: str) -> None:
    """A parcel that is not there, stands twice, or is no single boundary is refused."""
    assert says in refused(tmp_path, "", parcel=parcel)


def test_sides_are_counted(tmp_path: Path) -> None:
    """Too few names are refused, and the sentence walks round the parcel."""
    said = refused(tmp_path, RECTANGLE, f'{PARCEL}\nsides = ["front", "left"]')
    assert "the parcel has 4 sides but 2 are named: 1 to 2, 2 to 3, 3 to 4, 4 to 1" in said


def test_corners_and_a_parcel_exclude_each_other(tmp_path: Path) -> None:
    """A lot has one boundary."""
    said = refused(tmp_path, RECTANGLE, f'{LISTED}\ncorners = ["1", "2", "3"]')
    assert "from a parcel or given by corners, not both" in said


def test_keys_of_the_parcel_are_checked(tmp_path: Path) -> None:
    """A key that is missing is told as for any table."""
    said = refused(tmp_path, RECTANGLE, 'parcel = { path = "s.xml", nme = "LOT 7" }')
    assert "missing-key" in said
    assert 'did you mean "name"?' in said


def test_a_corner_that_contradicts_a_point(tmp_path: Path) -> None:
    """A corner whose name stands elsewhere in the site file is refused."""
    lot = f"{LISTED}\n[points]\n3 = [60, 41]"
    assert 'the point "3" stands twice at different places' in refused(tmp_path, RECTANGLE, lot)


def test_the_file_is_on_record(tmp_path: Path) -> None:
    """The fingerprint of the file the lot comes from is kept with those of the lists."""
    assert list(made(tmp_path, RECTANGLE).site.sources) == ["s.xml"]
