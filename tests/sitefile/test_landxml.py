"""Points out of LandXML files of all sorts."""

from __future__ import annotations

from pathlib import Path

import pytest

from staking.errors import InputError
from staking.findings import Place
from staking.sitefile.declared import PointFile
from staking.sitefile.landxml import read_landxml
from staking.sitefile.point_files import PointList
from staking.units import UNITS

SPACE = "http://www.landxml.org/schema/LandXML-1.2"
FEET = '<Units><Imperial linearUnit="foot" elevationUnit="feet"/></Units>'
SURVEY = '<Units><Imperial linearUnit="USSurveyFoot" elevationUnit="feet"/></Units>'
OPEN = '<Units><Imperial linearUnit="foot"/></Units>'
METRIC = '<Units><Metric linearUnit="meter"/></Units>'
ONE = '<CgPoint name="P1">100 200</CgPoint>'


def read(folder: Path, inside: str, *, site: str = "ft", space: str = SPACE, **keys: str) -> PointList:
    """The points of a file with these elements in it."""
    (folder / "s.xml").write_text(f'<LandXML xmlns="{space}" version="1.2">{inside}</LandXML>', encoding="utf-8")
    entry = PointFile.model_validate({"path": "s.xml", **keys})
    return read_landxml(entry, folder=folder, unit=UNITS[site], place=Place("site.toml", 9))


def points(folder: Path, inside: str, **more: str) -> PointList:
    """The same for points."""
    return read(folder, f"{more.pop('units', FEET)}<CgPoints>{inside}</CgPoints>", **more)


def refused(folder: Path, inside: str, **more: str) -> str:
    """The sentence and remedy with which a file is refused as a whole."""
    with pytest.raises(InputError) as caught:
        read(folder, inside, **more)
    (finding,) = caught.value.findings
    return f"{finding.message} -> {finding.remedy}"


def test_north_east_elevation(tmp_path: Path) -> None:
    """The first number is north, the second east, a third the elevation; two numbers have none."""
    found = points(tmp_path, '<CgPoint name="P1">100 200 30</CgPoint><CgPoint name="P2"> 1e2\n-2.5 </CgPoint>').points
    one, two = found["P1"], found["P2"]
    assert (one.north, one.east, one.elevation) == (30.48, 60.96, 9.144)
    assert (two.north, two.east, two.elevation) == (30.48, -0.762, None)


def test_code_and_description_are_the_note(tmp_path: Path) -> None:
    """Both are kept, each once."""
    inside = (
        '<CgPoint name="1" code="IP" desc="pin found">0 0</CgPoint><CgPoint name="2" code="IP" desc="IP">1 1</CgPoint>'
    )
    found = points(tmp_path, inside).points
    assert [point.note for point in found.values()] == ["IP, pin found", "IP"]


@pytest.mark.parametrize("version", ["1.0", "1.1", "1.2"])
def test_versions_that_are_read(tmp_path: Path, version: str) -> None:
    """Three versions are read, and the note says which it was."""
    found = points(tmp_path, ONE, space=f"http://www.landxml.org/schema/LandXML-{version}")
    assert found.notes[0].message.startswith(f"LandXML {version}: 1 points, in international feet")


@pytest.mark.parametrize("space", ["", "http://www.landxml.org/schema/LandXML-2.0", "urn:other"])
def test_other_namespaces_are_refused(tmp_path: Path, space: str) -> None:
    """No namespace, a later version and another language are refused in a sentence."""
    assert "this is no LandXML 1.0, 1.1 or 1.2" in refused(tmp_path, FEET, space=space)


def test_units_are_converted_exactly(tmp_path: Path) -> None:
    """A file in metres is read on a site in feet; one survey foot is 1200/3937 m."""
    assert points(tmp_path, ONE, units=METRIC).points["P1"].north == 100.0
    assert points(tmp_path, ONE, units=SURVEY, site="m").points["P1"].north == 100 * 1200 / 3937


def test_the_two_feet_are_kept_apart(tmp_path: Path) -> None:
    """A file in the other foot is refused until the site file confirms its foot; a contradiction is refused too."""
    inside = f"{SURVEY}<CgPoints>{ONE}</CgPoints>"
    assert "the two feet must not be mixed up" in refused(tmp_path, inside)
    assert read(tmp_path, inside, unit="ftUS").points["P1"].north == 100 * 1200 / 3937
    assert "the file states ftUS; the site file says ft" in refused(tmp_path, inside, unit="ft")


def test_an_elevation_without_a_unit_is_asked_for(tmp_path: Path) -> None:
    """By the standard metres, by habit feet: the point is refused until the site file says which."""
    high = '<CgPoint name="P1">100 200 30</CgPoint>'
    (finding,) = points(tmp_path, high, units=OPEN).findings
    assert "nothing says the unit of its elevation" in finding.message
    assert [points(tmp_path, high, units=OPEN, elevation_unit=unit).points["P1"].elevation for unit in ("ft", "m")] == [
        9.144,
        30.0,
    ]
    assert points(tmp_path, ONE, units=OPEN).findings == ()


