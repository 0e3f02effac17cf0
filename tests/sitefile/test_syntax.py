"""Is a text that TOML cannot read explained in plain words?"""

from __future__ import annotations

import time

import pytest

from staking.sitefile.places import Places
from staking.sitefile.syntax import Parsed, parse


def parsed(text: str) -> Parsed:
    """What the text of a file holds."""
    return parse(text, Places("site.toml", text))


def test_a_sound_text_is_read() -> None:
    """The data of the text, and nothing to say."""
    assert parsed("[slab]\nwidth = 5.5\n") == Parsed({"slab": {"width": 5.5}}, "[slab]\nwidth = 5.5\n")


def test_a_mended_text_is_read_on() -> None:
    """Behind a slip that can be mended the data is there, so that its mistakes can be said too."""
    found = parsed('width = "5\' 6""\ndepth = 3\n')
    assert found.data == {"width": "5' 6", "depth": 3}
    assert found.changed == {1}


def test_numbers_that_a_float_cannot_hold_stay_text() -> None:
    """Neither infinity nor 0 takes the place of a number too large or too small."""
    found = parsed("a = 1e400\nb = 1e-400\nc = inf\nd = 0e9\n")
    assert found.data == {"a": "1e400", "b": "1e-400", "c": float("inf"), "d": 0.0}


@pytest.mark.parametrize(
    ("text", "said", "place"),
    [
        ("a = '''x", "is not closed", "1:5"),
        ('a = "\\uZZZZ"', "code point", "1:8"),
        ('a = "\\uD800"', "code point", "1:12"),
        ("a = 2026-02-30", "no such day", "1:5"),
        ("a.b = 1\na.b.c = 2", "stands twice", "2:10"),
        ("a = {b = 1}\n[a.c]", "stands twice", "2:5"),
        ("a = {b = 1, b = 2}", "twice", "1:18"),
        ("a = 1 \x01", "behind the value", "1:7"),
        ("a = 'x\x01'", "does not hold", "1:7"),
    ],
)
def test_what_the_scan_does_not_know_is_said_in_plain_words(text: str, said: str, place: str) -> None:
    """The standard reader's own message, in our words, with its line and column."""
    (finding,) = parsed(text).findings
    assert said in finding.message
    assert str(finding.place) == f"site.toml:{place}"


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 100_000,
        "a = " + "[" * 100 + "]" * 100,
        "a = " + "{b = " * 400 + "1" + "}" * 400,
        "a." * 100_000 + "a = 1",
        "[" + "a." * 100_000 + "a]",
        f"a = {'9' * 100_000}",
        "a = " + " " * 900_000 + "[",
        '"' * 1_000_000,
        "= " * 500_000,
        "[a" * 300_000,
    ],
    ids=range(10),
)
def test_texts_made_to_tire_a_reader_are_refused_quickly(text: str) -> None:
    """Endless brackets, keys, numbers and lines end in a sentence within seconds."""
    begun = time.perf_counter()
    found = parsed(text)
    assert found.findings
    assert time.perf_counter() - begun < 5


def test_a_line_that_mending_does_not_help_is_said_once() -> None:
    """The first slip is mended; of the second, which stays unreadable, no wrong columns are marked."""
    findings = parsed("a = 5'\nb = x \x01\n").findings
    assert [each.place.line for each in findings if each.place] == [1, 2]
    assert findings[1].place is not None
    assert findings[1].place.column == 0
