"""Is a file a tape book, a level book, a list of rod readings or a list of points, and was another one wanted?"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from staking.errors import InputError
from staking.findings import Place
from staking.sitefile.books import column_words, delimiter_of, filled_rows, row_cells
from staking.sitefile.columns import is_list
from staking.sitefile.places import marked_line, mistake

Book = Literal["tape book", "level book", "list of rod readings", "list of points"]

_VERBS: Mapping[Book, str] = MappingProxyType(
    {
        "tape book": "staking tape SITE FILE",
        "level book": "staking levels FILE --site SITE",
        "list of rod readings": "staking levels FILE --site SITE",
        "list of points": "staking compare SITE FILE",
    }
)


def book_of(header: str) -> Book | None:
    """What a file is by its first row; None where that tells nothing."""
    try:
        cells = row_cells(header, delimiter_of(header))
    except ValueError:
        return None
    listed = [column_words(cell)[0] for cell in cells]
    words = set(listed)
    twice = max(listed.count("from"), listed.count("to")) > 1  # one of them was meant to be the other
    if twice or {"from", "to"} <= words or {"start", "end"} <= words:
        return "tape book"
    if words & {"backsight", "bs", "back sight"}:
        return "level book"
    if is_list(cells):
        return "list of points"
    return "list of rod readings" if words & {"reading", "rod", "rod reading"} else None


def refuse_other(header: str, line: int, file: str, *wanted: Book) -> None:
    """Raises InputError where a first row is plainly that of another book, with the verb that reads it."""
    found = book_of(header)
    if found is None or found in wanted:
        return
    words = f"this is a {found}, and a {' or a '.join(wanted)} is wanted here"
    place = Place(file, line, source=marked_line(header))
    raise InputError(mistake("bad-columns", words, place, f"read it with `{_VERBS[found]}`"))


def refuse_other_text(text: str, file: str, *wanted: Book) -> None:
    """The same of a whole text."""
    for line, header in filled_rows(text.split("\n"))[:1]:
        refuse_other(header, line, file, *wanted)
