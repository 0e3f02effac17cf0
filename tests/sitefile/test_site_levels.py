"""Level books of a site file: elevations of points, floors above them, and paths that lead out."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.errors import InputError

TEXT = PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 100]") + '[[levels]]\nbook = "levels.csv"\n'
BOOK = "point,backsight (ft),intermediate,foresight\nA,5.00\nB,,4.00\nT,6.00,,3.00\nA,,,8.00\n"
FOOT = 0.3048


def test_points_have_the_heights_of_the_book() -> None:
    """A point without an elevation has the one found, and a floor may lie above it."""
    layout = layout_of(TEXT + '[floor]\nabove = "B"\nby = "1 ft"\n', BOOK)
    assert layout.site.given["B"].elevation == pytest.approx(101 * FOOT)
    assert layout.design is not None
    assert layout.design.floor.up == pytest.approx(102 * FOOT)
    assert set(layout.site.sources) == {"levels.csv"}


def test_a_turning_point_is_a_benchmark() -> None:
    """A set-up of the level may begin on a point that only the book knows."""
    setup = '[floor]\nelevation = 101\n[[level_setups]]\nbenchmark = "T"\nbacksight = 4\n'
    assert layout_of(TEXT + setup, BOOK).setups[0].sight == pytest.approx(106 * FOOT)


def test_a_later_book_begins_where_an_earlier_one_came_to() -> None:
    """The second run over the same ground finds its start."""
    layout = layout_of(TEXT + '[[levels]]\nbook = "./levels.csv"\n', BOOK)
    assert [run.closes for run in layout.site.levelled] == [True, True]


@pytest.mark.parametrize(
    ("path", "said"),
    [("../levels.csv", "folder of the site file"), ("none.csv", "no such file"), ("a\\\\b", "stands /")],
)
def test_a_book_that_is_not_there(path: str, said: str) -> None:
    """The path is refused as those of point lists are, at its place in the site file."""
    with pytest.raises(InputError, match=said) as caught:
        layout_of(TEXT.replace("levels.csv", path), BOOK)
    assert all(finding.place and finding.place.key == "levels#1.book" for finding in caught.value.findings)


def test_a_wrong_row_of_a_book_is_named() -> None:
    """The finding is about the book, with its line."""
    with pytest.raises(InputError, match="negative") as caught:
        layout_of(TEXT, BOOK.replace("B,,4.00", "B,,-4.00"))
    assert [finding.place.line for finding in caught.value.findings if finding.place] == [3]
