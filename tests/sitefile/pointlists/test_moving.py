"""Are blocks of points carried into another system, and is the rest of them left alone?"""

from __future__ import annotations

import numpy as np
import pytest

from staking.sitefile.pointlists.blocks import Block
from staking.sitefile.pointlists.moving import in_system, turned_and_shifted
from staking.survey.points import Point
from staking.survey.projected_systems import system
from staking.survey.projections import carried
from staking.survey.similarity import Similarity

BLOCK = Block(
    ["A"], np.array([400_000.0]), np.array([960_000.0]), np.array([7.0]), ["peg"], [2], ["A,400000,960000,7,peg"]
)


def test_a_block_is_turned_and_shifted() -> None:
    """North becomes east in a quarter turn; elevation and note stay."""
    (moved,) = turned_and_shifted([BLOCK], Similarity(Point(960_000, 400_000), Point(0, 0), 90))
    (again,) = turned_and_shifted([moved], Similarity(Point(1, 0), Point(0, 0), 0))
    assert (again.east[0], again.north[0], again.elevation[0], again.notes) == (-1, 0, 7, ["peg"])


def test_a_block_is_carried_to_another_system() -> None:
    """As a single point is."""
    source, target = system("EPSG:6430"), system("EPSG:6342")
    (moved,) = in_system([BLOCK], source, target)
    (east, north), _ = carried(source, target, (960_000.0, 400_000.0))
    assert (moved.east[0], moved.north[0]) == pytest.approx((east, north), abs=1e-6)
