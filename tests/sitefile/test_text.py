"""Which files are read, and which are refused without waiting?"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from staking.errors import InputError
from staking.findings import Finding
from staking.sitefile.text import decode, read_bytes


def refusal(path: Path | str, largest: int = 1000) -> Finding:
    """The only finding about a file that is refused."""
    with pytest.raises(InputError) as caught:
        read_bytes(path, largest=largest)
    (finding,) = caught.value.findings
    return finding


def test_a_file_is_read_whole(tmp_path: Path) -> None:
    """The bytes are those of the file, up to the last one allowed."""
    path = tmp_path / "site.toml"
    path.write_bytes(b"a" * 1000)
    assert read_bytes(path, largest=1000) == b"a" * 1000


def test_a_file_too_large_is_refused(tmp_path: Path) -> None:
    """One byte more than allowed is too much."""
    path = tmp_path / "site.toml"
    path.write_bytes(b"a" * 1001)
    assert "larger than" in refusal(path).message


def test_a_missing_file_is_named_with_the_one_like_it(tmp_path: Path) -> None:
    """A slip in the name of a file is answered with the name beside it."""
    (tmp_path / "site.toml").touch()
    finding = refusal(tmp_path / "sit.toml")
    assert (finding.message, finding.remedy) == ("there is no such file", 'did you mean "site.toml"?')


def test_a_missing_folder_is_said(tmp_path: Path) -> None:
    """Where the folder itself is missing, nobody looks for a slip in the file's name."""
    assert "there is no folder" in refusal(tmp_path / "no" / "site.toml").remedy


def test_a_folder_is_refused_with_the_site_file_in_it(tmp_path: Path) -> None:
    """Naming the folder instead of the file is answered with the file."""
    (tmp_path / "site.toml").touch()
    with pytest.raises(InputError) as caught:
        read_bytes(tmp_path, inside="site.toml")
    assert caught.value.findings[0].remedy.endswith("site.toml")


def test_a_folder_is_refused_without_a_site_file_where_none_is_meant(tmp_path: Path) -> None:
    """Who wants a list of points or a deed is not sent to the site file beside it."""
    (tmp_path / "site.toml").touch()
    finding = refusal(tmp_path)
    assert (finding.message, finding.remedy) == ("this is a folder, not a file", "name a file in it")


def test_a_missing_file_is_answered_with_the_folder_like_it(tmp_path: Path) -> None:
    """A slip in the name of a folder that holds what is meant, but not of one that does not."""
    for name in ("my_job", "my_jab"):
        (tmp_path / name).mkdir()
    (tmp_path / "my_job" / "site.toml").touch()
    with pytest.raises(InputError) as caught:
        read_bytes(tmp_path / "my_jb", inside="site.toml", absent="ask")
    assert caught.value.findings[0].remedy == 'did you mean "my_job"?'


def test_a_missing_file_with_none_like_it_has_a_way_out(tmp_path: Path) -> None:
    """The caller knows what to do without the file, in a folder that is there and in one that is not."""
    for path in (tmp_path / "nosuch", tmp_path / "no" / "site.toml"):
        with pytest.raises(InputError) as caught:
            read_bytes(path, absent="make one")
        assert caught.value.findings[0].remedy.splitlines()[-1] == "make one"


def test_a_pipe_is_refused_without_waiting(tmp_path: Path) -> None:
    """A pipe that nobody writes to would keep a careless reader waiting for ever."""
    os.mkfifo(tmp_path / "pipe")
    assert "pipe or device" in refusal(tmp_path / "pipe").message


def test_an_endless_device_is_refused() -> None:
    """/dev/zero never ends."""
    assert "pipe or device" in refusal("/dev/zero").message


def test_a_link_to_nothing_is_said(tmp_path: Path) -> None:
    """A broken link is told from a file that is simply missing."""
    (tmp_path / "link.toml").symlink_to(tmp_path / "gone.toml")
    assert "link to a file that does not exist" in refusal(tmp_path / "link.toml").message


