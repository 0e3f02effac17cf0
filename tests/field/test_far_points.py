"""A point far from the place of its name: which slip is it?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from making import sample
from measuring import HOW, as_designed, codes, message

from staking import compare
from staking.survey.points import Point

FOOT = 0.3048


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda at: Point(at.east, at.north + 100 * FOOT), "a digit is wrong"),
        (lambda at: Point(at.east - 30 * FOOT, at.north), "in east 1640"),
        (lambda at: Point(at.north, at.east), "north and east are exchanged in its row"),
        (lambda at: Point(at.east * FOOT, at.north * FOOT), "in feet where the others are in metres"),
        (lambda at: Point(at.east - 1640000 * 1200 / 3937, at.north), "whole thousands are missing"),
        (lambda at: Point(at.east + 12.3456, at.north - 7.123), "from its place"),
    ],
)
def test_a_slip_in_one_row(change: Callable[[Point], Point], words: str) -> None:
    """It is named with its line; it takes no part, and the others are judged without it."""
    layout = sample("ell_house_on_grid")
    points = [replace(each, line=at) for at, each in enumerate(as_designed(layout), 2)]
    frame = layout.frame
    points[2] = replace(points[2], at=frame.to_ground(change(frame.to_file(points[2].at))))
    found = compare(layout, points, HOW)
    assert codes(found) == ["measured-far-off"]
    assert words in message(found, "measured-far-off")
    place = found.findings[0].place
    assert place is not None
    assert place.line == 4
    assert found.placement is not None
    assert [name for name, _ in found.placement.shape] == ["101", "102", "104", "105", "106"]
    assert found.placement.largest_placed < 1e-9
    assert not any("103" in (each.start, each.end) for each in found.lengths)


def test_most_of_a_list_far_off_is_no_slip_of_points() -> None:
    """Then it is the list or the set-up."""
    layout = sample("tape_only_shed")
    points = [replace(each, at=Point(each.at.east + 5.0, each.at.north)) for each in as_designed(layout)]
    assert "measured-far-off" not in codes(compare(layout, points, HOW))
