"""What does the setup look like from above: instrument, backsight, check point, and the sight to every stake?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.drawing.draw import slab_marks, stake_mark
from staking.drawing.feature_marks import feature_marks
from staking.drawing.marks import Drawing, LineMark, Mark, SymbolMark
from staking.layout.computed import Layout
from staking.layout.setups import SetUp


def setup_drawing(layout: Layout, setup: SetUp) -> Drawing:
    """The plan of a setup: sights to stakes thin, those to backsight and check point heavy."""
    marks: list[Mark] = [*slab_marks(layout), *feature_marks(layout)]
    marks.extend(LineMark("TIE", setup.station, stake.at) for stake in layout.stakes if stake.at != setup.station)
    marks.extend(_aims(setup))
    marks.extend(stake_mark(stake) for stake in layout.stakes)
    marks.append(SymbolMark("GIVEN", setup.station, f"instrument {setup.station_name}", shape="thing", emphasis=True))
    return Drawing(tuple(marks), "The setup with its lines of sight")


def _aims(setup: SetUp) -> Iterator[Mark]:
    yield LineMark("BOARD", setup.station, setup.backsight)
    yield SymbolMark("GIVEN", setup.backsight, f"backsight {setup.backsight_name}", shape="given", emphasis=True)
    if setup.check is not None:
        yield LineMark("BOARD", setup.station, setup.check)
        yield SymbolMark("GIVEN", setup.check, f"check {setup.check_name}", shape="given", emphasis=True)