@pytest.mark.parametrize(
    ("inside", "says"),
    [
        (f"<CgPoints>{ONE}</CgPoints>", "does not state its units"),
        ('<Units><Imperial linearUnit="cubit"/></Units>', 'linearUnit "cubit" is none'),
        ('<Units><Metric linearUnit="meter" elevationUnit="miles"/></Units>', 'elevationUnit "miles" is none'),
    ],
)
def test_units_that_are_refused(tmp_path: Path, inside: str, says: str) -> None:
    """Nothing is guessed where the file states no unit, or one that is not read."""
    assert says in refused(tmp_path, inside)


def test_references_are_followed(tmp_path: Path) -> None:
    """A point may stand where another one does, also by way of a third."""
    inside = '<CgPoint name="A" pntRef="B"/><CgPoint name="B" pntRef="C"/><CgPoint name="C">1 2</CgPoint>'
    assert points(tmp_path, inside).points["A"].east == 0.6096


@pytest.mark.parametrize(
    ("inside", "says"),
    [
        ('<CgPoint name="A" pntRef="B"/><CgPoint name="B" pntRef="A"/>', "leads back to itself"),
        ('<CgPoint name="A" pntRef="X"/>', 'no CgPoint "X" to refer to'),
        ('<CgPoint name="A"/>', "neither numbers nor a pntRef"),
        ('<CgPoint name="A">1</CgPoint>', "here are 1"),
        ('<CgPoint name="A">1 2 3 4</CgPoint>', "here are 4"),
        ('<CgPoint name="A">1,5 2</CgPoint>', '"1,5" is no number'),
        ('<CgPoint name="A">NaN 2</CgPoint>', '"NaN" is no number'),
        ('<CgPoint name="A">1e99 2</CgPoint>', "too far away"),
        ('<CgPoint name="A">1e12 2</CgPoint>', "too far away"),
        ('<CgPoint name="A">1e999 2</CgPoint>', "not a finite number"),
        ('<CgPoint name="A">1 2 -99999</CgPoint>', "looks like a mark for none"),
        ("<CgPoint>1 2</CgPoint>", "CgPoint without a name"),
        ('<CgPoint name="=A1">1 2</CgPoint>', "begins with ="),
        ('<CgPoint name="A">1 2</CgPoint><CgPoint name="A">1 3</CgPoint>', "stands twice at different places"),
    ],
)
def test_points_that_are_refused(tmp_path: Path, inside: str, says: str) -> None:
    """A point that cannot be used gets a sentence, with its line."""
    first, *_ = points(tmp_path, inside).findings
    assert says in first.message
    assert (first.code, first.place and first.place.line) == ("bad-row", 1)


def test_one_name_at_one_place_is_a_note(tmp_path: Path) -> None:
    """The schema lets names stand twice, so they are caught here; at one place the first is used."""
    found = points(tmp_path, ONE + ONE)
    assert [note.code for note in found.notes] == ["landxml-read", "repeated-point"]


def test_groups_within_groups(tmp_path: Path) -> None:
    """Points of every CgPoints are read, those in groups within groups too."""
    nested = f'<CgPoints>{ONE}<CgPoints><CgPoint name="P2">3 4</CgPoint></CgPoints></CgPoints>'
    assert list(read(tmp_path, FEET + nested).points) == ["P1", "P2"]


def test_columns_make_no_sense(tmp_path: Path) -> None:
    """The order is fixed, so that columns in the site file are a slip."""
    assert "no columns" in refused(tmp_path, FEET, columns="name,east,north")


def test_a_file_without_points_says_so(tmp_path: Path) -> None:
    """A file with parcels only is no list of points."""
    (finding,) = read(tmp_path, FEET).findings
    assert "holds no CgPoint" in finding.message


def test_many_mistakes_end(tmp_path: Path) -> None:
    """After twenty points that cannot be used the rest is not read."""
    found = points(tmp_path, '<CgPoint name="A"/>' * 50).findings
    assert (len(found), found[-1].code) == (21, "too-many")


def test_files_that_are_not_there_or_broken(tmp_path: Path) -> None:
    """A missing file, and one that is cut short, are told with their name."""
    entry, place = PointFile(path="none.xml"), Place("site.toml", 9)
    with pytest.raises(InputError, match="no such file"):
        read_landxml(entry, folder=tmp_path, unit=UNITS["m"], place=place)
    (tmp_path / "none.xml").write_text("<LandXML>", encoding="utf-8")
    with pytest.raises(InputError, match="not well-formed"):
        read_landxml(entry, folder=tmp_path, unit=UNITS["m"], place=place)


def test_numbers_that_overflow_in_metres(tmp_path: Path) -> None:
    """The largest number there is, in kilometres, is refused in a sentence."""
    kilometres = '<Units><Metric linearUnit="kilometer"/></Units>'
    (finding,) = points(tmp_path, '<CgPoint name="A">1e308 2</CgPoint>', units=kilometres).findings
    assert "too far away" in finding.message
