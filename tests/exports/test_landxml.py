"""LandXML as other programs read it: its structure by the rules of the standard, its numbers, and the way back."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from lxml import etree
from making import SAMPLES, RandomSite, Turn, layout_of, random_sites, sample, turns

from staking import read_site, solve
from staking.exports.landxml import NAMESPACE, NO_DATE, landxml
from staking.layout.computed import Layout
from staking.survey.paths import Arc
from staking.survey.points import Point

Make = Callable[..., Layout]
N = f"{{{NAMESPACE}}}"
UNITS = {
    "areaUnit",
    "linearUnit",
    "volumeUnit",
    "temperatureUnit",
    "pressureUnit",
    "angularUnit",
    "directionUnit",
    "elevationUnit",
}
# what may stand in each element, in this order, and which attributes it must and may have;
# typed from memory of the rules of LandXML 1.2 (landxml.org), not from the program
ORDER = ("Units", "CoordinateSystem", "Project", "Application", "CgPoints", "Parcels", "PlanFeatures", "Surfaces")
RULES: dict[str, tuple[tuple[str, ...], set[str], set[str]]] = {
    "LandXML": (ORDER, {"version", "date", "time"}, {"language", "readOnly"}),
    "Units": (("Metric", "Imperial"), set(), set()),
    "Metric": ((), {"areaUnit", "linearUnit", "volumeUnit", "temperatureUnit", "pressureUnit"}, UNITS),
    "Imperial": ((), {"areaUnit", "linearUnit", "volumeUnit", "temperatureUnit", "pressureUnit"}, UNITS),
    "CoordinateSystem": ((), set(), {"name", "desc", "epsgCode", "verticalDatum"}),
    "Project": ((), {"name"}, {"desc", "state"}),
    "Application": ((), {"name"}, {"version", "desc", "manufacturer"}),
    "CgPoints": (("CgPoint",), set(), {"name", "desc", "state"}),
    "CgPoint": ((), set(), {"name", "desc", "code", "state", "pntRef"}),
    "Parcels": (("Parcel",), set(), {"name", "desc"}),
    "Parcel": (("CoordGeom",), {"name"}, {"desc", "area", "state"}),
    "PlanFeatures": (("PlanFeature",), set(), {"name", "desc", "state"}),
    "PlanFeature": (("CoordGeom",), {"name"}, {"desc", "state"}),
    "Surfaces": (("Surface",), set(), {"name", "desc", "state"}),
    "Surface": (("Definition",), {"name"}, {"desc", "state"}),
    "Definition": (("Pnts", "Faces"), {"surfType"}, {"area2DSurf", "area3DSurf", "elevMax", "elevMin"}),
    "Pnts": (("P",), set(), set()),
    "P": ((), {"id"}, set()),
    "Faces": (("F",), set(), set()),
    "F": ((), set(), {"i", "n"}),
    "CoordGeom": (("Line", "Curve"), set(), {"name", "desc"}),
    "Line": (("Start", "End"), set(), {"name", "desc", "length"}),
    "Curve": (("Start", "Center", "End"), {"rot"}, {"name", "desc", "crvType", "radius", "length"}),
    "Start": ((), set(), {"name"}),
    "Center": ((), set(), {"name"}),
    "End": ((), set(), {"name"}),
}
WORDS = {
    "linearUnit": {"meter", "foot", "USSurveyFoot"},
    "areaUnit": {"squareMeter", "squareFoot"},
    "elevationUnit": {"meter", "feet"},
    "surfType": {"TIN", "grid"},
    "angularUnit": {"decimal degrees"},
    "directionUnit": {"decimal degrees"},
    "rot": {"cw", "ccw"},
    "crvType": {"arc"},
    "state": {"existing", "proposed"},
}
MIXED = {"CoordGeom"}  # lines and curves come in any order


def parsed(raw: bytes | str) -> ET.Element:
    """The root, by the reader that comes with Python."""
    return ET.fromstring(raw)  # noqa: S314 - written a line before by the test itself


def breaches(element: ET.Element) -> list[str]:
    """What in an element and below it is against the rules."""
    tag = element.tag.removeprefix(N)
    children, must, may = RULES[tag]
    found = [child.tag.removeprefix(N) for child in element]
    keys = {key for key in element.attrib if not key.startswith("{")}
    wrong = [f"{tag} lacks {key}" for key in sorted(must - keys)]
    wrong += [f"{tag} has {key}" for key in sorted(keys - must - may)]
    wrong += [f"{tag} holds {child}" for child in found if child not in children]
    ranks = [children.index(child) for child in found if child in children]
    wrong += [f"{tag}: {found}"] if tag not in MIXED and ranks != sorted(ranks) else []
    wrong += [f"{key}={element.get(key)}" for key in WORDS if key in keys and element.get(key) not in WORDS[key]]
    return wrong + [each for child in element for each in breaches(child)]


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_the_structure_is_that_of_the_standard(folder: Path) -> None:
    """Every element has the children, order, attributes and words that LandXML 1.2 allows, and two readers read it."""
    raw = landxml(sample(folder.name))
    root = parsed(raw)
    assert root.tag == f"{N}LandXML"
    assert breaches(root) == []
    assert len(list(etree.fromstring(raw).iter("*"))) == len(list(root.iter()))


def test_the_rules_catch_what_is_wrong() -> None:
    """The rules of this test refuse an unknown attribute, a wrong order and a missing attribute."""
    line = f'<Line xmlns="{NAMESPACE}" colour="red"><End>0 0</End><Start>1 1</Start></Line>'
    assert len(breaches(parsed(line))) == 2
    assert breaches(parsed(f'<Curve xmlns="{NAMESPACE}"/>')) == ["Curve lacks rot"]


@pytest.mark.parametrize(
    ("unit", "linear", "elevation"), [("m", "meter", "meter"), ("ft", "foot", "feet"), ("ftUS", "USSurveyFoot", "feet")]
)
def test_units_are_stated(make_layout: Make, unit: str, linear: str, elevation: str) -> None:
    """The unit of lengths, that of elevations, and degrees; none is left to its default."""
    units = parsed(landxml(make_layout(unit))).find(f"{N}Units/*")
    assert units is not None
    assert (units.get("linearUnit"), units.get("elevationUnit")) == (linear, elevation)
    assert units.get("angularUnit") == units.get("directionUnit") == "decimal degrees"


def _system(layout: Layout) -> dict[str, str]:
    found = parsed(landxml(layout)).find(f"{N}CoordinateSystem")
    assert found is not None
    return found.attrib


def test_grid_values_bear_the_code_and_the_factor(oregon: Layout) -> None:
    """Grid values name their system by its EPSG code, and the factor."""
    assert _system(oregon)["epsgCode"] == "6559"
    assert _system(oregon)["desc"] == "grid values; combined factor (grid distance / ground distance) 0.99985"


def test_ground_values_bear_no_code(make_layout: Make) -> None:
    """Ground values would be put in a wrong place by their system's code, so only the words name it."""
    ground = '[coordinates]\ncrs = "EPSG:6559"\nvalues = "ground"\n'
    system = _system(make_layout("ft", ground))
    assert "epsgCode" not in system
    assert system["desc"] == "ground values, not those of the system EPSG:6559; the combined factor is not stated"


