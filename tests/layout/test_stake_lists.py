"""Names and values of the lists of stakes, and what keeps them from being written."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.layout.computed import Layout
from staking.layout.stake_lists import names_of, obstacles, scaling_of
from staking.sitefile.stakeout_declared import StakeList

CORNERS = '[[stakes]]\nkind = "corners"\n'


@pytest.fixture
def layout() -> Layout:
    """Four stakes, 101 to 104, on a lot with the corners A to D."""
    return layout_of(PLACED_RECTANGLE + CORNERS)


def asked(**keys: object) -> StakeList:
    """A list."""
    return StakeList.model_validate({"name": "one", **keys})


def test_names_that_fit_stay(layout: Layout) -> None:
    """Numbers short enough are not touched."""
    assert dict(names_of(layout, asked(point_names="numbers", longest_name=3)).changed) == {}


def test_a_long_name_gets_a_short_number(layout: Layout) -> None:
    """Names longer than allowed become the lowest free numbers, in order."""
    assert dict(names_of(layout, asked(longest_name=2)).changed) == {"101": "1", "102": "2", "103": "3", "104": "4"}


def test_a_free_number_is_one_that_no_point_bears() -> None:
    """A number that a given point has is passed over, whether or not that point is in the list."""
    layout = layout_of(PLACED_RECTANGLE.replace("[lot]", "2 = [5, 5]\n[lot]") + CORNERS)
    assert list(names_of(layout, asked(longest_name=1)).changed.values()) == ["1", "3", "4", "5"]


def test_too_few_numbers() -> None:
    """Where numbers run out, the names without one are told, and the list is not written."""
    layout = layout_of(PLACED_RECTANGLE + CORNERS + '[[stakes]]\nkind = "offsets"\ndistance = 5\n')
    assert names_of(layout, asked(longest_name=1)).left == ("206", "207", "208")
    ((message, remedy),) = obstacles(layout, asked(longest_name=1))
    assert message == "no number of 1 digits is left for 206"
    assert "larger longest_name" in remedy


def test_a_blank_between_columns_takes_no_name_with_a_blank() -> None:
    """A name with a blank is replaced where blanks part the columns."""
    layout = layout_of(PLACED_RECTANGLE.replace("[lot]", '"N 1" = [5, 5, 9]\n[lot]') + CORNERS)
    form = asked(delimiter="space", points="all", columns=["name", "north", "east"])
    assert dict(names_of(layout, form).changed) == {"N 1": "1"}
    assert list(obstacles(layout, form)) == []


def test_an_unknown_elevation_between_blanks(layout: Layout) -> None:
    """An empty column between blanks would be lost, so such a list is not written."""
    ((message, _),) = obstacles(layout, asked(delimiter="space"))
    assert "the elevation of 101 is not known" in message


@pytest.mark.parametrize(("values", "factor"), [("", 1.0), ("ground", 1.0), ("grid", None)])
def test_values_without_a_factor(layout: Layout, values: str, factor: float | None) -> None:
    """Values as they are need no factor; the others are not guessed."""
    scaling = scaling_of(layout, asked(values=values))
    assert (scaling.factor if scaling else None) == factor
