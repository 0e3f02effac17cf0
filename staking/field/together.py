"""Everything that was measured in plan, taken together: of the slab, and of given points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from staking.field.allowed import GIVEN
from staking.field.compared import Comparison, Deviation
from staking.layout.computed import Layout
from staking.survey.error_budget import CIRCLE_95
from staking.survey.two_systems import GOOD, TwoSystems, fit_systems

LIKELY = GOOD / 10  # residuals less likely than this contradict an explanation; own choice, as for pairs that pull
MOST = 200  # points that are looked at


@dataclass(frozen=True)
class Together:
    """What was measured: of the slab, of given points, and how well a coordinate is known [m].

    tied: to what the slab was measured with no set-up between, as `HowMeasured`.
    """

    layout: Layout
    slab: tuple[Deviation, ...]
    control: tuple[Deviation, ...]
    noise: float
    tied: str = ""

    @property
    def both(self) -> tuple[Deviation, ...]:
        """What belongs to the slab, then given points."""
        return (*self.slab, *self.control)

    @property
    def allowed(self) -> float:
        """What is allowed of a point of the slab [m]."""
        return max((each.allowed.plus_minus or 0.0 for each in self.slab), default=0.0)

    def own(self, each: Deviation) -> float:
        """Its standard error [m]."""
        return max(self.noise, GIVEN / CIRCLE_95) if each.design.what == "given" else self.noise

    def fit(self, points: Sequence[Deviation], *, scale: bool = False) -> TwoSystems | None:
        """Shift and turn of some of them; None where they tell none."""
        try:
            pairs = [(each.design.at, each.measured.at) for each in points]
            return fit_systems(pairs, scale=scale, expected=self.noise, own=[self.own(each) for each in points])
        except ValueError:
            return None

    @property
    def out(self) -> bool:
        """Whether any point is out of what is allowed."""
        return any(each.answer == "out" for each in self.both)


def together(bare: Comparison, slab: Sequence[Deviation], control: Sequence[Deviation], noise: float) -> Together:
    """The first points of each. noise: standard error of a coordinate [m]."""
    return Together(bare.layout, tuple(slab[:MOST]), tuple(control[:MOST]), noise, bare.how.tied)
