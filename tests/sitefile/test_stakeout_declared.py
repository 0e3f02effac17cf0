"""What a site file may say of lists of stakes."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.errors import InputError
from staking.findings import as_text


def said(entry: str) -> str:
    """All that is said of a site with such a list."""
    with pytest.raises(InputError) as caught:
        layout_of(f"{PLACED_RECTANGLE}[[stakeout]]\n{entry}\n")
    return "\n".join(as_text(finding) for finding in caught.value.findings)


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ("columns = []", 'name = "..."'),
        ('name = "Rover"', '"Rover" cannot be part of the name of a file'),
        ('name = "../x"', '"../x" cannot be part of the name of a file'),
        ('name = "x"\ncolumns = ["nort"]', "nort"),
        ('name = "x"\ncolumns = ["name", "name"]', "a column stands twice"),
        ('name = "x"\ndecimal_mark = "comma"', "a comma cannot stand in the numbers and between the columns too"),
        ('name = "x"\ndecimals = 7', "at most 6"),
        ('name = "x"\nlongest_name = 0', "at least 1"),
        ('name = "x"\nunit = "feet"', "feet"),
        ('name = "x"\nabout = "Z9"', 'there is no point "Z9"'),
        ('name = "x"\n[[stakeout]]\nname = "x"', 'the list "x" stands twice'),
        ('name = "x"\ncolums = ["name"]', 'did you mean "columns"?'),
    ],
)
def test_lists_that_are_refused(entry: str, says: str) -> None:
    """What no list could be written from is refused in a sentence."""
    assert says in said(entry)
