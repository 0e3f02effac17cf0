"""What the plan sheet still lacks."""

from __future__ import annotations

from itertools import pairwise

from making import PLACED_RECTANGLE, layout_of

from staking.checks.checklist import CHECK, ITEMS, LISTS, missing
from staking.findings import Severity

BARE = PLACED_RECTANGLE
ABOUT = 'unit = "ft"\naddress = "as on the permit"\nlot = "Lot 1"\nowner = "x"\nprepared_by = "y"\ndate = 2026-01-02'
FULL = (
    BARE.replace('unit = "ft"', ABOUT).replace("A = [0, 0]", "A = [0, 0, 100]")
    + """
[plan]
street = "Front Street"
zoning = "R-1"
benchmark = "A"
floor_elevation = 101
street_elevation = 99
drainage = "to the street"
none = ["easements", "buildings", "projections", "flatwork", "utilities"]
stakes = true
"""
)


def test_a_full_site_lacks_nothing() -> None:
    """Everything said, or said to be absent: no finding."""
    assert missing(layout_of(FULL)) == ()
    assert list(CHECK.run(layout_of(FULL))) == []


def test_a_bare_site_gets_one_note() -> None:
    """One finding for all of it: the keys to fill with counts, what most lists ask for first."""
    (note,) = CHECK.run(layout_of(BARE))
    assert (note.code, note.severity) == ("plan-incomplete", Severity.NOTE)
    assert "site.address (9), easements in [[keep_clear]] (9), site.lot (8)" in note.remedy
    assert "plan.none" in note.remedy


def test_each_item_is_filled_by_its_own_key() -> None:
    """Taking one line out of a full site misses one thing."""
    assert [item.key for item in missing(layout_of(FULL.replace('street = "Front Street"\n', "")))] == ["plan.street"]
    assert [item.key for item in missing(layout_of(FULL.replace('"buildings", ', "")))] == [
        "other buildings in [[features]]"
    ]


def test_a_feature_fills_its_item() -> None:
    """A shed that is shown is a building that need not be denied."""
    shed = '[[features]]\nkind = "building"\nname = "shed"\noutline = ["A", "B", "C"]\n'
    assert missing(layout_of(FULL.replace('"buildings", ', "") + shed)) == ()


def test_a_tree_is_no_easement() -> None:
    """A circle to keep clear leaves the question open; a strip along a side answers it."""
    asked = FULL.replace('"easements", ', "")
    circle = '[[keep_clear]]\nname = "oak"\naround = "A"\nradius = 1\n'
    strip = '[[keep_clear]]\nname = "drain"\nalong = "rear"\nwidth = 5\n'
    assert [item.key for item in missing(layout_of(asked + circle))] == ["easements in [[keep_clear]]"]
    assert missing(layout_of(asked + strip)) == ()


def test_items_stand_in_the_order_of_their_weight() -> None:
    """No count above that of the lists read, and none above the one before."""
    assert all(1 <= item.lists <= LISTS for item in ITEMS)
    assert all(before.lists >= after.lists for before, after in pairwise(ITEMS))