def test_points_are_north_east_elevation(oregon: Layout) -> None:
    """A point is its north, its east, and its elevation only where that is known; given digits stay."""
    points = {each.get("name"): each.text for each in parsed(landxml(oregon)).iter(f"{N}CgPoint")}
    assert points["P1"] == "812345.6789 7654321.0123 412.0700"
    assert points["P2"] == "812345.6789 7654441.0123"
    assert {stake.name for stake in oregon.stakes} < set(points)


def test_no_time_stamp(local: Layout) -> None:
    """The same site gives the same bytes; a date that nobody gave is the fixed one, and the words say so."""
    raw = landxml(local)
    assert raw == landxml(local)
    assert parsed(raw).get("date") == NO_DATE
    assert f"no date is stated, {NO_DATE} stands for none".encode() in raw


def test_an_overruled_stop_is_told(local: Layout) -> None:
    """The words of the project name the stop that was overruled."""
    assert b"made despite the stop setback-crossed" in landxml(local, ["setback-crossed"])


def _back(folder: Path, raw: bytes, unit: str) -> Layout:
    """A site whose points and lot are those of a LandXML file."""
    folder.mkdir(exist_ok=True)
    (folder / "survey.xml").write_bytes(raw)
    name = next(parsed(raw).iter(f"{N}Parcel")).get("name")
    text = f'[site]\nname = "back"\nunit = "{unit}"\n[[point_files]]\npath = "survey.xml"\n[lot]\n'
    text += f'parcel = {{ path = "survey.xml", name = "{name}" }}\n[slab]\nwidth = 1\ndepth = 1\n'
    text += '[placement]\nkind = "at_point"\ncorner = 1\nat = "101"\nside = "front"\nbearing = 10\n'
    (folder / "site.toml").write_text(text, encoding="utf-8")
    return solve(read_site(folder / "site.toml"))


