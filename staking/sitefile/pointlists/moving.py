"""Where do the points of a list lie in another system, block by block?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from staking.sitefile.pointlists.blocks import Block
from staking.survey.projected_systems import System
from staking.survey.projections import carried_columns
from staking.survey.similarity import Similarity


def turned_and_shifted(blocks: Iterable[Block], similarity: Similarity) -> Iterator[Block]:
    """The same points as a fit lays them; elevations stay."""
    for block in blocks:
        east, north = similarity.carry(block.east, block.north)
        yield replace(block, east=east, north=north)


def in_system(blocks: Iterable[Block], source: System, target: System) -> Iterator[Block]:
    """The same points in another coordinate system; elevations stay.

    Raises PositionError where a block lies outside the area of the first system, or the two systems are not connected
    well enough.
    """
    for block in blocks:
        east, north, _ = carried_columns(source, target, block.east, block.north)
        yield replace(block, east=east, north=north)
