"""The table of what changed: one row a place, no name twice, figures that come back."""

from __future__ import annotations

import csv
import io

import pytest
from revised import LATER, STAKED, changes, revised, revision

from staking.exports.changes_csv import COLUMNS, changes_csv
from staking.layout.changes import changes_of

DEEPER = ("depth = 24", "depth = 26")


def rows(*made: tuple[str, str], text: str = STAKED) -> list[dict[str, str]]:
    """The rows of the table by their columns."""
    return list(csv.DictReader(io.StringIO(changes_csv(changes(*made, text=text)).decode("utf-8"))))


def test_it_begins_as_every_list_does() -> None:
    """Name, north and east come first; lines end with CR LF."""
    text = changes_csv(changes(DEEPER)).decode("utf-8")
    assert text.startswith("name,north,east,elevation,kind,do,")
    assert text.count("\r\n") == text.count("\n")
    assert text.split("\r\n")[0] == ",".join(COLUMNS)


def test_what_is_to_be_done_where() -> None:
    """A stake that moved is pulled at its old place and set at its new one; the others are kept."""
    found = rows(LATER, DEEPER)
    assert [row["do"] for row in found].count("pull") == [row["do"] for row in found].count("set") == 6
    old = next(row for row in found if row["name"] == "103-old")
    new = next(row for row in found if row["name"] == "103")
    assert (old["north"], new["north"]) == ("64.0000", "66.0000")
    assert (new["moved"], new["toward"]) == ("2.0000", "0.000000")
    assert {row["do"] for row in found if row["name"] in ("101", "102")} == {"keep"}


def test_no_name_stands_twice() -> None:
    """Names of old places clash with none of the new, not even where one ends in -old already."""
    for made in ((LATER, DEEPER), (LATER, ("distance = 40", "distance = 41"))):
        names = [row["name"] for row in rows(*made)]
        assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("made", "do"),
    [
        (("elevation = 101", "elevation = 102"), "regrade"),
        (("[floor]", "[numbering]\ncorners = 501\n[floor]"), "rename"),
        (('[[stakes]]\nkind = "corners"\n', ""), "pull"),
        (("[floor]", '[[stakes]]\nkind = "along"\nspacing = 10\n[floor]'), "set"),
    ],
)
def test_what_else_is_done(made: tuple[str, str], do: str) -> None:
    """Marks anew, a new name, a stake that is gone, one that is new."""
    assert do in {row["do"] for row in rows(LATER, made)}


def test_places_are_in_the_frame_of_the_new_file() -> None:
    """Where all figures of the ground changed together, old places are given in the new ones."""
    moved = STAKED
    for name, north, east in (("A", 0, 0), ("B", 0, 100), ("C", 120, 100), ("D", 120, 0)):
        moved = moved.replace(f"{name} = [{north}, {east}", f"{name} = [{north + 1000}, {east + 5000}")
    old, new = revision(STAKED), revision(revised(DEEPER, text=moved))
    found = list(csv.DictReader(io.StringIO(changes_csv(changes_of(old, new)).decode("utf-8"))))
    pulled = next(row for row in found if row["name"] == "103-old")
    assert float(pulled["north"]) > 1000
    assert float(pulled["east"]) > 5000
