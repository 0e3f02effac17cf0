"""Lists of readings and of elevations: what is taken, and every row that is refused."""

from __future__ import annotations

import pytest

from staking.errors import InputError
from staking.sitefile.rod_list import RodList, is_rod_list, read_rod_list

FOOT = 0.3048


def _read(text: str, **words: str) -> RodList:
    return read_rod_list(text, "rod.csv", rod=4.0, **words)


@pytest.mark.parametrize(
    "text", ["name,reading (ft)\nA,5\n", "# tops\nStake;Rod (ft);note\n\nA;5;hub\n", "pt\trod_reading [feet]\nA\t5\n"]
)
def test_readings_in_any_usual_dress(text: str) -> None:
    """Commas, semicolons or tabs; comments and notes are passed over."""
    found = _read(text)
    assert (found.what, found.unit.name) == ("reading", "ft")
    assert [(row.name, row.written) for row in found.rows] == [("A", "5")]
    assert found.rows[0].metres == pytest.approx(5 * FOOT)


def test_elevations_may_be_below_zero() -> None:
    """A height is no reading: it may be negative, and higher than a rod."""
    assert [row.metres for row in _read("name,elevation (m)\nA,-2\nB,300\n").rows] == [-2, 300]


def test_feet_and_inches_are_read() -> None:
    """As on a rod that is divided so."""
    assert _read("name,reading (ft)\nA,4' 6-1/2\"\n").rows[0].metres == pytest.approx((4 + 6.5 / 12) * FOOT)


def test_the_unit_of_the_site_counts_where_nothing_is_said() -> None:
    """What the header says goes before it."""
    assert _read("name,reading\nA,1\n", default="ft").unit.name == "ft"
    assert _read("name,reading (m)\nA,1\n", default="ft").unit.name == "m"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "holds no rows"),
        ("name,reading (ft)\n", "holds no rows"),
        ("name,reading\nA,1\n", "nothing says which unit"),
        ("name,reading (ft),elevation (m)\nA,1,2\n", "units differ: ft, m"),
        ("name,value (ft)\nA,1\n", "does not tell"),
        ("name,reading (ft),elevation\nA,1,2\n", "does not tell"),
        ("name,reading (ft)\nA,-1\n", "negative"),
        ("name,reading (ft)\nA,14\n", "beyond the rod"),
        ("name,reading (ft)\n,1\n", "no name"),
        ("name,reading (ft)\nA,\n", "A has no reading"),
        ("name,reading (ft)\n=A,1\n", "begins with =; a spreadsheet"),
        ("name,reading (ft)\n\U0001f600A,1\n", "that sign is not allowed at the beginning of a name"),
        ('name,reading (ft)\n"A,1\n', "a quote is opened"),
        ("name,elevation (ft)\nA,1000000000\n", "too far away"),
    ],
)
def test_what_is_refused(text: str, said: str) -> None:
    """In a sentence."""
    with pytest.raises(InputError, match=said):
        _read(text)


def test_too_many_rows_are_told_as_such() -> None:
    """And not as a header that is amiss."""
    with pytest.raises(InputError, match="too many; 10000 at the most") as error:
        _read("name,reading (ft)\n" + "A,1\n" * 10_001)
    assert "begin with" not in error.value.findings[0].remedy


def test_every_bad_row_in_one_run() -> None:
    """Each with its line."""
    with pytest.raises(InputError) as error:
        _read("name,reading (ft)\nA,-1\nB,2\nC,99\n")
    assert [finding.place and finding.place.line for finding in error.value.findings] == [2, 4]
    assert {finding.remedy for finding in error.value.findings} == {
        "write a name and one reading in ft, as in CP1,1.52"
    }


@pytest.mark.parametrize(
    ("text", "is_one"),
    [
        ("name,reading\n", True),
        ("point,elev (ft)\n", True),
        ("point,backsight,foresight,elevation\n", False),
        ("", False),
        ('"a\n', False),
    ],
)
def test_lists_are_told_from_books(text: str, is_one: bool) -> None:
    """A book has a backsight."""
    assert is_rod_list(text) is is_one
