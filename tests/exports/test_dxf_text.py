"""Texts that must become ASCII, and names that would then be the same."""

from __future__ import annotations

import pytest

from staking.errors import OutputError
from staking.exports.dxf_text import ascii_text, check_distinct


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("plain 1' 6\"", "plain 1' 6\""),
        ("6½″", '6-1/2"'),
        ("½″", '1/2"'),
        ("32′ 6⅝″", "32' 6-5/8\""),
        ("N 12°30′15″ E", "N 12%%d30'15\" E"),
        ("90 º", "90 %%d"),
        ("Café façade Ærø ß", "Cafe facade AEro ss"),
        ("a–b—c−d", "a-b-c-d"),
        ("3×4 ±1 …", "3x4 +/-1 ..."),
        ("100%% %%c %%%", "100% %c %"),
        ("％％u", "%u"),
        ("x^J \\P \\U+00B0", "x'J /P /U+00B0"),
        ("two\nlines\tand", "two lines and"),
        ("Бетон 工", "????? ?"),
        ("", ""),
    ],
)
def test_text_becomes_ascii(text: str, written: str) -> None:
    """Marks, fractions and accents keep their sense, control codes lose theirs."""
    assert ascii_text(text) == written
    assert written.isascii()


def test_names_that_look_the_same_are_refused() -> None:
    """Two names that would be one in a DXF stop it, and both are named."""
    with pytest.raises(OutputError, match='"É1" and "E1" would both be called "E1"'):
        check_distinct(["A", "É1", "E1"])


def test_one_odd_name_is_no_trouble() -> None:
    """A name outside ASCII is written as near as can be where nothing else looks like it."""
    check_distinct(["É1", "E2", "Б"])
