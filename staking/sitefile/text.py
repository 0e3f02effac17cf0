"""How do the bytes of a file become text, and which files are not even opened?"""

from __future__ import annotations

import codecs
import os
import re
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from staking.errors import InputError, suggestion
from staking.findings import Finding, Place
from staking.sitefile.places import marked_line, mistake, plain

LARGEST_SITE = 4_000_000  # bytes; the largest site files are a thousandth of it

_SAVE = "save it again as plain text in UTF-8"
_MARKS = (
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
# how files begin that are no text, and what they are; the signatures of their formats, from memory
_BINARY = (
    (b"\x7fELF", "a program"),
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a zip archive, as spreadsheets and word processors write"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet or word processor file"),
    (b"\x1f\x8b", "a compressed file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"II*\x00", "a picture"),
    (b"MM\x00*", "a picture"),
    (b"SQLite format", "a database"),
)
_NO_TEXT = "name a file of plain text; a spreadsheet saves a list of points as CSV, a word processor saves plain text"
_HEAD = 4096  # bytes from the beginning that show what sort of file it is
_STRAY = re.compile(rb"[\x00\x1a]|\r(?!\n)")
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f]")
_STRAY_WORDS = {
    b"\x00": ("the byte 0x00, which no text holds", f"{_SAVE}; the file may be damaged"),
    b"\x1a": ("the byte 0x1A, which once marked the end of files", "delete it"),
    b"\r": ("a bare carriage return (CR) as line end", "save it with line ends LF or CRLF"),
}


def read_bytes(path: str | Path, *, largest: int = LARGEST_SITE, inside: str = "", absent: str = "") -> bytes:
    """The bytes of a regular file of at most `largest` bytes.

    inside: the name of the file to suggest where the path is a folder that holds one of that name.
    absent: what to do where there is no such file and none like it.
    Raises InputError, without waiting, for folders, pipes, devices, links to nothing, files that may not be read.
    """
    with opened(path, inside=inside, absent=absent) as file:
        size = os.fstat(file.fileno()).st_size
        data = b"" if size > largest else file.read(largest + 1)
        if max(len(data), size) > largest:
            raise _refused(path, f"the file is larger than {largest // 1_000_000} MB", "is it the right file?")
        return data


@contextmanager
def opened(path: str | Path, *, inside: str = "", absent: str = "") -> Iterator[IO[bytes]]:
    """A regular file, open to be read; words and refusals as in `read_bytes`, and no limit to its size."""
    try:
        _check_regular(path, os.stat(path).st_mode, inside)
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except (OSError, ValueError) as error:
        raise _refused(path, *_why_not_open(Path(path), error, inside, absent)) from None
    with os.fdopen(handle, "rb") as file:
        # again: between looking and opening it may have become another one
        _check_regular(path, os.fstat(file.fileno()).st_mode, inside)
        yield file


def _check_regular(path: str | Path, mode: int, inside: str) -> None:
    if stat.S_ISDIR(mode):
        meant = Path(path) / inside
        remedy = f"write {plain(str(meant), 200)}" if inside and meant.is_file() else "name a file in it"
        raise _refused(path, "this is a folder, not a file", remedy)
    if not stat.S_ISREG(mode):
        raise _refused(path, "this is no regular file but a pipe or device", "name a file")


def _refused(path: str | Path, message: str, remedy: str) -> InputError:
    return InputError(mistake("unreadable-file", message, Place(plain(str(path), 200)), remedy))


def _why_not_open(path: Path, error: Exception, inside: str, absent: str) -> tuple[str, str]:
    """Why opening failed, and what to do."""
    if isinstance(error, FileNotFoundError):
        if path.is_symlink():
            return "this is a link to a file that does not exist", "repair the link"
        return "there is no such file", _like_it(path, inside, absent)
    if isinstance(error, PermissionError):
        return "the file may not be read", "ask for the right to read it"
    words = error.strerror if isinstance(error, OSError) and error.strerror else "this is no file name"
    return f"the file cannot be opened: {plain(words)}", ""


