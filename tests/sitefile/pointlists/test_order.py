"""Is north told from east by evidence only, and is the evidence said?"""

from __future__ import annotations

import pytest

from staking.errors import InputError
from staking.sitefile.declared import GivenPoint
from staking.sitefile.pointlists.opening import Asked, begin
from staking.sitefile.pointlists.order import Evidence, Taken, tell

KNOWN = {"K1": (1000.0, 2000.0), "K2": (1040.0, 2100.0), "K3": (1100.0, 2030.0)}
SITE = Evidence({name: GivenPoint(north=north, east=east) for name, (north, east) in KNOWN.items()})
NONE = Evidence()
FAR = Evidence({"A1": GivenPoint(north=4_400_000.0, east=500_000.0)})


def taken(text: str, evidence: Evidence = NONE, columns: str = "") -> dict[str, Taken]:
    """What each column was taken for, by its meaning."""
    beginning = begin(text.encode(), shown="list.csv")
    _, found = tell(beginning, Asked(columns, "m"), evidence, shown="list.csv")
    return {each.meaning: each for each in found}


@pytest.mark.parametrize(
    ("rows", "north"), [("K1,1000,2000,5,nail\nX,1,2,3,peg\n", 2), ("K1,2000,1000,5,nail\nX,1,2,3,peg\n", 3)]
)
def test_the_points_of_the_site_tell(rows: str, north: int) -> None:
    """P,N,E,Z,D and P,E,N,Z,D, each with the distances one way and the other."""
    found = taken(rows, SITE)
    assert found["north"].number == north
    assert found["north"].why == "1 points of the site lie 0.00 m off; the other way round 1,414 m"
    assert (found["elevation"].number, found["note"].number) == (4, 5)
    assert (found["elevation"].sure, found["north"].sure) == ("by its place only", "by evidence")


def test_a_list_near_the_site_tells() -> None:
    """No name in common, and one order lies four thousand kilometres away."""
    found = taken("X1,500010,4400020\nX2,500050,4400070\n", FAR)
    assert (found["east"].number, found["north"].number) == (2, 3)
    assert "the other way round" in found["north"].why


def test_the_area_of_the_coordinate_system_tells() -> None:
    """UTM zone 13 has northings of millions; the site's own points are far off."""
    far = Evidence({"A1": GivenPoint(north=1.0, east=2.0)}, "EPSG:26913")
    found = taken("X1,500010,4400020\nX2,500050,4400070\n", far)
    assert (found["east"].number, "EPSG:26913" in found["east"].why) == (2, True)


def test_a_comment_that_names_the_columns_tells() -> None:
    """The line is named."""
    found = taken("# job\n# P,E,N\nA,1,2\n")
    assert (found["east"].number, found["east"].why) == (2, "the comment on line 2 names it")


@pytest.mark.parametrize("evidence", [NONE, SITE])
def test_the_usual_order_is_no_evidence(evidence: Evidence) -> None:
    """Then somebody must say it, and the sentence says how."""
    with pytest.raises(InputError) as caught:
        taken("A,1500,1500\nB,1501,1501\n", evidence)
    assert "nothing says which column is which" in caught.value.findings[0].message
    assert 'columns = "name,north,east"' in caught.value.findings[0].remedy


@pytest.mark.parametrize(("text", "said"), [("p,e,n\nA,1,2\n", ""), ("A,1,2\n", "name,east,north")])
def test_headers_and_people_are_taken_at_their_word(text: str, said: str) -> None:
    """They are certain."""
    found = taken(text, SITE, columns=said)
    assert (found["east"].number, found["east"].sure) == (2, "certain")
