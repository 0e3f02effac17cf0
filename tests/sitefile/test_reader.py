"""Is a site file read as it stands, with all its mistakes at once?"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from staking.errors import InputError
from staking.findings import Finding, Severity, as_text
from staking.sitefile.declared import Site
from staking.sitefile.reader import MOST, read_site
from staking.sitefile.starter import starter_site

STARTER = starter_site()


def site(folder: Path, text: str | bytes = STARTER) -> Site:
    """The site of a text."""
    path = folder / "site.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_site(path)


def said(folder: Path, text: str | bytes) -> list[str]:
    """The first lines of all findings, without the path of the file."""
    with pytest.raises(InputError) as caught:
        site(folder, text)
    return [as_text(each).splitlines()[0].replace(f"{folder}/", "") for each in caught.value.findings]


def test_a_site_is_read_in_metres(tmp_path: Path) -> None:
    """Feet and inches of the file are metres in the site."""
    declared = site(tmp_path).declared
    assert declared.setbacks["right"].required == 7.5 * 0.3048
    assert declared.slab.kind == "rectangle"


def test_a_site_knows_its_file(tmp_path: Path) -> None:
    """The fingerprint is the SHA-256 of the bytes of the file, and the path is the one that was given."""
    read = site(tmp_path)
    assert read.fingerprint == hashlib.sha256(STARTER.encode()).hexdigest()
    assert read.file == str(tmp_path / "site.toml")


def test_crlf_and_a_byte_order_mark_change_nothing(tmp_path: Path) -> None:
    """The same site is read from a file as Windows writes it, with the same places."""
    windows = site(tmp_path, b"\xef\xbb\xbf" + STARTER.replace("\n", "\r\n").encode())
    plain = site(tmp_path)
    assert windows.declared == plain.declared
    assert windows.place("slab", "width") == plain.place("slab", "width")


def test_a_place_is_that_of_the_value(tmp_path: Path) -> None:
    """Line, column, key and source line of a key."""
    place = site(tmp_path).place("stakes", 1, "distance")
    assert place.source[place.column - 1 :][: place.width] == '"5\'"'
    assert (place.line, place.key) == (STARTER[: STARTER.rindex("distance")].count("\n") + 1, "stakes#2.distance")


def test_the_place_of_an_absent_key_is_its_table(tmp_path: Path) -> None:
    """A key that was left out is looked for where its table begins; the name says which key is meant."""
    place = site(tmp_path).place("slab", "ledge")
    assert (place.source, place.key) == ("[slab]", "slab.ledge")


def test_an_absent_table_has_the_whole_file_as_its_place(tmp_path: Path) -> None:
    """Where nothing of a path is there, the place is the file."""
    place = site(tmp_path).place("numbering", "corners")
    assert (place.line, place.key) == (0, "numbering.corners")


def test_both_forms_of_a_point_have_places(tmp_path: Path) -> None:
    """The north of a point in its short form is the first number in the list."""
    read = site(tmp_path, STARTER.replace('{ north = 987.92, east = 1002.00, note = "nail, back of curb" }', "[1, 2]"))
    place = read.place("points", "K1", "east")
    assert place.source[place.column - 1 :][: place.width] == "2"


def test_mistakes_stand_in_file_order_but_for_the_unit(tmp_path: Path) -> None:
    """The unit comes first, for every other number depends on it."""
    text = (
        STARTER.replace('unit = "ft" ', 'uni = "ft" ')
        .replace("front = 25", "front = -1")
        .replace("rear = 20", "rear = x")
    )
    lines = said(tmp_path, text)
    assert "which unit its numbers are in" in lines[0]
    numbers = [int(line.split(":")[1]) for line in lines[1:]]
    assert len(numbers) == 4
    assert numbers == sorted(numbers)


def test_findings_of_mended_lines_mark_no_columns(tmp_path: Path) -> None:
    """A line that was mended has other columns than the file."""
    lines = said(tmp_path, STARTER.replace('kind = "rectangle"', "kind = rectangel"))
    assert [line.count(":") for line in lines] == [4, 4]
    assert 'unknown kind "rectangel"' in lines[1]


def test_of_thousands_of_mistakes_some_hundred_are_said(tmp_path: Path) -> None:
    """Nobody reads thousands; that there are more is said."""
    lines = said(tmp_path, STARTER + "".join(f"key{number} = 1\n" for number in range(3000)))
    assert len(lines) == MOST + 1
    assert "more mistakes" in lines[-1]


def test_every_finding_about_a_file_stops(tmp_path: Path) -> None:
    """A file with mistakes cannot be used, whatever they are."""
    with pytest.raises(InputError) as caught:
        site(tmp_path, STARTER.replace('"24\'"', "0"))
    assert {each.severity for each in caught.value.findings} == {Severity.STOP}


def test_points_of_a_file_join_those_of_the_site(tmp_path: Path) -> None:
    """Points of both are given, and the file's fingerprint is on record."""
    (tmp_path / "more.csv").write_text("point,n,e\nQ1,1,2\nP1,1000,1000\n")
    read = site(tmp_path, f'{STARTER}\n[[point_files]]\npath = "more.csv"\n')
    assert {"P1", "Q1"} <= set(read.given)
    assert read.sources == {"more.csv": hashlib.sha256((tmp_path / "more.csv").read_bytes()).hexdigest()}


