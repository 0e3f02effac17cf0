"""Is what is odd in a list found, on its line?"""

from __future__ import annotations

import pytest

from staking.findings import Finding
from staking.sitefile.pointlists.blocks import read_blocks
from staking.sitefile.pointlists.oddities import MOST, Figures, gathered, oddities
from staking.sitefile.pointlists.opening import Asked, begin, open_list
from staking.units import UNITS

SOUND = [f"P{row},{5000 + 7.5 * row:.2f},{2000 + 13 * (row % 4):.2f},{50 + row}" for row in range(12)]


def found(*rows: str, unit: str = "ft") -> list[Finding]:
    """What is said of some rows below a header."""
    data = "\n".join(("p,n,e,z", *rows)).encode()
    opening = open_list(begin(data, shown="l"), Asked(unit=unit), shown="l")
    points = gathered(read_blocks(data, opening, shown="l"), "l", lambda _: None)
    return list(oddities(points, Figures(UNITS[unit])))


def lines(findings: list[Finding]) -> list[tuple[str, int]]:
    """Codes and lines."""
    return [(each.code, each.place.line if each.place else 0) for each in findings]


def test_a_sound_list_has_nothing_odd() -> None:
    """No finding without reason."""
    assert found(*SOUND) == []


@pytest.mark.parametrize(
    ("row", "code"), [("P3,5022.50,2039,53", "repeated-point"), ("P3,5022.5,2040,53", "duplicate-point")]
)
def test_names_that_stand_twice_are_found(row: str, code: str) -> None:
    """At one place, or a foot apart."""
    (finding,) = found(*SOUND, row)
    assert (finding.code, "line 5" in finding.message) == (code, True)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("P12,5050,3010,60", "a digit may be wrong: east 3010.000 would belong here as 2010.000"),
        ("P12,2010,5050,60", "north and east may be exchanged"),
        ("P12,1539.24,612.65,60", "it may be in metres and the others in feet"),
        ("P12,16568.24,6594.49,60", "it may be in feet and the others in metres"),
        ("P12,99999,88888,60", "check its digits"),
    ],
)
def test_a_point_far_off_is_found_with_its_slip(row: str, words: str) -> None:
    """A thousand feet away, exchanged, in another unit, or nowhere."""
    (finding,) = found(*SOUND, row)
    assert (finding.code, finding.place and finding.place.line) == ("list-far-off", 14)
    assert words in finding.remedy


def test_an_elevation_of_0_is_found() -> None:
    """With its line; a blank one is none and no finding."""
    (finding,) = found(*SOUND, "P12,5001,2001,0", "P13,5001,2001,")
    assert (finding.code, finding.message) == ("list-zero-elevation", "the elevation is 0 in 1 row, on line 14")


def test_numbers_that_are_missing_are_found() -> None:
    """In the series of each first word."""
    (finding,) = found(*SOUND, "P14,5001,2001,1", "P16,5002,2002,1", "Q900,5001,2001,1")
    assert finding.message == "numbers are missing, 2 times: P12 to P13; P15"


def test_only_some_of_one_sort_are_shown() -> None:
    """And how many more there are."""
    every = found(*SOUND, *(f"P3,{5030 + row},2001,1" for row in range(MOST + 5)))
    assert len(every) == MOST + 1
    assert every[-1].message == "5 more of this sort are not shown"