def test_a_ring_of_links_is_refused(tmp_path: Path) -> None:
    """A link to itself leads nowhere."""
    (tmp_path / "link.toml").symlink_to(tmp_path / "link.toml")
    assert refusal(tmp_path / "link.toml").code == "unreadable-file"


@pytest.mark.parametrize("name", ["si\x00te.toml", "s" * 300, "site.toml/under"])
def test_names_that_no_file_can_have_are_refused(name: str, tmp_path: Path) -> None:
    """A name with a zero byte, a name too long, and a file used as a folder."""
    (tmp_path / "site.toml").touch()
    assert "\x00" not in str(refusal(tmp_path / name).place)


def test_a_file_without_right_to_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The refusal of the operating system is passed on in plain words."""

    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    (tmp_path / "site.toml").touch()
    monkeypatch.setattr(os, "open", refuse)
    assert refusal(tmp_path / "site.toml").message == "the file may not be read"


def refused_text(data: bytes) -> Finding:
    """The only finding about bytes that are no text."""
    with pytest.raises(InputError) as caught:
        decode(data, "site.toml")
    (finding,) = caught.value.findings
    return finding


def test_a_byte_order_mark_is_dropped() -> None:
    """A mark before the text is none of it."""
    assert decode(b"\xef\xbb\xbfname = 1\r\n", "site.toml") == "name = 1\r\n"


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_wide_encodings_are_named(encoding: str) -> None:
    """UTF-16 and UTF-32 are told by their marks or by their zero bytes."""
    assert "UTF-" in refused_text("[site]\nname = 1\n".encode(encoding)).message


def test_the_first_bad_byte_is_marked() -> None:
    """The line, the column in characters, the byte and the sign it is likely to be."""
    finding = refused_text("é = 1\nq = 'N 12°'".encode() + b"\xb0\n")
    assert str(finding.place) == "site.toml:2:12"
    assert '0xB0 is no UTF-8; in Windows-1252 it is "°"' in finding.message


def test_a_byte_that_windows_does_not_know_either_has_no_guess() -> None:
    """0x81 means nothing in Windows-1252."""
    assert refused_text(b"\x81").message == "the byte 0x81 is no UTF-8"


@pytest.mark.parametrize("stray", [b"\x00", b"\x1a", b"\r"])
def test_stray_bytes_are_refused_with_their_place(stray: bytes) -> None:
    """Zero bytes, old end marks and bare carriage returns."""
    assert str(refused_text(b"a = 1\r\nb = " + stray + b"1\n").place) == "site.toml:2:5"


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"\x7fELF\x02\x01\x01" + b"\x00" * 9 + bytes(range(256)), "a program"),
        (b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n1 0 obj\n", "a PDF"),
        (b"PK\x03\x04\x14\x00\x06\x00", "a zip archive, as spreadsheets and word processors write"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "a picture"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "a picture"),
    ],
)
def test_what_is_no_text_is_named(data: bytes, what: str) -> None:
    """Programs, pictures, archives: nothing is said of encodings, which would send somebody the wrong way."""
    finding = refused_text(data)
    assert finding.message == f"this is {what}, not a text file"
    assert "plain text" in finding.remedy


@pytest.mark.parametrize("data", [bytes(range(8)) * 600, b"\x00" * 5000, b"\x01\x00" * 500, b"ab\x00\x00\x00\x00"])
def test_many_zero_bytes_are_no_text(data: bytes) -> None:
    """Neither UTF-16 nor a text with a slip, whatever the file begins with."""
    assert refused_text(data).message == "this is not a text file"


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_wide_text_may_hold_other_letters(encoding: str) -> None:
    """A few signs that are not ASCII do not make UTF-16 a picture."""
    assert "the file is in UTF-16" in refused_text("# 12° 30′, Łódź\n[site]\nname = 'job'\n".encode(encoding)).message


def test_no_name_at_all_gets_a_sentence() -> None:
    """An empty path has no folder and no name like it."""
    assert refusal("").message == "there is no such file"