def test_a_point_at_two_places_is_refused(tmp_path: Path) -> None:
    """A name in the site file and in a list must mean one place; a millimetre is let pass."""
    (tmp_path / "more.csv").write_text("point,n,e\nP1,1000.01,1000\nP2,1000.001,1080\n")
    (line,) = said(tmp_path, f'{STARTER}\n[[point_files]]\npath = "more.csv"\n')
    assert line.startswith('more.csv:2: stop: the point "P1" stands twice at different places; first at site.toml:')


def test_a_list_named_twice_is_refused(tmp_path: Path) -> None:
    """The same list twice is a slip."""
    (tmp_path / "more.csv").write_text("point,n,e\nQ1,1,2\n")
    (line,) = said(tmp_path, STARTER + '\n[[point_files]]\npath = "more.csv"\n' * 2)
    assert "named twice" in line


def test_an_unreadable_list_hides_no_other_mistake_and_makes_none(tmp_path: Path) -> None:
    """Where points could not be read nobody complains that they are missing, but of everything else."""
    text = STARTER.replace('"K1", "K2"', '"Q1", "Q2"').replace('"lot right"', '"lot rigth"')
    lines = said(tmp_path, f'{text}\n[[point_files]]\npath = "more.csv"\n')
    assert ["there is no line" in lines[0], "there is no such file" in lines[1], len(lines)] == [True, True, 2]


def outcome(folder: Path, data: bytes) -> tuple[Finding, ...] | None:
    """The findings about a file; None where it is read."""
    try:
        site(folder, data)
    except InputError as error:
        return error.findings
    return None


@given(
    st.integers(0, len(STARTER) - 1),
    st.integers(0, 12),
    st.binary(max_size=6)
    | st.sampled_from([b'"', b"'", b"[", b"]", b"{", b"}", b"=", b"\n", b"nan", b"[]", b"{}", b"-1"]),
)
@example(0, len(STARTER), b"keep_clear = [5]")
@example(0, len(STARTER), b"site = 1\nslab = 1\nplacement = []\npoints = 1\nlot = 1\nstakes = [1]\npoint_files = [1]")
@example(0, len(STARTER), b"x = 0x" + b"f" * 4000 + b"\n[tape]\nlength = 0x" + b"f" * 4000)
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_happens_to_a_file_it_is_read_or_refused(tmp_path: Path, at: int, cut: int, new: bytes) -> None:
    """Bytes cut out and put in anywhere end in a site or in findings that can be printed, and in nothing else."""
    data = STARTER.encode()
    findings = outcome(tmp_path, data[:at] + new + data[at + cut :])
    assert findings != ()
    assert all(each.message.isprintable() for each in findings or ())


@pytest.mark.parametrize(
    "text",
    ["name,north,east\nP1,1000,1000\nP2,1000,1080\n", "# control\nP1 1000.00 1000.00 nail\n", "P1;1;2\nP2;3;4\n"],
)
def test_a_list_of_points_is_no_site_file(text: str, tmp_path: Path) -> None:
    """It is said once and not of every line, with the words that name the list in a site file."""
    with pytest.raises(InputError) as caught:
        site(tmp_path, text)
    (finding,) = caught.value.findings
    assert finding.message == "this is a list of points, not a site file"
    assert '[[point_files]]\npath = "site.toml"' in finding.remedy


def test_a_site_file_with_a_slip_is_no_list_of_points(tmp_path: Path) -> None:
    """Its mistakes are said line by line."""
    assert "not closed" in said(tmp_path, STARTER.replace('"P4"]', '"P4"', 1))[0]


def test_points_in_degrees_are_refused_before_their_lot(tmp_path: Path) -> None:
    """Nobody reads that a side has no length where the numbers are latitude and longitude."""
    text = STARTER
    for number, name in enumerate(("P1", "P2", "P3", "P4", "K1", "K2")):
        text = re.sub(rf"^{name} = .*", f"{name} = [40.12{number}, -75.123{number % 2}]", text, flags=re.MULTILINE)
    (line,) = said(tmp_path, text)
    assert "points.P1: the points look like latitude and longitude in degrees" in line


def test_a_missing_site_file_has_a_way_out(tmp_path: Path) -> None:
    """Where there is nothing like it, `staking new` is named."""
    with pytest.raises(InputError) as caught:
        read_site(tmp_path / "site.toml")
    assert "`staking new FOLDER`" in caught.value.findings[0].remedy


def test_a_folder_is_answered_with_the_site_file_in_it(tmp_path: Path) -> None:
    """The file that was meant is named."""
    (tmp_path / "site.toml").touch()
    with pytest.raises(InputError) as caught:
        read_site(tmp_path)
    assert caught.value.findings[0].remedy == f"write {tmp_path / 'site.toml'}"
