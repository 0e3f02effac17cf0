"""Is the slip named that keeps a list from agreeing with the site?"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from staking.sitefile.declared import GivenPoint
from staking.sitefile.pointlists.against import Compared, compared
from staking.sitefile.pointlists.blocks import read_blocks
from staking.sitefile.pointlists.oddities import Figures, gathered
from staking.sitefile.pointlists.opening import Asked, begin, open_list
from staking.units import UNITS

PLACES = {f"K{at}": (21_036_400.0 + 31 * at, 1_640_200.0 + 17 * at * at) for at in range(6)}
KNOWN = {n: GivenPoint(north=north * 1200 / 3937, east=east * 1200 / 3937) for n, (north, east) in PLACES.items()}
Change = Callable[[float, float], tuple[float, float]]


def held(change: Change, *, unit: str = "ftUS", only: str = "") -> Compared:
    """A list of the known points, changed, held against them. only: the one that is changed."""
    rows = [(n, *(change(*at) if only in ("", n) else at)) for n, at in PLACES.items()]
    data = ("p,n,e\n" + "".join(f"{n},{north:.3f},{east:.3f}\n" for n, north, east in rows)).encode()
    opening = open_list(begin(data, shown="l"), Asked(unit=unit), shown="l")
    points = gathered(read_blocks(data, opening, shown="l"), "l", lambda _: None)
    return compared(points, KNOWN, Figures(UNITS[unit]))


def test_a_list_that_agrees_has_no_finding() -> None:
    """All six lie where the site has them."""
    assert held(lambda n, e: (n, e)) == Compared(6, 6, ())


@pytest.mark.parametrize(
    ("change", "unit", "code"),
    [
        (lambda n, e: (e, n), "ftUS", "list-swapped"),
        (lambda n, e: (n, e), "ft", "list-wrong-foot"),
        (lambda n, e: (n, e), "m", "list-wrong-unit"),
        (lambda n, e: (n - 21_000_000, e - 1_000_000), "ftUS", "list-apart"),
    ],
)
def test_what_is_wrong_with_the_whole_list_is_said_once(change: Change, unit: str, code: str) -> None:
    """North and east exchanged, the other foot, metres for feet, thousands taken off."""
    found = held(change, unit=unit)
    assert [each.code for each in found.findings] == [code]
    assert "6 of 6" in found.findings[0].message


def test_a_mistyped_digit_is_named_with_the_likely_one() -> None:
    """On its line; the others agree."""
    found = held(lambda n, e: (n, e + 1000), only="K3")
    (finding,) = found.findings
    assert (finding.code, finding.place and finding.place.line, found.agree) == ("list-digit", 5, 5)
    assert "in east 1641353.000 a digit is wrong; likely 1640353.000" in finding.message


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda n, e: (e, n), "exchanged in this row"),
        (lambda n, e: (n + 3.3, e + 7.7), "lies 8.377 ftUS from its place"),
    ],
)
def test_a_single_point_that_disagrees_is_named(change: Change, words: str) -> None:
    """With its slip where one explains it."""
    (finding,) = held(change, only="K2").findings
    assert finding.place is not None
    assert finding.place.line == 4
    assert words in finding.message