def _like_it(path: Path, inside: str, absent: str) -> str:
    """A name beside the path that may have been meant; else what to do without one."""
    try:
        with os.scandir(path.parent) as entries:
            names = [entry.name for entry, _ in zip(entries, range(1000), strict=False)]
    except OSError:
        return f"there is no folder {plain(str(path.parent))} either\n{absent}".rstrip()
    ends = path.suffix or ".toml"
    files = [name for name in names if name.endswith(ends) or (inside and os.path.isfile(path.parent / name / inside))]
    like = suggestion(path.name, files)
    return like if like.startswith("did you mean") else absent


def decode(data: bytes, file: str) -> str:
    """The text of a file in UTF-8; a byte order mark is dropped.

    Raises InputError for what is no text at all; for a text in another encoding one that names the likely one, and the
    line and column of the first byte that does not fit.
    """
    _check_wide(data, file)
    _check_text(data, file)
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise InputError(_not_utf8(data, error, file)) from None
    if stray := _is_odd(data) and _STRAY.search(data):
        words, remedy = _STRAY_WORDS[stray[0]]
        raise InputError(mistake("encoding", f"the file holds {words}", _place(data, stray.start(), file), remedy))
    return text


def _is_odd(data: bytes) -> bool:
    """Whether there is a byte to look for; most files have none, and counting is quicker than looking."""
    return b"\x00" in data or b"\x1a" in data or data.count(b"\r") != data.count(b"\r\n")


def _check_wide(data: bytes, file: str) -> None:
    """Raise InputError for UTF-16 and UTF-32, with or without their marks."""
    marked = next((name for mark, name in _MARKS if data.startswith(mark)), None)
    if marked or _wide_text(data[:_HEAD]):
        raise InputError(mistake("encoding", f"the file is in {marked or 'UTF-16'}, not UTF-8", Place(file), _SAVE))


def _wide_text(head: bytes) -> bool:
    """Whether bytes are text in UTF-16: every other one is 0, and taken in pairs they hold no other sign than text."""
    if head.count(0) * 5 < len(head) * 2:
        return False
    pairs = head[: len(head) // 2 * 2]
    texts = (pairs.decode(encoding, "replace") for encoding in ("utf-16-le", "utf-16-be"))
    return any(not _CONTROL.search(text) and sum(map(str.isascii, text)) * 4 > len(text) * 3 for text in texts)


def _check_text(data: bytes, file: str) -> None:
    """Raise InputError for programs, pictures, archives and the like: their bytes say nothing about an encoding."""
    head = data[:_HEAD]
    named = next((name for begin, name in _BINARY if data.startswith(begin)), None)
    # a damaged text may hold a zero byte or two, which are shown in their places
    if named or head.count(0) > max(3, len(head) // 100):
        what = f"this is {named}, not a text file" if named else "this is not a text file"
        raise InputError(mistake("encoding", what, Place(file), _NO_TEXT))


def _not_utf8(data: bytes, error: UnicodeDecodeError, file: str) -> Finding:
    byte = data[error.start]
    sign = bytes([byte]).decode("cp1252", "replace")
    known = sign.isprintable() and sign != "\ufffd"
    likely = f'; in Windows-1252 it is "{sign}", so the file may be in that encoding' if known else ""
    message = f"the byte 0x{byte:02X} is no UTF-8{likely}"
    return mistake("encoding", message, _place(data, error.start, file), _SAVE)


def _place(data: bytes, offset: int, file: str) -> Place:
    """The line and column of a byte, the line as Windows-1252 would have it from that byte on."""
    start = data.rfind(b"\n", 0, offset) + 1
    end = data.find(b"\n", offset)
    before = data[start:offset].decode("utf-8", "replace").rsplit("\r", 1)[-1]
    after = data[offset : end if end >= 0 else len(data)].split(b"\r")[0].decode("cp1252", "replace")
    line = data.count(b"\n", 0, offset) + 1
    return Place(file, line, len(before) + 1, source=marked_line(before + after, len(before)))
