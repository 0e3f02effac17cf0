"""Boards, stakes, joints and loads at the edge of what is found."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import check

OWN = ("forms-", "joints-", "load-")
LOW = '[forms]\nboard = "2x4"\n'


def _found(more: str, thickness: str = "4 in") -> list[str]:
    text = PLACED_RECTANGLE.replace("depth = 24", f'depth = 24\nthickness = "{thickness}"') + more
    return [finding.code for finding in check(layout_of(text)) if finding.code.startswith(OWN)]


@pytest.mark.parametrize(
    "more",
    [
        '[forms]\nboard = "2x6"\nstake_spacing = "4 ft"\n',
        '[forms]\nthickness = "1.5 in"\nheight = "4 in"\n',
        '[concrete]\njoint_spacing = "8 ft"\n',
        '[concrete]\ntruck = "10.67 cu yd"\n',
        '[concrete]\ntruck = "21.33 cu yd"\n',
    ],
)
def test_at_the_figure_nothing_is_found(more: str) -> None:
    """As far apart, as high and as large as the figures allow."""
    assert _found(more) == []


def test_a_2x4_is_lower_than_four_inches() -> None:
    """Its dressed width is 3-1/2 in."""
    assert _found('[forms]\nboard = "2x4"\n') == ["forms-low"]


def test_joints_of_a_slab_outside_the_table_are_not_judged() -> None:
    """Three inches are not in the table."""
    assert _found('[concrete]\njoint_spacing = "30 ft"\n', "3 in") == []


def _low(text: str) -> list[tuple[str, str]]:
    return [(each.message, each.remedy) for each in check(layout_of(text)) if each.code == "forms-low"]


def test_a_low_form_says_where_and_by_how_much() -> None:
    """The worst side first; how many boards would do."""
    text = PLACED_RECTANGLE.replace("[placement]", "thickness = 0.5\n[placement]")
    ((words, remedy),) = _low(text + LOW)
    assert words.startswith(
        'the form is 3-1/2" high, 2-1/2" too low at front side 1-2: 0" along, the concrete needs 6"'
    )
    assert words.endswith("too low at right side 2-3, back side 3-4, left side 4-1 as well")
    assert remedy.startswith("tiers = 2, ")


def test_two_boards_high_are_enough() -> None:
    """Seven inches for six."""
    text = PLACED_RECTANGLE.replace("[placement]", "thickness = 0.5\n[placement]")
    assert not _low(f"{text}{LOW}tiers = 2\n")


def test_only_the_recess_that_lies_deeper_is_named() -> None:
    """A garage half a foot lower along the right side: as thick as the slab, and no form too low."""
    recess = (
        '[[slab.recesses]]\nname = "g"\nside = "right"\nfrom = "front-right"\nwidth = 10\ndepth = 10\nlower = 0.5\n'
    )
    edge = '[[slab.thickened]]\nname = "e"\nsides = ["back"]\nwidth = 1\ndepth = 1\n'
    text = PLACED_RECTANGLE.replace("[placement]", f"thickness = 0.25\n{recess}{edge}[placement]")
    assert not _low(text + LOW)
    ((words, _),) = _low(f'{text}{LOW}[overdig]\nsoil = "B"\ndepth = 2\n')
    assert "too low at back side 3-4" in words
    assert "right" in words  # the deep edge shows at its end


def test_panels_as_long_as_published_are_no_finding() -> None:
    """One and a half to one is the limit; 24 ft by 36 in one panel each way are just that."""
    assert not [code for code in _found('[concrete]\njoint_spacing = "36 ft"\n', "3 in") if code == "joints-long"]
    assert _found('[concrete]\njoint_spacing = "24 ft"\n', "3 in") == []


def test_a_base_of_four_inches_is_no_finding() -> None:
    """The least that the clause has."""
    text = PLACED_RECTANGLE + '[base]\nthickness = "{}"\n'
    codes = [[each.code for each in check(layout_of(text.format(each)))] for each in ("4 in", "3-7/8 in")]
    assert ["base-thin" in each for each in codes] == [False, True]
