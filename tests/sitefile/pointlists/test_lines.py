"""Are the lines of a file numbered right when it is read piece by piece?"""

from __future__ import annotations

import hashlib
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.errors import InputError
from staking.sitefile.pointlists import lines
from staking.sitefile.pointlists.lines import Fingerprint, Piece, pieces


def read(data: bytes, fingerprint: Fingerprint | None = None) -> list[Piece]:
    """The pieces of some bytes."""
    return list(pieces(io.BytesIO(data), "list.csv", fingerprint or Fingerprint()))


@given(st.lists(st.sampled_from(["", "  ", "# x", "// x", "a,1,2", "é,1,2", "%PDF", "PK"])), st.integers(9, 40))
def test_every_line_that_holds_something_keeps_its_number(texts: list[str], size: int) -> None:
    """However small the pieces."""
    data = "".join(f"{text}\r\n" for text in texts if text != "%PDF" or texts[0] != "%PDF").encode()
    expected = [
        (at, line) for at, line in enumerate(data.decode().split("\r\n"), 1) if line.strip() and line[0] not in "#/"
    ]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lines, "PIECE", size)
        found = [
            (number, line.rstrip("\r"))
            for piece in read(data)
            for number, line in zip(piece.numbers, piece.lines, strict=True)
        ]
    assert found == expected


def test_comments_are_kept_aside_and_counted() -> None:
    """They may name the columns."""
    (piece,) = read(b"# P,N,E\n\nA,1,2\n")
    assert (piece.comments, piece.passed, piece.lines) == (((1, "P,N,E"),), 2, ["A,1,2"])


def test_the_fingerprint_is_that_of_the_whole_file() -> None:
    """SHA-256, as hashlib has it."""
    mark = Fingerprint()
    read(b"A,1,2\nB,3,4", mark)
    assert mark.hex == hashlib.sha256(b"A,1,2\nB,3,4").hexdigest()


def test_a_byte_that_is_no_text_is_placed_in_the_whole_file(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not in its piece."""
    monkeypatch.setattr(lines, "PIECE", 8)
    with pytest.raises(InputError) as caught:
        read(b"A,1,2\nB,1,2\nC,1,2\nD,1,\xf6\n")
    place = caught.value.findings[0].place
    assert place is not None
    assert (place.line, place.column) == (4, 5)


def test_a_line_without_end_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """It would fill the memory."""
    monkeypatch.setattr(lines, "PIECE", 8)
    with pytest.raises(InputError, match="line 2 is longer"):
        read(b"A,1,2\n" + b"x" * 100)
