"""The one list of points that every format writes."""

from __future__ import annotations

from staking.exports.rows import given_rows, point_rows, stake_rows
from staking.layout.computed import Layout


def test_given_points_come_first_in_file_order(local: Layout) -> None:
    """Given points stand first as the file has them, then the stakes in the order asked for."""
    names = [row.name for row in point_rows(local)]
    assert names[:7] == ["P1", "P2", "P3", "P4", "W1", "101", "102"]
    assert names[5:] == [stake.name for stake in local.stakes]


def test_kinds_tell_lot_corners_apart(local: Layout) -> None:
    """A lot corner is called so; any other given point is given."""
    assert {row.name: row.kind for row in given_rows(local)} == dict.fromkeys(
        ("P1", "P2", "P3", "P4"), "lot corner"
    ) | {"W1": "given"}


def test_given_points_are_written_as_given(oregon: Layout) -> None:
    """A grid coordinate comes out as the very number that came in, not one bit away."""
    for row in given_rows(oregon):
        given = oregon.site.given[row.name]
        assert (row.north, row.east, row.elevation) == (given.north, given.east, given.elevation)


def test_stakes_are_brought_back_to_the_grid(oregon: Layout) -> None:
    """A 36 ft side on the ground is shorter on the grid by the combined factor."""
    first, second = stake_rows(oregon)[:2]
    grid = ((second.east - first.east) ** 2 + (second.north - first.north) ** 2) ** 0.5
    assert abs(grid - 36 * 0.3048 * 0.99985) < 1e-8


def test_every_series_has_its_layer(local: Layout) -> None:
    """Stakes lie on the layer of their series."""
    assert {row.layer for row in point_rows(local)} == {"GIVEN", "CORNER", "OFFSET", "BOARD", "MARK"}
