"""Features of the site file on the plan."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.drawing.feature_marks import building_distances, feature_marks
from staking.drawing.marks import LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.site_marks import tie_marks

FOOT = 0.3048
THINGS = """
[[features]]
kind = "building"
name = "old shed"
outline = ["S1", "S2", "S3"]
note = "stays"
[[features]]
kind = "tree"
name = "oak"
points = ["S1"]
[[features]]
kind = "fence"
name = "board fence"
points = ["A", "S1", "S2"]
[[features]]
kind = "drainage"
name = "swale"
points = ["A", "B"]
"""
SHED = PLACED_RECTANGLE.replace("[lot]", "S1 = [80, 50]\nS2 = [80, 70]\nS3 = [100, 50]\n[lot]", 1) + THINGS


def words(marks: Iterable[Mark]) -> list[str]:
    """The texts among marks."""
    return [mark.text for mark in marks if isinstance(mark, TextMark)]


def test_other_buildings_are_tied_too() -> None:
    """The distance to a shed 16 ft behind the slab."""
    ((name, distance, _, _),) = building_distances(layout_of(SHED))
    assert name == "old shed"
    assert distance == pytest.approx(16 * FOOT)
    assert "16' 0\"" in words(tie_marks(layout_of(SHED)))


def test_features_are_drawn_as_what_they_are() -> None:
    """A building is closed, a tree a symbol, a fence a line on its layer, drainage an arrow."""
    marks = list(feature_marks(layout_of(SHED)))
    assert [(type(m), m.layer) for m in marks[:3]] == [
        (PathMark, "FEATURE"),
        (TextMark, "FEATURE"),
        (SymbolMark, "FEATURE"),
    ]
    assert words(marks) == ["old shed, stays", "board fence", "swale"]
    assert sum(isinstance(mark, LineMark) and mark.layer == "DRAINAGE" for mark in marks) == 2
