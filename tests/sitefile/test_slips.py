"""Are slips of the pen found, all of them, and is the line mended?"""

from __future__ import annotations

import tomllib

import pytest

from staking.sitefile.slips import find_slips, mended

MENDED = [
    ('width = "32\' 6-1/2""', 'width = "32\' 6-1/2"'),
    ('width = "32\' 6""  # print', 'width = "32\' 6"  # print'),
    ('width = "6-1/2""', 'width = "6-1/2 in"'),
    ('note = "a 5/8" bar"', 'note = "a 5/8\\" bar"'),
    ('bearing = "N 12°30\'15" E"', 'bearing = "N 12-30-15 E"'),
    ("length = 60'-6\"", 'length = "60\'-6"'),
    ("width = 36'", 'width = "36\'"'),
    ("width = 36 ft", 'width = "36 ft"'),
    ("width = 6-1/2", 'width = "6-1/2 in"'),
    ("bearing = N 12-30-15 E", 'bearing = "N 12-30-15 E"'),
    ("name = Alder Lane", 'name = "Alder Lane"'),
    ("name = “Alder Lane”", 'name = "Alder Lane"'),
    ("name = ‘Alder Lane’ # x", 'name = "Alder Lane" # x'),
    ("width = '32' 6-1/2\"'", 'width = "32\' 6-1/2"'),
    ("width = '6'", "width = '6'"),
    ('name = "Alder Lane', 'name = "Alder Lane"'),
    ("name = 'Alder Lane", 'name = "Alder Lane"'),
    ('name = Alder Lane"', 'name = "Alder Lane"'),
    ("front: 25", "front = 25"),
    ("front : 25'", 'front = "25\'"'),
    ("[slab", "[slab]"),
    ("slab = [1, 2", "slab = [1, 2]"),
    ("[[stakes]", "[[stakes]]"),
    ("[stakes]]", "[[stakes]]"),
    ("[keep clear]\nx = 1", "[[keep_clear]]\nx = 1"),
    ("corners = [P1, P2]", 'corners = ["P1", "P2"]'),
    ('corners = ["P1, "P2"]', 'corners = ["P1", "P2"]'),
    ('shift = ["2\' 6"", "1\' 3""]', 'shift = ["2\' 6", "1\' 3"]'),
    ('corners = ["P1",\n"P2"\n[slab]', 'corners = ["P1",\n"P2"]\n[slab]'),
    ("P1 = { north = 1, east = 2", "P1 = { north = 1, east = 2}"),
    ("P1 = { north = 1, note = a b }", 'P1 = { north = 1, note = "a b" }'),
    ("x = [[1, 2\ny = 1", "x = [[1, 2]]\ny = 1"),
    ("x = .5", "x = 0.5"),
    ("x = 5.", "x = 5.0"),
    ("x = -007", "x = -7"),
    ("x = True", "x = true"),
    ('path = "a\\control.csv"', 'path = "a\\\\control.csv"'),
    ("sеtback = 5", "setback = 5"),
    ("front yard = 5", '"front yard" = 5'),
    ("x = 1\nx = 2", "x = 1\n"),
    ('a = """one\ntwo"""\nb = 5\'', 'a = """one\ntwo"""\nb = "5\'"'),
]


@pytest.mark.parametrize(("written", "meant"), MENDED)
def test_a_slip_is_mended(written: str, meant: str) -> None:
    """The line is rewritten as it should be, and TOML can read it."""
    better = mended(written, find_slips(written))
    assert better == meant
    assert tomllib.loads(better) is not None


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("x = 12,5", "decimal comma"),
        ("x =", "no value"),
        ("x = # none", "no value"),
        ('x = "a" 5', "behind the value"),
        ("x = [1] ]", "behind the value"),
        ("[a]\n[a]", "stands twice"),
        ("garbage", "neither a [table] nor"),
        ("= 5", "no key before"),
        ("x = { a = 1,\n b = 2 }", "not closed on its line"),
        ('x = """open', "not closed with"),
        ("[]", "no name of a table"),
    ],
)
def test_a_slip_that_nobody_can_mend_is_said(written: str, said: str) -> None:
    """Where nobody can know what was meant, the slip is only said."""
    slips = find_slips(written)
    assert said in slips[0].message
    assert slips[0].fix is None


def test_every_slip_of_a_file_is_found() -> None:
    """One slip does not hide the next, and none is told twice."""
    text = 'a = "1\' 2""\n[slab\nb = 36\'\nc: 5\nd = [1, 2\ne = 5 ft\n'
    assert [slip.line for slip in find_slips(text)] == [1, 2, 3, 4, 5, 6]


def test_both_ways_to_write_an_inch_mark_are_shown() -> None:
    """After feet the mark may be left off; else a backslash goes before it."""
    (slip,) = find_slips('width = "32\' 6-1/2""')
    first, second = slip.remedy.splitlines()
    assert first.startswith('write   width = "32\' 6-1/2" ')
    assert second.startswith('or      width = "32\' 6-1/2\\"" ')


def test_comments_hold_no_slips() -> None:
    """A line that was commented out may hold what it likes."""
    assert find_slips('# width = "6""\nx = 1 # 5\' and "6""\n') == ()


def test_a_line_too_long_for_hands_is_passed_over() -> None:
    """What no hand has written is left to the standard reader."""
    assert find_slips(f"x = {'a' * 5000}") == ()


def test_quotes_at_the_end_of_a_long_text_belong_to_it() -> None:
    """Up to two quotes may stand before the three that close a text over several lines."""
    assert find_slips('a = """one\ntwo"""""\nb = 1\n') == ()
