"""Are lists of points read exactly, and refused row by row?"""

from __future__ import annotations

from pathlib import Path

import pytest

from staking.errors import InputError
from staking.findings import Finding, Place
from staking.sitefile import point_files
from staking.sitefile.declared import PointFile
from staking.sitefile.point_files import PointList, read_points
from staking.units import UNITS

PLACE = Place("site.toml", 5, 8)
FOOT = 0.3048
SURVEY_FOOT = 1200 / 3937


def read(folder: Path, text: str, *, unit: str = "ft", columns: str = "", own: str = "") -> PointList:
    """The points of a text, on a site in feet unless said otherwise."""
    (folder / "list.csv").write_text(text, encoding="utf-8", newline="")
    entry = PointFile.model_validate({"path": "list.csv", "columns": columns, "unit": own})
    return read_points(entry, folder=folder, unit=UNITS[unit], place=PLACE)


def complaints(folder: Path, text: str, **how: str) -> list[str]:
    """What is said of a text, with the lines."""
    return [f"{each.place.line if each.place else 0}: {each.message}" for each in read(folder, text, **how).findings]


def refusal(path: str, folder: Path) -> Finding:
    """Why a list is not read at all."""
    with pytest.raises(InputError) as caught:
        read_points(PointFile(path=path), folder=folder, unit=UNITS["ft"], place=PLACE)
    return caught.value.findings[0]


def test_a_list_is_read_in_metres(tmp_path: Path) -> None:
    """Coordinates and elevation in the site's unit; the note as written."""
    point = read(tmp_path, 'name,north,east,elevation,note\r\nK1,10,20,30,"nail, ""OK"""\r\n').points["K1"]
    assert (point.north, point.east, point.elevation, point.note) == (10 * FOOT, 20 * FOOT, 30 * FOOT, 'nail, "OK"')


def test_decimals_are_read_exactly(tmp_path: Path) -> None:
    """A coordinate of a state grid becomes the nearest double, rounded once."""
    point = read(tmp_path, "p,n,e\n1,6397932.575,380006.365\n", unit="ftUS").points["1"]
    assert point.north == float(UNITS["ftUS"].metres * 6397932575 / 1000)


def test_names_are_text(tmp_path: Path) -> None:
    """007, 7, 1E5 and TRUE are four names."""
    rows = "".join(f"{name},{number},0\n" for number, name in enumerate(["007", "7", "1E5", "TRUE", "10.0"]))
    assert list(read(tmp_path, f"p,n,e\n{rows}").points) == ["007", "7", "1E5", "TRUE", "10.0"]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_commas_semicolons_and_tabs_part_the_columns(sign: str, tmp_path: Path) -> None:
    """The sign is told by the first line."""
    assert read(tmp_path, f"p{sign}n{sign}e\nK1{sign}1{sign} 2\n").points["K1"].east == 2 * FOOT


@pytest.mark.parametrize(
    "text", ["name north east note\nK1  1 2 iron nail\n", "name|north|east|note\nK1|1|2|iron nail\n"]
)
def test_blanks_and_bars_part_the_columns(text: str, tmp_path: Path) -> None:
    """Any number of blanks stands for one; a note at the end keeps its own."""
    point = read(tmp_path, text).points["K1"]
    assert (point.north, point.east, point.note) == (FOOT, 2 * FOOT, "iron nail")


def test_blanks_without_a_header_need_columns(tmp_path: Path) -> None:
    """As with every other sign."""
    (finding,) = read(tmp_path, "K1 1000.00 2000.00\nK2 1 2\n").findings
    assert 'columns = "name,north,east"' in finding.remedy
    assert len(read(tmp_path, "K1 1000.00 2000.00\nK2 1 2\n", columns="name,east,north").points) == 2


def test_decimal_commas_are_read(tmp_path: Path) -> None:
    """Between semicolons a comma stands before decimals where the figures show it."""
    assert read(tmp_path, "p;n;e\nA;12,5;0,25\n", unit="m").points["A"].north == 12.5


