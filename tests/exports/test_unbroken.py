"""Lengths in running text: they stay on one line."""

from __future__ import annotations

import pytest

from staking.exports.unbroken import parts, words


@pytest.mark.parametrize(
    "length",
    [
        "9' 2-1/2\"",
        "9'-2½\"",
        "33' 0\"",
        "12′ 3-1/8″",
        '2-1/2"',
        "5 3/8 in",
        "56.625 ftUS",
        "1,204.5 ft",
        "9.918 m",
        "25 mm",
        "N 87°50' E",
        "S 12°30'15\" W",
        "N 88° E",
    ],
)
def test_length_is_one_word(length: str) -> None:
    """However it is written, a length is never parted from its inches or its unit."""
    assert words(f"pull {length} square") == ["pull", length, "square"]


@pytest.mark.parametrize("text", ["lot 7 in block 2", "101 to 102", "at 3 men", "3-4-5 triangle", ""])
def test_other_words_may_be_parted(text: str) -> None:
    """Numbers that are no lengths do not hold the words after them."""
    expected = ["lot", "7 in", "block", "2"] if "block" in text else text.split()
    assert words(text) == expected


@pytest.mark.parametrize("text", ["3-4", "101-102-103-104"])
def test_a_side_is_one_piece(text: str) -> None:
    """No line ends between the corners that name a side or a diagonal."""
    assert list(parts(f"side {text}, out")) == [("side ", False), (text, True), (", out", False)]


def test_nothing_is_lost_or_added() -> None:
    """The parts make up the text again."""
    text = "From 101 measure 56' 7-1/2\" (56.625 ftUS) along the base string\nto 102."
    assert "".join(part for part, _ in parts(text)) == text
    assert [part for part, whole in parts(text) if whole] == ["56' 7-1/2\"", "56.625 ftUS"]
