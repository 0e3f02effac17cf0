"""Level books as people write them, and every reading that is lost or cannot be."""

from __future__ import annotations

import pytest

from staking.errors import InputError
from staking.sitefile.level_book import LevelBook, read_book

FOOT = 0.3048
HEAD = "point,backsight (ft),intermediate,foresight,distance,second,elevation"


def _read(*rows: str, head: str = HEAD, unit: str = "", rod: float = 13 * FOOT) -> LevelBook:
    return read_book("\n".join([head, *rows]), "book.csv", unit=unit, rod=rod)


def _said(*rows: str, head: str = HEAD, unit: str = "") -> list[tuple[int, str]]:
    """Lines and words of what is refused."""
    with pytest.raises(InputError) as caught:
        _read(*rows, head=head, unit=unit)
    return [(finding.place.line if finding.place else 0, finding.message) for finding in caught.value.findings]


def test_a_turning_point_in_one_row_or_two() -> None:
    """Foresight and next backsight may share a row, and give the same sights as two rows."""
    one = _read("A,5", "T,4,,3", "B,,,2")
    two = _read("A,5", "T,,,3", "T,4", "B,,,2")
    assert [(s.point, s.kind, s.reading) for s in one.sights] == [(s.point, s.kind, s.reading) for s in two.sights]


def test_feet_and_inches_and_other_units_are_read() -> None:
    """A reading may have its own unit."""
    book = _read("A,4' 6\"", "B,,,1.2 m")
    assert [sight.reading for sight in book.sights] == pytest.approx([4.5 * FOOT, 1.2])


def test_distances_second_readings_and_elevations() -> None:
    """Each goes to its sight; the elevation to its point."""
    book = _read("A,5,,,40,5.01,100", "B,,,3")
    assert (book.sights[0].distance, book.sights[0].second) == pytest.approx((40 * FOOT, 5.01 * FOOT))
    assert book.known == {"A": pytest.approx(100 * FOOT)}


def test_a_row_of_two_sights_has_two_distances() -> None:
    """Columns of their own tell which distance is which."""
    head = "pt;BS (m);FS (m);BS distance;FS distance"
    book = _read("A;1;;20;", "T;2;1;30;40", "B;;2;;50", head=head)
    assert [sight.distance for sight in book.sights] == [20, 40, 30, 50]


def test_decimals_behind_a_comma() -> None:
    """Where columns are parted by semicolons or tabs."""
    book = _read("A;1,234;;20;", "T;2,5;1,05;30;40", head="pt;BS (m);FS (m);BS distance;FS distance")
    assert [sight.reading for sight in book.sights] == pytest.approx([1.234, 1.05, 2.5])


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("A,-5", "negative"),
        ("A,13.5", "beyond the rod, which is 13 ft long"),
        ("A,5,,,0", "is not more than 0"),
        ("A,5,,,,-1", "second reading -1 is negative"),
        ("A,", "no reading"),
        (",5", "no point"),
        ("=A,5", "formula"),
        ("A,5,4", "wrong column"),
        ("A,5,,4,30", "belongs to neither"),
        ("A,five", "cannot be read as a length"),
        ("A,5,,,,,1e30", "cannot"),
        ('"A,5', "a quote is opened"),
        ("A,5,,,,,9999999999999", "too far away"),
    ],
)
def test_a_row_that_cannot_be_is_named(row: str, said: str) -> None:
    """The finding has the line, and says why."""
    ((line, words),) = _said("B,5", row, "C,,,3")
    assert line == 3
    assert said in words


@pytest.mark.parametrize(
    ("rows", "line"), [(("A,,,5",), 2), (("A,5", "B,4", "C,,,3"), 3), (("A,5", "B,,,3", "C,4", "D,,,4"), 4)]
)
def test_a_lost_sight_is_named(rows: tuple[str, ...], line: int) -> None:
    """No backsight, no foresight, or a set-up that begins elsewhere."""
    assert [at for at, _ in _said(*rows)] == [line]


def test_all_mistakes_at_once() -> None:
    """Every wrong row is said in one run."""
    assert [line for line, _ in _said("A,-1", "B,,,99", "C,")] == [2, 3, 4]


def test_one_point_has_one_elevation() -> None:
    """Two figures for one point are refused; the same one twice is not."""
    assert "another elevation" in _said("A,5,,,,,100", "A,,,5,,,101")[0][1]
    assert _read("A,5,,,,,100", "A,,,5,,,100").known


@pytest.mark.parametrize(
    ("head", "unit", "said"),
    [
        ("point,backsight,foresight", "", "nothing says which unit"),
        ("point,backsight (ft),foresight (m)", "", "units differ"),
        ("point,backsight (ft),foresight", "m", "units differ"),
        ("point,bs (ft),backsight,fs", "", "two columns mean the backsight"),
        ("point,elevation (ft)", "", "no column backsight and no foresight"),
    ],
)
def test_a_header_that_does_not_tell(head: str, unit: str, said: str) -> None:
    """It is refused in words."""
    assert said in _said("A,5,3", head=head, unit=unit)[0][1]


def test_empty_and_endless_books() -> None:
    """A file without rows, with a header only, or with far too many rows is refused."""
    assert "no rows" in _said(head="")[0][1]
    assert "no foresight" in _said()[0][1]
    assert "more than 10000 rows" in _said(*["A,5"] * 10_001)[0][1]


@pytest.mark.parametrize(
    ("row", "remedy"), [("B,,,x", "write feet and inches as"), ("B,,,-1", "write a point, and under")]
)
def test_a_bad_row_says_what_to_write(row: str, remedy: str) -> None:
    """As the reader of lengths has it, else how a row looks."""
    with pytest.raises(InputError) as caught:
        _read("A,5", row)
    assert caught.value.findings[0].remedy.startswith(remedy)