def test_commas_that_may_mark_thousands_are_asked_about(tmp_path: Path) -> None:
    """1,234 is no number until somebody says which one."""
    (finding,) = read(tmp_path, "p;n;e\nA;1,234;5,678\n").findings
    assert "could mark decimals or thousands" in finding.message
    assert 'decimal = "comma"' in finding.remedy


def test_a_blank_elevation_is_none(tmp_path: Path) -> None:
    """Nothing is not the level of the sea; 0 is."""
    points = read(tmp_path, "p,n,e,z\nA,1,1,\nB,1,2,0\nC,1,3\n").points
    assert [points[name].elevation for name in "ABC"] == [None, 0.0, None]


def test_blank_lines_and_comments_are_passed_over(tmp_path: Path) -> None:
    """They count as lines, so that a finding names the right one."""
    assert complaints(tmp_path, "# list\n\np,n,e\n# first\n\nA,1,x\n")[0].startswith("6: `x` cannot be read")


def test_a_mark_at_the_beginning_is_dropped(tmp_path: Path) -> None:
    """A byte order mark is no part of the first word."""
    assert "A" in read(tmp_path, "\ufeffpoint,n,e\nA,1,1\n").points


def test_the_unit_of_a_header_is_honoured(tmp_path: Path) -> None:
    """A list in metres beside a site in feet."""
    assert read(tmp_path, "p,n (m),e (m)\nA,1,2\n").points["A"].north == 1.0


def test_the_elevation_may_have_a_unit_of_its_own(tmp_path: Path) -> None:
    """Survey feet on the grid, feet above the sea."""
    point = read(tmp_path, "p,n (ftUS),e (ftUS),z (ft)\nA,1,2,3\n", unit="ftUS").points["A"]
    assert (point.north, point.elevation) == (SURVEY_FOOT, 0.9144)


def test_the_unit_of_the_entry_is_honoured(tmp_path: Path) -> None:
    """The site file may say in which unit a list is."""
    assert read(tmp_path, "p,n,e\nA,1,2\n", own="m").points["A"].north == 1.0


@pytest.mark.parametrize(
    ("unit", "own", "said"), [("ft", "m", "by its header"), ("ft", "", "two feet must not be mixed")]
)
def test_a_header_that_contradicts_the_site_is_refused(unit: str, own: str, said: str, tmp_path: Path) -> None:
    """Header in survey feet: neither a site in feet nor an entry in metres goes with it unasked."""
    (line,) = complaints(tmp_path, "p,n (ftUS),e (ftUS)\nA,1,2\n", unit=unit, own=own)
    assert said in line


def test_a_list_without_header_needs_its_columns(tmp_path: Path) -> None:
    """The refusal shows the guess and the line to add; with the line the list is read in that order."""
    (finding,) = read(tmp_path, "A,1,2\n").findings
    assert 'columns = "name,north,east"' in finding.remedy
    assert read(tmp_path, "A,1,2\n", columns="name,east,north").points["A"].north == 2 * FOOT


def test_a_header_is_passed_over_where_the_site_file_names_the_columns(tmp_path: Path) -> None:
    """A header that agrees does no harm; one that does not is refused."""
    assert list(read(tmp_path, "p,n,e\nA,1,2\n", columns="name,north,east").points) == ["A"]
    (line,) = complaints(tmp_path, "p,e,n\nA,1,2\n", columns="name,north,east")
    assert "by its header column 3 is north; by the site file it is column 2" in line


def test_the_site_file_decides_where_a_header_leaves_a_doubt(tmp_path: Path) -> None:
    """Two columns that could be the name are told apart in the site file."""
    points = read(tmp_path, "id,e,n,name\n7,1,2,peg\n", columns="name,east,north,note").points
    assert points["7"].note == "peg"


def test_a_name_twice_at_one_place_is_noted(tmp_path: Path) -> None:
    """The first one is used."""
    found = read(tmp_path, "p,n,e,z\nA,1,1,\nA,1.002,1,5\n")
    assert found.points["A"].north == FOOT
    assert "stands twice at one place" in found.notes[0].message


