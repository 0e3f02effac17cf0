"""Which lines does a list of points hold, and what are their numbers, when the file is read piece by piece?

Blank lines and lines that begin with # or // are passed over and counted. Lines end with LF or CR LF. Only one piece
of the file is in memory at a time, whatever its length.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from pathlib import Path
from typing import IO

from staking.errors import InputError
from staking.findings import Place
from staking.sitefile.places import mistake
from staking.sitefile.text import decode, opened

PIECE = 1_000_000  # bytes: enough for some 20,000 points; own choice
_MOST_COMMENTS = 20  # of a piece that are kept to look for the names of columns; own choice
_COMMENTS = ("#", "//")  # common practice, no source


@dataclass(frozen=True, slots=True)
class Piece:
    """Some lines that hold something. numbers: of each line in the file, from 1. passed: lines that hold nothing.

    comments: the first of those that are comments, with their numbers, without their marks.
    """

    lines: list[str]
    numbers: range | list[int]
    passed: int = 0
    comments: tuple[tuple[int, str], ...] = ()


class Fingerprint:
    """The SHA-256 of the bytes that have gone by."""

    def __init__(self) -> None:
        self._hash = hashlib.sha256()

    def add(self, data: bytes) -> bytes:
        """The same bytes, counted in."""
        self._hash.update(data)
        return data

    @property
    def hex(self) -> str:
        """What it is so far."""
        return self._hash.hexdigest()


def source_of(source: str | Path | bytes, absent: str = "") -> AbstractContextManager[IO[bytes]]:
    """A file, or bytes that are in memory already, to be read. Raises InputError for a file that cannot be opened."""
    return nullcontext(io.BytesIO(source)) if isinstance(source, bytes) else opened(source, absent=absent)


def pieces(file: IO[bytes], shown: str, fingerprint: Fingerprint) -> Iterator[Piece]:
    """The lines of a file, about a megabyte at a time.

    shown: the file's name in findings. Raises InputError for what is no text, and for a line longer than a megabyte.
    """
    first, rest = 1, b""
    while data := fingerprint.add(file.read(PIECE)):
        whole, cut, begun = (rest + data).rpartition(b"\n")
        rest = begun if cut else rest + data
        if cut:
            text = _decoded(whole + cut, shown, first)  # with its last line end, to which a CR may belong
            yield _piece(text[:-1], first)
            first += text.count("\n")
        if len(rest) > PIECE:
            _decoded(rest, shown, first)
            message = f"line {first} is longer than {PIECE:,} bytes"
            raise InputError(mistake("unreadable-file", message, Place(shown, first), "is it the right file?"))
    if rest:
        yield _piece(_decoded(rest, shown, first), first)


def _decoded(data: bytes, shown: str, first: int) -> str:
    """A piece as text; the places of what is no text count from the beginning of the file."""
    # a line before a later piece keeps its first bytes from being taken for the beginning of a file of another sort
    extra = int(first > 1)
    try:
        return decode(b"\n" * extra + data, shown)[extra:]
    except InputError as error:
        found = (
            replace(each, place=replace(each.place, line=each.place.line + first - 1 - extra))
            if each.place and each.place.line
            else each
            for each in error.findings
        )
        raise InputError(*found) from None


def _piece(text: str, first: int) -> Piece:
    lines = text.split("\n")
    empty = [at for at, line in enumerate(lines) if line[:1] in _SUSPECT and _holds_nothing(line)]
    if not empty:
        return Piece(lines, range(first, first + len(lines)))
    skipped = set(empty)
    kept = [at for at in range(len(lines)) if at not in skipped]
    comments = [(first + at, lines[at].strip().lstrip("#/").strip()) for at in empty if lines[at].strip()]
    return Piece([lines[at] for at in kept], [first + at for at in kept], len(empty), tuple(comments[:_MOST_COMMENTS]))


_SUSPECT = ("", " ", "\t", "\r", "\v", "\f", "#", "/", "\u00a0", "\u3000")


def _holds_nothing(line: str) -> bool:
    bare = line.strip()
    return not bare or bare.startswith(_COMMENTS)
