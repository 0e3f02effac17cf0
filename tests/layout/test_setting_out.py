"""Stakes: their names, their places, each place once."""

from __future__ import annotations

import math

import pytest
from making import PLACED_RECTANGLE, ROUND_PAD, layout_of, published, sample

from staking.survey.points import distance

BOARDS = next(case for case in published("layout") if case["id"] == "h01")


def _with(stakes: str, **changes: str) -> str:
    text = PLACED_RECTANGLE
    for old, new in changes.items():
        text = text.replace(old, new)
    return text + stakes


def test_numbers_by_series() -> None:
    """Corners count from 101, offsets from 201, boards from 301, marks from 401."""
    kinds = ("corners", "offsets", "batter_boards", "along")
    extra = {"offsets": "distance = 5", "batter_boards": "back = 8", "along": "spacing = 10"}
    layout = layout_of(_with("".join(f'[[stakes]]\nkind = "{k}"\n{extra.get(k, "")}\n' for k in reversed(kinds))))
    firsts = {stake.series: stake.name for stake in reversed(layout.stakes)}
    assert firsts == {"corners": "101", "offsets": "201", "batter_boards": "301", "marks": "401"}


def test_numbers_never_clash_with_given_points() -> None:
    """A given point called 102 keeps its name; the stakes go round it."""
    layout = layout_of(_with('[[stakes]]\nkind = "corners"\n', **{"A = [0, 0]": "A = [0, 0]\n102 = [200, 200]"}))
    assert [stake.name for stake in layout.stakes] == ["101", "103", "104", "105"]


def test_more_than_a_hundred_marks_begin_at_a_thousand() -> None:
    """A series that would run into the next one makes all series begin ten times higher."""
    text = _with('[[stakes]]\nkind = "along"\nspacing = 1\n[[stakes]]\nkind = "corners"\n')
    layout = layout_of(text)
    assert layout.stakes[0].name == "1001"
    assert len({stake.name for stake in layout.stakes}) == len(layout.stakes)


def test_numbering_can_be_changed() -> None:
    """[numbering] sets the first number of a series."""
    layout = layout_of(_with('[[stakes]]\nkind = "corners"\n[numbering]\ncorners = 7\n'))
    assert [stake.name for stake in layout.stakes] == ["7", "8", "9", "10"]


def test_marks_are_evenly_spaced_and_no_farther_apart() -> None:
    """A side of 36 ft with a spacing of 10 ft gets marks every 9 ft; the corner is marked once."""
    layout = layout_of(_with('[[stakes]]\nkind = "corners"\n[[stakes]]\nkind = "along"\nspacing = "10 ft"\n'))
    front = [stake for stake in layout.stakes if stake.kind == "mark" and stake.side == 0]
    assert [stake.along / 0.3048 for stake in front] == pytest.approx([9.0, 18.0, 27.0])
    places = [stake.at for stake in layout.stakes]
    assert all(distance(a, b) > 0.1 for i, a in enumerate(places) for b in places[:i])


def test_three_posts_and_two_boards_a_corner() -> None:
    """Every outer corner gets the posts and boards of the handbook, and a nail on each board."""
    layout = layout_of(_with('[[stakes]]\nkind = "batter_boards"\nback = 6\n'))
    assert sum(stake.kind == "post" for stake in layout.stakes) == 4 * BOARDS["posts"]
    assert sum(stake.kind == "nail" for stake in layout.stakes) == len(layout.boards) == 4 * BOARDS["boards"]


def test_nails_lie_on_their_boards() -> None:
    """A nail lies on the line between the two posts of its board, 2 ft from the far one."""
    layout = layout_of(_with('[[stakes]]\nkind = "batter_boards"\nback = 6\n'))
    for board in layout.boards:
        apart = distance(*board.posts)
        assert distance(board.posts[0], board.nail) + distance(board.nail, board.posts[1]) == pytest.approx(apart)
        assert distance(board.nail, board.posts[1]) == pytest.approx(2 * 0.3048)


def test_inside_corner_has_boards_across_its_strings() -> None:
    """The ell has five outer corners with two boards each, and two boards beyond the slab for the inside one."""
    layout = sample("ell_house_on_grid")
    assert len(layout.boards) == 5 * 2 + 2


def test_a_part_at_a_corner_shares_its_stake() -> None:
    """A part that begins in a corner of the slab is marked there by the corner's own stake."""
    part = '[[slab.parts]]\nname = "apron"\nside = "front"\nfrom = "front-left"\nwidth = 10\ndepth = 4\n[placement]'
    layout = layout_of(_with('[[stakes]]\nkind = "corners"\n', **{"[placement]": part}))
    assert len(layout.stakes) == 4 + 3
    assert "apron, start at the slab" in layout.stakes[0].note


@pytest.mark.parametrize(
    ("entry", "message"),
    [('kind = "along"\nspacing = "0.1 mm"\n', "marks"), ('kind = "batter_boards"\nback = 6\nboard = 5\n', "too short")],
)
def test_stakes_that_make_no_sense_are_refused(entry: str, message: str) -> None:
    """Thousands of marks, or a board that does not reach its string."""
    from staking import SolveError

    with pytest.raises(SolveError) as refused:
        layout_of(_with(f"[[stakes]]\n{entry}"))
    assert message in refused.value.findings[0].message


def test_a_mark_on_an_arc_is_counted_along_the_arc() -> None:
    """Its words say so: a quarter of 20 ft radius is 31.416 ft long, its chord 28.284 ft."""
    layout = layout_of(ROUND_PAD + '[[stakes]]\nkind = "along"\nspacing = 16\n')
    assert layout.stakes[1].note == "15' 8-1/2\" from corner 1 along the arc of side 1-2"
    assert distance(layout.stakes[0].at, layout.stakes[1].at) == pytest.approx(40 * math.sin(math.pi / 8) * 0.3048)