@pytest.mark.parametrize("row", ["A,1.01,1,5", "A,1,1.01,5", "A,1,1,5.01"])
def test_a_name_twice_at_different_places_is_refused(row: str, tmp_path: Path) -> None:
    """In plan or in height, more than a millimetre apart."""
    (line,) = complaints(tmp_path, f"p,n,e,z\nA,1,1,5\n{row}\n")
    assert line == '3: the point "A" stands twice at different places; first on line 2'


@pytest.mark.parametrize(
    "row",
    [
        "A,nan,1", "A,inf,1", "A,,1", ",1,1", "A,1", "A,6397.9.32,1", "A,1e400,1", "A,1,1,-9999", "A,1,1,none",
        "A,1;5,1", "=A,1,1", "A,1,1,,bell\x07", 'A,1,1,,"open', 'A,1,1,,"x"y', f"{'A' * 41},1,1", "A,1234567890,1",
        "A,45:30:15,1", "A\u200b,1,1",
    ],
)  # fmt: skip
def test_a_bad_row_is_refused_by_its_line(row: str, tmp_path: Path) -> None:
    """One row that cannot be used does not hide the others, and they are read."""
    found = read(tmp_path, f"p,n,e,z,d\n{row}\nB,1,1\n")
    assert [each.place.line for each in found.findings if each.place] == [2]
    assert list(found.points) == ["B"]


def test_a_list_of_bad_rows_is_given_up(tmp_path: Path) -> None:
    """After twenty bad rows the rest is not read."""
    lines = complaints(tmp_path, "p,n,e\n" + "A,x,1\n" * 100)
    assert len(lines) == point_files.MOST_FINDINGS + 1
    assert "was not read" in lines[-1]


def test_a_list_of_a_whole_county_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """There is an end to what one site needs."""
    monkeypatch.setattr(point_files, "MOST_POINTS", 10)
    lines = complaints(tmp_path, "p,n,e\n" + "".join(f"A{number},1,1\n" for number in range(20)))
    assert lines == ["0: the file holds more than 10 points"]


def test_a_list_without_points_is_said(tmp_path: Path) -> None:
    """A file of comments holds no points."""
    assert complaints(tmp_path, "# nothing\n\n") == ["0: the file holds no points"]


@pytest.mark.parametrize(
    "path", ["/etc/hosts", "../list.csv", "a/../../list.csv", "C:/list.csv", "C:list.csv", "", " "]
)
def test_a_list_outside_the_folder_is_refused(path: str, tmp_path: Path) -> None:
    """No path of any system leads out of the folder of the site file."""
    assert refusal(path, tmp_path).code == "outside-folder"


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    """A link is followed only inside."""
    (tmp_path / "link.csv").symlink_to("/etc/hosts")
    (tmp_path / "ring.csv").symlink_to(tmp_path / "ring.csv")
    assert refusal("link.csv", tmp_path).code == "outside-folder"
    assert refusal("ring.csv", tmp_path).place == PLACE


def test_backslashes_are_no_folders(tmp_path: Path) -> None:
    """One way to write a path serves on every system."""
    assert 'path = "a/list.csv"' in refusal("a\\list.csv", tmp_path).remedy


@pytest.mark.parametrize("path", [".", "points"])
def test_a_folder_is_no_list(path: str, tmp_path: Path) -> None:
    """It is said to be one; the site file in it is not what is wanted."""
    (tmp_path / "points").mkdir()
    (tmp_path / "site.toml").touch()
    finding = refusal(path, tmp_path)
    assert finding.message.endswith("this is a folder, not a file")
    assert finding.remedy == "name a file in it"


def test_a_missing_list_is_said_where_the_site_file_names_it(tmp_path: Path) -> None:
    """The place is the line of the site file; the message names the list."""
    finding = refusal("gone.csv", tmp_path)
    assert finding.place == PLACE
    assert finding.message.endswith("gone.csv: there is no such file")
    assert finding.remedy == "copy the list into the folder of the site file, or correct the path"


def test_a_unit_in_doubt_is_not_decided_by_the_site_file_alone(tmp_path: Path) -> None:
    """Columns named in the site file do not excuse a header with two units."""
    (line,) = complaints(tmp_path, "p,n (m),e (ft)\nA,1,2\n", columns="name,north,east")
    assert "one unit for north and another" in line
