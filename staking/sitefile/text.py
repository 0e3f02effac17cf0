"""How do the bytes of a file become text, and which files are not even opened?"""

from __future__ import annotations

import codecs
import os
import re
import stat
from pathlib import Path

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
_STRAY = re.compile(rb"[\x00\x1a]|\r(?!\n)")
_STRAY_WORDS = {
    b"\x00": ("the byte 0x00, which no text holds", f"{_SAVE}; the file may be damaged"),
    b"\x1a": ("the byte 0x1A, which once marked the end of files", "delete it"),
    b"\r": ("a bare carriage return (CR) as line end", "save it with line ends LF or CRLF"),
}


def read_bytes(path: str | Path, *, largest: int = LARGEST_SITE) -> bytes:
    """The bytes of a regular file of at most `largest` bytes.

    Raises InputError, without waiting, for folders, pipes, devices, links to nothing, files that may not be read.
    """
    try:
        _check_regular(path, os.stat(path).st_mode)
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except (OSError, ValueError) as error:
        raise _refused(path, *_why_not_open(Path(path), error)) from None
    with os.fdopen(handle, "rb") as file:
        state = os.fstat(file.fileno())  # again: between looking and opening it may have become another one
        _check_regular(path, state.st_mode)
        data = b"" if state.st_size > largest else file.read(largest + 1)
        if max(len(data), state.st_size) > largest:
            raise _refused(path, f"the file is larger than {largest // 1_000_000} MB", "is it the right file?")
        return data


def _check_regular(path: str | Path, mode: int) -> None:
    if stat.S_ISDIR(mode):
        inside = Path(path) / "site.toml"
        remedy = f"write {plain(str(inside), 200)}" if inside.is_file() else "name a file in it"
        raise _refused(path, "this is a folder", remedy)
    if not stat.S_ISREG(mode):
        raise _refused(path, "this is no regular file but a pipe or device", "name a file")


def _refused(path: str | Path, message: str, remedy: str) -> InputError:
    return InputError(mistake("unreadable-file", message, Place(plain(str(path), 200)), remedy))


def _why_not_open(path: Path, error: Exception) -> tuple[str, str]:
    """Why opening failed, and what to do."""
    if isinstance(error, FileNotFoundError):
        if path.is_symlink():
            return "this is a link to a file that does not exist", "repair the link"
        return "there is no such file", _like_it(path)
    if isinstance(error, PermissionError):
        return "the file may not be read", "ask for the right to read it"
    words = error.strerror if isinstance(error, OSError) and error.strerror else "this is no file name"
    return f"the file cannot be opened: {plain(words)}", ""


def _like_it(path: Path) -> str:
    try:
        with os.scandir(path.parent) as entries:
            names = [entry.name for entry, _ in zip(entries, range(1000), strict=False)]
    except OSError:
        return f"there is no folder {plain(str(path.parent))} either"
    like = suggestion(path.name, [name for name in names if name.endswith(path.suffix or ".toml")])
    return like if like.startswith("did you mean") else ""


def decode(data: bytes, file: str) -> str:
    """The text of a file in UTF-8; a byte order mark is dropped.

    Raises InputError that names the likely encoding, and the line and column of the first byte that is none.
    """
    _check_wide(data, file)
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise InputError(_not_utf8(data, error, file)) from None
    if stray := _STRAY.search(data):
        words, remedy = _STRAY_WORDS[stray[0]]
        raise InputError(mistake("encoding", f"the file holds {words}", _place(data, stray.start(), file), remedy))
    return text


def _check_wide(data: bytes, file: str) -> None:
    """Raise InputError for UTF-16 and UTF-32, with or without their marks."""
    marked = next((name for mark, name in _MARKS if data.startswith(mark)), None)
    zeros = data[:4096].count(0)
    if marked or zeros * 5 > len(data[:4096]) * 2:  # plain text in UTF-16 is every other byte 0
        raise InputError(mistake("encoding", f"the file is in {marked or 'UTF-16'}, not UTF-8", Place(file), _SAVE))


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
