"""A book given to the verb of another is refused in one sentence, with the verb that reads it."""

from __future__ import annotations

from pathlib import Path

import pytest

from staking.errors import InputError
from staking.sitefile.which_book import Book, book_of, refuse_other_text

SAMPLES = Path(__file__).parents[2] / "sample_sites"


@pytest.mark.parametrize(
    ("header", "book"),
    [
        ("from,to,reading", "tape book"),
        ("from,from,reading", "tape book"),
        ("Start;End;Distance (m)", "tape book"),
        ("point,backsight (ft),intermediate,foresight", "level book"),
        ("name,reading (ft)", "list of rod readings"),
        ("name,north,east,elevation", "list of points"),
        ("pt\tnorthing\teasting", "list of points"),
        ("101,1000.0,2000.0", "list of points"),
        ("name,elevation (ft)", None),
        ('a,"b', None),
        ("some words", None),
    ],
)
def test_told_by_the_first_row(header: str, book: str | None) -> None:
    """Where nothing tells, nothing is refused: the reader of the book says what it lacks."""
    assert book_of(header) == book


@pytest.mark.parametrize(
    ("path", "wanted", "verb"),
    [
        ("tape_only_shed/as_set.csv", "tape book", "staking compare SITE FILE"),
        ("tape_only_shed/tape_book.csv", "list of points", "staking tape SITE FILE"),
        ("workshop_pad/levels.csv", "tape book", "staking levels FILE --site SITE"),
        ("workshop_pad/forms.csv", "list of points", "staking levels FILE --site SITE"),
    ],
)
def test_refused_in_one_sentence(path: str, wanted: Book, verb: str) -> None:
    """The line that tells, what it is, what is wanted, and who reads it."""
    text = (SAMPLES / path).read_text(encoding="utf-8")
    with pytest.raises(InputError) as refused:
        refuse_other_text(text, path, wanted)
    (found,) = refused.value.findings
    assert found.message.endswith(f"and a {wanted} is wanted here")
    assert verb in found.remedy
    assert found.place
    assert found.place.line == 1 + text.startswith("#")


def test_what_is_wanted_passes() -> None:
    """And so does an empty file, which has its own sentence."""
    refuse_other_text("# a note\n\nfrom,to,reading\n", "a.csv", "tape book")
    refuse_other_text("", "a.csv", "tape book")