def _places(layout: Layout) -> dict[str, tuple[str, str]]:
    write, frame = layout.notation.coordinate, layout.frame
    places = {name: frame.to_file(point.at) for name, point in layout.points.items()}
    places |= {stake.name: frame.to_file(stake.at) for stake in layout.stakes}
    return {name: (write(at.north), write(at.east)) for name, at in places.items()}


@settings(max_examples=25, deadline=None)
@given(random_sites, turns)
def test_written_and_read_back(tmp_path_factory: pytest.TempPathFactory, site: RandomSite, turn: Turn) -> None:
    """Every point and every side of the lot comes back the same at the 4 printed decimals of a metre (0.05 mm)."""
    layout = layout_of(site.text(turn))
    back = _back(tmp_path_factory.mktemp("back"), landxml(layout), "m")
    points = {name: place for name, place in _places(back).items() if name in back.points}
    assert points == _places(layout)
    assert layout.lot is not None
    assert back.lot is not None
    assert [(s.name, s.start_name) for s in back.lot.sides] == [(s.name, s.start_name) for s in layout.lot.sides]


@pytest.mark.parametrize("name", ["cul_de_sac_lot", "corner_lot", "metric_record"])
def test_curves_come_back(tmp_path: Path, name: str) -> None:
    """Arcs turn the same way with the same radius, within what four decimals of centre and ends leave open."""
    layout = sample(name)
    back = _back(tmp_path, landxml(layout), layout.site.unit.name)
    assert layout.lot is not None
    assert back.lot is not None
    assert back.lot.area == pytest.approx(layout.lot.area, abs=0.01)
    pairs = zip(layout.lot.pieces, back.lot.pieces, strict=True)
    arcs = [(one, other) for one, other in pairs if isinstance(one, Arc)]
    assert all(isinstance(b, Arc) and a.left == b.left and abs(a.radius - b.radius) < 5e-4 for a, b in arcs)


def test_the_ground_is_a_surface_of_triangles() -> None:
    """Its points are those of the file with their heights, each once; its faces name three of them and lie on it."""
    layout = sample("sloping_lot")
    root = parsed(landxml(layout))
    places = {each.get("id"): tuple(map(float, (each.text or "").split())) for each in root.iter(f"{N}P")}
    faces = [(each.text or "").split() for each in root.iter(f"{N}F")]
    assert layout.earth
    assert len(faces) == len(layout.earth.triangles.corners)
    assert len(set(places.values())) == len(places) >= layout.earth.points
    given = {(round(p.north / 0.3048, 4), round(p.east / 0.3048, 4)) for p in layout.site.ground.values()}
    assert given <= {(north, east) for north, east, _ in places.values()}
    for face in faces:
        middle = [sum(places[number][axis] for number in face) / 3 for axis in range(3)]
        at = layout.frame.to_ground(Point(middle[1] * 0.3048, middle[0] * 0.3048))
        assert layout.earth.triangles.height(at) == pytest.approx(middle[2] * 0.3048, abs=1e-4)


def test_without_ground_there_is_no_surface(oregon: Layout) -> None:
    """An empty surface would be read as level ground at 0 by some."""
    assert parsed(landxml(oregon)).find(f"{N}Surfaces") is None
