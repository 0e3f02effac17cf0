"""Are places shown so that the mark stands under what is meant?"""

from __future__ import annotations

from staking.sitefile.places import Places, key_words, marked_line, plain

TEXT = "[slab]\n\twidth = 5\n"


def test_the_value_is_marked() -> None:
    """A tab counts as one character and is shown as one, so that the mark stands right."""
    place = Places("site.toml", TEXT).value(("slab", "width"))
    assert (place.line, place.column, place.source) == (2, 10, " width = 5")


def test_the_key_is_marked() -> None:
    """For what is wrong with the key itself."""
    place = Places("site.toml", TEXT).key(("slab", "width"))
    assert (place.column, place.width, place.key) == (2, 5, "slab.width")


def test_the_source_may_be_another_text() -> None:
    """Positions come from the mended text, the line shown is the one in the file."""
    place = Places("site.toml", "a = 1\n", source="a : 1\n").value(("a",))
    assert place.source == "a : 1"


def test_numbers_in_a_path_count_from_one() -> None:
    """People count entries from one."""
    assert key_words(("stakes", 0, "distance")) == "stakes#1.distance"


def test_nothing_invisible_is_shown() -> None:
    """Control characters and marks that turn the text round are made visible."""
    assert plain("a\u202eb\x1b") == "a\\u202eb\\x1b"
    assert marked_line("a\u202eb") == "a\ufffdb"


def test_long_lines_are_cut() -> None:
    """A line longer than a screen ends early; where the mark would stand beyond, nothing is shown."""
    assert len(marked_line("x" * 5000)) <= 200
    assert marked_line("x" * 5000, 3000) == ""
